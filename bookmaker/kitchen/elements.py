"""What a standardised recipe consists of."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Element:
    """One element that a standardised recipe should have, whether it is there, and what would supply it."""

    name: str
    present: bool
    advice: str = ""
