"""Reading one document's texts by small grammars: what is refused becomes a problem at the offending part."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import TypeVar

from bookmaker.measures.amounts import LARGEST_GRAMS, parse_amount
from bookmaker.measures.numbers import Unreadable, take_number
from bookmaker.measures.units import Dimension
from bookmaker.model.written import Names
from bookmaker.model.written.line import Words
from bookmaker.problems.anchors import Anchor
from bookmaker.problems.problem import Problem, Related, problem
from bookmaker.reading.suggest import did_you_mean

T = TypeVar("T")


@dataclass(slots=True)
class Texts:
    """The texts of one document and the problems found in them."""

    document: str
    problems: list[Problem] = field(default_factory=list)

    @property
    def top(self) -> Anchor:
        """The document itself."""
        return Anchor(self.document)

    def report(
        self, code: str, anchor: Anchor, *, fix: str = "", related: Iterable[Related] = (), **words: object
    ) -> None:
        """Note a problem."""
        self.problems.append(problem(code, anchor, fix=fix, related=related, **words))

    def refuse(self, code: str, anchor: Anchor, refused: Unreadable) -> None:
        """Note what a grammar refused, at the part that it refused. A decimal comma has a code of its own."""
        code = "comma-number" if "not a comma" in refused.why else code
        end = None if refused.end is None or refused.end <= refused.start else anchor.start + refused.end
        self.report(code, anchor.part(anchor.start + refused.start, end), fix=refused.hint, why=refused.why)

    def read(self, text: str | None, anchor: Anchor, grammar: Callable[[str], T], code: str) -> T | None:
        """`text` by `grammar`; None where there is no text or it is refused."""
        if text is None:
            return None
        try:
            return grammar(text)
        except Unreadable as refused:
            self.refuse(code, anchor, refused)
            return None

    def one_of(self, text: str | None, anchor: Anchor, known: Iterable[str], what: str) -> str | None:
        """`text` if it is one of `known`, case and spacing forgiven."""
        if text is None:
            return None
        words = list(known)
        found = {word.lower(): word for word in words}.get(" ".join(text.lower().split()))
        if found is None:
            fix = did_you_mean(text, words) or f"write {'one of: ' if len(words) > 1 else ''}{', '.join(words)}"
            self.report("unknown-word", anchor, fix=fix, what=what, word=text)
        return found

    def yes(self, text: str | None, anchor: Anchor) -> bool | None:
        """`yes` or `no`; None where nothing is written."""
        return self.read(text, anchor, yes_or_no, "not-yes-or-no")

    def names(self, written: Names | None, anchor: Anchor) -> tuple[Words, ...]:
        """A list of names, or names with commas between them, each at its own place."""
        if written is None:
            return ()
        if isinstance(written, str):
            return tuple(Words(part, anchor.part(start, end)) for part, start, end in parts(written, ","))
        return tuple(Words(name.strip(), anchor.at(index)) for index, name in enumerate(written) if name.strip())

    def each(self, written: Mapping[str, T] | None, anchor: Anchor) -> Iterator[tuple[str, T, Anchor]]:
        """A mapping's keys and values, with the anchors of the values."""
        for key, value in (written or {}).items():
            yield key, value, anchor.at(key)


def yes_or_no(text: str) -> bool:
    """`yes` or `no`. Raises `Unreadable`."""
    word = text.strip().lower()
    if word not in ("yes", "no"):
        hint = {"true": "write yes", "false": "write no"}.get(word, "write yes or no")
        raise Unreadable(f"'{text.strip()}' is neither yes nor no", end=len(text), hint=hint)
    return word == "yes"


def parts(text: str, separator: str) -> Iterator[tuple[str, int, int]]:
    """The parts of a text between separators, trimmed, with their offsets; empty ones are left out."""
    start = 0
    for part in text.split(separator):
        bare = part.strip()
        if bare:
            begin = start + len(part) - len(part.lstrip())
            yield bare, begin, begin + len(bare)
        start += len(part) + len(separator)


def grams(text: str) -> Decimal:
    """A mass in grams, at most ten tonnes. Raises `Unreadable`."""
    amount = parse_amount(text)
    if amount.dimension is Dimension.COUNT and not amount.unit:
        raise Unreadable(f"'{text.strip()}' has no unit", end=len(text), hint=f"did you mean {text.strip()} g?")
    if amount.dimension is not Dimension.MASS:
        raise Unreadable(f"'{text.strip()}' is no weight", end=len(text), hint="write a number and g or kg")
    found = amount.in_base()
    if found > LARGEST_GRAMS:
        raise Unreadable(f"{text.strip()} is more than ten tonnes", end=len(text), hint="check the number and its unit")
    return found


def share(text: str) -> Decimal:
    """A percentage from 0 to 100 as a fraction of one. Raises `Unreadable`."""
    start = len(text) - len(text.lstrip())
    taken = take_number(text, start)
    behind = text[taken.end :].strip() if taken else ""
    if taken is None or behind not in ("%", "percent", "per cent"):
        hint = "write a number and %"
        if taken and not behind:
            # 0.14 is how a calculator writes 14 %
            percent = taken.value.scaleb(2) if 0 < taken.value < 1 else taken.value
            hint = f"did you mean {plain(percent)} %?"
        raise Unreadable(f"'{text.strip()}' is no percentage", end=len(text), hint=hint)
    if taken.value > 100:
        raise Unreadable(f"{text.strip()} is more than all of it", end=len(text), hint="write a share of at most 100 %")
    return taken.value.scaleb(-2)


def plain(value: Decimal) -> str:
    """A number as a cook would write it: 14, not 1.4E+1 or 14.00."""
    return f"{value.normalize():f}"


def whole(text: str) -> int:
    """A whole number from 1. Raises `Unreadable`."""
    bare = text.strip()
    if not (bare.isascii() and bare.isdigit() and int(bare[:9]) > 0 and len(bare) < 10):
        raise Unreadable(f"'{bare}' is no whole number above zero", end=len(text), hint="write it in figures: 2")
    return int(bare)
