"""What must be unique in a book, or is suspiciously nearly so: codes and tags."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from bookmaker.model.written.line import Words
from bookmaker.model.written.recipe import WrittenRecipe
from bookmaker.problems.problem import Problem, Related, problem
from bookmaker.reading.suggest import fold, near


def check_codes(recipes: Iterable[WrittenRecipe]) -> Iterator[Problem]:
    """Codes that two recipes or sizes bear."""
    first: dict[str, tuple[Words, str]] = {}
    for recipe in recipes:
        codes = {variant.code.anchor: variant.code for variant in (recipe, *recipe.sizes) if variant.code}
        for code in codes.values():
            known, title = first.setdefault(fold(code.text), (code, recipe.title.text))
            if known is not code:
                related = [Related(known.anchor, f"'{title}' has it")]
                yield problem("duplicate-code", code.anchor, related=related, number=code.text, title=title)


def check_tags(recipes: Sequence[WrittenRecipe]) -> Iterator[Problem]:
    """A tag that stands alone and nearly equals one in use elsewhere: probably a slip."""
    tags = [tag for recipe in recipes for tag in recipe.tags]
    counts = Counter(fold(tag.text) for tag in tags)
    shared = [tag for tag, count in counts.items() if count > 1]
    for tag in tags:
        if counts[fold(tag.text)] == 1 and (other := near(tag.text, shared)):
            yield problem("lone-tag", tag.anchor, fix=f"did you mean '{other[0]}'?", tag=tag.text, other=other[0])
