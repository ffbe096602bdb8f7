"""`issued.csv` to the register: what was handed out, as the `issue` command wrote it down.

Nobody has to write this file, but people can open it, and merge it. So it is read as strictly as anything else: a label
whose record says something else than its code stands for was changed by hand, and is no proof of anything.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from bookmaker.measures.numbers import Unreadable
from bookmaker.model.codes import ALPHABET, LENGTH
from bookmaker.model.refs import RecipeRef
from bookmaker.model.register import IssuedCard, IssuedLabel, Register, label_code
from bookmaker.model.written.register import WrittenIssue
from bookmaker.problems.anchors import Anchor, Path
from bookmaker.problems.problem import Problem, Related, problem
from bookmaker.reading.columns import columns_in
from bookmaker.reading.csv_rows import Field, read_rows
from bookmaker.reading.files import Document
from bookmaker.reading.shape import columns_of
from bookmaker.reading.suggest import fold
from bookmaker.reading.texts import parts, whole
from bookmaker.reading.values import Values

CARD, LABEL = KINDS = ("card", "label")
COLUMNS = columns_of(WrittenIssue)

_ALWAYS = ("what", "recipe", "title", "revision", "on", "by", "code")
_OF_CARDS = ("parts",)
_OF_LABELS = ("contains", "may contain", "sold as", "declaration", "nutrition", "notes")

_RESTORE = "take the line as it was before, from a copy or the version history"

Issued = IssuedCard | IssuedLabel


@dataclass(frozen=True, slots=True)
class WrittenRegister:
    """The records that could be read, in the order of the file, and where they stand: by number, and by column."""

    records: tuple[Issued, ...]
    spans: Mapping[Path, tuple[int, int]]


def read_register(document: Document) -> tuple[WrittenRegister, list[Problem]]:
    """The register as it is written; recipes are named by their paths, whether or not there are such.

    A record's anchor has its number among the rows as path, and a column's name behind it points at one field.
    Problems: `bad-csv`, `register-columns`, `register-fields`, `register-other-kind`, `register-edited`, `bad-code`,
    `bad-parts`, and what is wrong with a field. A file with nothing in it is a register of nothing.
    """
    values = Values(document.name)
    spans: dict[Path, tuple[int, int]] = {(): (0, len(document.text))}
    if not document.text.strip():
        return WrittenRegister((), spans), values.problems
    try:
        head, *rows = read_rows(document.text)
    except Unreadable as refused:
        values.refuse("bad-csv", values.top, refused)
        return WrittenRegister((), spans), values.problems
    columns = columns_in(head, COLUMNS, values, "register-columns", "the register")
    if columns is None:
        return WrittenRegister((), spans), values.problems
    reader = _Rows(columns, values, spans)
    found = [reader.record(number, row) for number, row in enumerate(rows)]
    return WrittenRegister(tuple(each for each in found if each), spans), values.problems


class _Rows:
    """Reads the rows one by one."""

    def __init__(self, columns: Mapping[str, int], values: Values, spans: dict[Path, tuple[int, int]]) -> None:
        self._columns, self._values, self._spans = columns, values, spans

    def record(self, number: int, row: Sequence[Field]) -> Issued | None:
        """One record; None where it cannot be used."""
        values = self._values
        whole_row = (row[0].span[0], max(row[-1].span[1], row[0].span[0] + 1))
        if len(row) != len(self._columns):
            at = values.top.part(*whole_row)
            values.report("register-fields", at, found=len(row), wanted=len(self._columns))
            return None
        fields = {name: row[index] for name, index in self._columns.items()}
        self._spans[number,] = whole_row
        self._spans.update({(number, name): field.span for name, field in fields.items()})
        return self._issued({name: field.text for name, field in fields.items()}, Anchor(values.document, (number,)))

    def _issued(self, texts: Mapping[str, str], anchor: Anchor) -> Issued | None:
        values = self._values
        before = len(values.problems)
        what = values.one_of(texts["what"], anchor.at("what"), KINDS, "kind of record") if texts["what"] else None
        own, others = (_OF_CARDS, _OF_LABELS) if what == CARD else (_OF_LABELS, _OF_CARDS)
        needed = [*_ALWAYS, *(name for name in own if what and name in ("parts", "sold as", "declaration"))]
        for name in needed:
            if not texts[name]:
                values.report("empty-value", anchor.at(name), key=name, fix=_RESTORE)
        for name in others if what else ():
            if texts[name]:
                values.report("register-other-kind", anchor.at(name), what=what, column=name)
        revision = values.value("bad-number", whole, texts["revision"], anchor.at("revision"))
        on = values.day(texts["on"], anchor.at("on"))
        if texts["code"]:
            self._check_code(texts["code"], anchor.at("code"))
        digests = values.value("bad-parts", _digests, texts["parts"], anchor.at("parts")) or ()
        if len(values.problems) > before or revision is None or on is None:
            return None
        ref = RecipeRef(texts["recipe"], texts["size"])
        if what == CARD:
            return IssuedCard(texts["code"], ref, texts["title"], revision, on, texts["by"], digests, anchor)
        return self._label(ref, texts, revision, on, anchor)

    def _label(
        self, ref: RecipeRef, texts: Mapping[str, str], revision: int, on: date, anchor: Anchor
    ) -> IssuedLabel | None:
        contains, may = (tuple(name for name, _, _ in parts(texts[key], ",")) for key in ("contains", "may contain"))
        says = (contains, may, texts["sold as"], texts["declaration"], texts["nutrition"], texts["notes"])
        if label_code(*says) != texts["code"]:
            self._values.report("register-edited", anchor.at("code"), number=texts["code"])
            return None
        return IssuedLabel(texts["code"], ref, texts["title"], revision, on, texts["by"], *says, anchor)

    def _check_code(self, text: str, at: Anchor) -> None:
        strange = [letter for letter in text if letter not in ALPHABET]
        if strange:
            self._values.report("bad-code", at, text=text, why=f"'{strange[0]}' never stands in one")
        elif len(text) != LENGTH:
            self._values.report("bad-code", at, text=text, why=f"codes have {LENGTH} letters and digits")


def _digests(text: str) -> tuple[tuple[str, str], ...]:
    """`weights 3F0A71C2, the rest 99AB04DE`: a word or more, and a digest, for each. Raises `Unreadable`."""
    found: dict[str, str] = {}
    for part, start, end in parts(text, ","):
        name, _, digest = part.rpartition(" ")
        if not name.strip() or not digest.isalnum():
            raise Unreadable(f"'{part}' should be a name and its digest", start=start, end=end)
        if name in found:
            raise Unreadable(f"'{name}' stands here twice", start=start, end=end)
        found[name] = digest
    return tuple(found.items())


def bind_register(
    records: Iterable[Issued], titles: Mapping[RecipeRef, str], unread: Collection[str] = ()
) -> tuple[Register, list[Problem]]:
    """The register in order of days, its recipes those of the book.

    `titles` has every recipe of the book in every size, in the order of its sizes: without a size the first is meant. A
    recipe whose file was moved is known again by its title. `unread` are the paths of recipes that could not be read:
    nothing is said of those. Problems: `issued-twice`, `issued-unknown` once for each recipe, where it was last issued.
    """
    known: dict[RecipeRef, RecipeRef] = {}
    by_title: dict[tuple[str, str], RecipeRef] = {}
    for ref, title in titles.items():
        for size in dict.fromkeys((ref.size, "")):
            known.setdefault(RecipeRef(ref.id, size), ref)
            by_title.setdefault((fold(title), size), ref)
    problems: list[Problem] = []
    gone: dict[tuple[type, RecipeRef], Issued] = {}
    last: dict[tuple[type, RecipeRef], Issued] = {}
    bound: list[Issued] = []
    for record in sorted(records, key=lambda each: each.on):
        named = record.recipe
        ref = known.get(named) or by_title.get((fold(record.title), named.size)) or named
        key = (type(record), ref)
        if ref not in titles and ref.id not in unread:
            gone[key] = record
        before = last.get(key)
        if before is not None and replace(before, recipe=named) == record:
            related = [Related(before.anchor, "the other one")]
            problems.append(problem("issued-twice", record.anchor, related=related, title=record.title))
            continue
        last[key] = replace(record, recipe=ref)
        bound.append(last[key])
    problems += [
        problem("issued-unknown", each.anchor.at("recipe"), what=_kind(each), title=each.title, on=each.on.isoformat())
        for each in gone.values()
    ]
    cards = tuple(each for each in bound if isinstance(each, IssuedCard))
    labels = tuple(each for each in bound if isinstance(each, IssuedLabel))
    return Register(cards, labels), problems


def _kind(record: Issued) -> str:
    return CARD if isinstance(record, IssuedCard) else LABEL
