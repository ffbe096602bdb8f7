"""`house.yaml` to the house: settings, money, ways of selling."""

import re
from collections.abc import Iterator, Mapping
from decimal import Decimal

from bookmaker.measures.scales import Scale
from bookmaker.measures.units import Dimension, Spoons
from bookmaker.model.house import (
    LANGUAGES_WITH_WORDS,
    CardPaper,
    Channel,
    Choose,
    House,
    OverheadBase,
    Paper,
    PriceRule,
    Region,
)
from bookmaker.model.written.house import WrittenHouse
from bookmaker.problems.anchors import Anchor
from bookmaker.problems.problem import Problem
from bookmaker.reading.allergens import read_allergens
from bookmaker.reading.equipment import read_equipment, read_flats, read_moulds, read_staff, read_tins
from bookmaker.reading.labels import read_labels
from bookmaker.reading.shape import shape
from bookmaker.reading.suggest import did_you_mean, fold
from bookmaker.reading.texts import share
from bookmaker.reading.tree import Tree
from bookmaker.reading.values import Values, number

FORMAT = "1"
"""The version of the written format that this reader understands."""

_USUAL = House("")
_CURRENCY = re.compile(r"[A-Z]{3}")
_LANGUAGE = re.compile(r"[a-z]{2,3}(?:[-_][A-Za-z]{2,4})?")
_SCALE = re.compile(r"\s*up\s+to\s+(?P<most>.+?)\s+in\s+(?P<step>.+?)\s*", re.IGNORECASE)
_OVERHEAD = re.compile(r"(?P<share>[^%]*%)\s*of\s+(?P<base>.+)")


def read_house(tree: Tree) -> tuple[House | None, list[Problem]]:
    """The house; None only where the file is empty. A setting that cannot be read keeps its default.

    Problems: those of the file's shape, `house-format`, and at each setting what is wrong with it.
    """
    values = Values(tree.document)
    anchor = Anchor(tree.document)
    if not tree.root.entries:
        values.report("empty-file", anchor, document=tree.document, fix="write at least `format: 1` and `name: …`")
        return None, values.problems
    written, problems = shape(tree, WrittenHouse, go_on=True)
    if written is None:
        return None, problems
    house = _house(written, anchor, values)
    return house, problems + values.problems


def _house(written: WrittenHouse, anchor: Anchor, values: Values) -> House:
    _format(written.format, anchor.at("format"), values)
    region = Region(values.choice(written.region, anchor.at("region"), "region", list(Region), Region.EU))
    spoons = Spoons(
        values.choice(
            written.spoons,
            anchor.at("spoons"),
            "kind of spoon",
            list(Spoons),
            Spoons.US if region is Region.US else Spoons.METRIC,
        )
    )
    us = region is Region.US or spoons is Spoons.US
    money = _code(written.money, anchor.at("money"), values)
    labour = tuple(_labour(written.labour, anchor.at("labour"), money, values))
    roles = [role for role, _ in labour] or list(written.labour)
    overhead, base = _overhead(written.overhead, anchor.at("overhead"), values)
    paper = Paper(values.choice(written.paper, anchor.at("paper"), "paper size", list(Paper), Paper.A4))
    return House(
        name=written.name,
        language=_language(written.language, anchor.at("language"), values),
        region=region,
        paper=paper,
        money=money,
        batches=tuple(_batches(written, anchor.at("batches"), values)) or _USUAL.batches,
        fahrenheit=values.choice(written.temperature, anchor.at("temperature"), "temperature scale", "CF", "C") == "F",
        spoons=spoons,
        prices=_price_rule(written, anchor.at("prices"), values),
        food_cost=values.share(written.food_cost, anchor.at("food cost")),
        labour=labour,
        labour_role=_role(written.labour_role, roles, anchor.at("labour role"), values),
        overhead=overhead,
        overhead_base=base,
        energy=values.rate(written.energy, anchor.at("energy"), "kWh", money),
        channels=tuple(_channels(written, anchor.at("channels"), values)),
        scales=tuple(_scales(written, anchor.at("scales"), values)) or _USUAL.scales,
        equipment=read_equipment(written.equipment, anchor.at("equipment"), values),
        moulds=read_moulds(written.moulds, anchor.at("moulds"), values, us=us),
        tins=read_tins(written.tins, anchor.at("tins"), values, us=us),
        frames=read_flats(written.frames, anchor.at("frames"), "frame", values),
        trays=read_flats(written.trays, anchor.at("trays"), "tray", values),
        staff=read_staff(written.staff, roles, anchor.at("staff"), values),
        see_costs=tuple(each.text for each in values.names(written.see_costs, anchor.at("see costs"))),
        classes=tuple(_classes(written, anchor.at("classes"), values)),
        published_at=_address(written.published_at, anchor.at("published at"), values),
        cross_contact=written.cross_contact,
        cross_contact_allergens=read_allergens(
            written.cross_contact_allergens, anchor.at("cross contact allergens"), values
        ),
        forbid_claims=tuple(each.text for each in values.names(written.forbid_claims, anchor.at("forbid claims"))),
        contact=written.contact,
        card_paper=_card_paper(written.cards.paper, paper, anchor.at("cards").at("paper"), values),
        labels=read_labels(written.labels, list(written.channels), paper, anchor.at("labels"), values),
        sections=tuple(written.sections.items()),
        anchor=anchor,
    )


def _format(text: str, anchor: Anchor, values: Values) -> None:
    if text and text.strip() != FORMAT:
        values.report("house-format", anchor, found=text.strip(), known=FORMAT)


