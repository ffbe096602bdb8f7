"""From a tree to a written document: unknown keys, wrong kinds, missing and empty values, all at once."""

from collections.abc import Mapping
from dataclasses import dataclass, field

import pytest

from bookmaker.problems.anchors import SourceMap
from bookmaker.reading.shape import columns_of, shape
from bookmaker.reading.tree import compose


@dataclass(frozen=True, slots=True)
class Part:
    """A line with details."""

    line: str
    at_most: str = ""


@dataclass(frozen=True, slots=True)
class Sheet:
    """A document with every kind of field."""

    title: str
    keep_back: str = ""
    aka: str | tuple[str, ...] = ()
    contains: str | tuple[str, ...] | None = None
    class_: str = ""
    formula: tuple[str | Part, ...] | Mapping[str, tuple[str | Part, ...]] = ()
    tins: Mapping[str, Part] = field(default_factory=dict)


def read(text: str, *, go_on: bool = False) -> tuple[Sheet | None, list[str]]:
    """The value, and each problem as `code 'what it points at' fix`."""
    tree, faults = compose(text, "d")
    assert tree is not None
    assert faults == []
    value, problems = shape(tree, Sheet, go_on=go_on)
    source = SourceMap("d", text, tree.spans)
    said = []
    for each in problems:
        place = source.place(each.anchor)
        said.append(f"{each.code} '{place.text[place.column - 1 :][: place.length]}' {each.message}; {each.fix}")
    return value, said


def test_a_full_document() -> None:
    value, problems = read(
        "title: x\nkeep back: 200 g\naka: [a, b]\ncontains: []\nclass: c\n"
        "formula:\n  - 2 g x\n  - line: y\n    at most: 25 %\ntins: {t: {line: z}}\n"
    )
    assert problems == []
    assert value == Sheet("x", "200 g", ("a", "b"), (), "c", ("2 g x", Part("y", "25 %")), {"t": Part("z")})


def test_not_written_and_written_empty_differ() -> None:
    value, _ = read("title: x\n")
    assert value is not None
    assert value.contains is None


def test_one_text_where_names_are_meant() -> None:
    value, _ = read("title: x\naka: a, b\nformula: {Dough: [1 g x]}\n")
    assert value is not None
    assert value.aka == "a, b"
    assert value.formula == {"Dough": ("1 g x",)}


@pytest.mark.parametrize(
    ("text", "pointed", "fix"),
    [
        ("titel: x\n", "titel", "did you mean 'title'?"),
        ("title: x\nkeep bakc: 3 g\n", "keep bakc", "did you mean 'keep back'?"),
        ("title: x\nTITLE: y\n", "TITLE", "did you mean 'title'?"),
        ("title: x\ntins: {t: {line: a, at mst: b}}\n", "at mst", "did you mean 'at most'?"),
        ("title: x\nformula: [{line: a, at mst: b}]\n", "at mst", "did you mean 'at most'?"),
        ("title: x\ntins: {t: {line: a, at most:3 g}}\n", "at most:3 g", "put a space behind the colon: `at most: …`"),
        ("title: x\ntins: {t: {line: a, zzz: b}}\n", "zzz", "known here: line, at most"),
    ],
)
def test_unknown_keys(text: str, pointed: str, fix: str) -> None:
    assert read(text)[1] == [f"unknown-key '{pointed}' '{pointed}' is no key that can stand here; {fix}"]


@pytest.mark.parametrize(
    ("text", "pointed", "says"),
    [
        ("keep back: 3 g\n", "keep back", "'title' is missing; add a line `title: …`"),
        ("title: x\ntins: {t: {at most: 3 g}}\n", "t", "'line' is missing from 't'; add a line `line: …`"),
        ("title: x\nformula: [{at most: 3 g}]\n", "at most", "'line' is missing from 'formula'; add a line `line: …`"),
    ],
)
def test_missing_keys(text: str, pointed: str, says: str) -> None:
    assert read(text)[1] == [f"missing-key '{pointed}' {says}"]


GROUP = "a group of `key: value`"


@pytest.mark.parametrize(
    ("text", "pointed", "key", "wanted", "found"),
    [
        ("title: [x]\n", "[x]", "title", "one text", "a list"),
        ("title: x\naka: {a: b}\n", "{a: b}", "aka", "one text or a list", GROUP),
        ("title: x\nformula: 2 g x\n", "2 g x", "formula", f"a list or {GROUP}", "one text"),
        ("title: x\nformula: [[y]]\n", "[y]", "formula, number 1", f"one text or {GROUP}", "a list"),
        ("title: x\nformula: {Dough: [[y]]}\n", "[y]", "Dough, number 1", f"one text or {GROUP}", "a list"),
        ("title: x\ntins: {t: z}\n", "z", "t", GROUP, "one text"),
    ],
)
def test_wrong_kinds(text: str, pointed: str, key: str, wanted: str, found: str) -> None:
    how = {
        "one text": "write it as one text, without brackets or dashes",
        "a list": "write each one on a line of its own, beginning with `- `",
        GROUP: "write `key: value` lines indented under it",
    }[wanted.partition(" or ")[0]]
    assert read(text)[1] == [f"wrong-kind '{pointed}' '{key}' should be {wanted}, but this is {found}; {how}"]


def test_empty_values() -> None:
    value, problems = read("title: x\naka:\n")
    assert problems == ["empty-value 'aka' nothing stands behind 'aka'; write its value, or take the line out"]
    assert value == Sheet("x")


def test_all_problems_at_once_and_the_rest_is_kept() -> None:
    value, problems = read("title: x\nkeep back: [a]\naka: {a: b}\ncolour: red\nformula:\n  - line: b\n    at mst: 3\n")
    assert [each.split()[0] for each in problems] == ["wrong-kind", "wrong-kind", "unknown-key", "unknown-key"]
    assert value == Sheet("x", formula=(Part("b"),))


def test_a_faulty_list_item_takes_its_list_along_so_that_no_other_changes_its_place() -> None:
    value, problems = read("title: x\nformula: [a, [b], c]\n")
    assert len(problems) == 1
    assert value == Sheet("x")


def test_an_empty_list_item_stays_in_its_place() -> None:
    value, problems = read("title: x\nformula:\n  -\n  - b\n")
    assert len(problems) == 1
    assert value == Sheet("x", formula=("", "b"))


def test_going_on_where_something_is_missing() -> None:
    assert read("keep back: 3 g\n")[0] is None
    value, problems = read("keep back: 3 g\ntins: {t: {}}\n", go_on=True)
    assert value == Sheet("", "3 g", tins={"t": Part("")})
    assert [each.split()[0] for each in problems] == ["missing-key", "missing-key"]


def test_columns() -> None:
    assert columns_of(Part) == ("line", "at most")


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("title: x\ntins: {t: {line: 2,5 g, at most: 3 g}}\n",
         "comma-number '2,5' 2,5: numbers take a decimal point, not a comma; write 2.5"),
        ("title: x\ntins: {t: {line: 5 g butter, diced}}\n",
         ("comma-in-braces 'diced' inside braces a comma ends the text, so 'diced' stands here by itself; "
          "put the whole text, comma and all, in quotation marks")),
        ("title: x\ntins: {t: {line: a, at most: }}\n",
         "empty-value 'at most' nothing stands behind 'at most'; write its value, or take the line out"),
    ],
)  # fmt: skip
def test_commas_inside_braces(text: str, problem: str) -> None:
    assert read(text, go_on=True)[1][:1] == [problem]
