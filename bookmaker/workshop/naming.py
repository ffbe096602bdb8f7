"""Which recipe is meant by a name typed at the terminal."""

import difflib

from bookmaker.model.book import Book
from bookmaker.model.refs import RecipeRef
from bookmaker.reading.suggest import fold
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
    near = (
        difflib.get_close_matches(wanted, names, n=3, cutoff=0.6) or [known for known in names if wanted in known][:3]
    )
    titles = list(dict.fromkeys(book.name(names[known]) for known in near))
    hint = (
        f"; did you mean {' or '.join(repr(title) for title in titles)}?"
        if titles
        else "; bookmaker cost lists the products"
    )
    raise Usage(f"no recipe is called '{name}'{hint}")
