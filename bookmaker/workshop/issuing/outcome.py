"""What becomes of each recipe that is to be issued, for people and for machines."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from bookmaker.model.refs import RecipeRef
from bookmaker.reading.register import Issued
from bookmaker.workshop.terminal.table import Column, paragraph, table


@dataclass(frozen=True, slots=True)
class Outcome:
    """One recipe: the `record` to be written, or why it is `refused`, or neither where nothing has changed.

    `before` is what was issued of it last, `changes` are what is different from that.
    """

    ref: RecipeRef
    name: str
    record: Issued | None = None
    before: Issued | None = None
    changes: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()


def refused_as_later(ref: RecipeRef, name: str, before: Issued, on: date) -> Outcome:
    """Something later was issued already, and what was issued last counts."""
    why = f"it was issued on {before.on.isoformat()} already, and {on.isoformat()} is before that: the later one counts"
    return Outcome(ref, name, before=before, refused=(why,))


def outcome_text(what: str, outcomes: Sequence[Outcome], on: date, by: str, path: Path) -> str:
    """What was issued, what had not changed, what was refused; `what` is `cards` or `labels`."""
    return "\n\n".join(_parts(what, outcomes, on, by, path))


def _parts(what: str, outcomes: Sequence[Outcome], on: date, by: str, path: Path) -> Iterator[str]:
    written = [each for each in outcomes if each.record is not None]
    if written:
        yield paragraph(f"{_count(what, len(written))} issued on {on.isoformat()} by {by}, written to {path}")
        columns = (Column(what[:-1], wraps=True), Column("code"), Column("instead of"))
        yield table(columns, [_row(each) for each in written], indent=3)
        changed = [each for each in written if each.changes]
        if changed:
            lines = [paragraph(f"{each.name}: {'; '.join(each.changes)}", indent=3, hanging=2) for each in changed]
            yield "What is different from the last issue\n" + "\n".join(lines)
    same = [each for each in outcomes if each.record is None and not each.refused and each.before is not None]
    if same:
        days: dict[date, list[str]] = {}
        for each in same:
            assert each.before is not None
            days.setdefault(each.before.on, []).append(each.name)
        lines = [
            paragraph(f"{day.isoformat()}: {', '.join(names)}", indent=3, hanging=2) for day, names in days.items()
        ]
        yield "Issued already, and unchanged since\n" + "\n".join(lines)
    refused = [each for each in outcomes if each.refused]
    if refused:
        lines = [paragraph(f"{each.name}: {why}", indent=3, hanging=2) for each in refused for why in each.refused]
        yield "Not issued\n" + "\n".join(lines)
    if not outcomes:
        yield f"There are no {what} to issue."


def _row(each: Outcome) -> tuple[str, str, str]:
    assert each.record is not None
    before = f"{each.before.code} of {each.before.on.isoformat()}" if each.before is not None else "never issued before"
    return each.name, each.record.code, before


def _count(what: str, number: int) -> str:
    return f"{number} {what if number > 1 else what[:-1]}"


def outcome_record(what: str, outcomes: Sequence[Outcome], on: date, by: str) -> dict[str, object]:
    """The same for machines."""
    return {
        "what": what,
        "on": on.isoformat(),
        "by": by,
        "issued": [
            {**_told(each), "code": each.record.code, "revision": each.record.revision, "changes": list(each.changes)}
            for each in outcomes
            if each.record is not None
        ],
        "unchanged": [_told(each) for each in outcomes if each.record is None and not each.refused],
        "refused": [{**_told(each), "why": list(each.refused)} for each in outcomes if each.refused],
    }


def _told(each: Outcome) -> dict[str, object]:
    before = each.before
    return {
        "recipe": each.ref.id,
        "size": each.ref.size,
        "title": each.name,
        "last issued": None if before is None else {"on": before.on.isoformat(), "code": before.code},
    }
