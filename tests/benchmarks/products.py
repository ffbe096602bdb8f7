"""The kinds of product in a generated book; an assortment stands on the fourth level."""

from tests.benchmarks.kitchen import Kitchen, after, keeps, sold, teach
from tests.benchmarks.stores import WATER


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
    dusting = kitchen.item("flours")
    sheet.line(f"{{line: as needed 160 g {dusting}, stays: 25 %, note: for baskets and peel}}", dusting)
    loaves = max(6, int(after(sheet.total, 1, 2) / 950))
    kitchen.head(sheet, "product", f"{loaves} loaves scaled at {after(sheet.total, 1, 2) / loaves:.0f} g")
    sheet.key("base", "flour")
    sheet.front += ["losses:", "  Dough: {mix: 1 %, portion: 2 %}", "  whole: {bake: 13 %}"]
    sheet.key("dough temperature", "25 °C")
    sheet.key("labour role", "night baker")
    sheet.key("packaging", f"[1 {kitchen.item('packaging')} per 1 loaf]")
    sold(kitchen, sheet, "1 loaf", 4, 7)
    sheet.key("cautions", "[flour dust, oven steam, hot trays, heavy load, lone working]")
    keeps(
        sheet,
        "raw: 18 h at 4 °C",
        "baked: 4 days at 20 °C, best before",
        "frozen: 2 months at -18 °C, from baked within 12 h",
    )
    teach(sheet)
    sheet.heading("Day one")
    sheet.step(name="autolyse", work="8 min", takes="40 min..60 min", on="spiral mixer")
    sheet.step(work="14 min", on="spiral mixer", caution="moving machinery")
    sheet.step(work="18 min", takes="3 h..3 h 30 min", at="25 °C", on="retarder-prover")
    sheet.step(each="40 s per loaf", takes="25 min", on="bench")
    sheet.step(each="45 s per loaf", on="bench", uses="Dusting")
    sheet.step(name="retard", wait="10 h..18 h", at="4 °C", on="retarder-prover")
    sheet.heading("Day two")
    sheet.step(each="30 s per loaf", on="deck oven", at="top 250 °C, bottom 240 °C, steam")
    sheet.step(
        takes="38 min..42 min", at="top 235 °C, bottom 230 °C", to="core 97 °C", on="deck oven", load="12 pieces"
    )
    sheet.step(takes="2 h..3 h", on="rack")
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
    kitchen.head(sheet, "product", f"{count} buns of {after(count * each + 90 * 0.45 + 72, 11) / count:.0f} g")
    sheet.key("losses", "{bake: 11 %}")
    sheet.key("tray", "12 buns")
    sheet.key("packaging", f"[1 {kitchen.item('packaging')} per 6 buns]")
    sold(kitchen, sheet, "1 bun", 2, 4)
    sheet.key("cautions", "[raw egg, hot trays]")
    keeps(
        sheet,
        "baked: 2 days at 20 °C, best before",
        "frozen: 1 month at -18 °C, from baked within 6 h",
        "thawed: 1 day at 20 °C, from frozen within 1 month",
    )
    sheet.step(each="18 s per bun", on="bench", uses="Dough")
    sheet.step(each="2 min per tray", uses="Wash")
    sheet.step(takes="1 h 30 min..2 h", at="27 °C", on="retarder-prover")
    sheet.step(
        takes="12 min..14 min",
        at="175 °C",
        to="core 92 °C",
        on="convection oven",
        load="8 trays",
        limit="core 88 °C",
        if_missed="bake on",
        kill="yes",
    )
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
    sheet.weigh(80, kitchen.item("chocolate"), mapping="stays: 45 %, rest: waste, note: overspray is lost")
    sheet.weigh(80, kitchen.item("fats"), mapping="stays: 45 %, rest: waste")
    sheet.linked += [mass, heart, foot]
    kitchen.head(sheet, "product", "24 pieces")
    sheet.key("tray", "24 pieces")
    layers = (f"{foot.title}, disc 40 mm at 4 mm", f"{mass.title} > {heart.title}", "Velvet coats")
    sheet.front += ["layers:", *(f"  - {layer}" for layer in layers)]
    sheet.key("packaging", f"[4 pieces {kitchen.item('packaging')}, 24 pieces {kitchen.item('packaging')}]")
    sold(kitchen, sheet, "1 piece", 4, 7)
    sheet.key("named", f"[{heart.title}, {mass.title}]")
    sheet.key("defrosted", "yes")
    sheet.key("thaw", "6 hours in the refrigerator at 4 °C")
    sheet.key("cautions", "[cold burn, spray mist, allergens, cooling]")
    keeps(sheet, "frozen: 1 month at -18 °C", "thawed: 2 days at 4 °C, from frozen within 1 month, use by")
    teach(sheet)
    sheet.heading("Day one")
    sheet.step(each="12 s per piece", on="bench", uses=f"{mass.title}")
    sheet.step(each="14 s per piece", uses=f"{heart.title}")
    sheet.step(
        name="freeze",
        wait="10 h..24 h",
        at="-35 °C",
        to="core -18 °C",
        on="blast freezer",
        load="8 moulds",
        limit="core -18 °C",
        if_missed="freeze on",
        hold="1 month at -18 °C",
    )
    sheet.heading("Day two")
    sheet.step(each="5 s per piece", caution="cold burn", hold="1 h at -18 °C")
    sheet.step(work="6 min", each="6 s per piece", to="45 °C", on="spray cabin", uses="Velvet", caution="spray mist")
    sheet.step(each="10 s per piece", uses="Foot")
    sheet.step(
        name="thaw",
        takes="5 h..6 h",
        at="4 °C",
        on="refrigerator",
        limit="core stays below 5 °C",
        if_missed="throw it away",
        ccp="4",
    )
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
    sheet.front += ["gives:", f"  {offcut}: {{amount: rest of the cut, worth: 50 %, keeps: {{made: 3 days at 4 °C}}}}"]
    sheet.front += ["layers:", f"  - {foot.title}, 10 mm", f"  - {cream.title}, 10 mm", f"  - {foot.title}, 10 mm"]
    sheet.key("packaging", f"[1 {kitchen.item('packaging')} per 1 piece]")
    sold(kitchen, sheet, "1 piece", 3, 6)
    sheet.key("cautions", "[blades, allergens, cold burn]")
    keeps(
        sheet,
        "made: 2 days at 4 °C, use by",
        "frozen: 1 month at -18 °C, from made within 4 h",
        "thawed: 1 day at 4 °C, from frozen within 1 month, use by",
    )
    sheet.step(work="2 min")
    sheet.step(work="10 min", uses="Build")
    sheet.step(wait="3 h..20 h", at="-18 °C", on="blast freezer", hold="1 month at -18 °C")
    sheet.step(work="8 min", to="35 °C", uses="Coat")
    sheet.step(
        each="7 s per piece",
        takes="6 h..8 h",
        at="4 °C",
        on="refrigerator",
        caution="blades",
        limit="core stays below 5 °C",
        if_missed="throw it away",
        ccp="4",
    )
    sheet.blocks()
    kitchen.finish("slices", sheet, offcut=offcut)


