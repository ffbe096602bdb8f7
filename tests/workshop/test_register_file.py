"""The register's file: what is added is read back equal, what was there stays, and nobody sees half of it."""

import subprocess
import sys
from dataclasses import replace
from datetime import date
from hashlib import sha256
from itertools import count
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bookmaker.model.refs import RecipeRef
from bookmaker.model.register import IssuedCard, IssuedLabel, label_code, one_line
from bookmaker.reading.files import Document
from bookmaker.reading.register import COLUMNS, Issued, read_register
from bookmaker.workshop.register_file import Busy, RegisterFile, added
from tests.support.disks import Died, Full, Mortal, files_in

DAY = date(2026, 10, 2)
CARD = IssuedCard(
    "7K2M90XA", RecipeRef("creams/custard"), "Custard", 1, DAY, "Ada", (("weights", "3F0A"), ("the rest", "9A"))
)
_SAYS = (
    ("wheat", "milk"), (), "Tart",
    "WHEAT flour 40 %, sugar (cane), MILK", "energy 10 kJ / 2 kcal | fat 0 g", "Defrosted.",
)  # fmt: skip
LABEL = IssuedLabel(label_code(*_SAYS), RecipeRef("tarts/tart", "8 cm"), 'A "tart", small', 3, DAY, "Ada", *_SAYS)
HEAD = ",".join(COLUMNS)


def read(content: bytes) -> tuple[Issued, ...]:
    """The records in bytes as a book's reader has them; there must be nothing wrong with them."""
    text = content.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
    found, problems = read_register(Document("issued.csv", text, sha256(content).hexdigest()))
    assert problems == []
    return found.records


def never() -> None:
    raise AssertionError("nobody else is issuing")


def names_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def issue(folder: Path, *records: Issued) -> None:
    with RegisterFile(folder, on_wait=never) as register:
        register.add(records)


# Whatever a YAML text or a title can hold; a lone half of a surrogate pair is no text
_words = st.text(st.characters(exclude_categories=["Cs"]), min_size=1).filter(lambda text: bool(one_line(text)))
_refs = st.builds(RecipeRef, _words.map(one_line), st.one_of(st.just(""), _words.map(one_line)))
_days = st.dates(date(1000, 1, 1), date(9999, 12, 31))
_cards = st.builds(
    IssuedCard, st.just("7K2M90XA"), _refs, _words, st.integers(1, 999), _days, _words, st.just(CARD.parts)
)
_names = st.lists(st.sampled_from(["wheat", "milk", "brazil nuts"]), unique=True).map(tuple)


@st.composite
def _labels(draw: st.DrawFn) -> IssuedLabel:
    may_be_empty = st.one_of(st.just(""), _words)
    texts = (draw(_words), draw(_words), draw(may_be_empty), draw(may_be_empty))
    name, declaration, nutrition, notes = map(one_line, texts)
    says = (draw(_names), draw(_names), name, declaration, nutrition, notes)
    return IssuedLabel(label_code(*says), draw(_refs), draw(_words), 1, draw(_days), draw(_words), *says)


def held(record: Issued) -> Issued:
    """A record as the register holds it: each text on one line."""
    return replace(record, title=one_line(record.title), by=one_line(record.by))


@given(st.lists(st.one_of(_cards, _labels())))
def test_what_is_added_is_read_back(records: list[Issued]) -> None:
    content = added(b"", records)
    assert read(content) == tuple(map(held, records))
    # a record is a line, so that a comparison of two versions shows each by itself
    assert content.count(b"\n") == 1 + len(records)


@given(st.lists(st.one_of(_cards, _labels()), max_size=4), st.integers(0, 4))
def test_adding_in_two_goes_is_adding_in_one(records: list[Issued], cut: int) -> None:
    first = added(b"", records[:cut])
    assert first + added(first, records[cut:]) == added(b"", records)


@pytest.mark.parametrize(
    ("there", "end"),
    [
        (b"\xef\xbb\xbf" + HEAD.encode() + b"\r\n", b"\r\n"),
        (HEAD.encode(), b"\n"),
        (",".join(reversed(COLUMNS)).encode() + b"\n\n", b"\n"),
        (HEAD.upper().encode() + b"\n", b"\n"),
        (b" \n", b"\n"),
    ],
    ids=["of another editor", "without a last line end", "other order", "capitals", "blank"],
)
def test_what_is_there_stays_as_it_is(there: bytes, end: bytes, tmp_path: Path) -> None:
    path = tmp_path / "issued.csv"
    path.write_bytes(there)
    path.chmod(0o640)
    issue(tmp_path, CARD, LABEL)
    content = path.read_bytes()
    assert content.startswith(there)
    assert content.endswith(end)
    assert b"\r\n" not in content or content.count(b"\n") == content.count(b"\r\n")
    assert read(content) == (CARD, LABEL)
    assert path.stat().st_mode & 0o777 == 0o640


