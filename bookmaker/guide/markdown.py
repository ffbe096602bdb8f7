"""Markdown tables and lists."""

from collections.abc import Iterable, Sequence


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table with a heading row."""
    lines = [head, ["---"] * len(head), *rows]
    return "\n".join(f"| {' | '.join(cell.replace('|', chr(92) + '|') for cell in row)} |" for row in lines)


def literal(text: str) -> str:
    """Text as a cook writes it; nothing for no text."""
    return f"`{text}`" if text else ""


def listed(words: Iterable[str]) -> str:
    """Words as a cook writes them, with commas between them."""
    return ", ".join(map(literal, words))
