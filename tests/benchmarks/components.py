"""The kinds of component in a generated book, one or two levels deep."""

from tests.benchmarks.kitchen import Kitchen, after, keeps, teach
from tests.benchmarks.stores import WATER


def culture(kitchen: Kitchen) -> None:
    """A sour culture that is fed from itself."""
    sheet = kitchen.begin("cultures", "culture")
    flour, batch = kitchen.item("flours"), kitchen.random.randrange(2000, 6000, 100)
    sheet.weigh(batch * 0.2, sheet.title.lower(), "ripe")
    sheet.weigh(batch * 0.4, flour)
    sheet.weigh(batch * 0.4, WATER, "30 °C")
    made = after(sheet.total, 1) - batch * 0.2
    kitchen.head(sheet, "preferment", f"{made:.0f} g")
    for key, value in (
        ("keep back", f"{batch * 0.2:.0f} g"), ("losses", "{transfer: 1 %}"), ("dough temperature", "25 °C"),
        ("make", "{least: 1 kg, step: 500 g, most: 14 kg}"), ("cautions", "[flour dust]"),
    ):  # fmt: skip
        sheet.key(key, value)
    keeps(sheet, "raw: 18 h at 4 °C")
    sheet.step(work="4 min", on="spiral mixer")
    sheet.step(work="5 min", on="spiral mixer", caution="moving machinery")
    sheet.step(name="ripen", takes="5 h..7 h", at="26 °C", on="retarder-prover", hold="12 h at 4 °C")
    sheet.blocks()
    kitchen.finish("cultures", sheet, grams=made)


def poolish(kitchen: Kitchen) -> None:
    """A yeasted preferment, written in percent."""
    sheet = kitchen.begin("preferments", "poolish")
    batch = kitchen.random.randrange(2000, 8000, 500)
    water = kitchen.random.randrange(90, 115)
    for percent, name, more in (
        (100, kitchen.item("flours"), ""), (water, WATER, ", 20 °C"), (0.2, kitchen.item("setting"), ""),
    ):  # fmt: skip
        sheet.line(f"{percent} % {name}{more}", name)
    kitchen.head(sheet, "preferment", f"{after(batch, 2):.0f} g")
    sheet.key("batch", f"{batch} g")
    sheet.key("losses", "{transfer: 2 %}")
    sheet.key("dough temperature", "21 °C")
    keeps(sheet, "raw: 14 h at 20 °C")
    sheet.step(work="6 min", on="bench")
    sheet.step(name="ripen", takes="11 h..14 h", at="20 °C", on="retarder-prover")
    sheet.blocks()
    kitchen.finish("preferments", sheet, grams=after(batch, 2))


def soaker(kitchen: Kitchen) -> None:
    """Seeds and meal, left in hot water."""
    sheet = kitchen.begin("soakers", "soaker")
    flour = kitchen.item("flours")
    sheet.weigh(kitchen.random.randrange(600, 1200, 50), flour)
    seeds = kitchen.items("nuts", 2)
    for seed in seeds:
        sheet.weigh(kitchen.random.randrange(200, 600, 20), seed)
    sheet.weigh(kitchen.random.randrange(1200, 2400, 50), WATER, "90 °C")
    kitchen.head(sheet, "soaker", f"{after(sheet.total, 2):.0f} g")
    sheet.key("losses", "{transfer: 2 %}")
    sheet.key("cautions", "[flour dust]")
    keeps(sheet, "made: 24 h at 4 °C")
    sheet.step(work="2 min", takes="10 min", at="150 °C", on="convection oven", uses=", ".join(seeds))
    sheet.step(work="8 min", on="bench", uses=f"{flour}, water")
    sheet.step(name="soak", wait="6 h..14 h", at="20 °C", on="bench", hold="10 h at 4 °C")
    sheet.block("caution hot liquids", "Pour away from you, into a deep tub that stands on the low table.")
    sheet.blocks()
    kitchen.finish("soakers", sheet, grams=after(sheet.total, 2))


def custard(kitchen: Kitchen) -> None:
    """A cooked cream that others are built on."""
    sheet = kitchen.begin("creams", kitchen.random.choice(("cream", "custard", "curd")))
    milk, cream = kitchen.items("dairy", 2)
    yolk, sugar, spice = kitchen.item("eggs"), kitchen.item("sugars"), kitchen.item("flavourings")
    for name, low, high in ((milk, 500, 1500), (cream, 400, 1200), (yolk, 150, 400), (sugar, 100, 300)):
        sheet.weigh(kitchen.random.randrange(low, high, 5), name)
    sheet.weigh(kitchen.random.randrange(20, 60) / 10, spice, mapping="stays: 40 %, rest: waste, note: strained out")
    cook = kitchen.random.randint(3, 8)
    made = after(sheet.total, cook, 1)
    kitchen.head(sheet, "component", f"{made:.0f} g")
    sheet.key("losses", f"{{cook: {cook} %, sieve: 1 %}}")
    sheet.key("make", "{least: 600 g, step: 200 g, most: 8 kg}")
    sheet.key("cautions", "[raw egg, cooling, hot liquids]")
    keeps(sheet, "made: 3 days at 3 °C")
    teach(sheet)
    sheet.step(work="6 min", takes="20 min..30 min", on="hob", uses=f"{milk}, {cream}, {spice}")
    sheet.step(work="3 min", on="hob", uses=f"{yolk}, {sugar}")
    sheet.step(
        work="8 min",
        to="83 °C",
        on="hob",
        limit="reaches 82 °C for 1 min",
        if_missed="throw it away",
        ccp="1",
        kill="yes",
    )
    sheet.step(
        work="4 min",
        takes="45 min..90 min",
        at="4 °C",
        on="blast chiller",
        limit="5 °C within 2 h",
        if_missed="throw it away",
        ccp="2",
        hold="3 days at 3 °C",
    )
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
    keeps(sheet, "raw: 3 days at 4 °C", "baked: 10 days dry at 18 °C")
    sheet.step(work="10 min", on="planetary mixer")
    sheet.step(name="chill", wait="4 h..16 h", at="4 °C", on="refrigerator")
    sheet.step(work="8 min", hold="2 h at 4 °C")
    sheet.step(work="2 min", takes="18 min..22 min", at="160 °C", on="convection oven", load="4 sheets")
    sheet.blocks()
    kitchen.finish("biscuits", sheet, grams=after(sheet.total, 1, 10))


