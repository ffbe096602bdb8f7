"""One line of `stores/prices.csv` as written. The columns may stand in any order."""

from dataclasses import dataclass, field

from bookmaker.model.written import doc


@dataclass(frozen=True, slots=True)
class WrittenPrice:
    """What a pack costs from a day on, net of recoverable tax."""

    item: str = field(metadata=doc("a stores item, by its name or an alias", "unsalted butter"))
    supplier: str = field(metadata=doc("who sells it", "Lowfield Dairy"))
    code: str = field(metadata=doc("the supplier's article code", "LD-250"))
    pack: str = field(metadata=doc("what one pack holds", "40 × 250 g"))
    price: str = field(metadata=doc("price of the pack", "78.00"))
    currency: str = field(metadata=doc("its currency", "EUR"))
    from_: str = field(metadata=doc("the first day of this price", "2026-03-01"))
