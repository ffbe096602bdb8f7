"""Where words stand on the pages of a PDF, asked of Poppler: an outside reader of what we wrote."""

import html
import re
import subprocess
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Word:
    """A word and its box, in points from the page's upper left corner."""

    text: str
    left: float
    top: float
    right: float
    bottom: float


_WORD = re.compile(r'<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*?)</word>')


def words_of(pdf: bytes, folder: Path) -> list[list[Word]]:
    """The words of each page, in reading order."""
    file = folder / "asked.pdf"
    file.write_bytes(pdf)
    asked = subprocess.run(["pdftotext", "-bbox", str(file), "-"], check=True, capture_output=True, text=True)
    return [
        [Word(html.unescape(word), *map(float, box)) for *box, word in _WORD.findall(page)]
        for page in asked.stdout.split("<page ")[1:]
    ]
