"""The lowest price that meets the food-cost target. Only for houses whose apprentices may see costs."""

from decimal import ROUND_CEILING, Decimal

from bookmaker.editions.team.rounding import places_after_point, trimmed
from bookmaker.editions.team.views import Amount
from bookmaker.editions.workbook.exercises.lesson import Lesson
from bookmaker.editions.workbook.views_parts import Exercise, Grid, Part, Result, Room, say
from bookmaker.kitchen.figures import LackKind
from bookmaker.measures.exact import HUNDRED, ONE

NAME = "selling price"
CENT = Decimal("0.01")


def make(lesson: Lesson) -> Exercise | None:
    """For one channel of the house, by the printed cost, target and tax."""
    cost, money = lesson.own.cost, lesson.book.house.money
    piece = cost.ingredients_per_piece
    channels = [channel for channel in cost.channels if channel.target]
    incomplete = any(lack.kind is not LackKind.STALE_PRICE for lack in piece.lacks)
    if piece.value is None or incomplete or not channels or not places_after_point(piece.value, 3):
        return None
    channel = lesson.dice.one_of(channels)
    assert channel.target is not None
    each = places_after_point(piece.value, 3)
    target, tax = trimmed(channel.target * HUNDRED, 2), trimmed(channel.tax * HUNDRED, 2)
    net = (each * HUNDRED / target).quantize(CENT, ROUND_CEILING)
    gross = (net * (ONE + tax / HUNDRED)).quantize(CENT, ROUND_CEILING)
    first = say("What is the lowest net price of a piece, rounded up to the cent?")
    second = say("What does the guest pay with tax, rounded up to the cent?")
    task: tuple[Part, ...] = (
        say("The ingredients of one piece of %(recipe)s cost %(each)s.", recipe=lesson.title, each=Amount(each, money)),
        Grid(
            ("For the channel", "Figure"),
            (
                ("Food cost, at most", say("%(target)s %% of the net price", target=target)),
                ("Sales tax", say("%(tax)s %% on top of the net price", tax=tax)),
            ),
            say("%(channel)s", channel=channel.channel),
        ),
        Room(first, money),
        Room(second, money),
    )
    working = (
        say(
            "Net = ingredients ÷ food cost: %(each)s ÷ (%(target)s ÷ 100) = %(net)s", each=each, target=target, net=net
        ),
        say("With tax: %(net)s × (1 + %(tax)s ÷ 100) = %(gross)s", net=net, tax=tax, gross=gross),
    )
    note = say("The lowest price for this target, not the right one: work, packaging and the market have their say.")
    return Exercise(
        NAME, task, (Result(first, Amount(net, money)), Result(second, Amount(gross, money))), working, note
    )
