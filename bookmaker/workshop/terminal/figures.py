"""How commands write figures: the views' rounding, the house's formats, plain spaces for a terminal."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from bookmaker.editions.team.places import Places, places_of
from bookmaker.editions.team.rounding import mass, trimmed
from bookmaker.editions.team.views import Amount, Known, Lacking
from bookmaker.measures.scales import Weighed
from bookmaker.model.book import Book
from bookmaker.model.refs import Target
from bookmaker.press.formats import NBSP, Formats


@dataclass(frozen=True, slots=True)
class Pen:
    """Writes amounts as plain text."""

    formats: Formats

    def amount(self, amount: Amount | None) -> str:
        """A rounded amount; a dash where there is none."""
        return "–" if amount is None else self.formats.amount(amount).replace(NBSP, " ")

    def known(self, figure: Known | None) -> str:
        """A figure that may be incomplete, without what it lacks."""
        return "–" if figure is None else self.formats.known(figure).replace(NBSP, " ")

    def number(self, value: Decimal, places: int = 0) -> str:
        """A count, at most so many decimals."""
        return self.formats.number(trimmed(value, places)).replace(NBSP, " ")

    def mass(self, grams: Decimal) -> str:
        """A mass to read rather than to weigh."""
        return self.amount(mass(grams))

    def weight(self, weighed: Weighed) -> str:
        """A weight as the scale shows it, with the decimals of its step."""
        step = weighed.scale.step.normalize() if weighed.scale else Decimal(1)
        places = max(0, -int(step.as_tuple().exponent))
        return self.formats.number(weighed.shown.quantize(Decimal(1).scaleb(-places))).replace(NBSP, " ") + " g"

    def lacks(self, lacks: Iterable[Lacking]) -> str:
        """What is missing, in words: `no price for long pepper`."""
        groups = self.formats.lacking(lacks)
        return "; ".join(f"{group.words} {', '.join(thing.name for thing in group.of)}" for group in groups)


@dataclass(frozen=True, slots=True)
class Desk:
    """What every printed sheet needs: the book, its names, and a pen in the house's language."""

    book: Book
    places: Places
    pen: Pen

    def name(self, target: Target) -> str:
        """What a cook calls it."""
        return self.places.names[target]


def desk_for(book: Book) -> Desk:
    """A desk for this book."""
    house = book.house
    return Desk(book, places_of(book), Pen(Formats.of(house.language, fahrenheit=house.fahrenheit)))
