"""Prose as a small frozen tree: what an edition may set, and links it resolves in its own way."""

from dataclasses import dataclass

from bookmaker.model.refs import RecipeRef


@dataclass(frozen=True, slots=True)
class Text:
    """Plain words."""

    text: str


@dataclass(frozen=True, slots=True)
class Emphasis:
    """Stressed words; `strong` for the stronger kind."""

    content: "tuple[Inline, ...]"
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Code:
    """Literal text."""

    text: str


@dataclass(frozen=True, slots=True)
class RecipeLink:
    """A link to another recipe of the book."""

    to: RecipeRef
    content: "tuple[Inline, ...]"


@dataclass(frozen=True, slots=True)
class OutsideLink:
    """A link that leaves the book."""

    address: str
    content: "tuple[Inline, ...]"


@dataclass(frozen=True, slots=True)
class LineBreak:
    """A forced line break."""


Inline = Text | Emphasis | Code | RecipeLink | OutsideLink | LineBreak


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running words."""

    content: tuple[Inline, ...]


@dataclass(frozen=True, slots=True)
class ListBlock:
    """A list that is not the method's steps."""

    items: "tuple[tuple[Block, ...], ...]"
    ordered: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A simple table with one heading row."""

    head: tuple[tuple[Inline, ...], ...]
    rows: tuple[tuple[tuple[Inline, ...], ...], ...]


Block = Paragraph | ListBlock | Table
Blocks = tuple[Block, ...]


def plain(content: "tuple[Inline, ...] | Blocks") -> str:
    """The words alone, for titles, search and cards."""
    return "".join(_words(node) for node in content).strip()


def _words(node: Inline | Block) -> str:
    match node:
        case Text(text) | Code(text):
            return text
        case Emphasis() | RecipeLink() | OutsideLink():
            return plain_inline(node.content)
        case LineBreak():
            return " "
        case Paragraph(content):
            return plain_inline(content) + " "
        case ListBlock(items):
            return " ".join(plain(item) for item in items) + " "
        case Table(head, rows):
            return " ".join(plain_inline(cell) for row in (head, *rows) for cell in row) + " "


def plain_inline(content: tuple[Inline, ...]) -> str:
    """The words of inline content, spaces kept."""
    return "".join(_words(node) for node in content)
