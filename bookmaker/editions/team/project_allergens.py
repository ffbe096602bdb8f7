"""Allergens with the way they come in, and the matrix of products by legal groups."""

from collections.abc import Iterable, Mapping

from bookmaker.editions.team.places import ALLERGENS, Places
from bookmaker.editions.team.views import Link
from bookmaker.editions.team.views_overview import MatrixCell, MatrixPage, MatrixRow
from bookmaker.editions.team.views_recipe import AllergenLine, AllergensView, PathView
from bookmaker.kitchen.figures import THE_HOUSE, AllergenFigure, Path
from bookmaker.kitchen.law import LAWS
from bookmaker.model.house import House, Region


def allergens(figure: AllergenFigure, cross_contact: str, places: Places) -> AllergensView:
    """What a recipe contains and may contain, each with its ways in."""
    return AllergensView(
        contains=_lines(figure.contains, places),
        may_contain=_lines(figure.may_contain, places),
        handled=tuple(name for name, ways in figure.may_contain.items() if all(way == THE_HOUSE for way in ways)),
        undeclared=_paths(figure.undeclared, places),
        cross_contact=cross_contact,
    )


def matrix_row(product: Link, figure: AllergenFigure, region: Region) -> MatrixRow:
    """One product across the legal groups of a region."""
    return MatrixRow(product, tuple(_cell(group.members, figure) for group in LAWS[region].groups))


def matrix(rows: Iterable[MatrixRow], house: House) -> MatrixPage:
    """Products by the legal groups of the house's region."""
    law = LAWS[house.region]
    return MatrixPage(ALLERGENS, law.rule, tuple(group.name for group in law.groups), tuple(rows), house.cross_contact)


def _cell(members: tuple[str, ...], figure: AllergenFigure) -> MatrixCell:
    """Contains before may contain before not declared, and none of them hides another: who shuns hazelnuts must see
    them beside the almonds. A cell is empty only where everything was declared.
    """
    several = len(members) > 1
    unsure = bool(figure.undeclared)
    held = tuple(name for name in members if name in figure.contains)
    possible = tuple(name for name in members if name in figure.may_contain and name not in figure.contains)
    if held:
        return MatrixCell("contains", held, possible, unsure) if several else MatrixCell("contains")
    if possible:
        return MatrixCell("may contain", possible if several else (), undeclared=unsure)
    return MatrixCell("not declared" if unsure else "")


def _lines(found: Mapping[str, tuple[Path, ...]], places: Places) -> tuple[AllergenLine, ...]:
    lines = (AllergenLine(name, _paths(paths, places)) for name, paths in found.items())
    return tuple(line for line in lines if line.paths)


def _paths(paths: Iterable[Path], places: Places) -> tuple[PathView, ...]:
    """From the stores item up to the recipe's own line, shortest first. The house's own air is no way."""
    ordered = sorted(
        (path for path in paths if path != THE_HOUSE),
        key=lambda path: (len(path), [places.names[target] for target in path]),
    )
    return tuple(PathView(tuple(places.link(target) for target in reversed(path))) for path in ordered)
