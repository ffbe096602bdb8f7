"""The heading of a table of values: which column stands where."""

from collections.abc import Sequence

from bookmaker.reading.csv_rows import Field
from bookmaker.reading.suggest import did_you_mean
from bookmaker.reading.values import Values


def columns_in(
    head: Sequence[Field], known: Sequence[str], values: Values, code: str, of: str
) -> dict[str, int] | None:
    """Where each of the `known` columns stands; None, and problems `code`, where one is missing, twice, or unknown.

    `of` names the table to the cook (`a price list`).
    """
    line = values.top.part(head[0].span[0], head[-1].span[1])
    if len(head) == 1 and ";" in head[0].text:
        values.report(code, line, why="the columns are separated by semicolons", fix="save it with commas")
        return None
    found: dict[str, int] = {}
    before = len(values.problems)
    for index, field in enumerate(head):
        at = values.top.part(*field.span)
        name = field.text.lower()
        if name not in known:
            fix = did_you_mean(field.text, known) or f"the columns are: {','.join(known)}"
            values.report(code, at, why=f"'{field.text}' is no column of {of}", fix=fix)
        elif name in found:
            values.report(code, at, why=f"the column '{name}' stands here twice", fix="keep one of them")
        found.setdefault(name, index)
    missing = [name for name in known if name not in found]
    if missing and len(values.problems) == before:
        why = f"the heading lacks the column{'s' if len(missing) > 1 else ''} {', '.join(missing)}"
        values.report(code, line, why=why, fix=f"let the first line be {','.join(known)}")
    return found if len(values.problems) == before else None
