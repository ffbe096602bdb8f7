"""`stores/*.yaml` as written."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from bookmaker.model.written import Names, doc


@dataclass(frozen=True, slots=True)
class WrittenNutrition:
    """Grams per 100 g. Energy is never written: it is computed by the rules of the label region."""

    fat: str = field(default="", metadata=doc("fat", "81.11 g"))
    saturates: str = field(default="", metadata=doc("saturated fatty acids, part of the fat", "51.37 g"))
    carbohydrate: str = field(default="", metadata=doc("carbohydrate", "0.06 g"))
    sugars: str = field(default="", metadata=doc("sugars, part of the carbohydrate", "0.06 g"))
    fibre: str = field(default="", metadata=doc("dietary fibre", "0 g"))
    protein: str = field(default="", metadata=doc("protein", "0.85 g"))
    salt: str = field(default="", metadata=doc("salt (sodium × 2.5)", "0.03 g"))
    polyols: str = field(default="", metadata=doc("sugar alcohols, part of the carbohydrate; none if not said", "70 g"))
    acids: str = field(default="", metadata=doc("organic acids; none if not said", "6 g"))
    trans_fat: str = field(default="", metadata=doc("trans fatty acids, for US labels", "0.5 g"))
    cholesterol: str = field(default="", metadata=doc("cholesterol, for US labels", "215 mg"))
    added_sugars: str = field(default="", metadata=doc("sugars that were added, for US labels", "36 g"))
    vitamin_d: str = field(default="", metadata=doc("vitamin D, for US labels", "1.3 µg"))
    calcium: str = field(default="", metadata=doc("calcium, for US labels", "24 mg"))
    iron: str = field(default="", metadata=doc("iron, for US labels", "0.02 mg"))
    potassium: str = field(default="", metadata=doc("potassium, for US labels", "24 mg"))


@dataclass(frozen=True, slots=True)
class WrittenAdditive:
    """How an additive is declared."""

    class_: str = field(metadata=doc("its legal class", "emulsifier"))
    number: str = field(metadata=doc("its E number", "E322"))


@dataclass(frozen=True, slots=True)
class WrittenArticle:
    """What is different in one supplier's version of an item."""

    contains: Names | None = field(default=None, metadata=doc("allergens in this article", "[milk]"))
    may_contain: Names | None = field(default=None, metadata=doc("possible traces in this article", "[almonds]"))
    made_of: Names | None = field(
        default=None, metadata=doc("this article's own list", "[cocoa mass 54 %, sugar 36 %]")
    )


@dataclass(frozen=True, slots=True)
class WrittenItem:
    """One thing that the house buys. All keys may be missing."""

    label: str = field(default="", metadata=doc("its name in an ingredient list; the item's own if not said", "butter"))
    kind: str = field(default="", metadata=doc("food, packaging or moulding", "packaging", "food"))
    aka: Names = field(default=(), metadata=doc("other names that recipes may use, plurals too", "[butter]"))
    flour: str = field(
        default="", metadata=doc("yes if it counts as flour in a dough; never starch, never ground nuts", "yes", "no")
    )
    contains: Names | None = field(
        default=None, metadata=doc("allergens by legal name; [] for none; not said is not declared", "[milk]")
    )
    may_contain: Names = field(default=(), metadata=doc("possible traces, as the supplier declares them", "[almonds]"))
    usable: str = field(default="", metadata=doc("what is left after peeling, stoning, trimming", "86 %", "100 %"))
    density: str = field(default="", metadata=doc("needed to write it by volume", "0.911 g/ml"))
    measures: Mapping[str, str] = field(
        default_factory=dict, metadata=doc("what one of it weighs, by the word used in recipes", "{leaf: 2.5 g}")
    )
    weigh: str = field(
        default="", metadata=doc("careful for leaven, salt, gelling agents and preservatives", "careful")
    )
    water: str = field(default="", metadata=doc("water, percent by weight", "16 %"))
    fat: str = field(default="", metadata=doc("fat, percent by weight; from the nutrition if not said", "35 %"))
    sugars: str = field(default="", metadata=doc("sugars, percent by weight; from the nutrition if not said", "46 %"))
    alcohol: str = field(default="", metadata=doc("alcohol, percent by weight", "32 %"))
    brix: str = field(default="", metadata=doc("dissolved solids, percent by weight", "10 %"))
    nutrition: WrittenNutrition | None = field(
        default=None, metadata=doc("grams per 100 g", "{fat: 81.11 g, protein: 0.85 g}")
    )
    nutrition_source: str = field(default="", metadata=doc("where the nutrition comes from", "USDA SR28 01145"))
    carbohydrate_basis: str = field(
        default="",
        metadata=doc(
            "`available`, or `by difference` if the table counts fibre as carbohydrate", "by difference", "available"
        ),
    )
    made_of: Names = field(
        default=(), metadata=doc("a bought compound ingredient's own list", "[cocoa mass 54 %, sugar 36 %]")
    )
    additive: WrittenAdditive | None = field(
        default=None, metadata=doc("class and number of an additive", "{class: emulsifier, number: E322}")
    )
    sulphites: str = field(default="", metadata=doc("sulphur dioxide in it", "12 mg/kg"))
    exempt: Mapping[str, Names] = field(
        default_factory=dict, metadata=doc("allergens that need no declaration, by region", "{EU: [wheat]}")
    )
    diet: Names | None = field(
        default=None,
        metadata=doc(
            "vegan, vegetarian, halal, kosher, alcohol-free, as declared; `not vegan` and the like, too", "[vegan]"
        ),
    )
    keeps: Mapping[str, str] = field(
        default_factory=dict, metadata=doc("how long it keeps", "{closed: 9 months at 18 °C, opened: 3 months}")
    )
    cautions: Names = field(default=(), metadata=doc("hazards in handling it", "[flour dust]"))
    supplier_sheet: str = field(
        default="", metadata=doc("when the supplier's specification was last checked", "2026-03-01")
    )
    food_contact: str = field(
        default="", metadata=doc("`declared` if a moulding material is declared fit for food", "declared")
    )
    articles: Mapping[str, WrittenArticle] = field(
        default_factory=dict,
        metadata=doc("what differs by supplier and code", "{Millstone & Reed MR-114: {contains: [milk]}}"),
    )
    groups: Names = field(
        default=(), metadata=doc("categories it belongs to, whose quantity a product may name", "[fruit, berries]")
    )
    exempt_from_list: str = field(
        default="",
        metadata=doc(
            "processing aid, carry-over or carrier: why it need not be in an ingredient list; allergens always are",
            "processing aid",
        ),
    )
    defined_by_law: str = field(
        default="",
        metadata=doc(
            "yes for a compound ingredient that the law defines (jam, chocolate), and for mixed spices or herbs: below"
            " 2 % of the product its own list may be left out",
            "yes",
            "no",
        ),
    )
    labelled_as: str = field(
        default="",
        metadata=doc("the article whose list labels print, where articles differ", "Millstone & Reed MR-114"),
    )
    note: str = field(default="", metadata=doc("anything the team should know", "Order by Tuesday."))
