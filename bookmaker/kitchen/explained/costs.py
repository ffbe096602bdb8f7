"""Cost of a batch, a piece and a kilogram, of each line, and of labour, energy, packaging and overhead."""

from collections.abc import Iterable
from decimal import Decimal
from functools import partial

from bookmaker.kitchen.cost import overhead_base, rates_of
from bookmaker.kitchen.explained.asked import Asked, Workings, a_kilogram, in_percent, line_names
from bookmaker.kitchen.figures import CostParts, Figure, LineCost, LineFlow
from bookmaker.kitchen.labour import ENERGY_RULE, MINUTES_AN_HOUR, kilowatt_hours
from bookmaker.kitchen.prices import PER_GRAM
from bookmaker.kitchen.working import FigureSource, HouseSource, LineSource, StepSource, Term, Working
from bookmaker.measures.exact import ZERO, total
from bookmaker.model.refs import CoProductRef, RecipeRef, StoresRef


def workings(asked: Asked) -> Workings:
    """`cost`, `cost per kg`, `cost per piece`, `ingredients`, `ingredients per kg`, `labour`, `energy`, `packaging`,
    `overhead`, `cost of` each line, and `price of` each item that is bought for this recipe.
    """
    cost = asked.cost
    made = {
        "cost": partial(_batch, asked),
        "cost per kg": partial(_per_kilogram, asked, "cost per kg", "cost", cost.per_gram),
        "ingredients": partial(_ingredients, asked),
        "ingredients per kg": partial(
            _per_kilogram, asked, "ingredients per kg", "ingredients", cost.ingredients_per_gram
        ),
        "labour": partial(_labour, asked),
    }
    if asked.flow.yields.pieces:
        made["cost per piece"] = partial(_per_piece, asked)
    if cost.energy_kwh.value is not None:
        made["energy"] = partial(_energy, asked)
    if cost.packaging:
        made["packaging"] = partial(_packaging, asked)
    if asked.book.house.overhead:
        made["overhead"] = partial(_overhead, asked)
    flows = {line.line: line for line in asked.flow.lines}
    names = line_names(asked.recipe)
    for line in cost.lines:
        what = f"cost of {names[line.line]}"
        made[what] = partial(_line, asked, what, line, flows[line.line])
    for item in sorted(_items(asked)):
        made[f"price of {item}"] = partial(_price, asked, item)
    return made


def _items(asked: Asked) -> set[str]:
    bought = {line.target.id for line in asked.recipe.lines if isinstance(line.target, StoresRef)}
    return bought | {pack.item.id for pack in asked.cost.packaging}


# --- the batch ------------------------------------------------------------------------------------------------------


def _batch(asked: Asked) -> Working:
    cost, names, ref = asked.cost, line_names(asked.recipe), asked.ref
    terms = [
        Term(names[line.line], line.cost.value, asked.money, FigureSource(ref, f"cost of {names[line.line]}"))
        for line in cost.lines
    ]
    energy = (cost.energy_kwh.value or ZERO) * (asked.book.house.energy or ZERO)
    packaging = total(pack.cost.value or ZERO for pack in cost.packaging)
    own = (
        ("labour", "own labour", cost.labour.cost.value),
        ("energy", "own energy", energy),
        ("packaging", "own packaging", packaging),
        ("overhead", "own overhead", _own_overhead(asked)),
    )
    terms += [Term(label, money, asked.money, FigureSource(ref, what)) for what, label, money in own if money]
    if cost.parts.credit:
        terms.append(Term("credit for co-products", cost.parts.credit, asked.money, note="taken off"))
    return asked.working("cost", "lines, and what making them adds", terms, cost.batch, asked.money)


def _per_kilogram(asked: Asked, what: str, of: str, per_gram: Figure) -> Working:
    money = asked.cost.batch if of == "cost" else _food(asked)
    terms = (
        Term(of, money.value, asked.money, FigureSource(asked.ref, of)),
        Term("usable", asked.flow.yields.usable.value, "g", FigureSource(asked.ref, "yield")),
    )
    result = Figure(a_kilogram(per_gram.value), per_gram.lacks)
    return asked.working(what, f"{of} ÷ usable mass, so that losses cost", terms, result, asked.money_a_kilogram)


