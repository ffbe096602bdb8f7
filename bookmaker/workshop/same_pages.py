"""Names that would be published as one file."""

from collections.abc import Iterator

from bookmaker.editions.team.places import Contents
from bookmaker.model.book import Book
from bookmaker.problems.anchors import NOWHERE, Anchor
from bookmaker.problems.problem import Problem, Related, problem


def same_pages(contents: Contents, book: Book) -> Iterator[Problem]:
    """A problem for each pair of recipes or stores items that would get the same page."""
    pairs = contents.collisions()
    if not pairs:
        return
    anchors: dict[str, Anchor] = {item.id: item.anchor for item in book.stores.values()}
    anchors |= {book.name(ref): recipe.anchor for ref, recipe in book.recipes.items()}
    for pair in pairs:
        yield problem(
            "same-page",
            anchors.get(pair.second, NOWHERE),
            related=[Related(anchors.get(pair.first, NOWHERE), "the other one")],
            first=pair.first,
            second=pair.second,
            page=f"{pair.route.key}.html",
        )
