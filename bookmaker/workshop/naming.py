"""Which recipe is meant by a name typed at the terminal."""

from bookmaker.model.book import Book
from bookmaker.model.refs import RecipeRef
from bookmaker.reading.suggest import did_you_mean, fold
from bookmaker.workshop.opening import Usage


def find_recipe(book: Book, name: str) -> RecipeRef:
    """The recipe of that title, other name, code or path; `title (size)` names a size.

    Raises `Usage` with near misses.
    """
    names: dict[str, RecipeRef] = {}
    for ref, recipe in book.recipes.items():
        plain = not ref.size or book.sizes[ref.id][0] == ref.size
        for known in (recipe.title, *recipe.aka, recipe.code, ref.id, ref.id.rpartition("/")[2]):
            if not known:
                continue
            if plain:
                names.setdefault(fold(known), ref)
            if ref.size:
                names.setdefault(fold(f"{known} ({ref.size})"), ref)
    wanted = fold(name)
    if wanted in names:
        return names[wanted]
    parts = [ref for known, ref in names.items() if wanted in known]
    if len(set(parts)) == 1:
        return parts[0]
    titles = [book.name(ref) for ref in names.values()]
    hint = did_you_mean(name, titles) or "bookmaker cost lists the products"
    raise Usage(f"no recipe is called '{name}'; {hint}")


def find_item(book: Book, name: str) -> str:
    """The stores item of that name or alias. Raises `Usage` with near misses."""
    names = {fold(known): item.id for item in book.stores.values() for known in (item.id, *item.aka)}
    if fold(name) in names:
        return names[fold(name)]
    hint = did_you_mean(name, list(book.stores))
    raise Usage(f"the stores have no '{name}'" + (f"; {hint}" if hint else ""))