def _per_piece(asked: Asked) -> Working:
    yields = asked.flow.yields
    terms = (
        Term("cost", asked.cost.batch.value, asked.money, FigureSource(asked.ref, "cost")),
        Term(yields.word or "pieces", yields.pieces, "pieces", FigureSource(asked.ref, "yield")),
    )
    return asked.working("cost per piece", "cost ÷ pieces", terms, asked.cost.per_piece, asked.money)


def _food(asked: Asked) -> Figure:
    parts, lacks = asked.cost.parts, asked.cost.ingredients_per_gram.lacks
    money = parts.ingredients - parts.credit
    return Figure(money if money or not lacks else None, lacks)


def _ingredients(asked: Asked) -> Working:
    terms = [Term(item.id, money, asked.money, item) for item, money in asked.cost.by_item.items()]
    rule = "what is paid for each stores item, through all components, co-products credited"
    return asked.working("ingredients", rule, terms, _food(asked), asked.money)


# --- lines ----------------------------------------------------------------------------------------------------------


def _line(asked: Asked, what: str, line: LineCost, flow: LineFlow) -> Working:
    if flow.seed:
        rule = "seed costs nothing: the batch bears feeding and discard"
        return asked.working(what, rule, (), line.cost, asked.money)
    target = line.target
    if isinstance(target, StoresRef):
        rule, terms = _bought(asked, line, flow, target.id)
    elif isinstance(target, CoProductRef):
        rule, terms = "charged × what it is worth of the parent's ingredients", _left_over(asked, line, flow)
    else:
        source = FigureSource(asked.book.sized(target), "cost per kg")
        price = Term("cost", a_kilogram(line.per_gram), asked.money_a_kilogram, source)
        rule, terms = "charged × the component's cost", (_charged(asked, flow), price)
    return asked.working(what, rule, terms, line.cost, asked.money)


def _charged(asked: Asked, flow: LineFlow) -> Term:
    note = "what goes back to stores left out" if flow.back else ""
    charged = None if flow.bowl is None else flow.charged
    return Term("charged", charged, "g", LineSource(asked.ref, flow.line), note)


def _bought(asked: Asked, line: LineCost, flow: LineFlow, item: str) -> tuple[str, tuple[Term, ...]]:
    chosen, stores = asked.figures.prices[item], asked.book.stores[item]
    source = FigureSource(asked.ref, f"price of {item}")
    if chosen.amount is not None and chosen.per != PER_GRAM:
        pieces = Term("pieces", flow.pieces, "pieces", LineSource(asked.ref, flow.line))
        return "pieces × price", (pieces, Term("price", chosen.amount, asked.money, source))
    price = Term("price", a_kilogram(chosen.amount), asked.money_a_kilogram, source)
    if line.bought is None or line.bought == flow.charged:
        return "charged × price", (_charged(asked, flow), price)
    usable = Term("usable", in_percent(stores.usable), "%", StoresRef(item))
    return "charged ÷ usable × price", (_charged(asked, flow), usable, Term("bought", line.bought, "g"), price)


def _left_over(asked: Asked, line: LineCost, flow: LineFlow) -> tuple[Term, ...]:
    assert isinstance(line.target, CoProductRef)
    parent = asked.book.sized(line.target.recipe)
    theirs = asked.figures.recipes[parent].flow
    given = next(each for each in theirs.co_products if each.ref.name == line.target.name)
    rates = rates_of(line.target, theirs, asked.book)
    terms = [_charged(asked, flow), Term("worth", in_percent(given.worth), "%", parent)]
    for share, ref in rates:
        per_gram = asked.figures.recipes[ref].cost.ingredients_per_gram.value
        note = "" if len(rates) == 1 else "one part of what it consists of"
        source = FigureSource(ref, "ingredients per kg")
        value = None if per_gram is None else a_kilogram(per_gram * share)
        terms.append(Term(asked.book.name(ref), value, asked.money_a_kilogram, source, note))
    return tuple(terms)


