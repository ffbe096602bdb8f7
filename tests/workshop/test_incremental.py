"""The law of the cache: after any change, a build into a warm folder publishes what one into an empty folder does.

Byte for byte, with the same problems said. A small book that has a little of everything is changed at random, one
change after the other, and built after each.
"""

import contextlib
import io
import os
import random
import shutil
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bookmaker.cli import main
from bookmaker.workshop import pool
from bookmaker.workshop.cache import leaf, projecting
from bookmaker.workshop.cache.ledger import LEDGER, Ledger, read_ledger
from bookmaker.workshop.cache.stamp import tool
from bookmaker.workshop.cache.store import Store
from bookmaker.workshop.making import record

BOOK = Path(__file__).parent / "changing"
DAYS = ("2026-11-25", "2026-11-26", "2026-12-03", "2027-06-01")
EXAMPLES = int(os.environ.get("BOOKMAKER_HISTORIES", "8"))


@dataclass
class Kitchen:
    """A book that changes, and the folder that it is built into again and again."""

    book: Path
    out: Path
    day: str = DAYS[0]
    past: list[dict[str, bytes]] = field(default_factory=list)
    chance: random.Random = field(default_factory=random.Random)

    def texts(self, ending: str = ".md") -> list[Path]:
        """The book's files of a kind."""
        return sorted(path for path in self.book.rglob(f"*{ending}") if path.is_file())

    def recipe(self) -> Path:
        """Some recipe's file."""
        return self.chance.choice([path for path in self.texts() if path.parent != self.book])

    def held(self) -> dict[str, bytes]:
        """Every file of the book."""
        return {
            path.relative_to(self.book).as_posix(): path.read_bytes() for path in self.book.rglob("*") if path.is_file()
        }


def swap(path: Path, old: str, new: str) -> None:
    """Change a text in a file, if both are there."""
    if path.is_file():
        path.write_text(path.read_text("utf-8").replace(old, new), "utf-8")


# --- changes ----------------------------------------------------------------------------------------------------------


def a_word(kitchen: Kitchen) -> None:
    path = kitchen.recipe()
    path.write_text(path.read_text("utf-8") + f"\nAnd so it was {kitchen.chance.randint(1, 5)} times.\n", "utf-8")


def a_weight(kitchen: Kitchen) -> None:
    swap(kitchen.recipe(), "00 g ", f"{kitchen.chance.randint(1, 9)}0 g ")


def a_title(kitchen: Kitchen) -> None:
    """A title changes; those who use the recipe are mended, or left to be reported."""
    path = kitchen.recipe()
    title = path.read_text("utf-8").split("title: ", 1)[1].split("\n", 1)[0]
    new = f"{title.split(' no ', maxsplit=1)[0]} no {kitchen.chance.choice('abc')}"
    swap(path, f"title: {title}", f"title: {new}")
    if kitchen.chance.random() < 0.7:
        for each in kitchen.texts():
            swap(each, f" {title.lower()}", f" {new.lower()}")


def a_name(kitchen: Kitchen) -> None:
    """A file gets another name; links to it break."""
    path = kitchen.recipe()
    path.rename(path.with_stem(path.stem + kitchen.chance.choice("xyz")))


def another_section(kitchen: Kitchen) -> None:
    path = kitchen.recipe()
    folder = kitchen.book / kitchen.chance.choice(["biscuits", "breads", "tarts"])
    folder.mkdir(exist_ok=True)
    path.rename(folder / path.name)


def a_new_recipe(kitchen: Kitchen) -> None:
    number = kitchen.chance.randint(1, 4)
    (kitchen.book / "tarts").mkdir(exist_ok=True)
    uses = kitchen.chance.choice(["200 g whipping cream", "100 g butter biscuit", "1 batch pebble", "10 g nothing"])
    (kitchen.book / f"tarts/tart-{number}.md").write_text(
        f"---\ntitle: Tart {number}\nkind: {kitchen.chance.choice(['product', 'component'])}\nyields: 4 tarts\n"
        f'formula:\n  - {uses}\n  - 10 g caster sugar\n---\n1. Fill. {{work="5 min"}}\n',
        "utf-8",
    )


def one_less(kitchen: Kitchen) -> None:
    if len(kitchen.texts()) > 3:
        kitchen.recipe().unlink()


def a_status(kitchen: Kitchen) -> None:
    swap(kitchen.recipe(), "status: approved", f"status: {kitchen.chance.choice(['retired', 'draft', 'trial'])}")


def another_name(kitchen: Kitchen) -> None:
    swap(
        kitchen.recipe(), "---\ntitle", f"---\naka: [{kitchen.chance.choice(['butter', 'quay', 'loaf'])} thing]\ntitle"
    )


def a_mistake(kitchen: Kitchen) -> None:
    path = kitchen.recipe()
    faults = ["formula:\n  - 1,5 kg water", "yields: many", "status: done", "formula: ["]
    swap(path, kitchen.chance.choice(["formula:", "yields:", "status:"]), kitchen.chance.choice(faults) + "\nx:")