def test_nothing_else_is_left_in_the_book(tmp_path: Path) -> None:
    (tmp_path / "house.yaml").write_text("format: 1\n", encoding="utf-8")
    issue(tmp_path, CARD)
    assert names_in(tmp_path) == ["house.yaml", "issued.csv"]


def test_a_register_that_lies_elsewhere_is_written_there(tmp_path: Path) -> None:
    (tmp_path / "book").mkdir()
    (tmp_path / "shared").mkdir()
    (tmp_path / "book" / "issued.csv").symlink_to(tmp_path / "shared" / "register.csv")
    issue(tmp_path / "book", CARD)
    assert (tmp_path / "book" / "issued.csv").is_symlink()
    assert read((tmp_path / "shared" / "register.csv").read_bytes()) == (CARD,)


def test_whoever_is_stopped_leaves_the_old_register_or_the_new_one(tmp_path: Path) -> None:
    stopped = set()
    for at in count():
        book = tmp_path / str(at)
        book.mkdir()
        issue(book, CARD)
        before = (book / "issued.csv").read_bytes()
        disk = Mortal(at)
        try:
            with RegisterFile(book, disk=disk, on_wait=never) as register:
                register.add([LABEL])
        except Died:
            disk.cut_power(book)
            now = read(files_in(book)["issued.csv"])
            assert now in {(CARD,), (CARD, LABEL)}
            stopped.add(now)
            # and whoever comes next goes on from there
            issue(book, LABEL)
            assert read((book / "issued.csv").read_bytes()) == (*now, LABEL)
            assert names_in(book) == ["issued.csv"]
        else:
            assert (book / "issued.csv").read_bytes() == before + added(before, [LABEL])
            break
    assert stopped == {(CARD,), (CARD, LABEL)}


def test_a_full_disk_leaves_the_register_as_it_was(tmp_path: Path) -> None:
    issue(tmp_path, CARD)
    with RegisterFile(tmp_path, disk=Full(0), on_wait=never) as register, pytest.raises(OSError, match="space"):
        register.add([LABEL])
    assert read((tmp_path / "issued.csv").read_bytes()) == (CARD,)


def test_one_waits_for_the_other_and_gives_up_at_last(tmp_path: Path) -> None:
    said: list[str] = []
    with RegisterFile(tmp_path, on_wait=never):
        other = RegisterFile(tmp_path, on_wait=lambda: said.append("waiting"), patience=0.2)
        with pytest.raises(Busy), other:
            raise AssertionError("two at once")
    assert said == ["waiting"]
    issue(tmp_path, CARD)


_ISSUER = """
import sys
from pathlib import Path
from tests.workshop.test_register_file import CARD, DAY
from dataclasses import replace
from bookmaker.workshop.register_file import RegisterFile

for number in range(int(sys.argv[3])):
    with RegisterFile(Path(sys.argv[1]), on_wait=lambda: None) as register:
        register.add([replace(CARD, by=f"{sys.argv[2]} {number}")])
"""


def test_two_at_once_lose_nothing(tmp_path: Path) -> None:
    def started(name: str) -> "subprocess.Popen[bytes]":
        return subprocess.Popen(
            [sys.executable, "-c", _ISSUER, str(tmp_path), name, "12"], cwd=Path(__file__).parents[2]
        )

    running = [started(name) for name in ("Ada", "Ben", "Cleo")]
    assert [each.wait(60) for each in running] == [0, 0, 0]
    by = [each.by for each in read((tmp_path / "issued.csv").read_bytes())]
    assert sorted(by) == sorted(f"{name} {number}" for name in ("Ada", "Ben", "Cleo") for number in range(12))
    # each in the order of its own issues
    for name in ("Ada", "Ben", "Cleo"):
        assert [each for each in by if each.startswith(name)] == [f"{name} {number}" for number in range(12)]
    assert names_in(tmp_path) == ["issued.csv"]


def test_the_new_file_is_flushed_before_it_takes_its_place(tmp_path: Path) -> None:
    disk = Mortal(99)
    with RegisterFile(tmp_path, disk=disk, on_wait=never) as register:
        register.add([CARD])
    assert disk.done == ["write", "flush", "replace", "flush_folder"]