def _price(asked: Asked, item: str) -> Working:
    chosen = asked.figures.prices[item]
    by_weight = chosen.per == PER_GRAM
    terms: list[Term] = []
    if chosen.amount and chosen.pack_price is not None:
        terms.append(Term(f"a pack of {chosen.pack}", chosen.pack_price, asked.money, chosen.key))
        holds = chosen.pack_price / chosen.amount
        note = "ready pieces: usable is not applied" if chosen.ready and by_weight else ""
        terms.append(Term("the pack holds", holds, "g" if by_weight else "pieces", StoresRef(item), note))
    elif chosen.key is not None:
        terms.append(Term(f"a pack of {chosen.pack}", chosen.pack_price, asked.money, chosen.key))
    return asked.working(
        f"price of {item}",
        "the newest price in force, by the house's choice of supplier ÷ what the pack holds",
        terms,
        a_kilogram(chosen.amount) if by_weight else chosen.amount,
        asked.money_a_kilogram if by_weight else asked.money,
        lacks=chosen.lacks,
    )


# --- what making adds -----------------------------------------------------------------------------------------------


def _labour(asked: Asked) -> Working:
    labour = asked.cost.labour
    terms = [
        Term(f"step {step.step}", step.hands_on, "min", StepSource(asked.ref, step.step))
        for step in asked.own.time.steps
        if step.hands_on
    ]
    terms.append(Term(labour.role or "no role", labour.rate, f"{asked.money}/h", HouseSource("labour")))
    rule = f"hands-on person-minutes ÷ {MINUTES_AN_HOUR} × rate; waiting is free; components bear their own"
    return asked.working("labour", rule, terms, labour.cost, asked.money)


def _energy(asked: Asked) -> Working:
    house = asked.book.house
    terms = [
        Term(f"step {step.number}, {step.on}", used, "kWh", StepSource(asked.ref, step.number))
        for step, used in kilowatt_hours(asked.recipe, asked.own.time, house)
    ]
    terms.append(Term("tariff", house.energy, f"{asked.money}/kWh", HouseSource("energy")))
    used = asked.cost.energy_kwh.value
    money = used * house.energy if used is not None and house.energy is not None else None
    return asked.working("energy", ENERGY_RULE, terms, money, asked.money)


def _packaging(asked: Asked) -> Working:
    cost = asked.cost
    terms: list[Term] = []
    for pack in cost.packaging:
        terms.append(Term(pack.item.id, pack.count, "pieces", pack.item))
        terms.append(
            Term(f"{pack.item.id}, each", pack.each, asked.money, FigureSource(asked.ref, f"price of {pack.item.id}"))
        )
    lacks = tuple(lack for pack in cost.packaging for lack in pack.cost.lacks)
    money = total(pack.cost.value or ZERO for pack in cost.packaging)
    return asked.working("packaging", "count × price, added up", terms, Figure(money or None, lacks), asked.money)


def _overhead(asked: Asked) -> Working:
    house = asked.book.house
    base = _own_base(asked)
    terms = (
        Term("rate", in_percent(house.overhead), "%", HouseSource("overhead")),
        Term(f"own {house.overhead_base}", base, asked.money, note="components bear their own"),
    )
    rule = f"rate × {house.overhead_base} that this recipe adds, never on overhead"
    return asked.working("overhead", rule, terms, _own_overhead(asked), asked.money)


def _own_base(asked: Asked) -> Decimal:
    """The overhead base less what came in with components."""
    kind = asked.book.house.overhead_base
    return overhead_base(asked.cost.parts, kind) - total(overhead_base(parts, kind) for parts in _brought(asked))


def _own_overhead(asked: Asked) -> Decimal:
    return asked.book.house.overhead * _own_base(asked)


def _brought(asked: Asked) -> Iterable[CostParts]:
    """The kinds of cost that each component line brings in."""
    for line in asked.flow.lines:
        if isinstance(line.target, RecipeRef) and not line.seed and line.bowl is not None:
            figures = asked.figures.recipes[asked.book.sized(line.target)]
            if figures.flow.usable:
                parts, share = figures.cost.parts, line.charged / figures.flow.usable
                yield CostParts((parts.ingredients - parts.credit) * share, parts.labour * share)
