"""`glossary.md`: a level-2 heading for each term, then what it means, with `Also: word, word.` for its other names."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from bookmaker.model.book import Term
from bookmaker.model.prose import Block, LineBreak, Paragraph, Text, plain
from bookmaker.problems.anchors import Anchor, Path
from bookmaker.problems.problem import Problem, Related, problem
from bookmaker.reading.files import Document
from bookmaker.reading.prose import Heading, Link, Passage, read_passages
from bookmaker.reading.suggest import fold

# line ends within a paragraph have become spaces by the time we see them
_ALSO = re.compile(r"(?:^|\s)Also: *(?P<words>[^.:]+?)\.?\s*$")


@dataclass(frozen=True, slots=True)
class Glossary:
    """The terms in the order written, the links in them, and where each term stands."""

    terms: tuple[Term, ...]
    links: tuple[Link, ...]
    spans: dict[Path, tuple[int, int]]


def read_glossary(document: Document) -> tuple[Glossary, list[Problem]]:
    """The glossary. Text before the first term is an introduction of the file, not of the book, and is passed over.

    Problems: `empty-file`, `empty-term`, `duplicate-term`, and those of its prose.
    """
    spans: dict[Path, tuple[int, int]] = {(): (0, len(document.text))}
    body = read_passages(document.text, document.name)
    problems = [problem(each.code, Anchor(document.name, (), *each.span)) for each in body.complaints]
    found: list[tuple[Heading, list[Block]]] = []
    for part in body.parts:
        match part:
            case Heading(level) if level == 2:
                found.append((part, []))
            case Passage(block) if found:
                found[-1][1].append(block)
    if not found:
        problems.append(
            problem("empty-file", Anchor(document.name), document=document.name, fix="begin a term: ## Panade")
        )
    terms = []
    first: dict[str, Anchor] = {}
    for heading, blocks in found:
        anchor = Anchor(document.name, (heading.text,))
        if (known := first.get(fold(heading.text))) or not blocks:
            code, related = ("duplicate-term", [Related(known, "the first one")]) if known else ("empty-term", [])
            problems.append(problem(code, Anchor(document.name, (), *heading.span), term=heading.text, related=related))
            continue
        spans[anchor.path] = heading.span
        first[fold(heading.text)] = anchor
        terms.append(_term(heading.text, blocks))
    return Glossary(tuple(terms), body.links, spans), problems


def spelt(terms: Iterable[Term]) -> dict[str, str]:
    """Every term by its folded name, and by its other names, as the glossary spells it."""
    found: dict[str, str] = {}
    for term in terms:
        for name in (term.word, *term.also):
            found.setdefault(fold(name), term.word)
    return found


def _term(word: str, blocks: list[Block]) -> Term:
    """A term; the line of other names is taken off its last paragraph."""
    last = blocks[-1]
    if not isinstance(last, Paragraph) or not last.content or not isinstance(last.content[-1], Text):
        return Term(word, tuple(blocks))
    *before, tail = last.content
    assert isinstance(tail, Text)
    found = _ALSO.search(tail.text)
    if not found:
        return Term(word, tuple(blocks))
    if kept := tail.text[: found.start()].rstrip():
        before.append(Text(kept))
    while before and isinstance(before[-1], LineBreak):
        before.pop()
    rest = (Paragraph(tuple(before)),) if plain(tuple(before)) else ()
    return Term(word, (*blocks[:-1], *rest), tuple(name.strip() for name in found["words"].split(",") if name.strip()))