def tart(kitchen: Kitchen) -> None:
    """A tart in two sizes."""
    sheet = kitchen.begin("tarts", "tart")
    shell, fruit, cream = kitchen.some("doughs"), kitchen.some("fillings"), kitchen.some("creams")
    wash = kitchen.item("eggs")
    grams = kitchen.random.randint(300, 360), kitchen.random.randint(500, 580)
    whole = after(4 * (260 + 5 + sum(grams)), 12) / 4
    small = after(24 * (36 + 0.8 + 22 + 42), 15) / 24
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
    sold(kitchen, sheet, "1 tart", 24, 30)
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
    keeps(sheet, "raw: 1 day at 4 °C", "baked: 2 days at 4 °C, use by")
    sheet.step(
        name="line",
        each="90 s per piece",
        takes="45 min",
        at="4 °C",
        on="refrigerator",
        uses=f"{shell.title}",
        hold="1 day at 4 °C",
    )
    sheet.step(name="blind", work="4 min", takes="18 min..22 min", at="165 °C", on="convection oven", load="4 trays")
    sheet.step(each="45 s per piece", uses="Filling")
    sheet.step(
        name="bake",
        takes="28 min..40 min",
        at="140 °C",
        to="core 80 °C",
        on="convection oven",
        load="4 trays",
        limit="core 78 °C",
        if_missed="bake on",
        ccp="1",
        kill="yes",
    )
    sheet.step(
        takes="90 min", at="4 °C", on="refrigerator", limit="5 °C within 4 h", if_missed="throw it away", ccp="2"
    )
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
    made = after(after(syrup, boil) + sheet.total - syrup, 2, 1)
    kitchen.head(sheet, "product", f"{int(made / 12)} pieces of 12 g")
    sheet.front += ["losses:", f"  Syrup: {{boil: {boil} %}}", "  whole: {transfer: 2 %, trim: 1 %}"]
    sheet.key("packaging", f"[1 {kitchen.item('packaging')} per 10 pieces]")
    sold(kitchen, sheet, "10 pieces", 8, 12)
    sheet.key("cautions", "[hot sugar, moving machinery, blades, allergens]")
    keeps(sheet, "made: 2 months dry at 18 °C, best before")
    sheet.step(work="3 min", takes="20 min", at="80 °C", on="convection oven", uses="Nuts")
    sheet.step(work="15 min", to="146 °C", on="copper pan", uses="Syrup", caution="hot sugar")
    sheet.step(work="15 min", to="core 75 °C", on="planetary mixer", caution="hot sugar")
    sheet.step(work="8 min", wait="8 h..24 h", at="18 °C", on="bench")
    sheet.step(each="9 s per piece", caution="blades")
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
    sold(kitchen, sheet, "1 portion", 24, 40)
    sheet.key("cautions", "[allergens]")
    keeps(sheet, "made: 1 day at 4 °C, use by")
    sheet.step(each="60 s per portion", on="packing table")
    sheet.step(each="20 s per portion", on="packing table")
    sheet.blocks()
    kitchen.finish("assortments", sheet)
