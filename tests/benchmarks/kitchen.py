"""Where a generated book's recipes are made: what there is to make them of, and what every one of them says."""

from dataclasses import dataclass, field
from random import Random

from tests.benchmarks.pages import Made, Sheet
from tests.benchmarks.stores import Shelf
from tests.benchmarks.words import FLAVOURS, FRUITS, PLACES, TAGS

PER_FOLDER = 60
"""Recipes in one folder; then a second folder of its kind is begun."""


@dataclass(slots=True)
class Kitchen:
    """What a recipe can be made of: the stores, and the recipes made so far by their kind."""

    random: Random
    shelf: Shelf
    made: dict[str, list[Made]] = field(default_factory=dict)
    files: dict[str, str] = field(default_factory=dict)
    titles: set[str] = field(default_factory=set)

    def item(self, family: str) -> str:
        """Some item of a family; a few of them are in most recipes, as in any kitchen."""
        names = self.shelf.names[family]
        return names[min(int(self.random.expovariate(6 / len(names))), len(names) - 1)]

    def items(self, family: str, count: int) -> list[str]:
        """Different items of a family."""
        found: dict[str, None] = {}
        while len(found) < min(count, len(self.shelf.names[family])):
            found[self.random.choice(self.shelf.names[family])] = None
        return list(found)

    def some(self, kind: str) -> Made:
        """A recipe of a kind; the first ones are the house's favourites."""
        made = self.made[kind]
        return made[min(int(self.random.expovariate(5 / len(made))), len(made) - 1)]

    def begin(self, kind: str, noun: str) -> Sheet:
        """A new recipe of a kind, with a title that nobody has yet."""
        while True:
            words = [*self.random.sample(FRUITS + FLAVOURS, 2), self.random.choice(PLACES)]
            one, two, place = words
            forms = (f"{one} and {two} {noun}", f"{place} {noun} with {one}", f"{place} {one} {noun}")
            title = self.random.choice(forms).capitalize()
            if title not in self.titles:
                break
        self.titles.add(title)
        count = len(self.made.setdefault(kind, []))
        folder = kind if count < PER_FOLDER else f"{kind}-{count // PER_FOLDER + 1}"
        stem = title.lower().replace("'", "").replace(" ", "-")
        return Sheet(self.random, title, f"{folder}/{stem}.md")

    def head(self, sheet: Sheet, kind: str, yields: str) -> None:
        """The keys that every recipe has."""
        status = self.random.choices(("approved", "trial", "draft", "retired"), (80, 10, 8, 2))[0]
        if status == "retired" and kind != "product":
            status = "approved"
        sheet.front[:0] = [
            f"kind: {kind}",
            f"code: GB-{len(self.titles):04}",
            f"revision: {self.random.randint(1, 12)}",
            f"revised: 2026-{self.random.randint(1, 10):02}-{self.random.randint(1, 28):02}",
            f"status: {status}",
            f"tags: [{', '.join(self.random.sample(TAGS, 2))}]",
            f"yields: {yields}",
        ]

    def finish(self, kind: str, sheet: Sheet, *, grams: float = 0, pieces: int = 0, offcut: str = "") -> None:
        """Put the recipe into the book."""
        self.files[sheet.path] = sheet.text()
        self.made[kind].append(Made(sheet.title, sheet.path, grams, pieces, offcut))


def after(grams: float, *percents: float) -> float:
    """What is left behind these losses, in percent."""
    """What is left behind these losses."""
    for percent in percents:
        grams *= 1 - percent / 100
    return grams


def keeps(sheet: Sheet, *lines: str) -> None:
    """How long it keeps in which state."""
    sheet.front += ["keeps:", *(f"  {line}" for line in lines)]


def sold(kitchen: Kitchen, sheet: Sheet, portion: str, low: int, high: int) -> None:
    """What every product says to those who buy it."""
    price = kitchen.random.uniform(low, high)
    sheet.key("portion", portion)
    sheet.key("price", f"{{tea room: {price:.2f} EUR incl, hotel: {price * 0.6:.2f} EUR net}}")
    sheet.key("describe", f"{sheet.title}, made in the house from the first weighing to the last.")
    sheet.key("serve", "At its best on the day, ten minutes out of the cold.")
    sheet.key("sold as", sheet.title)


def teach(sheet: Sheet) -> None:
    """Some recipes are taught."""
    if sheet.random.random() < 0.4:
        sheet.key("teach", f"{{level: {sheet.random.randint(1, 3)}, topics: [formulation, yield and waste]}}")