def _code(text: str, anchor: Anchor, values: Values) -> str:
    if not text or _CURRENCY.fullmatch(text):
        return text or _USUAL.money
    signs = {"€": "EUR", "£": "GBP", "$": "USD", "euro": "EUR", "euros": "EUR", "pounds": "GBP", "dollars": "USD"}
    meant = signs.get(fold(text)) or (text.upper() if _CURRENCY.fullmatch(text.upper()) else "")
    values.report("bad-currency", anchor, text=text, fix=f"write {meant or 'a code such as EUR, GBP or USD'}")
    return meant or _USUAL.money


def _language(text: str, anchor: Anchor, values: Values) -> str:
    if text and not _LANGUAGE.fullmatch(text):
        values.report("unknown-word", anchor, word=text, what="language code", fix="write a code such as en, de or fr")
        return _USUAL.language
    if text and re.split("[-_]", text)[0] not in LANGUAGES_WITH_WORDS:
        values.report("no-translation", anchor, language=text)
    return text or _USUAL.language


def _batches(written: WrittenHouse, anchor: Anchor, values: Values) -> Iterator[Decimal]:
    for words in values.names(written.batches, anchor):
        found = values.value("bad-number", number, words.text, words.anchor)
        if found == 0:
            values.report("bad-number", words.anchor, why="a batch column of 0 would be empty")
        elif found:
            yield found


def _card_paper(text: str, paper: Paper, anchor: Anchor, values: Values) -> CardPaper:
    usual = CardPaper.A4 if paper is Paper.A4 else CardPaper.LETTER
    return CardPaper(values.choice(text, anchor, "paper for cards", list(CardPaper), usual))


def _classes(written: WrittenHouse, anchor: Anchor, values: Values) -> Iterator[str]:
    taken: dict[str, str] = {}
    for words in values.names(written.classes, anchor):
        if other := taken.get(fold(words.text)):
            values.report("same-class", words.anchor, name=words.text, other=other)
            continue
        taken[fold(words.text)] = words.text
        yield words.text


def _price_rule(written: WrittenHouse, anchor: Anchor, values: Values) -> PriceRule:
    rule = written.prices
    choose = values.choice(rule.choose, anchor.at("choose"), "way of choosing a price", list(Choose), Choose.CHEAPEST)
    preferred = tuple(each.text for each in values.names(rule.preferred, anchor.at("preferred")))
    if choose == Choose.PREFERRED and not preferred:
        values.report(
            "missing-key", anchor.at("choose"), key="preferred", of=" from 'prices'", fix="list the suppliers"
        )
    return PriceRule(Choose(choose), preferred, values.minutes(rule.stale_after, anchor.at("stale after")))


def _labour(written: Mapping[str, str], anchor: Anchor, money: str, values: Values) -> Iterator[tuple[str, Decimal]]:
    for role, text in written.items():
        found = values.rate(text, anchor.at(role), "h", money)
        if found is not None:
            yield role, found


def _role(text: str, roles: list[str], anchor: Anchor, values: Values) -> str:
    if not text:
        return roles[0] if roles else ""
    spelt = {fold(role): role for role in roles}
    if fold(text) not in spelt:
        fix = did_you_mean(text, roles) or f"add its rate under `labour`: {text}: 20 EUR/h"
        values.report("unknown-role", anchor, role=text, fix=fix)
    return spelt.get(fold(text), text)


def _overhead(text: str, anchor: Anchor, values: Values) -> tuple[Decimal, OverheadBase]:
    if not text:
        return _USUAL.overhead, _USUAL.overhead_base
    bases = ", ".join(OverheadBase)
    parts = _OVERHEAD.fullmatch(text.strip())
    if not parts:
        why = f"'{text}' does not say what the overhead is a percentage of"
        values.report("bad-share", anchor, why=why, fix="write it as 12 % of ingredients")
        return _USUAL.overhead, _USUAL.overhead_base
    found = values.value("bad-share", share, parts["share"], anchor)
    at = anchor.part(parts.start("base"), parts.end("base"))
    base = values.choice(parts["base"], at, f"base for overhead ({bases})", list(OverheadBase), _USUAL.overhead_base)
    return found or _USUAL.overhead, OverheadBase(base)


def _channels(written: WrittenHouse, anchor: Anchor, values: Values) -> Iterator[Channel]:
    for name, channel in written.channels.items():
        tax = values.share(channel.tax, anchor.at(name, "tax"))
        yield Channel(name, tax or Decimal(0), values.share(channel.food_cost, anchor.at(name, "food cost")))


def _scales(written: WrittenHouse, anchor: Anchor, values: Values) -> Iterator[Scale]:
    for index, text in enumerate(written.scales):
        at = anchor.at(index)
        parts = _SCALE.fullmatch(text)
        if not parts:
            if text:
                why = f"'{text}' does not describe a scale"
                values.report("bad-amount", at, why=why, fix="write it as: up to 6 kg in 1 g")
            continue
        most = values.base(parts["most"], at.part(*parts.span("most")), Dimension.MASS)
        step = values.base(parts["step"], at.part(*parts.span("step")), Dimension.MASS)
        if most and step and step > most:
            why = f"a scale cannot weigh up to {parts['most']} in steps of {parts['step']}"
            values.report("bad-amount", at, why=why, fix=f"write: up to {parts['step']} in {parts['most']}")
        elif most and step:
            yield Scale(most, step)


def _address(text: str, anchor: Anchor, values: Values) -> str:
    if text and not re.fullmatch(r"https?://\S+", text):
        values.report("bad-address", anchor, text=text, fix=f"write it as https://{text.rpartition('//')[2]}")
        return ""
    return text if not text or text.endswith("/") else f"{text}/"