def a_cycle(kitchen: Kitchen) -> None:
    swap(kitchen.book / "biscuits/butter-biscuit.md", "formula:", "formula:\n  - 10 g crumb slice")


def a_price(kitchen: Kitchen) -> None:
    swap(kitchen.book / "stores/prices.csv", kitchen.chance.choice(["70.00", "22.50", "38.00"]), "41.00")


def a_price_line(kitchen: Kitchen) -> None:
    item, day = kitchen.chance.choice(["water", "long pepper", "fine salt"]), kitchen.chance.choice(DAYS)
    path = kitchen.book / "stores/prices.csv"
    held = path.read_text("utf-8") if path.is_file() else "item,supplier,code,pack,price,currency,from\n"
    path.write_text(held + f"{item},Tin & Twine,X-{item[0]},1 kg,2.{len(item)},EUR,{day}\n", "utf-8")


def no_price_list(kitchen: Kitchen) -> None:
    (kitchen.book / "stores/prices.csv").unlink(missing_ok=True)


def an_item(kitchen: Kitchen) -> None:
    old, new = kitchen.chance.choice(
        [("usable: 95 %", "usable: 90 %"), ("[milk]", "[milk, eggs]"), ("aka: [butter]", "aka: [butter, fat]"),
         ("weigh: careful", "note: fine"), ("flour: yes", "flour: no"), ("long pepper:", "pepper, long:")]
    )  # fmt: skip
    swap(kitchen.book / "stores/pantry.yaml", old, new)


def the_house(kitchen: Kitchen) -> None:
    old, new = kitchen.chance.choice(
        [("24 EUR/h", "26 EUR/h"), ("[1/2, 1, 2]", "[1, 3]"), ("region: EU", "region: UK"), ("in 0.1 g", "in 1 g"),
         ("Quillhaven Kitchen", "Quay Kitchen"), ("Moulded & glazed", "Moulds"), ("language: en", "language: de"),
         ("tax: 10 %", "tax: 7 %"), ("oven: {kind: oven, holds: 4 trays}", "oven: {kind: oven, holds: 2 trays}")]
    )  # fmt: skip
    swap(kitchen.book / "house.yaml", old, new)


def no_house(kitchen: Kitchen) -> None:
    (kitchen.book / "house.yaml").unlink(missing_ok=True)


def a_hazard(kitchen: Kitchen) -> None:
    (kitchen.book / "cautions.yaml").write_text(
        f'hot trays: {{hazard: "Hot {kitchen.chance.randint(1, 3)}.", do: "Wait."}}\n', "utf-8"
    )


def a_term(kitchen: Kitchen) -> None:
    path = kitchen.book / "glossary.md"
    if kitchen.chance.random() < 0.3:
        path.unlink(missing_ok=True)
    else:
        path.write_text(f"## Panade\nPaste {kitchen.chance.randint(1, 3)}; [loaf](breads/harbour-loaf.md).\n", "utf-8")


def the_theme(kitchen: Kitchen) -> None:
    folder = kitchen.book / "theme/site"
    (folder / "assets").mkdir(parents=True, exist_ok=True)
    (folder / "assets/more.css").write_text(f"p {{ margin: {kitchen.chance.randint(0, 2)}px }}\n", "utf-8")
    foot = f"<footer>{kitchen.chance.randint(0, 2)} {{{{ frame.house }}}}</footer></body></html>"
    (folder / "foot.html").write_text(foot, "utf-8")


def the_photo(kitchen: Kitchen) -> None:
    from PIL import Image

    path = kitchen.book / "images/slice.png"
    if kitchen.chance.random() < 0.3:
        path.unlink(missing_ok=True)
    elif kitchen.chance.random() < 0.3:
        path.write_bytes(b"no picture")
    else:
        path.parent.mkdir(exist_ok=True)
        Image.new("RGB", (kitchen.chance.randint(8, 30), 16), (9, 90, 9)).save(path)


def an_issue(kitchen: Kitchen) -> None:
    """Cards or labels are handed out, as far as the book lets it."""
    what = kitchen.chance.choice(["cards", "labels"])
    named = kitchen.chance.choice([[], ["pebble"], ["harbour loaf"]])
    with contextlib.redirect_stderr(io.StringIO()), contextlib.redirect_stdout(io.StringIO()):
        main(["issue", what, *named, "--by", "Ada", "--book", str(kitchen.book), "--on", kitchen.day])


def a_record_goes(kitchen: Kitchen) -> None:
    path = kitchen.book / "issued.csv"
    if path.is_file():
        head, *records = path.read_text("utf-8").splitlines(keepends=True)
        kitchen.chance.shuffle(records)
        path.write_text("".join([head, *records[1:]]), "utf-8")


def the_day(kitchen: Kitchen) -> None:
    kitchen.day = kitchen.chance.choice(DAYS)


def back(kitchen: Kitchen) -> None:
    """The book is as it was some time ago."""
    if kitchen.past:
        held = kitchen.chance.choice(kitchen.past)
        for path in kitchen.held():
            if path not in held:
                (kitchen.book / path).unlink()
        for path, content in held.items():
            target = kitchen.book / path
            if not target.is_file() or target.read_bytes() != content:
                target.parent.mkdir(parents=True, exist_ok=True)
                target.write_bytes(content)


