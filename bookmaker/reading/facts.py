"""The smaller facts of a recipe: prices, packaging, layers, batching, co-products, teaching."""

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal
from functools import partial

from bookmaker.measures.amounts import parse_amount, take_amount
from bookmaker.measures.counts import COUNT_WORDS
from bookmaker.measures.money import Money, take_money
from bookmaker.measures.numbers import Unreadable
from bookmaker.measures.units import Dimension
from bookmaker.model.recipe import Teaching
from bookmaker.model.teaching import EXERCISES, STEPS
from bookmaker.model.written import Names
from bookmaker.model.written.front import CoProductFront, MakeFront, TeachFront
from bookmaker.model.written.line import Words
from bookmaker.model.written.recipe import WrittenLayer, WrittenPackaging, WrittenPrice
from bookmaker.model.yields import CoProduct, Making
from bookmaker.problems.anchors import Anchor
from bookmaker.reading.flat import take_length
from bookmaker.reading.keeping import read_keeps
from bookmaker.reading.suggest import did_you_mean
from bookmaker.reading.texts import Texts, grams, parts, share
from bookmaker.reading.tree import key_of

_TAXED = {"incl": True, "incl.": True, "inclusive": True, "included": True, "net": False, "net.": False}
_PER = re.compile(r"\s+per\s+", re.IGNORECASE)
_REST_OF_CUT = re.compile(r"(the\s+)?rest\s+of\s+the\s+cut", re.IGNORECASE)
_COATS = re.compile(r"\s+(?:coats|coating)\s*$", re.IGNORECASE)
_AT = re.compile(r"(?:^|\s+)at\s+(?=[\d½¼¾.])", re.IGNORECASE)


def read_prices(written: Mapping[str, str] | None, texts: Texts, at: Anchor) -> tuple[WrittenPrice, ...]:
    """Prices per channel."""
    found = []
    for channel, text, anchor in texts.each(written, at):
        price = texts.read(text, anchor, _price, "bad-price")
        if price:
            found.append(WrittenPrice(Words(channel, key_of(anchor)), *price))
    return tuple(found)


def _price(text: str) -> tuple[Money, bool]:
    taken = take_money(text)
    word = text[taken.end :].strip()
    if word.lower() not in _TAXED:
        said = text[: taken.end].strip()
        start = taken.end + len(text[taken.end :]) - len(text[taken.end :].lstrip()) if word else 0
        why = f"'{word}' does not say" if word else f"'{said}' does not say"
        raise Unreadable(
            f"{why} whether the tax is in the price",
            start=start,
            end=len(text),
            hint=f"write '{said} incl' or '{said} net'",
        )
    return taken.money, _TAXED[word.lower()]


def read_packaging(written: Names | None, texts: Texts, at: Anchor) -> tuple[WrittenPackaging, ...]:
    """Packaging lines."""
    found = []
    for words in texts.names(written, at):
        line = texts.read(words.text, words.anchor, _packaging, "bad-packaging")
        if line:
            count, per, start, end = line
            base = words.anchor.start
            name = Words(words.text[start:end], words.anchor.part(base + start, base + end))
            found.append(WrittenPackaging(name, count, per))
    return tuple(found)


def _packaging(text: str) -> tuple[Decimal, Decimal | None, int, int]:
    taken = take_amount(text, 0)
    if taken is None or taken.amount.dimension is not Dimension.COUNT:
        raise Unreadable(f"'{text}' does not begin with a number", end=len(text), hint=f"write how many: 1 {text}")
    start = taken.end + len(text[taken.end :]) - len(text[taken.end :].lstrip())
    per = _PER.search(text, start)
    end = per.start() if per else len(text)
    if start >= end:
        raise Unreadable(
            f"'{text}' does not name what it is packed in", end=len(text), hint="write 1 cake box per 6 pieces"
        )
    return taken.amount.number, _per(text, per.end()) if per else None, start, end


def _per(text: str, start: int) -> Decimal:
    taken = take_amount(text, start)
    number, end = (taken.amount.number, taken.end) if taken else (Decimal(1), start)
    word = text[end:].strip()
    if (taken and taken.amount.dimension is not Dimension.COUNT) or word.lower() not in COUNT_WORDS:
        hint = did_you_mean(word, COUNT_WORDS) or "write it as per 6 pieces"
        raise Unreadable(f"'{text[start:].strip()}' is no number of pieces", start=start, end=len(text), hint=hint)
    return number


def read_layers(written: tuple[str, ...] | None, texts: Texts, at: Anchor) -> tuple[WrittenLayer, ...]:
    """Layers, bottom to top."""
    layers = []
    for index, text in enumerate(written or ()):
        anchor = at.at(index)
        layer = texts.read(text or None, anchor, partial(_layer, anchor), "bad-layer")
        if layer:
            layers.append(layer)
    return tuple(layers)


