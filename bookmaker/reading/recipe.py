"""One recipe file by itself: text in, a written recipe and its problems out. No other file is looked at."""

import re
from dataclasses import dataclass, replace

from bookmaker.measures.temperatures import Temperature, parse_temperature
from bookmaker.model.recipe import ClientText, Kind, Status
from bookmaker.model.written.front import RecipeFront
from bookmaker.model.written.line import Words, WrittenCut
from bookmaker.model.written.recipe import WrittenLink, WrittenRecipe
from bookmaker.model.yields import FrameYield, SheetYield, TrayYield
from bookmaker.problems.anchors import Anchor, SourceMap
from bookmaker.problems.problem import Problem
from bookmaker.reading.bounds import DOUGH, check_reading
from bookmaker.reading.facts import (
    read_co_products,
    read_layers,
    read_making,
    read_packaging,
    read_prices,
    read_teaching,
    read_topics,
)
from bookmaker.reading.flow_commas import said_better
from bookmaker.reading.formula import read_formula
from bookmaker.reading.front import split
from bookmaker.reading.keeping import read_keeps
from bookmaker.reading.losses import WHOLE, read_losses
from bookmaker.reading.method import ReadMethod, read_method
from bookmaker.reading.shape import shape
from bookmaker.reading.sizes import read_sizes
from bookmaker.reading.texts import Texts, grams, whole
from bookmaker.reading.tree import compose, key_of
from bookmaker.reading.values import day, density
from bookmaker.reading.yields import read_cut, read_end_point, read_piece_count, read_portion, read_yield

_TITLE = re.compile(r"^title:[ \t]*(.+?)[ \t]*$", re.MULTILINE)

LONGEST_TITLE = 120
"""Characters: three lines of a recipe's head, two of a list; beyond that a title is a description."""

_WEIGHING = frozenset({"formula", "yields", "losses", "sizes", "gives", "cut", "to", "tray", "batch", "keep back"})
"""Keys without which nothing can be computed from a recipe."""


@dataclass(frozen=True, slots=True)
class RecipeDocument:
    """What one file came to.

    `claims` are names that it would bear if it could be read, so that its users are not blamed.
    """

    recipe: WrittenRecipe | None
    problems: tuple[Problem, ...]
    source: SourceMap
    claims: tuple[str, ...] = ()


def written_recipe(document: str, text: str) -> RecipeDocument:
    """Read one recipe file. Depends on nothing but its name and text."""
    halves, problems = split(document, text)
    if halves is None:
        source = SourceMap(document, text, {(): (0, len(text))})
        return RecipeDocument(None, tuple(problems), source, _claims(document, text))
    texts = Texts(document)
    method = read_method(text[halves.body :], halves.body, texts)
    in_body = tuple(texts.problems)
    begin, end = halves.front
    tree, in_yaml = compose(text[begin:end], document, begin)
    spans = {**(tree.spans if tree else {}), **method.spans, (): (0, len(text))}
    source = SourceMap(document, text, spans)
    if tree is None:
        return RecipeDocument(None, (*in_yaml, *in_body), source, _claims(document, text))
    front, in_shape = shape(tree, RecipeFront, go_on=True)
    texts.problems.clear()
    texts.problems += [*in_yaml, *in_shape]
    recipe = _recipe(front, method, texts) if front and front.title else None
    in_front = said_better(texts.problems, text, spans)
    return RecipeDocument(recipe, tuple(dict.fromkeys((*in_front, *in_body))), source, _claims(document, text))


def _claims(document: str, text: str) -> tuple[str, ...]:
    stem = document.rpartition("/")[2].removesuffix(".md").replace("-", " ")
    title = _TITLE.search(text)
    return (title[1].strip("\"'"), stem) if title else (stem,)