def nothing(_: Kitchen) -> None:
    """The same book again."""


def the_cache_goes(kitchen: Kitchen) -> None:
    shutil.rmtree(kitchen.out / ".cache", ignore_errors=True)


def the_cache_is_damaged(kitchen: Kitchen) -> None:
    for path in (kitchen.out / ".cache").glob("*"):
        content = bytearray(path.read_bytes())
        for _ in range(kitchen.chance.choice([1, 50, 2000])):
            content[kitchen.chance.randrange(len(content))] = kitchen.chance.randrange(256)
        path.write_bytes(content[: kitchen.chance.choice([len(content), len(content) // 2])])


def a_page_goes(kitchen: Kitchen) -> None:
    pages = sorted((kitchen.out / "team").rglob("*.*"))
    if pages:
        kitchen.chance.choice(pages).unlink()


CHANGES: tuple[Callable[[Kitchen], None], ...] = (
    a_word, a_weight, a_title, a_name, another_section, a_new_recipe, one_less, a_status, another_name, a_mistake,
    a_cycle, a_price, a_price_line, no_price_list, an_item, the_house, no_house, a_hazard, a_term, the_theme,
    the_photo, an_issue, an_issue, a_record_goes, the_day, back, back, back, nothing, the_cache_goes,
    the_cache_is_damaged, a_page_goes,
)  # fmt: skip
"""Every way in which a book, or what is kept of it, changes. Most mistakes are mended by going back."""


# --- building ---------------------------------------------------------------------------------------------------------


def build(kitchen: Kitchen, out: Path, *more: str) -> tuple[int, str]:
    """Exit code, and what is said of the book."""
    said, answered = io.StringIO(), io.StringIO()
    with contextlib.redirect_stderr(said), contextlib.redirect_stdout(answered):
        code = main(
            ["build", str(kitchen.book), "--out", str(out), "--on", kitchen.day, "--only", "team", "record", *more]
        )
    return code, said.getvalue()


def published(out: Path) -> dict[str, bytes]:
    """Everything that is there for others."""
    return {
        path.relative_to(out).as_posix(): path.read_bytes()
        for path in sorted(out.rglob("*"))
        if path.is_file() and path.relative_to(out).parts[0] not in {".cache", ".publish"}
    }


def differences(one: dict[str, bytes], other: dict[str, bytes]) -> list[str]:
    """The files in which two publications differ."""
    return sorted(path for path in one.keys() | other.keys() if one.get(path) != other.get(path))


@settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.lists(st.sampled_from(CHANGES), min_size=1, max_size=9), st.integers(0, 2**32))
def test_warm_is_cold(
    tmp_path_factory: pytest.TempPathFactory, changes: list[Callable[[Kitchen], None]], seed: int
) -> None:
    folder = tmp_path_factory.mktemp("history")
    shutil.copytree(BOOK, folder / "book")
    kitchen = Kitchen(folder / "book", folder / "warm", chance=random.Random(seed))
    for _ in range(seed % 4):
        an_issue(kitchen)
    assert build(kitchen, kitchen.out)[0] == 0
    for number, change in enumerate(changes):
        kitchen.past.append(kitchen.held())
        last = published(kitchen.out)
        change(kitchen)
        gone = last.keys() - published(kitchen.out).keys()
        warm = build(kitchen, kitchen.out)
        cold = build(kitchen, folder / f"cold-{number}")
        assert warm == cold
        made = published(kitchen.out)
        # where nothing is published, what was there stays; the exit code alone does not tell
        wanted = published(folder / f"cold-{number}") or {k: v for k, v in last.items() if k not in gone}
        assert not differences(made, wanted)
    shutil.rmtree(folder)


def test_on_several_processes_all_comes_out_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Recipes are projected and set elsewhere where there are many; then some of them are changed."""
    kitchens = [Kitchen(tmp_path / "book", tmp_path / name) for name in ("alone", "spread")]
    shutil.copytree(BOOK, tmp_path / "book")
    for change in (nothing, a_price, the_house, a_weight, the_theme):
        change(kitchens[0])
        for kitchen, worth in zip(kitchens, (1000, 1), strict=True):
            with monkeypatch.context() as patch:
                patch.setattr(projecting, "WORTH_A_POOL", worth)
                patch.setattr(leaf, "WORTH_A_POOL", worth)
                patch.setattr(record, "WORTH_A_POOL", worth)
                patch.setattr(pool, "processes", lambda: 2)
                assert build(kitchen, kitchen.out)[0] == 0
        assert published(kitchens[0].out) == published(kitchens[1].out), change.__name__
        one, other = map(ledger_in, kitchens)
        assert one.pages
        assert one == other, change.__name__


def ledger_in(kitchen: Kitchen) -> Ledger:
    store = Store(kitchen.out, tool())
    try:
        return read_ledger(store.get(LEDGER))
    finally:
        store.close()
