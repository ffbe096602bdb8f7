"""The formula: lines, alone or in stages, as text or as mappings."""

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal

from bookmaker.measures.amounts import Amount, parse_amount
from bookmaker.measures.numbers import Unreadable
from bookmaker.measures.units import Dimension
from bookmaker.model.line import Rest, StageKind
from bookmaker.model.written.front import Formula, LineFront, Lines
from bookmaker.model.written.line import WrittenLine
from bookmaker.model.written.recipe import WrittenStage
from bookmaker.problems.anchors import Anchor
from bookmaker.reading.lines import read_line
from bookmaker.reading.suggest import did_you_mean, fold
from bookmaker.reading.texts import Texts, grams, share
from bookmaker.reading.tree import key_of

_MARKED = re.compile(r"(?P<name>.*?)\s*\((?P<mark>[^()]*)\)\s*")
_MARKS = {kind.value: kind for kind in StageKind if kind.value}


def read_formula(written: Formula, texts: Texts, at: Anchor) -> tuple[WrittenStage, ...]:
    """Every stage with the lines that can be read; a formula without stages is one without a name."""
    if not isinstance(written, Mapping):
        lines = _lines(written, texts, at)
        if not written:
            texts.report("empty-formula", key_of(at))
        return (WrittenStage("", StageKind.PLAIN, lines),)
    stages: list[WrittenStage] = []
    seen: dict[str, Anchor] = {}
    for key, value, anchor in texts.each(written, at):
        name, kind = _stage_name(key, texts, anchor)
        if fold(name) in seen:
            texts.report("stage-twice", key_of(anchor), name=name)
        seen[fold(name)] = anchor
        if not value:
            texts.report("empty-stage", key_of(anchor), name=name)
        stages.append(WrittenStage(name, kind, _lines(value, texts, anchor)))
    if not written:
        texts.report("empty-formula", key_of(at))
    return tuple(stages)


def _stage_name(key: str, texts: Texts, anchor: Anchor) -> tuple[str, StageKind]:
    marked = _MARKED.fullmatch(key)
    if marked is None:
        return key, StageKind.PLAIN
    mark = marked["mark"].strip().lower()
    if mark not in _MARKS:
        fix = did_you_mean(mark, _MARKS) or "a stage may be marked (preferment) or (soaker)"
        texts.report("unknown-word", key_of(anchor), fix=fix, what="mark of a stage", word=mark)
    return marked["name"] or key, _MARKS.get(mark, StageKind.PLAIN)


def _lines(written: Lines, texts: Texts, at: Anchor) -> tuple[WrittenLine, ...]:
    if isinstance(written, str):
        return tuple(_line(written, texts, at)) if written else ()
    return tuple(line for index, entry in enumerate(written) if entry for line in _line(entry, texts, at.at(index)))


def _line(entry: str | LineFront, texts: Texts, anchor: Anchor) -> Iterator[WrittenLine]:
    """The line, or nothing when its text is refused."""
    if isinstance(entry, str):
        said = texts.read(entry, anchor, read_line, "bad-line")
        if said:
            yield WrittenLine(said, anchor)
        return
    said = texts.read(entry.line, anchor.at("line"), read_line, "bad-line")
    stays, stays_grams = _stays(entry, texts, anchor)
    rest = texts.one_of(entry.rest, anchor.at("rest"), [rest.value for rest in Rest], "way to go for the rest")
    working = texts.read(entry.working, anchor.at("working"), grams, "bad-amount")
    loss = texts.read(entry.loss, anchor.at("loss"), _below_all, "bad-loss")
    if rest and stays is None and stays_grams is None and working is None:
        texts.report("rest-without-stays", anchor.at("rest"), rest=rest)
    if said is None:
        return
    line = WrittenLine(
        said,
        anchor.at("line"),
        stays=stays,
        stays_grams=stays_grams,
        rest=Rest(rest) if rest else None,
        working=working,
        loss=loss,
        optional=texts.yes(entry.optional, anchor.at("optional")),
        alternatives=texts.names(entry.or_, anchor.at("or")),
        at_most=texts.read(entry.at_most, anchor.at("at most"), share, "bad-share"),
        note=entry.note or "",
    )
    _fits(line, texts, anchor)
    yield line


def _stays(entry: LineFront, texts: Texts, anchor: Anchor) -> tuple[Decimal | None, Decimal | None]:
    if entry.stays is None:
        return None, None
    where = anchor.at("stays")
    amount = texts.read(entry.stays, where, _share_or_mass, "bad-amount")
    if amount is None:
        return None, None
    if amount.dimension is Dimension.SHARE:
        return texts.read(entry.stays, where, share, "bad-share"), None
    return None, amount.in_base()


def _share_or_mass(text: str) -> Amount:
    if re.fullmatch(r"\s*0+(?:\.0+)?\s*%\s*", text):
        return Amount(Decimal(0), "%", Dimension.SHARE)
    amount = parse_amount(text)
    if amount.dimension not in (Dimension.SHARE, Dimension.MASS):
        raise Unreadable(
            f"'{text.strip()}' does not say what stays", end=len(text), hint="write a share such as 60 %, or a weight"
        )
    return amount


def _below_all(text: str) -> Decimal:
    found = share(text)
    if found == 1:
        raise Unreadable(f"a loss of {text.strip()} leaves nothing", end=len(text), hint="write a share below 100 %")
    return found


def _fits(line: WrittenLine, texts: Texts, anchor: Anchor) -> None:
    """What stays and what is worked with must go with the line's own weight."""
    quantity = line.said.quantity
    if not isinstance(quantity, Amount) or quantity.dimension is not Dimension.MASS:
        return
    weight = quantity.in_base() * line.said.times
    if line.stays_grams is not None and line.stays_grams > weight:
        texts.report("stays-too-much", anchor.at("stays"), stays=_g(line.stays_grams), line=_g(weight))
    if line.working is not None and line.working < weight:
        texts.report("working-too-little", anchor.at("working"), working=_g(line.working), line=_g(weight))


def _g(value: Decimal) -> str:
    return f"{value.normalize():f} g"
