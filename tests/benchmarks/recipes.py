"""The kinds of recipe in a generated book: each draws on those before it, three or four levels deep."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from random import Random

from tests.benchmarks.pages import Made, Sheet
from tests.benchmarks.stores import WATER, Shelf
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
            title = self.random.choice(
                (f"{words[0]} and {words[1]} {noun}", f"{words[2]} {noun} with {words[0]}", f"{words[2]} {words[0]} {noun}")
            ).capitalize()
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


def culture(kitchen: Kitchen) -> None:
    """A sour culture that is fed from itself."""
    sheet = kitchen.begin("cultures", "culture")
    flour, batch = kitchen.item("flours"), kitchen.random.randrange(2000, 6000, 100)
    sheet.weigh(batch * 0.2, sheet.title.lower(), "ripe")
    sheet.weigh(batch * 0.4, flour)
    sheet.weigh(batch * 0.4, WATER, "30 °C")
    made = _after(sheet.total, 1)
    kitchen.head(sheet, "preferment", f"{made:.0f} g")
    for key, value in (
        ("keep back", f"{batch * 0.2:.0f} g"), ("losses", "{transfer: 1 %}"), ("dough temperature", "25 °C"),
        ("labour role", "night baker"), ("make", "{least: 1 kg, step: 500 g, most: 14 kg}"), ("cautions", "[flour dust]"),
    ):  # fmt: skip
        sheet.key(key, value)
    _keeps(sheet, "raw: 18 h at 4 °C")
    sheet.step('work="4 min" on="spiral mixer"')
    sheet.step('work="5 min" on="spiral mixer" caution="moving machinery"')
    sheet.step('name="ripen" takes="5 h..7 h" at="26 °C" on="retarder-prover" hold="12 h at 4 °C"')
    sheet.blocks()
    kitchen.finish("cultures", sheet, grams=made - batch * 0.2)


def poolish(kitchen: Kitchen) -> None:
    """A yeasted preferment, written in percent."""
    sheet = kitchen.begin("preferments", "poolish")
    batch = kitchen.random.randrange(2000, 8000, 500)
    water = kitchen.random.randrange(90, 115)
    for percent, name, more in (
        (100, kitchen.item("flours"), ""), (water, WATER, ", 20 °C"), (0.2, kitchen.item("setting"), ""),
    ):  # fmt: skip
        sheet.line(f"{percent} % {name}{more}", name)
    kitchen.head(sheet, "preferment", f"{_after(batch, 2):.0f} g")
    sheet.key("batch", f"{batch} g")
    sheet.key("losses", "{transfer: 2 %}")
    sheet.key("dough temperature", "21 °C")
    _keeps(sheet, "raw: 14 h at 20 °C")
    sheet.step('work="6 min" on="bench"')
    sheet.step('name="ripen" takes="11 h..14 h" at="20 °C" on="retarder-prover"')
    sheet.blocks()
    kitchen.finish("preferments", sheet, grams=_after(batch, 2))


def soaker(kitchen: Kitchen) -> None:
    """Seeds and meal, left in hot water."""
    sheet = kitchen.begin("soakers", "soaker")
    flour = kitchen.item("flours")
    sheet.weigh(kitchen.random.randrange(600, 1200, 50), flour)
    seeds = kitchen.items("nuts", 2)
    for seed in seeds:
        sheet.weigh(kitchen.random.randrange(200, 600, 20), seed)
    sheet.weigh(kitchen.random.randrange(1200, 2400, 50), WATER, "90 °C")
    kitchen.head(sheet, "soaker", f"{_after(sheet.total, 2):.0f} g")
    sheet.key("losses", "{transfer: 2 %}")
    sheet.key("cautions", "[flour dust]")
    _keeps(sheet, "made: 24 h at 4 °C")
    sheet.step(f'work="2 min" takes="10 min" at="150 °C" on="convection oven" uses="{", ".join(seeds)}"')
    sheet.step(f'work="8 min" on="bench" uses="{flour}, water"')
    sheet.step('name="soak" wait="6 h..14 h" at="20 °C" on="bench" hold="10 h at 4 °C"')
    sheet.block("caution hot liquids", "Pour away from you, into a deep tub that stands on the low table.")
    sheet.blocks()
    kitchen.finish("soakers", sheet, grams=_after(sheet.total, 2))


def custard(kitchen: Kitchen) -> None:
    """A cooked cream that others are built on."""
    sheet = kitchen.begin("creams", kitchen.random.choice(("cream", "custard", "curd")))
    milk, cream = kitchen.items("dairy", 2)
    yolk, sugar, spice = kitchen.item("eggs"), kitchen.item("sugars"), kitchen.item("flavourings")
    for name, low, high in ((milk, 500, 1500), (cream, 400, 1200), (yolk, 150, 400), (sugar, 100, 300)):
        sheet.weigh(kitchen.random.randrange(low, high, 5), name)
    sheet.weigh(kitchen.random.randrange(20, 60) / 10, spice, mapping="stays: 40 %, rest: waste, note: strained out again")
    cook = kitchen.random.randint(3, 8)
    made = _after(sheet.total, cook, 1)
    kitchen.head(sheet, "component", f"{made:.0f} g")
    sheet.key("losses", f"{{cook: {cook} %, sieve: 1 %}}")
    sheet.key("make", "{least: 600 g, step: 200 g, most: 8 kg}")
    sheet.key("cautions", "[raw egg, cooling, hot liquids]")
    _keeps(sheet, "made: 3 days at 3 °C")
    _teach(sheet)
    sheet.step(f'work="6 min" takes="20 min..30 min" on="hob" uses="{milk}, {cream}, {spice}"')
    sheet.step(f'work="3 min" on="hob" uses="{yolk}, {sugar}"')
    sheet.step('work="8 min" to="83 °C" on="hob" limit="reaches 82 °C for 1 min" if-missed="throw it away" ccp="1" kill="yes"')
    sheet.step('work="4 min" takes="45 min..90 min" at="4 °C" on="blast chiller" limit="5 °C within 2 h" if-missed="throw it away" ccp="2" hold="3 days at 3 °C"')
    sheet.block("caution cooling", "A double batch does not cool in the same time: divide it into trays, 3 cm deep.")
    sheet.blocks()
    kitchen.finish("creams", sheet, grams=made)


def biscuit(kitchen: Kitchen) -> None:
    """A baked sheet, to be cut."""
    sheet = kitchen.begin("biscuits", kitchen.random.choice(("biscuit", "sablé", "sponge")))
    names = [kitchen.item(family) for family in ("flours", "dairy", "sugars", "nuts", "eggs")]
    for name, low, high in zip(names, (300, 200, 120, 80, 50), (520, 380, 260, 200, 120), strict=True):
        sheet.weigh(kitchen.random.randrange(low, high, 5), name)
    sheet.weigh(kitchen.random.randrange(30, 70) / 10, kitchen.item("flavourings"))
    kitchen.head(sheet, "component", f"1 sheet of 60 × 40 cm at {kitchen.random.randint(4, 9)} mm")
    sheet.key("losses", f"{{mix: 1 %, bake: {kitchen.random.randint(8, 13)} %}}")
    sheet.key("cautions", "[hot trays, allergens]")
    _keeps(sheet, "raw: 3 days at 4 °C", "baked: 10 days dry at 18 °C")
    sheet.step('work="10 min" on="planetary mixer"')
    sheet.step('name="chill" wait="4 h..16 h" at="4 °C" on="refrigerator"')
    sheet.step('work="8 min" hold="2 h at 4 °C"')
    sheet.step('work="2 min" takes="18 min..22 min" at="160 °C" on="convection oven" load="4 sheets"')
    sheet.blocks()
    kitchen.finish("biscuits", sheet, grams=_after(sheet.total, 1, 10))


def preserve(kitchen: Kitchen) -> None:
    """Fruit boiled down."""
    sheet = kitchen.begin("fillings", kitchen.random.choice(("jam", "compote", "jelly")))
    fruit, sugar, setting = kitchen.item("fruit"), kitchen.item("sugars"), kitchen.item("setting")
    batch = kitchen.random.randrange(1000, 3000, 50)
    sheet.line(f"{{line: '{batch} g {fruit}, as bought', or: {kitchen.item('fruit')}}}", fruit)
    sheet.weigh(batch * 0.5, sugar)
    sheet.weigh(batch * 0.012, setting)
    boil = kitchen.random.randint(10, 22)
    made = _after(sheet.total + batch * 0.92, boil, 1)
    kitchen.head(sheet, "component", f"{made:.0f} g")
    sheet.key("losses", f"{{boil: {boil} %, transfer: 1 %}}")
    sheet.key("cautions", "[hot sugar, glass]")
    _keeps(sheet, "made: 6 months at 18 °C", "opened: 1 month at 4 °C")
    sheet.step('work="20 min"')
    sheet.step(f'work="5 min" takes="15 min" to="80 °C" on="copper pan" uses="{fruit}, {sugar}"')
    sheet.step('work="18 min" takes="4 min..10 min" to="105 °C" on="copper pan" caution="hot sugar" limit="boils for 2 min" if-missed="boil again" kill="yes"')
    sheet.step('work="8 min" on="bench"')
    sheet.block("caution hot sugar")
    sheet.blocks()
    kitchen.finish("fillings", sheet, grams=made)


def mousse(kitchen: Kitchen) -> None:
    """A cream made light: the second level."""
    sheet = kitchen.begin("mousses", "mousse")
    base, setting = kitchen.some("creams"), kitchen.item("setting")
    sheet.stage("Base")
    sheet.use(base, kitchen.random.randrange(300, 500, 5))
    sweet = kitchen.item("sugars")
    sheet.weigh(kitchen.random.randrange(80, 160, 5), sweet)
    sheet.weigh(kitchen.random.randrange(10, 19), setting)
    sheet.stage("Cream")
    sheet.weigh(kitchen.random.randrange(400, 700, 5), kitchen.item("dairy"), "soft peaks, 5 °C")
    made = _after(sheet.total, 1, 3)
    kitchen.head(sheet, "component", f"{made:.0f} g")
    sheet.key("losses", "{mix: 1 %, transfer: 3 %}")
    sheet.key("make", "{least: 1 kg, step: 500 g, most: 5 kg}")
    _keeps(sheet, "made: 2 days at 4 °C", "frozen: 1 month at -18 °C, from made within 2 h")
    sheet.step(f'work="2 min" takes="10 min" at="4 °C" uses="{setting}"')
    sheet.step(f'work="5 min" to="50 °C" on="hob" uses="{base.title}, {sweet}"')
    sheet.step('name="cool" work="4 min" takes="10 min..15 min" to="26 °C"')
    sheet.step('work="4 min" uses="Cream"')
    sheet.blocks()
    kitchen.finish("mousses", sheet, grams=made)


def insert(kitchen: Kitchen) -> None:
    """Frozen pieces for the middle of others: the second level."""
    sheet = kitchen.begin("inserts", "heart")
    filling = kitchen.some("fillings")
    each = kitchen.random.randint(10, 16)
    sheet.use(filling, 48 * each * 0.9)
    sheet.weigh(48 * each * 0.17, kitchen.item("fruit"))
    kitchen.head(sheet, "component", f"48 pieces of {_after(sheet.total, 4, 2) / 48:.1f} g")
    sheet.key("losses", "{boil: 4 %, transfer: 2 %}")
    sheet.key("cautions", "[cold burn]")
    _keeps(sheet, "frozen: 3 months at -18 °C")
    sheet.step('work="5 min" to="95 °C" on="hob" kill="yes"')
    sheet.step('each="5 s per piece" on="bench"')
    sheet.step('name="freeze" wait="8 h..24 h" at="-18 °C" on="blast freezer" hold="3 months at -18 °C"')
    sheet.blocks()
    kitchen.finish("inserts", sheet, pieces=48)


def dough(kitchen: Kitchen) -> None:
    """An enriched dough on a poolish: the second level."""
    sheet = kitchen.begin("doughs", "dough")
    flour = kitchen.random.randrange(1000, 2000, 50)
    sheet.weigh(flour, kitchen.item("flours"))
    sheet.use(kitchen.some("preferments"), flour * 0.4, "ripe")
    for family, share in (("dairy", 0.3), ("eggs", 0.2), ("sugars", 0.12), ("setting", 0.03), ("flavourings", 0.018)):
        sheet.weigh(flour * share * kitchen.random.uniform(0.8, 1.2), kitchen.item(family))
    made = _after(sheet.total, 1, 1)
    kitchen.head(sheet, "component", f"{made:.0f} g")
    sheet.key("base", "flour")
    sheet.key("losses", "{mix: 1 %, transfer: 1 %}")
    sheet.key("dough temperature", "24 °C")
    sheet.key("cautions", "[flour dust]")
    _keeps(sheet, "raw: 18 h at 4 °C")
    sheet.step('work="14 min" on="spiral mixer" caution="moving machinery"')
    sheet.step('work="4 min" takes="60 min" at="24 °C" on="retarder-prover"')
    sheet.step('name="retard" wait="8 h..16 h" at="4 °C" on="retarder-prover" hold="4 h at 4 °C"')
    sheet.blocks()
    kitchen.finish("doughs", sheet, grams=made)


def bread(kitchen: Kitchen) -> None:
    """A loaf on a culture, some with a soaker."""
    sheet = kitchen.begin("breads", kitchen.random.choice(("loaf", "bread", "tin")))
    flour = kitchen.random.randrange(6000, 12000, 100)
    sheet.stage("Dough")
    strong, other = kitchen.items("flours", 2)
    sheet.weigh(flour * 0.8, strong)
    sheet.weigh(flour * 0.2, other)
    sheet.weigh(flour * kitchen.random.uniform(0.55, 0.7), WATER, "24 °C")
    sheet.use(kitchen.some("cultures"), flour * 0.3, "ripe")
    if kitchen.random.random() < 0.4:
        sheet.use(kitchen.some("soakers"), flour * 0.25)
    sheet.weigh(flour * 0.02, kitchen.item("flavourings"))
    sheet.stage("Dusting")
    sheet.line(f"{{line: as needed 160 g {kitchen.item('flours')}, stays: 25 %, note: for baskets and peel}}", "dusting flour")
    loaves = max(6, int(_after(sheet.total, 1, 2) / 950))
    kitchen.head(sheet, "product", f"{loaves} loaves scaled at {_after(sheet.total, 1, 2) / loaves:.0f} g")
    sheet.key("base", "flour")
    sheet.front += ["losses:", "  Dough: {mix: 1 %, portion: 2 %}", "  whole: {bake: 13 %}"]
    sheet.key("dough temperature", "25 °C")
    sheet.key("labour role", "night baker")
    sheet.key("packaging", f"[1 {kitchen.item('packaging')} per 1 loaf]")
    _sold(kitchen, sheet, "1 loaf", 4, 7)
    sheet.key("cautions", "[flour dust, oven steam, hot trays, heavy load, lone working]")
    _keeps(sheet, "raw: 18 h at 4 °C", "baked: 4 days at 20 °C, best before", "frozen: 2 months at -18 °C, from baked within 12 h")
    _teach(sheet)
    sheet.heading("Day one")
    sheet.step('name="autolyse" work="8 min" takes="40 min..60 min" on="spiral mixer"')
    sheet.step('work="14 min" on="spiral mixer" caution="moving machinery"')
    sheet.step('work="18 min" takes="3 h..3 h 30 min" at="25 °C" on="retarder-prover"')
    sheet.step('each="40 s per loaf" takes="25 min" on="bench"')
    sheet.step('each="45 s per loaf" on="bench" uses="Dusting"')
    sheet.step('name="retard" wait="10 h..18 h" at="4 °C" on="retarder-prover"')
    sheet.heading("Day two")
    sheet.step('each="30 s per loaf" on="deck oven" at="top 250 °C, bottom 240 °C, steam"')
    sheet.step('takes="38 min..42 min" at="top 235 °C, bottom 230 °C" to="core 97 °C" on="deck oven" load="12 pieces"')
    sheet.step('takes="2 h..3 h" on="rack"')
    sheet.blocks()
    kitchen.finish("breads", sheet, pieces=loaves)


def bun(kitchen: Kitchen) -> None:
    """Small pieces of a dough, washed and baked: the third level."""
    sheet = kitchen.begin("buns", kitchen.random.choice(("bun", "twist", "roll")))
    count, each = kitchen.random.randrange(24, 72, 12), kitchen.random.randint(48, 80)
    base = kitchen.some("doughs")
    sheet.stage("Dough")
    sheet.line(f"{count} × {each} g {base.title}", base.title)
    sheet.linked.append(base)
    sheet.stage("Wash")
    sheet.weigh(90, kitchen.item("eggs"), mapping="stays: 45 %")
    sheet.line(f"{{line: as needed 72 g {kitchen.item('sugars')}, optional: yes}}", "sugar")
    kitchen.head(sheet, "product", f"{count} buns of {_after(count * each + 90 * 0.45 + 72, 11) / count:.0f} g")
    sheet.key("losses", "{bake: 11 %}")
    sheet.key("tray", "12 buns")
    sheet.key("packaging", f"[1 {kitchen.item('packaging')} per 6 buns]")
    _sold(kitchen, sheet, "1 bun", 2, 4)
    sheet.key("cautions", "[raw egg, hot trays]")
    _keeps(sheet, "baked: 2 days at 20 °C, best before", "frozen: 1 month at -18 °C, from baked within 6 h", "thawed: 1 day at 20 °C, from frozen within 1 month")
    sheet.step('each="18 s per bun" on="bench" uses="Dough"')
    sheet.step('each="2 min per tray" uses="Wash"')
    sheet.step('takes="1 h 30 min..2 h" at="27 °C" on="retarder-prover"')
    sheet.step('takes="12 min..14 min" at="175 °C" to="core 92 °C" on="convection oven" load="8 trays" limit="core 88 °C" if-missed="bake on" kill="yes"')
    sheet.blocks()
    kitchen.finish("buns", sheet, pieces=count)


def moulded(kitchen: Kitchen) -> None:
    """A mousse with a heart on a disc of biscuit: the third level."""
    sheet = kitchen.begin("moulded", kitchen.random.choice(("pebble", "dome", "cake")))
    mass, heart, foot = kitchen.some("mousses"), kitchen.some("inserts"), kitchen.some("biscuits")
    chocolate = kitchen.item("chocolate")
    sheet.stage("Body")
    sheet.line(f"24 × {kitchen.random.randint(40, 46)} g {mass.title}, piped", mass.title)
    sheet.line(f"24 pieces {heart.title}, frozen", heart.title)
    sheet.stage("Foot")
    sheet.line(f"24 discs of {kitchen.random.choice((38, 40, 44))} mm {foot.title}", foot.title)
    sheet.line(f"24 × 1 g {chocolate}, melted, to fix", chocolate)
    sheet.stage("Velvet")
    sheet.line(f"{{line: 80 g {kitchen.item('chocolate')}, stays: 45 %, rest: waste, note: overspray is lost}}", chocolate)
    sheet.line(f"{{line: 80 g {kitchen.item('fats')}, stays: 45 %, rest: waste}}", "fat")
    sheet.linked += [mass, heart, foot]
    kitchen.head(sheet, "product", "24 pieces")
    sheet.key("tray", "24 pieces")
    sheet.front += ["layers:", f"  - {foot.title}, disc 40 mm at 4 mm", f"  - {mass.title} > {heart.title}", "  - Velvet coats"]
    sheet.key("packaging", f"[4 pieces {kitchen.item('packaging')}, 24 pieces {kitchen.item('packaging')}]")
    _sold(kitchen, sheet, "1 piece", 4, 7)
    sheet.key("named", f"[{heart.title}, {mass.title}]")
    sheet.key("defrosted", "yes")
    sheet.key("thaw", "6 hours in the refrigerator at 4 °C")
    sheet.key("cautions", "[cold burn, spray mist, allergens, cooling]")
    _keeps(sheet, "frozen: 1 month at -18 °C", "thawed: 2 days at 4 °C, from frozen within 1 month, use by")
    _teach(sheet)
    sheet.heading("Day one")
    sheet.step(f'each="12 s per piece" on="bench" uses="{mass.title}"')
    sheet.step(f'each="14 s per piece" uses="{heart.title}"')
    sheet.step('name="freeze" wait="10 h..24 h" at="-35 °C" to="core -18 °C" on="blast freezer" load="8 moulds" limit="core -18 °C" if-missed="freeze on" hold="1 month at -18 °C"')
    sheet.heading("Day two")
    sheet.step('each="5 s per piece" caution="cold burn" hold="1 h at -18 °C"')
    sheet.step('work="6 min" each="6 s per piece" to="45 °C" on="spray cabin" uses="Velvet" caution="spray mist"')
    sheet.step('each="10 s per piece" uses="Foot"')
    sheet.step('name="thaw" takes="5 h..6 h" at="4 °C" on="refrigerator" limit="core stays below 5 °C" if-missed="throw it away" ccp="4"')
    sheet.blocks()
    kitchen.finish("moulded", sheet, pieces=24)


def slice_(kitchen: Kitchen) -> None:
    """Two sheets and a cream, cut; what falls off has users."""
    sheet = kitchen.begin("slices", kitchen.random.choice(("slice", "bar")))
    foot, cream = kitchen.some("biscuits"), kitchen.some("mousses")
    chocolate = kitchen.item("chocolate")
    sheet.stage("Build")
    sheet.line(f"2 sheets {foot.title}", foot.title)
    sheet.use(cream, kitchen.random.randrange(1600, 2600, 50))
    sheet.stage("Coat")
    sheet.line(f"{{line: 420 g {chocolate}, working: 800 g, stays: 85 %, rest: back}}", chocolate)
    sheet.weigh(30, kitchen.item("fats"))
    sheet.weigh(60, kitchen.item("nuts"), "roasted and chopped")
    sheet.linked.append(foot)
    kitchen.head(sheet, "product", f"1 sheet of 60 × 40 cm at {kitchen.random.randint(24, 34)} mm")
    sheet.key("cut", "30 × 80 mm, trim 5 mm")
    offcut = f"{sheet.title.lower()} offcuts"
    sheet.front += ["gives:", f"  {offcut}:", "    amount: rest of the cut", "    worth: 50 %", "    keeps: {made: 3 days at 4 °C}"]
    sheet.front += ["layers:", f"  - {foot.title}, 10 mm", f"  - {cream.title}, 10 mm", f"  - {foot.title}, 10 mm"]
    sheet.key("packaging", f"[1 {kitchen.item('packaging')} per 1 piece]")
    _sold(kitchen, sheet, "1 piece", 3, 6)
    sheet.key("cautions", "[blades, allergens, cold burn]")
    _keeps(sheet, "made: 2 days at 4 °C, use by", "frozen: 1 month at -18 °C, from made within 4 h", "thawed: 1 day at 4 °C, from frozen within 1 month, use by")
    sheet.step('work="2 min"')
    sheet.step('work="10 min" uses="Build"')
    sheet.step('wait="3 h..20 h" at="-18 °C" on="blast freezer" hold="1 month at -18 °C"')
    sheet.step('work="8 min" to="35 °C" uses="Coat"')
    sheet.step('each="7 s per piece" takes="6 h..8 h" at="4 °C" on="refrigerator" caution="blades" limit="core stays below 5 °C" if-missed="throw it away" ccp="4"')
    sheet.blocks()
    kitchen.finish("slices", sheet, offcut=offcut)


def tart(kitchen: Kitchen) -> None:
    """A tart in two sizes."""
    sheet = kitchen.begin("tarts", "tart")
    shell, fruit, cream = kitchen.some("doughs"), kitchen.some("fillings"), kitchen.some("creams")
    wash = kitchen.item("eggs")
    grams = kitchen.random.randint(300, 360), kitchen.random.randint(500, 580)
    whole = _after(4 * (260 + 5 + sum(grams)), 12) / 4
    small = _after(24 * (36 + 0.8 + 22 + 42), 15) / 24
    for text, name in (
        (f"4 × 260 g {shell.title}", shell.title), (f"4 × 5 g {wash}", wash),
        (f"4 × {grams[0]} g {fruit.title}, drained", fruit.title), (f"4 × {grams[1]} g {cream.title}", cream.title),
    ):  # fmt: skip
        if name in (shell.title, fruit.title):
            sheet.stage("Shell" if name == shell.title else "Filling")
        sheet.line(text, name)
    sheet.linked += [shell, fruit, cream]
    kitchen.head(sheet, "product", f"4 tarts of {whole:.0f} g")
    sheet.key("losses", "{bake: 12 %}")
    sheet.key("tray", "2 tarts")
    _sold(kitchen, sheet, "1 tart", 24, 30)
    box = kitchen.item("packaging")
    sheet.front += [
        "sizes:", "  24 cm:", f"    packaging: [1 {box} per 1 tart]", "    steps: {bake: {takes: 36 min..40 min}}",
        "  8 cm:", f"    yields: 24 tarts of {small:.0f} g", "    tray: 24 tarts", "    formula:", "      Shell:",
        f"        - 24 × 36 g {shell.title}", f"        - 24 × 0.8 g {wash}", "      Filling:",
        f"        - 24 × 22 g {fruit.title}, drained", f"        - 24 × 42 g {cream.title}", "    losses: {bake: 15 %}",
        "    price: {tea room: 4.60 EUR incl, hotel: 2.60 EUR net}", f"    packaging: [1 {box} per 1 tart]",
        "    steps: {bake: {takes: 26 min..30 min}, line: {each: 40 s per piece}}",
    ]  # fmt: skip
    sheet.key("cautions", "[hot trays, raw egg, allergens]")
    _keeps(sheet, "raw: 1 day at 4 °C", "baked: 2 days at 4 °C, use by")
    sheet.step(f'name="line" each="90 s per piece" takes="45 min" at="4 °C" on="refrigerator" uses="{shell.title}" hold="1 day at 4 °C"')
    sheet.step('name="blind" work="4 min" takes="18 min..22 min" at="165 °C" on="convection oven" load="4 trays"')
    sheet.step('each="45 s per piece" uses="Filling"')
    sheet.step('name="bake" takes="28 min..40 min" at="140 °C" to="core 80 °C" on="convection oven" load="4 trays" limit="core 78 °C" if-missed="bake on" ccp="1" kill="yes"')
    sheet.step('takes="90 min" at="4 °C" on="refrigerator" limit="5 °C within 4 h" if-missed="throw it away" ccp="2"')
    sheet.blocks()
    kitchen.finish("tarts", sheet)


def confection(kitchen: Kitchen) -> None:
    """Boiled sugar with nuts."""
    sheet = kitchen.begin("confectionery", kitchen.random.choice(("nougat", "caramel", "praline")))
    sheet.stage("Syrup")
    for name in kitchen.items("sugars", 2):
        sheet.weigh(kitchen.random.randrange(200, 400, 5), name)
    sheet.weigh(kitchen.random.randrange(80, 140, 5), WATER)
    syrup = sheet.total
    sheet.stage("Nuts")
    for name in kitchen.items("nuts", 2):
        sheet.weigh(kitchen.random.randrange(100, 350, 5), name, "roasted and warm")
    if kitchen.made.get("slices") and kitchen.random.random() < 0.3:
        given = kitchen.some("slices")
        sheet.line(f"{{line: 60 g {given.offcut}, at most: 10 %}}", given.offcut)
        sheet.total += 60
    boil = kitchen.random.randint(12, 20)
    made = _after(_after(syrup, boil) + sheet.total - syrup, 2, 1)
    kitchen.head(sheet, "product", f"{int(made / 12)} pieces of 12 g")
    sheet.front += ["losses:", f"  Syrup: {{boil: {boil} %}}", "  whole: {transfer: 2 %, trim: 1 %}"]
    sheet.key("packaging", f"[1 {kitchen.item('packaging')} per 10 pieces]")
    _sold(kitchen, sheet, "10 pieces", 8, 12)
    sheet.key("cautions", "[hot sugar, moving machinery, blades, allergens]")
    _keeps(sheet, "made: 2 months dry at 18 °C, best before")
    sheet.step('work="3 min" takes="20 min" at="80 °C" on="convection oven" uses="Nuts"')
    sheet.step('work="15 min" to="146 °C" on="copper pan" uses="Syrup" caution="hot sugar"')
    sheet.step('work="15 min" to="core 75 °C" on="planetary mixer" caution="hot sugar"')
    sheet.step('work="8 min" wait="8 h..24 h" at="18 °C" on="bench"')
    sheet.step('each="9 s per piece" caution="blades"')
    sheet.blocks()
    kitchen.finish("confectionery", sheet, pieces=int(made / 12))


def assortment(kitchen: Kitchen) -> None:
    """A box of other products: the fourth level."""
    sheet = kitchen.begin("assortments", "box")
    for kind, count in (("moulded", 12), ("buns", 12), ("confectionery", 24)):
        made = kitchen.some(kind)
        sheet.line(f"{count} pieces {made.title}", made.title)
        sheet.linked.append(made)
    kitchen.head(sheet, "product", "6 portions")
    sheet.key("packaging", f"[1 {kitchen.item('packaging')} per 1 portion]")
    _sold(kitchen, sheet, "1 portion", 24, 40)
    sheet.key("cautions", "[allergens]")
    _keeps(sheet, "made: 1 day at 4 °C, use by")
    sheet.step('each="60 s per portion" on="packing table"')
    sheet.step('each="20 s per portion" on="packing table"')
    sheet.blocks()
    kitchen.finish("assortments", sheet)


MIX: Mapping[Callable[[Kitchen], None], int] = {
    culture: 2, poolish: 3, soaker: 3, custard: 9, biscuit: 9, preserve: 8, mousse: 8, insert: 6, dough: 6,
    bread: 10, bun: 8, moulded: 9, slice_: 7, tart: 5, confection: 5, assortment: 2,
}  # fmt: skip
"""How many of a hundred recipes are of which kind, components first."""


def _after(grams: float, *percents: float) -> float:
    """What is left behind these losses."""
    for percent in percents:
        grams *= 1 - percent / 100
    return grams


def _keeps(sheet: Sheet, *lines: str) -> None:
    sheet.front += ["keeps:", *(f"  {line}" for line in lines)]


def _sold(kitchen: Kitchen, sheet: Sheet, portion: str, low: int, high: int) -> None:
    price = kitchen.random.uniform(low, high)
    sheet.key("portion", portion)
    sheet.key("price", f"{{tea room: {price:.2f} EUR incl, hotel: {price * 0.6:.2f} EUR net}}")
    sheet.key("describe", f"{sheet.title}, made in the house from the first weighing to the last.")
    sheet.key("serve", "At its best on the day, ten minutes out of the cold.")
    sheet.key("sold as", sheet.title)


def _teach(sheet: Sheet) -> None:
    if sheet.random.random() < 0.4:
        sheet.key("teach", f"{{level: {sheet.random.randint(1, 3)}, topics: [weighing, working temperature, cooling]}}")
