"""Whatever is the house's own affair may change: clients' bytes stay as they are.

What is laid out as PDF is a function of the documents compared here (`tests/press/test_sheets.py` holds that), so that
a difference in a PDF would be one in its document.
"""

import shutil
import tempfile
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests.support.published import sound_book
from tests.support.sheets import CLIENTS, pages, written_for_paper

WORDS = st.from_regex(r"[A-Za-zé][a-zé ,.!?×½-]{0,40}[a-z]", fullmatch=True)
SUPPLIERS = st.from_regex(r"[A-Z][a-z]{2,10}( & [A-Z][a-z]{2,10})?", fullmatch=True)
PRICES = st.decimals("0.01", "9999", places=2).map(str)


@dataclass(frozen=True)
class Secrets:
    """What a house keeps to itself."""

    prices: tuple[str, ...] = ("21.50", "74.00", "28.00", "46.00")
    suppliers: tuple[str, str] = ("Millstone & Reed", "Lowfield Dairy")
    codes: str = "MR-1"
    step: str = "Whip and pipe onto the feet"
    minutes: int = 20
    why: str = "Frozen, it leaves the mould"
    note: str = "A note"
    fix: str = "Whip it again"
    private: str = "Ask the baker"
    introduction: str = "About it"
    line_note: str = "Cold from the shelf"
    stores_note: str = "By the door"
    tag: str = "stall"
    rate: str = "24"
    overhead: str = "12"
    target: str = "28"


SECRETS = st.builds(
    Secrets,
    prices=st.tuples(PRICES, PRICES, PRICES, PRICES),
    suppliers=st.tuples(SUPPLIERS, SUPPLIERS).filter(lambda names: names[0] != names[1]),
    codes=st.from_regex(r"[A-Z]{2,4}-[0-9]{1,4}", fullmatch=True),
    step=WORDS,
    minutes=st.integers(1, 400),
    why=WORDS,
    note=WORDS,
    fix=WORDS,
    private=WORDS,
    introduction=WORDS,
    line_note=st.from_regex(r"[A-Za-z][a-z ]{0,30}[a-z]", fullmatch=True),
    stores_note=st.from_regex(r"[A-Za-z][a-z ]{0,30}[a-z]", fullmatch=True),
    tag=st.from_regex(r"[a-z]{3,9}", fullmatch=True),
    rate=PRICES,
    overhead=st.integers(0, 99).map(str),
    target=st.integers(1, 99).map(str),
)


def written(secrets: Secrets, folder: Path) -> Path:
    """The clients' book with these secrets in it."""
    book = folder / "book"
    shutil.copytree(CLIENTS, book)

    def change(name: str, **texts: str) -> None:
        file = book / name
        text = file.read_text("utf-8")
        for old, new in texts.items():
            assert PLACES[old] in text, old
            text = text.replace(PLACES[old], new)
        file.write_text(text, "utf-8")

    change("house.yaml", rate=f"{secrets.rate} EUR/h", overhead=f"{secrets.overhead} %", target=f"{secrets.target} %")
    change("stores/pantry.yaml", flour=f"plain flour:\n  note: {secrets.stores_note}")
    change(
        "moulded/harbour-pebble.md",
        step=f'{secrets.introduction}.\n\n1. {secrets.step}. {{work="{secrets.minutes} min"}}',
        why=f"{secrets.why}.\n:::\n\n::: fix\n{secrets.fix}.\n:::\n\n::: note\n{secrets.note}.",
        private=secrets.private,
        line=f"    - {{line: 400 g whipping cream, note: {secrets.line_note}}}",
        tags=f"tags: [{secrets.tag}]\nyields: 20 pieces",
    )
    rows = ["plain flour", "unsalted butter", "caster sugar", "whipping cream"]
    packs = ["25 kg", "10 kg", "25 kg", "10 l"]
    lines = ["item,supplier,code,pack,price,currency,from"]
    for number, (item, pack, price) in enumerate(zip(rows, packs, secrets.prices, strict=True)):
        supplier = secrets.suppliers[number % 2]
        lines.append(f"{item},{supplier},{secrets.codes}{number},{pack},{price},EUR,2026-01-05")
    (book / "stores/prices.csv").write_text("\n".join(lines) + "\n", "utf-8")
    return book


PLACES = {
    "rate": "24 EUR/h",
    "overhead": "12 %",
    "target": "28 %",
    "flour": "plain flour:",
    "step": '1. Whip and pipe onto the feet. {work="20 min"}',
    "why": "Frozen, it leaves the mould.",
    "private": "Ask the baker.",
    "line": "    - 400 g whipping cream, cold",
    "tags": "yields: 20 pieces",
}
"""Where the secrets stand in the book as it is."""


def shown(secrets: Secrets) -> tuple[list[tuple[str, bytes]], list[str]]:
    """Every page, and everything that the PDFs are laid out from."""
    with tempfile.TemporaryDirectory() as folder:
        book = sound_book(written(secrets, Path(folder)))
        return list(pages(book)), list(written_for_paper(book))


@cache
def usual() -> tuple[list[tuple[str, bytes]], list[str]]:
    return shown(Secrets())


@settings(max_examples=25)
@given(SECRETS)
@example(Secrets(prices=("0.01", "0.01", "0.01", "0.01")))
@example(Secrets(private="*Ask* **her**", why="A [link](harbour-pebble.md)"))
def test_clients_bytes_are_the_same_whatever_the_house_keeps_to_itself(secrets: Secrets) -> None:
    assert shown(secrets) == usual()


def test_what_clients_are_told_does_change_them() -> None:
    """The comparison above sees a change where there is one."""
    with tempfile.TemporaryDirectory() as folder:
        book = written(Secrets(), Path(folder))
        recipe = book / "moulded/harbour-pebble.md"
        recipe.write_text(recipe.read_text("utf-8").replace("4.40 EUR", "4.50 EUR"), "utf-8")
        changed = sound_book(book)
        names = {name for name, content in pages(changed) if (name, content) not in usual()[0]}
        assert names == {"harbour-pebble.html"}
        assert list(written_for_paper(changed)) != usual()[1]
