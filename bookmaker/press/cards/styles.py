"""The style sheet of cards, and the sizes that stand on each of them."""

from collections.abc import Sequence
from pathlib import Path

from bookmaker.press.cards.papers import PAPERS, CardPaper, Type
from bookmaker.press.laid_over import themed


def card_styles(themes: Sequence[Path], paper: str) -> str:
    """The theme's style sheet for cards, on this paper."""
    sheet = themed(themes, "cards/cards.css")
    size = PAPERS[paper]
    return f"{sheet.read_text('utf-8')}\n@page {{ size: {size.width}mm {size.height}mm }}\n"


def variables(paper: CardPaper, type_: Type) -> str:
    """Sizes as the style sheet calls them."""
    sizes = {
        "tested": type_.tested,
        "others": type_.others,
        "names": type_.names,
        "steps": type_.steps,
        "small": type_.small,
        "key": type_.key,
        "title": type_.title,
        "edge-type": round(paper.strip * 1.6, 1),
    }
    lengths = {"box-width": paper.box_width, "box-height": paper.box_height}
    return "; ".join(
        [*(f"--{name}: {size}pt" for name, size in sizes.items()), *(f"--{n}: {mm}mm" for n, mm in lengths.items())]
    )


def record_styles(themes: Sequence[Path], paper: str) -> str:
    """The theme's style sheet for batch records, on the house's paper (`A4`, `Letter`), upright."""
    sheet = themed(themes, "cards/record.css")
    return f"{sheet.read_text('utf-8')}\n@page {{ size: {paper} }}\n"