def _recipe(front: RecipeFront, method: ReadMethod, texts: Texts) -> WrittenRecipe:
    at = texts.top
    # a formula that the shape has found missing or misspelt is not said to be empty, too
    stages = read_formula(front.formula, texts, at.at("formula")) if front.formula or not texts.problems else ()
    losses = read_losses(front.losses, [stage.name for stage in stages], texts, at.at("losses"))
    recipe = WrittenRecipe(
        document=texts.document,
        id=texts.document.removesuffix(".md"),
        section=texts.document.rpartition("/")[0],
        title=_title(front.title, texts),
        kind=Kind(texts.one_of(front.kind, at.at("kind"), list(Kind), "kind") or Kind.COMPONENT),
        status=Status(texts.one_of(front.status, at.at("status"), list(Status), "status") or Status.DRAFT),
        yields=texts.read(front.yields, at.at("yields"), read_yield, "bad-yields"),
        stages=tuple(replace(stage, losses=losses.get(stage.name, ())) for stage in stages) if front.losses else stages,
        sound=True,
        yields_anchor=at.at("yields"),
        code=_words(front.code, at.at("code")),
        revision=texts.read(front.revision, at.at("revision"), whole, "bad-number") or 1,
        revised=texts.read(front.revised, at.at("revised"), day, "bad-date"),
        tags=texts.names(front.tags, at.at("tags")),
        aka=texts.names(front.aka, at.at("aka")),
        base=_words(front.base, at.at("base")),
        batch=texts.read(front.batch, at.at("batch"), grams, "bad-amount"),
        losses=losses.get(WHOLE, ()),
        tray=texts.read(front.tray, at.at("tray"), read_piece_count, "bad-amount"),
        keep_back=texts.read(front.keep_back, at.at("keep back"), grams, "bad-amount"),
        boil_to=texts.read(front.to, at.at("to"), read_end_point, "bad-amount"),
        cut=texts.read(front.cut, at.at("cut"), read_cut, "bad-cut"),
        gives=read_co_products(front.gives, texts, at.at("gives")),
        make=read_making(front.make, texts, at.at("make")),
        layers=read_layers(front.layers, texts, at.at("layers")),
        packaging=read_packaging(front.packaging, texts, at.at("packaging")),
        density=texts.read(front.density, at.at("density"), density, "bad-density"),
        dough_temperature=texts.read(
            front.dough_temperature, at.at("dough temperature"), _dough_temperature, "bad-temperature"
        ),
        labour_role=_words(front.labour_role, at.at("labour role")),
        portion=texts.read(front.portion, at.at("portion"), read_portion, "bad-amount"),
        servings=texts.read(front.servings, at.at("servings"), whole, "bad-number"),
        prices=read_prices(front.price, texts, at.at("price")),
        client=_client(front, texts),
        named=texts.names(front.named, at.at("named")),
        keeps=read_keeps(front.keeps, texts, at.at("keeps")),
        cautions=texts.names(front.cautions, at.at("cautions")),
        teaching=read_teaching(front.teach, texts, at.at("teach")),
        topics=read_topics(front.teach, texts, at.at("teach")),
        photo=_words(front.photo, at.at("photo")),
        photo_text=front.photo_text or "",
        method=method.method,
        links=tuple(WrittenLink(*link) for link in method.links),
    )
    if front.yields is None and not front.sizes and not _misspelt("yields", texts.problems):
        fix = "add a line `yields: …`, such as 24 pieces of 46 g, or 1.1 kg"
        texts.report("missing-key", key_of(at.at("title")), key="yields", of="", fix=fix)
    sizes = read_sizes(front.sizes, recipe, texts, at.at("sizes")) if front.sizes else ()
    _agree(recipe, sizes, texts)
    sound = bool(recipe.lines) and not any(_spoils(each) for each in texts.problems)
    return replace(recipe, sound=sound, sizes=tuple(replace(size, sound=sound) for size in sizes))


def _spoils(found: Problem) -> bool:
    """Whether a problem leaves nothing to compute from. What has no path stands in the front matter's very text."""
    path = found.anchor.path
    return found.is_error and (not path or path[0] in _WEIGHING or found.code == "missing-key")


def _misspelt(key: str, problems: list[Problem]) -> bool:
    """Whether a key was written, only not so that we know it."""
    return any(found.code == "unknown-key" and f"'{key}'" in found.fix for found in problems)


def _title(written: str, texts: Texts) -> Words:
    anchor = texts.top.at("title")
    if len(written) > LONGEST_TITLE:
        texts.report("title-too-long", anchor, found=len(written), most=LONGEST_TITLE)
    if "," in written:
        texts.report("comma-in-name", anchor, name=written)
    if written[:1].isdigit():
        texts.report("number-in-name", anchor, name=written)
    return Words(" ".join(written.split()), anchor)


def _dough_temperature(text: str) -> Temperature:
    found = parse_temperature(text)
    check_reading(text, DOUGH)
    return found


def _words(written: str | None, anchor: Anchor) -> Words | None:
    return Words(written.strip(), anchor) if written and written.strip() else None


def _client(front: RecipeFront, texts: Texts) -> ClientText:
    return ClientText(
        describe=front.describe or "",
        serve=front.serve or "",
        sold_as=front.sold_as or "",
        named=tuple(words.text for words in texts.names(front.named, texts.top.at("named"))),
        defrosted=bool(texts.yes(front.defrosted, texts.top.at("defrosted"))),
        thaw=front.thaw or "",
    )


def _agree(recipe: WrittenRecipe, sizes: tuple[WrittenRecipe, ...], texts: Texts) -> None:
    """What one key of a recipe asks of another."""
    at = texts.top
    if recipe.status is Status.APPROVED and recipe.code is None and not all(size.code for size in sizes or (recipe,)):
        texts.report("code-missing", at.at("status"), title=recipe.title.text)
    for aka in recipe.aka:
        if "," in aka.text:
            texts.report("comma-in-name", aka.anchor, name=aka.text)
    for variant in sizes or (recipe,):
        own = at.at("sizes", variant.size) if variant.cut is not recipe.cut else at
        if isinstance(variant.yields, TrayYield) and variant.tray is None:
            texts.report("tray-missing", variant.yields_anchor)
        if variant.cut and variant.yields and not isinstance(variant.yields, SheetYield | FrameYield):
            texts.report("cut-without-sheet", own.at("cut"))
    cuts = any(isinstance(line.said.quantity, WrittenCut) for line in recipe.lines) or recipe.cut
    for given in recipe.gives:
        if given.rest_of_cut and not cuts and not any(size.cut for size in sizes):
            texts.report("rest-without-cut", given.anchor, name=given.name)
