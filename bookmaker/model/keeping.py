"""How long a thing keeps."""

from dataclasses import dataclass, field
from decimal import Decimal

from bookmaker.measures.temperatures import Temperature
from bookmaker.problems.anchors import NOWHERE, Anchor


@dataclass(frozen=True, slots=True)
class Keeping:
    """One line of `keeps`: how long in which state.

    `minutes` at `temperature`; the clock of `from_state` allows it within `within` minutes. `date_word` is `use by` or
    `best before` where the client's date is stated.
    """

    state: str
    minutes: Decimal
    temperature: Temperature | None = None
    words: str = ""
    from_state: str = ""
    within: Decimal | None = None
    date_word: str = ""
    anchor: Anchor = field(default=NOWHERE, compare=False)