def _layer(anchor: Anchor, text: str) -> WrittenLayer:
    (head, begin, _), *details = parts(text, ",")
    thickness = None
    if at := _AT.search(head):
        thickness = take_length(head, at.end()).mm
        head = head[: at.start()]
    coats = bool(found := _COATS.search(head))
    if found:
        head = head[: found.start()]
    names = [Words(name, anchor.part(begin + start, begin + end)) for name, start, end in parts(head, ">")]
    if not names or head.lstrip().startswith(">"):
        raise Unreadable(f"'{text.strip()}' names no layer", end=len(text), hint="write a name of the formula first")
    shapes = []
    for detail, _, _ in details:
        at = _AT.search(detail)
        if at:
            thickness = take_length(detail, at.end()).mm
        elif (amount := _length(detail)) is not None:
            thickness = amount
            continue
        shapes.append(detail[: at.start()] if at else detail)
    return WrittenLayer(names[0], ", ".join(filter(None, shapes)), thickness, tuple(names[1:]), coats)


def _length(text: str) -> Decimal | None:
    """The millimetres of a detail that is nothing but a length."""
    try:
        amount = parse_amount(text)
    except Unreadable:
        return None
    return amount.in_base() if amount.dimension is Dimension.LENGTH else None


def read_making(written: MakeFront | None, texts: Texts, at: Anchor) -> Making:
    """How a component is batched."""
    if written is None:
        return Making()
    least = texts.read(written.least, at.at("least"), grams, "bad-amount")
    step = texts.read(written.step, at.at("step"), grams, "bad-amount")
    most = texts.read(written.most, at.at("most"), grams, "bad-amount")
    if least and most and least > most:
        texts.report("make-backwards", at.at("least"), least=written.least, most=written.most)
        least = most = None
    return Making(least, step, most, bool(texts.yes(written.whole, at.at("whole"))))


def read_co_products(
    written: Mapping[str, str | CoProductFront] | None, texts: Texts, at: Anchor
) -> tuple[CoProduct, ...]:
    """What a batch gives beside its product."""
    return tuple(_co_products(written, texts, at))


def _co_products(written: Mapping[str, str | CoProductFront] | None, texts: Texts, at: Anchor) -> Iterator[CoProduct]:
    for name, value, anchor in texts.each(written, at):
        front = CoProductFront(value) if isinstance(value, str) else value
        where = anchor if isinstance(value, str) else anchor.at("amount")
        if "," in name:
            texts.report("comma-in-name", key_of(anchor), name=name)
        amount = texts.read(front.amount, where, _given, "bad-amount")
        worth = texts.read(front.worth, anchor.at("worth"), share, "bad-share")
        keeps = read_keeps(front.keeps, texts, anchor.at("keeps"))
        if amount:
            yield CoProduct(name, *amount, worth or Decimal(0), keeps, anchor)


def _given(text: str) -> tuple[Decimal | None, Decimal | None]:
    """Grams, share; neither for the rest of the cut."""
    if _REST_OF_CUT.fullmatch(text.strip()):
        return None, None
    amount = parse_amount(text)
    if amount.dimension is Dimension.SHARE:
        return None, share(text)
    if amount.dimension is Dimension.MASS:
        return grams(text), None
    raise Unreadable(
        f"'{text.strip()}' does not say how much there is of it",
        end=len(text),
        hint="write 'rest of the cut', a weight, or a share of what comes out",
    )


def read_teaching(written: str | TeachFront | None, texts: Texts, at: Anchor) -> Teaching:
    """What the workbook does with the recipe, but for its topics, which the book's glossary adds to."""
    if written is None or isinstance(written, str):
        return Teaching(bool(texts.yes(written, at)))
    exercises = written.exercises
    inside = at.at("exercises")
    level = texts.one_of(written.level, at.at("level"), map(str, STEPS), "level")
    return Teaching(
        True,
        int(level or STEPS[0]),
        add=_exercises(exercises.add if exercises else None, texts, inside.at("add")),
        leave_out=_exercises(exercises.leave_out if exercises else None, texts, inside.at("leave out")),
    )


def read_topics(written: str | TeachFront | None, texts: Texts, at: Anchor) -> tuple[Words, ...]:
    """The topics that the recipe names, each at its place."""
    return texts.names(written.topics, at.at("topics")) if isinstance(written, TeachFront) else ()


def _exercises(written: Names | None, texts: Texts, at: Anchor) -> tuple[str, ...]:
    named = (texts.one_of(words.text, words.anchor, EXERCISES, "exercise") for words in texts.names(written, at))
    return tuple(dict.fromkeys(name for name in named if name))
