"""The law of the cache for the printed book: after any change, `book.pdf` of a warm build is that of a cold one, byte
for byte, and the same is said of it.
"""

import contextlib
import io
import os
import random
import shutil
from collections.abc import Callable
from pathlib import Path
from unittest.mock import patch

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from bookmaker.cli import STOPPED, main
from bookmaker.workshop import pool
from bookmaker.workshop.making import book as making
from bookmaker.workshop.publishing.staging import Staging
from tests.workshop import test_incremental as changing
from tests.workshop.test_incremental import BOOK, DAYS, Kitchen, published

pytestmark = pytest.mark.pdf

EXAMPLES = int(os.environ.get("BOOKMAKER_HISTORIES", "2"))


def the_print_theme(kitchen: Kitchen) -> None:
    """The book's own print style; one of them can only be laid out in one go."""
    folder = kitchen.book / "theme/print"
    folder.mkdir(parents=True, exist_ok=True)
    came = changing.BOOK.parents[2] / "themes/ledger/print/book.css"
    more = kitchen.chance.choice(["p { margin-bottom: 1pt }", "", "@page { @top-left { content: counter(pages) } }"])
    (folder / "book.css").write_text(f"{came.read_text('utf-8')}\n{more}\n", "utf-8")


def a_long_text(kitchen: Kitchen) -> None:
    """A recipe goes on for another page, so that all after it moves."""
    path = kitchen.recipe()
    words = "\n".join(f"Paragraph {number} of a long introduction to all that follows.\n" for number in range(60))
    changing.swap(path, "\n1. ", f"\n{words}\n1. ")


def interrupted(kitchen: Kitchen) -> None:
    """Somebody changes a word, builds, and stops the build when it is about to publish."""
    changing.a_word(kitchen)
    with patch.object(Staging, "add", side_effect=KeyboardInterrupt):
        assert build(kitchen, kitchen.out)[0] in (STOPPED, 0, 1)


CHANGES: tuple[Callable[[Kitchen], None], ...] = (
    changing.a_word, changing.a_weight, changing.a_title, changing.a_name, changing.another_section,
    changing.a_new_recipe, changing.one_less, changing.a_status, changing.a_price, changing.a_price_line,
    changing.an_item, changing.the_house, changing.a_hazard, changing.a_term, the_print_theme, a_long_text,
    changing.the_photo, changing.the_day, changing.back, changing.back, changing.nothing, changing.the_cache_goes,
    changing.the_cache_is_damaged, interrupted,
)  # fmt: skip


def build(kitchen: Kitchen, out: Path) -> tuple[int, str]:
    """Exit code, and what is said."""
    said, answered = io.StringIO(), io.StringIO()
    with contextlib.redirect_stderr(said), contextlib.redirect_stdout(answered):
        code = main(["build", str(kitchen.book), "--out", str(out), "--on", kitchen.day, "--only", "book"])
    return code, said.getvalue()


@settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.lists(st.sampled_from(CHANGES), min_size=1, max_size=4), st.integers(0, 2**32))
def test_a_warm_book_is_a_cold_one(
    tmp_path_factory: pytest.TempPathFactory, changes: list[Callable[[Kitchen], None]], seed: int
) -> None:
    folder = tmp_path_factory.mktemp("printed")
    shutil.copytree(BOOK, folder / "book")
    kitchen = Kitchen(folder / "book", folder / "warm", chance=random.Random(seed))
    assert build(kitchen, kitchen.out)[0] == 0
    for number, change in enumerate(changes):
        kitchen.past.append(kitchen.held())
        last = published(kitchen.out)
        change(kitchen)
        warm = build(kitchen, kitchen.out)
        cold = build(kitchen, folder / f"cold-{number}")
        assert warm == cold, change.__name__
        assert published(kitchen.out) == (published(folder / f"cold-{number}") if cold[0] == 0 else last)
    shutil.rmtree(folder)


def test_recipes_that_are_set_elsewhere_come_out_the_same(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    kitchens = [Kitchen(tmp_path / "book", tmp_path / name, DAYS[0]) for name in ("alone", "spread")]
    shutil.copytree(BOOK, tmp_path / "book")
    for kitchen, worth in zip(kitchens, (1000, 1), strict=True):
        monkeypatch.setattr(making, "WORTH_A_POOL", worth)
        monkeypatch.setattr(pool, "processes", lambda: 2)
        assert build(kitchen, kitchen.out)[0] == 0
    assert published(kitchens[0].out) == published(kitchens[1].out)
