"""Markdown taken apart: the tree, and the place of every part in the source."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.model.prose import (
    Code,
    Emphasis,
    LineBreak,
    ListBlock,
    OutsideLink,
    Paragraph,
    RecipeLink,
    Table,
    Text,
)
from bookmaker.model.refs import RecipeRef
from bookmaker.reading.prose import Body, Container, Heading, Passage, StepText, read_body


def _body(text: str, document: str = "breads/loaf.md") -> Body:
    return read_body(text, document)


def _steps(text: str) -> list[StepText]:
    return [part for part in _body(text).parts if isinstance(part, StepText)]


def test_words_within_a_paragraph() -> None:
    (part,) = _body("Plain, *soft*, **strong**, `8 %`,  \nnext & last").parts
    assert isinstance(part, Passage)
    assert part.block == Paragraph(
        (
            Text("Plain, "),
            Emphasis((Text("soft"),)),
            Text(", "),
            Emphasis((Text("strong"),), strong=True),
            Text(", "),
            Code("8 %"),
            Text(","),
            LineBreak(),
            Text("next & last"),
        )
    )


@pytest.mark.parametrize(
    ("address", "expected"),
    [
        ("../biscuits/almond-sable.md", RecipeRef("biscuits/almond-sable")),
        ("rye.md", RecipeRef("breads/rye")),
        ("./rye.md#feeding", RecipeRef("breads/rye")),
        ("/creams/custard.md", RecipeRef("creams/custard")),
        ("../caf%C3%A9/cr%C3%A8me.md", RecipeRef("café/crème")),
    ],
)
def test_links_within_the_book_are_followed_from_the_document(address: str, expected: RecipeRef) -> None:
    body = _body(f"See [that one]({address}).")
    (part,) = body.parts
    assert isinstance(part, Passage)
    assert isinstance(part.block, Paragraph)
    assert part.block.content[1] == RecipeLink(expected, (Text("that one"),))
    assert [link.path for link in body.links] == [f"{expected.id}.md"]


def test_links_out_of_the_book_are_left_alone() -> None:
    body = _body("See [them](https://example.org/a?b=1) or <mailto:office@example.org>.")
    (part,) = body.parts
    assert isinstance(part, Passage)
    assert isinstance(part.block, Paragraph)
    addresses = [node.address for node in part.block.content if isinstance(node, OutsideLink)]
    assert addresses == ["https://example.org/a?b=1", "mailto:office@example.org"]
    assert not body.links


@pytest.mark.parametrize(
    "text",
    [
        "Then [the sablé](sable.md) again.",
        "Then *all [the sablé](sable.md)* again, [the sablé](sable.md).",
        "A line,\n   then [the sablé](sable.md) after a lazy indent.",
        "Tab\there, [the\nsablé](sable.md) over two lines.",
        '1. Step \\[one\\] [the sablé](sable.md). {work="1 min"}',
        "> nothing\n\nÜber é 🍞 [the sablé](sable.md)",
        "::: why\nAs in [the sablé](sable.md).\n:::",
        "| a | b |\n|---|---|\n| x | [the sablé](sable.md) |",
        "## Under [the sablé](sable.md) ##",
        "[the sablé][s] by reference\n\n[s]: sable.md",
    ],
)
def test_a_link_stands_where_it_is_written(text: str) -> None:
    links = _body(text).links
    assert links
    for link in links:
        written = text[slice(*link.span)]
        assert written.startswith("[the")
        assert written.endswith(("(sable.md)", "[s]"))


def test_places_count_from_the_document_and_not_from_the_body() -> None:
    front = "---\ntitle: Loaf\n---\n"
    text = front + 'See [rye](rye.md).\n\n1. Bake. {takes="1 h"}\n'
    body = read_body(text[len(front) :], "loaf.md", len(front))
    assert text[slice(*body.links[0].span)] == "[rye](rye.md)"
    step = body.parts[1]
    assert isinstance(step, StepText)
    assert text[slice(*step.span)] == '1. Bake. {takes="1 h"}'
    assert text[slice(*step.braces[0].span)] == '{takes="1 h"}'


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('1. Bake. {takes="1 h"}', "Bake."),
        ('1. Bake.{takes="1 h"}   ', "Bake."),
        ('1. Bake\nuntil gold. {takes="1 h"}', "Bake until gold."),
        ('1. Bake\n   until gold.\n   {takes="1 h"}', "Bake until gold."),
        ('1. Bake {takes="1 h"}', "Bake"),
        ('1. Bake *well* \\{so\\}. {takes="1 h"}', "Bake well {so}."),
        ('10)\tBake\ttwice. {takes="1 h"}', "Bake\ttwice."),
        ('1.  Bake. {takes="1 h"}\n\n2.  Cool.', "Bake."),
    ],
)
def test_braces_are_cut_off_the_end_of_a_step(text: str, words: str) -> None:
    from bookmaker.model.prose import plain_inline

    step = _steps(text)[0]
    assert plain_inline(step.content) == words
    (braces,) = step.braces
    assert braces.text == 'takes="1 h"'
    assert text[slice(*braces.span)] == '{takes="1 h"}'
    assert text[slice(*braces.place(7, 10))] == "1 h"


def test_braces_over_two_lines_keep_their_places() -> None:
    text = '1. Mix. {work="10 min"\n   on="planetary mixer"}\n'
    (braces,) = _steps(text)[0].braces
    start = braces.text.index("planetary")
    assert text[slice(*braces.place(start, start + 15))] == "planetary mixer"


def test_words_in_braces_that_are_no_pairs_stay_words() -> None:
    (step,) = _steps("1. Mix {see the note}")
    assert step.content == (Text("Mix {see the note}"),)
    assert not step.braces


def test_a_second_paragraph_of_a_step_is_set_on_its_own_line() -> None:
    (step,) = _steps('1. Mix.\n\n   Rest a little. {wait="1 h"}\n')
    assert step.content == (Text("Mix."), LineBreak(), Text("Rest a little."))
    assert step.braces[0].text == 'wait="1 h"'


def test_a_continuation_indented_too_far_is_no_code() -> None:
    body = _body("1. Mix.\n\n        Rest a little.\n\n    Then go on.\n")
    assert not body.complaints


def test_containers_hold_blocks_and_know_whether_they_are_closed() -> None:
    text = "::: why\nFor *this*.\n\n- and that\n:::\n\n:::look for\nGold\n\n::: fix\nMore heat.\n:::\n"
    first, second, third = _body(text).parts
    assert first == Container(
        "why",
        (
            Paragraph((Text("For "), Emphasis((Text("this"),)), Text("."))),
            ListBlock(((Paragraph((Text("and that"),)),),)),
        ),
        (0, 7),
        closed=True,
    )
    assert isinstance(second, Container)
    assert isinstance(third, Container)
    assert (second.name, second.closed, third.name, third.closed) == ("look for", False, "fix", True)


def test_a_container_may_follow_a_step_without_a_blank_line() -> None:
    text = "1. Bake.\n::: look for\nGold.\n:::\n2. Cool.\n"
    assert [type(part) for part in _body(text).parts] == [StepText, Container, StepText]


def test_a_container_inside_a_step_stands_behind_it() -> None:
    step, container = _body("1. Bake.\n\n   ::: look for\n   Gold.\n   :::\n").parts
    assert isinstance(step, StepText)
    assert isinstance(container, Container)
    assert container.closed


def test_tables_and_headings() -> None:
    heading, passage = _body("### Day *two*\n\n| flour | water |\n|---|---|\n| 1 | 2 |\n").parts
    assert heading == Heading(3, "Day two", (0, 13))
    assert isinstance(passage, Passage)
    assert passage.block == Table(((Text("flour"),), (Text("water"),)), (((Text("1"),), (Text("2"),)),))


@pytest.mark.parametrize(
    ("text", "code", "at_fault"),
    [
        ("Look: ![a](a.jpg)", "picture-in-text", "![a](a.jpg)"),
        ("Very <b>bold</b>", "raw-html", "<b>"),
        ("<div>\nblock\n</div>", "raw-html", "<div>\nblock\n</div>"),
        ("```\ncode\n```", "code-block", "```\ncode\n```"),
        ("> said", "quotation", "> said"),
        (":::", "stray-block-end", ":::"),
        ("1. Mix\n   - flour", "step-not-plain", "- flour"),
        ("::: why\n## No\n:::", "heading-in-block", "## No"),
        ('A word. {work="1 min"}', "braces-without-step", '{work="1 min"}'),
        ('1. Mix {work="1 min"} well.', "braces-misplaced", '{work="1 min"}'),
    ],
)
def test_what_is_not_set_is_complained_of_at_its_place(text: str, code: str, at_fault: str) -> None:
    complaint = _body(text).complaints[0]
    assert (complaint.code, text[slice(*complaint.span)]) == (code, at_fault)


def test_hidden_remarks_are_dropped_in_silence() -> None:
    body = _body("Words <!-- not for guests -->here.\n\n<!--\nnor this\n-->\n")
    (part,) = body.parts
    assert isinstance(part, Passage)
    assert part.block == Paragraph((Text("Words here."),))
    assert not body.complaints


_BLOCKS = (
    "1. ",
    "- ",
    "::: why\n",
    ":::\n",
    "## ",
    "\n",
    "\n\n",
    "   ",
    "\t",
    "|",
    "|---|\n",
    "> ",
    "```",
    "[a]: b.md\n",
)
_INLINES = ('{work="1 min"}', "{", "}", "[a](b.md)", "![x](y)", "*", "`", "<b>", "word ", "\\", "&amp;", "é", "🍞")
_ODDITIES = ("\r\n", "\r", "\u2028", "\0", "\x0c")
_PIECES = st.sampled_from((*_BLOCKS, *_INLINES, *_ODDITIES))


@given(st.lists(_PIECES, max_size=25).map("".join) | st.text(max_size=80))
def test_any_text_is_taken_apart_within_itself(text: str) -> None:
    body = _body(text)
    spans = [
        *(part.span for part in body.parts),
        *(link.span for link in body.links),
        *(complaint.span for complaint in body.complaints),
    ]
    steps = [part for part in body.parts if isinstance(part, StepText)]
    assert all(0 <= start <= end <= len(text) for start, end in spans)
    for step in steps:
        for braces in step.braces:
            assert text[slice(*braces.span)].startswith("{")
            assert text[slice(*braces.span)].endswith("}")
