"""One generated recipe on its way to being a file: front matter, steps and blocks as a cook would write them."""

import re
from dataclasses import dataclass, field
from posixpath import relpath
from random import Random

from tests.benchmarks.words import FIXES, INTRODUCTIONS, NOTES, SIGNS, STEPS, WHYS


@dataclass(frozen=True, slots=True)
class Made:
    """A recipe that later ones may use: its name, its file, and what it gives (grams, or pieces of so many grams)."""

    title: str
    path: str
    grams: float = 0
    pieces: int = 0
    offcut: str = ""


@dataclass(slots=True)
class Sheet:
    """A recipe's file as it fills up."""

    random: Random
    title: str
    path: str
    front: list[str] = field(default_factory=list)
    lines: list[str] = field(default_factory=list)
    body: list[str] = field(default_factory=list)
    names: list[str] = field(default_factory=list)
    linked: list[Made] = field(default_factory=list)
    total: float = 0
    _steps: int = 0

    def key(self, name: str, value: object) -> None:
        """A line of front matter."""
        self.front.append(f"{name}: {value}")

    def stage(self, name: str) -> None:
        """The lines that follow belong to this stage."""
        self.lines.append(f"  {name}:")

    def weigh(self, grams: float, name: str, more: str = "", *, mapping: str = "") -> float:
        """A line by weight; `mapping` adds what only a line as a mapping can say."""
        amount = _weight(grams)
        text = f"{amount} {name}" + (f", {more}" if more else "")
        self.line(f"{{line: {text}, {mapping}}}" if mapping else text, name)
        self.total += grams
        return grams

    def line(self, text: str, name: str) -> None:
        """A line of the formula, as written."""
        self.lines.append(f"    - {text}" if any(line.endswith(":") for line in self.lines) else f"  - {text}")
        self.names.append(name)

    def use(self, made: Made, grams: float, more: str = "") -> float:
        """A component by weight, with a link to it somewhere in the steps."""
        self.linked.append(made)
        return self.weigh(grams, made.title, more)

    def step(self, **attributes: str) -> None:
        """A numbered step with its attributes; one of the components still unmentioned is linked in it.

        Minutes and seconds are made longer or shorter a little, so that not all recipes say the same.
        """
        self._steps += 1
        said = self.say(STEPS)
        if self.linked:
            made = self.linked.pop(0)
            said += f" The [{made.title}]({relpath(made.path, self.path.rpartition('/')[0])}) is ready by now."
        factor = self.random.uniform(0.8, 1.25)
        pairs = (f'{key.replace("_", "-")}="{_longer(value, factor)}"' for key, value in attributes.items())
        self.body.append(f"{self._steps}. {said} {{{' '.join(pairs)}}}")

    def heading(self, words: str) -> None:
        """A heading between steps."""
        self.body.append(f"\n## {words}\n")

    def block(self, name: str, words: str = "") -> None:
        """A block of its own behind the steps."""
        self.body.append(f"\n::: {name}\n" + (f"{words}\n" if words else "") + ":::")

    def blocks(self) -> None:
        """The usual notes: most recipes have two or three."""
        for name, sentences, odds in (
            ("why", WHYS, 0.5), ("look for", SIGNS, 0.5), ("fix", FIXES, 0.4), ("note", NOTES, 0.15),
            ("private", NOTES, 0.15),
        ):  # fmt: skip
            if self.random.random() < odds:
                self.block(name, self.say(sentences))

    def say(self, sentences: tuple[str, ...]) -> str:
        """One of these sentences, about what is in the formula."""
        names = self.names or ["mass"]
        return self.random.choice(sentences).format(
            one=self.random.choice(names),
            two=self.random.choice(names),
            cold=self.random.randint(3, 24),
            warm=self.random.randint(28, 60),
        )

    def text(self) -> str:
        """The whole file."""
        introduction = f"{self.say(INTRODUCTIONS)} {self.say(INTRODUCTIONS)}"
        front = [f"title: {self.title}", *self.front, "formula:", *self.lines]
        return "\n".join(["---", *front, "---", introduction, "", *self.body]) + "\n"


def _weight(grams: float) -> str:
    if grams >= 4000:
        return f"{grams / 1000:.2f} kg"
    return f"{grams:.0f} g" if grams >= 20 else f"{grams:.1f} g"


def _longer(text: str, factor: float) -> str:
    return re.sub(r"(\d+) (min|s)\b", lambda found: f"{max(1, round(int(found[1]) * factor))} {found[2]}", text)