def preserve(kitchen: Kitchen) -> None:
    """Fruit boiled down."""
    sheet = kitchen.begin("fillings", kitchen.random.choice(("jam", "compote", "jelly")))
    fruit, sugar, setting = kitchen.item("fruit"), kitchen.item("sugars"), kitchen.item("setting")
    batch = kitchen.random.randrange(1000, 3000, 50)
    sheet.line(f"{{line: '{batch} g {fruit}, as bought', or: {kitchen.item('fruit')}}}", fruit)
    sheet.weigh(batch * 0.5, sugar)
    sheet.weigh(batch * 0.012, setting)
    boil = kitchen.random.randint(10, 22)
    made = after(sheet.total + batch * 0.92, boil, 1)
    kitchen.head(sheet, "component", f"{made:.0f} g")
    sheet.key("losses", f"{{boil: {boil} %, transfer: 1 %}}")
    sheet.key("cautions", "[hot sugar, glass]")
    keeps(sheet, "made: 6 months at 18 °C", "opened: 1 month at 4 °C")
    sheet.step(work="20 min")
    sheet.step(work="5 min", takes="15 min", to="80 °C", on="copper pan", uses=f"{fruit}, {sugar}")
    sheet.step(
        work="18 min",
        takes="4 min..10 min",
        to="105 °C",
        on="copper pan",
        caution="hot sugar",
        limit="boils for 2 min",
        if_missed="boil again",
        kill="yes",
    )
    sheet.step(work="8 min", on="bench")
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
    made = after(sheet.total, 1, 3)
    kitchen.head(sheet, "component", f"{made:.0f} g")
    sheet.key("losses", "{mix: 1 %, transfer: 3 %}")
    sheet.key("make", "{least: 1 kg, step: 500 g, most: 5 kg}")
    keeps(sheet, "made: 2 days at 4 °C", "frozen: 1 month at -18 °C, from made within 2 h")
    sheet.step(work="2 min", takes="10 min", at="4 °C", uses=f"{setting}")
    sheet.step(work="5 min", to="50 °C", on="hob", uses=f"{base.title}, {sweet}")
    sheet.step(name="cool", work="4 min", takes="10 min..15 min", to="26 °C")
    sheet.step(work="4 min", uses="Cream")
    sheet.blocks()
    kitchen.finish("mousses", sheet, grams=made)


def insert(kitchen: Kitchen) -> None:
    """Frozen pieces for the middle of others: the second level."""
    sheet = kitchen.begin("inserts", "heart")
    filling = kitchen.some("fillings")
    each = kitchen.random.randint(10, 16)
    sheet.use(filling, 48 * each * 0.9)
    sheet.weigh(48 * each * 0.17, kitchen.item("fruit"))
    kitchen.head(sheet, "component", f"48 pieces of {after(sheet.total, 4, 2) / 48:.1f} g")
    sheet.key("losses", "{boil: 4 %, transfer: 2 %}")
    sheet.key("cautions", "[cold burn]")
    keeps(sheet, "frozen: 3 months at -18 °C")
    sheet.step(work="5 min", to="95 °C", on="hob", kill="yes")
    sheet.step(each="5 s per piece", on="bench")
    sheet.step(name="freeze", wait="8 h..24 h", at="-18 °C", on="blast freezer", hold="3 months at -18 °C")
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
    made = after(sheet.total, 1, 1)
    kitchen.head(sheet, "component", f"{made:.0f} g")
    sheet.key("base", "flour")
    sheet.key("losses", "{mix: 1 %, transfer: 1 %}")
    sheet.key("dough temperature", "24 °C")
    sheet.key("cautions", "[flour dust]")
    keeps(sheet, "raw: 18 h at 4 °C")
    sheet.step(work="14 min", on="spiral mixer", caution="moving machinery")
    sheet.step(work="4 min", takes="60 min", at="24 °C", on="retarder-prover")
    sheet.step(name="retard", wait="8 h..16 h", at="4 °C", on="retarder-prover", hold="4 h at 4 °C")
    sheet.blocks()
    kitchen.finish("doughs", sheet, grams=made)
