"""A piece of a printed edition: pages that are laid out by themselves."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Piece:
    """A part that starts a page and knows of other pages no more than their numbers.

    `name` is for people; `part` is the heading that the part's left-hand pages run, if any. `html` is what stands in
    the document's body, its outermost element breaking to a new page.
    """

    name: str
    part: str
    html: str
