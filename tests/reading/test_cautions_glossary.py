"""`cautions.yaml` over the built-in cautions, and `glossary.md`."""

from bookmaker.model.book import Caution, Term
from bookmaker.model.prose import Emphasis, Paragraph, RecipeLink, Text, plain
from bookmaker.model.refs import RecipeRef
from bookmaker.problems.anchors import SourceMap
from bookmaker.reading.built_in_cautions import BUILT_IN
from bookmaker.reading.cautions import read_cautions
from bookmaker.reading.files import Document
from bookmaker.reading.glossary import Glossary, read_glossary
from tests.reading.settings import brief, read_text


def test_a_house_replaces_and_adds_by_name() -> None:
    found, problems = read_text(
        "Hot Sugar: {hazard: h, do: d, first aid: f}\nwood oven: {hazard: It is hot., do: Mind it.}\n", read_cautions
    )
    assert problems == []
    assert found["hot sugar"] == Caution("hot sugar", "h", "d", "f")
    assert found["wood oven"] == Caution("wood oven", "It is hot.", "Mind it.")
    assert "hot trays" in found
    assert len(found) == len(BUILT_IN) + 1


def test_without_a_file_there_are_the_built_in_ones() -> None:
    found, problems = read_cautions(None)
    assert problems == []
    assert tuple(found.values()) == BUILT_IN


def test_a_caution_must_say_what_to_do() -> None:
    _, problems = read_text("wood oven: {hazard: It is hot.}\n", read_cautions)
    assert problems == ["missing-key: wood oven: add a line `do: …`"]
    assert read_text("# none\n", read_cautions)[1] == [
        "empty-file: # none: write something into it, or delete the file"
    ]


def test_built_in_cautions_are_whole_and_defer_where_the_law_or_a_sheet_decides() -> None:
    names = [each.name for each in BUILT_IN]
    assert len(set(names)) == len(names)
    assert all(each.hazard.endswith(".") and each.do.endswith(".") for each in BUILT_IN)
    by = {each.name: each for each in BUILT_IN}
    assert "safety data sheet" in by["moulding materials"].do
    assert "your rules" in by["flour dust"].do
    assert "food-safety plan" in by["cooling"].do


def glossary(text: str) -> tuple[Glossary, list[str]]:
    """The glossary of a text and its problems in short."""
    found, problems = read_glossary(Document("glossary.md", text, ""))
    return found, [brief(each, SourceMap("glossary.md", text, found.spans)) for each in problems]


def test_terms_with_their_other_names() -> None:
    found, problems = glossary(
        "# Words\n\nNot a term.\n\n## Panade\nFlour *cooked* in water.\nAlso: roux, paste.\n\n"
        "## Base\nSee [choux](choux/choux.md).\n\nAlso: 100 %\n"
    )
    assert problems == []
    choux = RecipeLink(RecipeRef("choux/choux"), (Text("choux"),))
    assert found.terms == (
        Term(
            "Panade", (Paragraph((Text("Flour "), Emphasis((Text("cooked"),)), Text(" in water."))),), ("roux", "paste")
        ),
        Term("Base", (Paragraph((Text("See "), choux, Text("."))),), ("100 %",)),
    )
    assert [link.path for link in found.links] == ["choux/choux.md"]


def test_a_sentence_with_the_word_also_is_no_list_of_names() -> None:
    found, _ = glossary("## Seed\nKept back. It is also: alive. Feed it.\n")
    assert found.terms[0].also == ()
    assert plain(found.terms[0].meaning) == "Kept back. It is also: alive. Feed it."


def test_terms_without_words_and_terms_explained_twice() -> None:
    found, problems = glossary("## A\nx\n\n## B\n\n## a\ny\n")
    assert [term.word for term in found.terms] == ["A"]
    assert problems == [
        "empty-term: ## B: write a paragraph under the heading",
        "duplicate-term: ## a: put both explanations under one heading",
    ]


def test_an_empty_glossary() -> None:
    assert glossary("Nothing yet.\n")[1] == ["empty-file: Nothing yet.: begin a term: ## Panade"]
