"""A recipe's front matter, key by key: still text, only its shape is settled."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from bookmaker.model.written import Names, doc


@dataclass(frozen=True, slots=True)
class LineFront:
    """A formula line that needs more than its text."""

    line: str = field(metadata=doc("the line itself", "180 g dark couverture"))
    stays: str | None = field(
        default=None,
        metadata=doc("how much of it remains in the product: a share or a weight", "60 %", "100 %"),
    )
    rest: str | None = field(
        default=None,
        metadata=doc("where the rest goes: `back` to stores, `waste`, or `air`", "back", "waste"),
    )
    working: str | None = field(
        default=None,
        metadata=doc("the weight needed to work with; drawn, never scaled below, the rest goes back", "2 kg"),
    )
    loss: str | None = field(default=None, metadata=doc("this line's own waste", "3 %", "0 %"))
    optional: str | None = field(default=None, metadata=doc("`yes` if it may be left out", "yes", "no"))
    or_: Names | None = field(
        default=None,
        metadata=doc("what may be used instead; the first is costed, the allergens are all of theirs", "[hazelnuts]"),
    )
    at_most: str | None = field(
        default=None, metadata=doc("the largest share of the formula that this line may come to", "25 %")
    )
    note: str | None = field(default=None, metadata=doc("a remark beside the line", "for baskets and peel"))


Lines = str | tuple[str | LineFront, ...]
"""Lines as a list; a single line may stand alone."""

Formula = Lines | Mapping[str, Lines]
"""Lines, or stages of lines in order of making."""


@dataclass(frozen=True, slots=True)
class CoProductFront:
    """What a batch gives beside its product, where its amount alone does not say enough."""

    amount: str = field(metadata=doc("`rest of the cut`, a weight, or a share of what comes out", "rest of the cut"))
    worth: str | None = field(
        default=None,
        metadata=doc("the share of the parent's cost per gram that it is credited with", "50 %", "0 %"),
    )
    keeps: Mapping[str, str] | None = field(
        default=None, metadata=doc("how long it keeps, as in a recipe's own `keeps`", "{raw: 3 days at 4 °C}")
    )


@dataclass(frozen=True, slots=True)
class MakeFront:
    """How a component is batched."""

    least: str | None = field(default=None, metadata=doc("the smallest batch worth making", "2 kg"))
    step: str | None = field(default=None, metadata=doc("batches grow by this much", "500 g"))
    most: str | None = field(default=None, metadata=doc("the largest batch", "8 kg"))
    whole: str | None = field(default=None, metadata=doc("`yes`: only whole batches of the formula", "yes", "no"))


@dataclass(frozen=True, slots=True)
class ExercisesFront:
    """Exercises of the workbook."""

    add: Names | None = field(default=None, metadata=doc("exercises to add", "[scaling]"))
    leave_out: Names | None = field(default=None, metadata=doc("exercises to leave out", "[cost]"))


@dataclass(frozen=True, slots=True)
class TeachFront:
    """What the workbook does with the recipe."""

    level: str | None = field(default=None, metadata=doc("how hard, from 1 to 3", "2", "1"))
    topics: Names | None = field(default=None, metadata=doc("what it teaches", "[formulation, yield and waste]"))
    exercises: ExercisesFront | None = field(
        default=None, metadata=doc("exercises to add or leave out", "{add: [scaling]}")
    )


Losses = Mapping[str, str | Mapping[str, str]]
"""Losses of the whole, or per stage."""


@dataclass(frozen=True, slots=True)
class SizeFront:
    """What one size has otherwise; everything not written here is as in the recipe."""

    yields: str | None = field(default=None, metadata=doc("what comes out of a batch of this size", "24 tarts"))
    code: str | None = field(default=None, metadata=doc("this size's own code", "QB-31-8"))
    batch: str | None = field(default=None, metadata=doc("the batch's weight, where the formula is in percent", "4 kg"))
    formula: Formula | None = field(
        default=None, metadata=doc("lines with another amount, found by their names", "[720 g sweet paste]")
    )
    losses: Losses | None = field(
        default=None, metadata=doc("losses with another share, found by their names", "{bake: 12 %}")
    )
    steps: Mapping[str, Mapping[str, str]] | None = field(
        default=None, metadata=doc("steps with other times, by their names or numbers", "{bake: {takes: 14 min}}")
    )
    cut: str | None = field(default=None, metadata=doc("how a sheet is cut", "30 × 80 mm"))
    tray: str | None = field(default=None, metadata=doc("how many pieces a tray takes", "24 pieces"))
    keep_back: str | None = field(default=None, metadata=doc("what is kept for the next batch", "200 g"))
    to: str | None = field(default=None, metadata=doc("the end point of boiling down", "65 °Brix"))
    make: MakeFront | None = field(default=None, metadata=doc("how it is batched", "{whole: yes}"))
    packaging: Names | None = field(default=None, metadata=doc("what it is packed in", "[1 tart box per 6 tarts]"))
    portion: str | None = field(default=None, metadata=doc("what one guest gets", "1 tart"))
    servings: str | None = field(default=None, metadata=doc("into how many servings a piece is cut at the table", "8"))
    price: Mapping[str, str] | None = field(
        default=None, metadata=doc("what a channel pays for one piece", "{tea room: 5.20 EUR incl}")
    )


@dataclass(frozen=True, slots=True)
class RecipeFront:
    """A recipe's front matter."""

    title: str = field(
        metadata=doc("what the kitchen calls it; a name like those of the stores, used once", "Almond sablé")
    )
    formula: Formula = field(
        metadata=doc(
            "the weighed lines, or stages of lines in order of making", "[480 g plain flour, 340 g unsalted butter]"
        )
    )
    kind: str | None = field(
        default=None,
        metadata=doc("product, component, preferment, soaker or moulding (not food)", "product", "component"),
    )
    code: str | None = field(default=None, metadata=doc("the house's own code, unique; needed once approved", "QB-03"))
    revision: str | None = field(default=None, metadata=doc("counts up with every change", "4", "1"))
    revised: str | None = field(default=None, metadata=doc("the day of the last change", "2026-10-02"))
    status: str | None = field(default=None, metadata=doc("draft, trial, approved or retired", "approved", "draft"))
    tags: Names | None = field(default=None, metadata=doc("free words to find it by", "[biscuit, base]"))
    aka: Names | None = field(default=None, metadata=doc("other names, plurals among them", "[sablé]"))
    yields: str | None = field(
        default=None,
        metadata=doc("what comes out of a batch; must be there, or in every size", "24 pieces scaled at 55 g"),
    )
    base: str | None = field(
        default=None,
        metadata=doc(
            "what is 100 %: `flour`, an item, or `total`; without it, flour in preferments and soakers, else total",
            "flour",
        ),
    )
    batch: str | None = field(
        default=None, metadata=doc("the batch's weight, where the formula is in percent", "10 kg")
    )
    losses: Losses | None = field(
        default=None,
        metadata=doc(
            "what leaves on the way, in the order it happens; per stage, with `whole` for the end",
            "{mix: 1 %, bake: 9 %}",
        ),
    )
    tray: str | None = field(default=None, metadata=doc("how many pieces a tray takes", "24 pieces"))
    keep_back: str | None = field(default=None, metadata=doc("what is kept for the next batch (seed)", "200 g"))
    to: str | None = field(
        default=None,
        metadata=doc("the end point of boiling down, in °Brix or as a weight; it computes the yield", "65 °Brix"),
    )
    cut: str | None = field(
        default=None,
        metadata=doc(
            "how a sheet or frame is cut into pieces, and what is trimmed off each side first", "30 × 80 mm, trim 5 mm"
        ),
    )
    gives: Mapping[str, str | CoProductFront] | None = field(
        default=None, metadata=doc("what else comes out, usable as an item", "{almond sablé offcuts: rest of the cut}")
    )
    sizes: Mapping[str, SizeFront] | None = field(
        default=None,
        metadata=doc("sizes, each with what it has otherwise", "{24 cm: {yields: 4 tarts}, 8 cm: {yields: 24 tarts}}"),
    )
    make: MakeFront | None = field(
        default=None, metadata=doc("how it is batched", "{least: 2 kg, step: 500 g, most: 8 kg}")
    )
    layers: tuple[str, ...] | None = field(
        default=None,
        metadata=doc(
            "how it is built, bottom to top; `>` contains, `coats` covers, a shape or thickness behind a comma",
            "[almond sablé at 4 mm, honey mousse > apricot heart, glaze coats]",
        ),
    )
    packaging: Names | None = field(
        default=None, metadata=doc("what a batch is packed in, or what so many pieces are", "[1 cake box per 6 pieces]")
    )
    density: str | None = field(
        default=None,
        metadata=doc("what it weighs as it is filled in, air and all: moulds are held against it", "0.62 g/ml"),
    )
    dough_temperature: str | None = field(default=None, metadata=doc("the dough's temperature after mixing", "25 °C"))
    labour_role: str | None = field(
        default=None, metadata=doc("who makes it, where not the house's usual role", "night baker")
    )
    portion: str | None = field(default=None, metadata=doc("what one guest gets: pieces or a weight", "1 piece"))
    servings: str | None = field(
        default=None,
        metadata=doc("into how many servings what is sold at once is cut at the table, for nutrition per serving", "8"),
    )
    price: Mapping[str, str] | None = field(
        default=None,
        metadata=doc(
            "what a channel pays for one piece, tax included (`incl`) or not (`net`)", "{tea room: 4.20 EUR incl}"
        ),
    )
    describe: str | None = field(default=None, metadata=doc("what clients read about it", "A short almond biscuit."))
    serve: str | None = field(default=None, metadata=doc("how clients serve it", "At room temperature."))
    sold_as: str | None = field(default=None, metadata=doc("its legal name", "Honey mousse cake with apricot"))
    named: Names | None = field(
        default=None,
        metadata=doc("what is named or pictured, so that its quantity must be declared", "[apricot, honey]"),
    )
    defrosted: str | None = field(default=None, metadata=doc("`yes` if it is sold thawed", "yes", "no"))
    thaw: str | None = field(default=None, metadata=doc("how clients thaw it", "12 h at 4 °C"))
    keeps: Mapping[str, str] | None = field(
        default=None,
        metadata=doc(
            "how long it keeps in which state (raw, made, baked, frozen, thawed, opened)",
            '{frozen: 2 months at -18 °C, thawed: "2 days at 4 °C, from frozen within 60 days, use by"}',
        ),
    )
    cautions: Names | None = field(default=None, metadata=doc("hazards of making it, by their names", "[hot trays]"))
    teach: str | TeachFront | None = field(
        default=None,
        metadata=doc("`yes`, or what the workbook does with it", "{level: 2, topics: [total formula]}", "no"),
    )
    photo: str | None = field(
        default=None, metadata=doc("a picture, from the book's folder", "images/almond-sable.jpg")
    )
    photo_text: str | None = field(
        default=None, metadata=doc("what the picture shows, for those who cannot see it", "Cut sheet")
    )
