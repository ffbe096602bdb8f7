"""YAML as a tree of text with positions, and every way in which it can be refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.problems.anchors import Anchor, SourceMap
from bookmaker.problems.problem import Problem
from bookmaker.reading.tree import KEY, Mapping, Scalar, Sequence, Tree, compose, key_of


def read(text: str) -> Tree:
    """A tree that must be faultless."""
    tree, problems = compose(text, "d")
    assert problems == []
    assert tree is not None
    return tree


def fault(text: str) -> tuple[str, str, str]:
    """The only problem of a text: its code, the text it points at, and its sentence with the advice."""
    _, problems = compose(text, "d")
    assert len(problems) == 1
    return _said(problems[0], text)


def _said(found: Problem, text: str) -> tuple[str, str, str]:
    place = SourceMap("d", text, {(): (0, len(text))}).place(found.anchor)
    pointed = place.text[place.column - 1 :][: place.length]
    return found.code, pointed, f"{found.message}; {found.fix}"


def test_every_scalar_is_text() -> None:
    tree = read("a: no\nb: 12:30\nc: 1.50\nd: 2026-03-01\ne: ~\nf: 0x1F\ng: 1_000\n")
    values = [entry.value.text for entry in tree.root.entries if isinstance(entry.value, Scalar)]
    assert values == ["no", "12:30", "1.50", "2026-03-01", "~", "0x1F", "1_000"]


def test_nodes_and_keys_know_where_they_stand() -> None:
    text = (
        "title: Sablé\nformula:\n  - 480 g flour\n  - line: 'x y'  # note\n    stays: \"60 %\"\n\nlast: {a: [b, c]}\n"
    )
    spans = {path: text[begin:end] for path, (begin, end) in read(text).spans.items()}
    assert spans[("title",)] == "Sablé"
    assert spans[("title", KEY)] == "title"
    assert spans[("formula", 0)] == "480 g flour"
    assert spans[("formula", 1, "line")] == "x y"
    assert spans[("formula", 1, "stays")] == "60 %"
    assert spans[("formula", 1, "stays", KEY)] == "stays"
    assert spans[("formula",)].endswith('"60 %"')
    assert spans[("last", "a")] == "[b, c]"
    assert spans[("last", "a", 1)] == "c"
    assert spans[()] == text


def test_an_offset_moves_every_place() -> None:
    whole = "---\ntitle: x\n---\nbody"
    tree, _ = compose("title: x\n", "d", offset=4)
    assert tree is not None
    assert whole[slice(*tree.spans[("title",)])] == "x"
    _, problems = compose("title: x\ntitle: y\n", "d", offset=4)
    assert problems[0].anchor == Anchor("d", (), 13, 18)
    assert problems[0].related[0].anchor == Anchor("d", (), 4, 9)


def test_wide_and_rare_characters_do_not_shift_places() -> None:
    text = "🥐: 全卵 ½\nb: x\n"
    assert text[slice(*read(text).spans[("b",)])] == "x"


def test_quoted_and_bare_emptiness_differ() -> None:
    tree = read("a:\nb: ''\n")
    assert tree.root.get("a") == Scalar("", (2, 2))
    assert tree.root.get("b") == Scalar("", (7, 7), quoted=True)
    assert tree.root.get("c") is None


def test_text_without_content_is_an_empty_mapping() -> None:
    assert read("\n# only a remark\n").root.entries == ()


def test_sequences_and_mappings_keep_their_order() -> None:
    tree = read("b: [x, {c: d}]\na: y\n")
    assert [entry.key.text for entry in tree.root.entries] == ["b", "a"]
    listed = tree.root.get("b")
    assert isinstance(listed, Sequence)
    assert isinstance(listed.items[1], Mapping)


def test_key_of() -> None:
    assert key_of(Anchor("d", ("a",))) == Anchor("d", ("a", KEY))


def test_the_second_of_two_equal_keys_is_reported_and_the_first_kept() -> None:
    text = "a: 1\nb: 2\na: 3\n"
    tree, problems = compose(text, "d")
    assert tree is not None
    assert tree.root.get("a") == Scalar("1", (3, 4))
    assert [each.code for each in problems] == ["duplicate-key"]
    assert problems[0].anchor.start == 10
    assert problems[0].related[0].anchor.start == 0


@pytest.mark.parametrize(
    ("text", "code", "pointed", "says"),
    [
        ("a:\n\tb: c\n", "tab", "\t", "replace each tab with two spaces"),
        ("a: \x00b\n", "control-character", "\x00", "U+0000"),
        ("a: b\ufeffc\n", "control-character", "\ufeff", "U+FEFF"),
        ("a: b: c\n", "yaml-syntax", ":", "second colon"),
        ("a: b\nfoo bar\nc: d\n", "yaml-syntax", "foo bar", "no colon"),
        ("a: 'b\nc: d\n", "yaml-syntax", "'", "never closed"),
        ("a: \"b\nc: d\n", "yaml-syntax", '"', "never closed"),
        ('a: "c:\\x"\n', "yaml-syntax", "\"", "backslash"),
        ('a: "c:\\dir"\n', "yaml-syntax", "\\", "backslash"),
        ("x: [a, b\ny: 2\n", "yaml-syntax", "[", "not closed with ]"),
        ("x: {a: b\ny: 2\n", "yaml-syntax", "{", "not closed with }"),
        ("a: @b\n", "yaml-syntax", "@", "cannot begin with @"),
        ("a: `b`\n", "yaml-syntax", "`", "cannot begin with `"),
        ("a: %b\n", "yaml-syntax", "%", "cannot begin with %"),
        ("a: 'chef's'\n", "yaml-syntax", "s", "left over"),
        ("a: [b]]\n", "yaml-syntax", "]", "left over"),
        ("a:\n  b: 1\n c: 2\n", "yaml-syntax", "c", "does not stand in line"),
        ("a: - b\n", "yaml-syntax", "-", "a list cannot begin here"),
        ("a: b\n---\nc: d\n", "yaml-syntax", "-", "three dashes"),
        ("a: |x\n", "yaml-syntax", "x", "begins on the next line"),
        ("a: *butter\n", "yaml-alias", "*butter", "cannot begin with *"),
        ("a: &x b\n", "yaml-alias", "&x", "cannot begin with &"),
        ("a: !x y\n", "yaml-tag", "!x y", "cannot begin with !x"),
        ("? [a]\n: b\n", "yaml-key", "[a]", "one piece of text"),
        ("- a\n- b\n", "not-a-mapping", "- a", "a list"),
        ("only words\n", "not-a-mapping", "only words", "plain text"),
    ],
)  # fmt: skip
def test_refusals(text: str, code: str, pointed: str, says: str) -> None:
    found = fault(text)
    assert found[:2] == (code, pointed)
    assert says in found[2]


def test_the_tabs_are_counted() -> None:
    assert "(so do 2 other lines)" in fault("a:\n\tb: c\n\td: e\n\tf: g\n")[2]
    assert "(so does one other line)" in fault("a:\n\tb: c\n\td: e\n")[2]


def test_a_tab_inside_a_line_does_no_harm() -> None:
    assert read("a:\tb\n\t\nc: d\te\n").root.get("a") == Scalar("b", (3, 4))


def test_an_alias_bomb_is_refused_before_it_goes_off() -> None:
    lines = ["a0: &a0 [x, x]"]
    lines += [f"a{n}: &a{n} [*a{n - 1}, *a{n - 1}, *a{n - 1}, *a{n - 1}]" for n in range(1, 60)]
    assert fault("\n".join(lines))[0] == "yaml-alias"


@pytest.mark.parametrize(
    "text", ["a: " + "[" * 5000, "a: " + "{x: " * 5000, "- " * 5000 + "x", "a: " + "[" * 40 + "]" * 40]
)
def test_nesting_without_end_is_refused(text: str) -> None:
    tree, problems = compose(text, "d")
    assert {each.code for each in problems} == {"yaml-nested"}
    assert tree is None or len(tree.spans) < 100


def test_deep_indentation_is_refused() -> None:
    text = "\n".join(" " * depth + "a:" for depth in range(400))
    _, problems = compose(text, "d")
    assert [each.code for each in problems] == ["yaml-nested"]


@given(st.text(alphabet=st.sampled_from("ab:- \n[]{}'\"#&*!|>%@`,?\t0½"), max_size=60))
def test_any_text_gives_a_tree_or_a_sentence(text: str) -> None:
    tree, problems = compose(text, "d")
    assert tree is not None or problems
    for each in problems:
        assert each.message
        assert 0 <= each.anchor.start <= len(text)
    if tree:
        assert all(0 <= begin <= end <= len(text) for begin, end in tree.spans.values())


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize("line", ["- 60 g almonds", "– 60 g almonds", "60 g almonds", "1/2 kg almonds", "-"])
def test_a_line_indented_too_far_is_not_swallowed_by_the_one_above(line: str, newline: str) -> None:
    text = f"a:{newline}  - 160 g butter, soft{newline}    {line}{newline}"
    code, pointed, _ = fault(text)
    assert (code, pointed) == ("swallowed-line", line)
    tree, _ = compose(text, "d")
    assert tree is not None
    lines = tree.root.get("a")
    assert isinstance(lines, Sequence)
    assert [item.text for item in lines.items if isinstance(item, Scalar)] == ["160 g butter, soft"]


def test_a_text_may_go_on_in_the_next_line() -> None:
    root = read("b: butter, cut in\n  10 mm dice - or 12\nc: |\n  - 60 g\nd: 'x\n  - 60 g y'\n").root
    assert root.get("b") == Scalar("butter, cut in 10 mm dice - or 12", (3, 38))
