"""How what is in use stands to the book: what is to be done comes first, what is in order last."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from bookmaker.model.refs import RecipeRef
from bookmaker.reading.register import Issued
from bookmaker.workshop.terminal.table import Column, paragraph, table


@dataclass(frozen=True, slots=True)
class Standing:
    """One recipe's card or label: its state as a word, why, and what was issued last."""

    ref: RecipeRef
    name: str
    state: str
    why: tuple[str, ...] = ()
    before: Issued | None = None


CURRENT = "current"
NEVER = "never issued"

HEADINGS: Mapping[str, str] = {
    "withheld": "Withheld, as the allergens are not those of the label that was issued",
    "reprint": "Print again",
    "send again": "Send again",
    "take away": "Take away",
    "take back": "Take back",
    NEVER: "Never issued",
}
"""What to say over those of a state, the most urgent first."""


def standings_text(what: str, standings: Sequence[Standing]) -> str:
    """Who is to do what about the `what` (`cards`, `labels`) that are in use."""
    return "\n\n".join(_parts(what, standings))


def _parts(what: str, standings: Sequence[Standing]) -> Iterator[str]:
    for state, heading in HEADINGS.items():
        found = [each for each in standings if each.state == state]
        if not found:
            continue
        if state == NEVER:
            yield f"{heading}\n" + paragraph(", ".join(each.name for each in found), indent=3)
            continue
        columns = (Column(what[:-1], wraps=True), Column("issued"), Column("code"), Column("why", wraps=True))
        yield f"{heading}\n" + table(columns, [_row(each, what) for each in found], indent=3)
    current = sum(1 for each in standings if each.state == CURRENT)
    if current:
        many = current > 1
        yield f"{current} {what if many else what[:-1]} in use as the book has {'them' if many else 'it'}."
    elif not standings:
        yield f"There are no {what}."


def _row(each: Standing, what: str) -> tuple[str, str, str, str]:
    assert each.before is not None
    why = (", " if what == "cards" else "; ").join(each.why)  # cards have words here, labels whole sentences
    return each.name, each.before.on.isoformat(), each.before.code, why


def standings_record(standings: Sequence[Standing]) -> list[dict[str, object]]:
    """The same for machines."""
    return [
        {
            "recipe": each.ref.id,
            "size": each.ref.size,
            "title": each.name,
            "state": each.state,
            "why": list(each.why),
            "issued": each.before.on.isoformat() if each.before else None,
            "code": each.before.code if each.before else None,
        }
        for each in standings
    ]
