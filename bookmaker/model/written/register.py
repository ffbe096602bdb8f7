"""One record of `issued.csv` as written. The columns may stand in any order."""

from dataclasses import dataclass, field

from bookmaker.model.written import doc


@dataclass(frozen=True, slots=True)
class WrittenIssue:
    """Something that was handed out: a card or a label. What belongs to the other kind is empty."""

    what: str = field(metadata=doc("`card` or `label`", "label"))
    recipe: str = field(metadata=doc("the recipe's file, without `.md`", "moulded/apricot-pebble"))
    size: str = field(metadata=doc("which of its sizes", "8 cm"))
    title: str = field(metadata=doc("what it was called", "Apricot pebble"))
    revision: str = field(metadata=doc("the recipe's revision", "4"))
    on: str = field(metadata=doc("the day of issue", "2026-10-02"))
    by: str = field(metadata=doc("who issued it", "Ada"))
    code: str = field(metadata=doc("stands for all that was handed out", "7K2M90XA"))
    contains: str = field(metadata=doc("label: the allergens that it names", "wheat, eggs, milk"))
    may_contain: str = field(metadata=doc("label: those that it may contain", "hazelnuts"))
    sold_as: str = field(metadata=doc("label: the legal name", "Honey mousse with apricots"))
    declaration: str = field(metadata=doc("label: the ingredients, allergens in capitals", "WHEAT flour, sugar, …"))
    nutrition: str = field(metadata=doc("label: the nutrition table", "energy 1046 kJ / 250 kcal | fat 12 g | …"))
    notes: str = field(metadata=doc("label: sentences that go with the name", "Defrosted."))
    parts: str = field(metadata=doc("card: a digest of each thing that is on it", "weights 3F0A71C2, steps …"))
