"""`watch`: bursts of changes, the board that pages wait at, the server, and a real browser that follows."""

import http.client
import json
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from bookmaker.workshop.watching.folders import Changes, watched
from bookmaker.workshop.watching.loop import Outcome, follow
from bookmaker.workshop.watching.server import served
from bookmaker.workshop.watching.state import Board, Standing
from tests.support.chromium import Chromium

PAGE = """<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><title>{title}</title></head>
<body><h1>{title}</h1><p><label><input type="checkbox" id="done"> weighed</label></p>
<div style="height: 3000px"></div><p id="end">{words}</p></body></html>
"""


@pytest.fixture
def site(tmp_path: Path) -> Path:
    (tmp_path / "index.html").write_text(PAGE.format(title="Loaf", words="first"), "utf-8")
    return tmp_path


def test_a_board_shows_the_latest_notice_and_wakes_who_waits() -> None:
    board = Board()
    assert board.latest == (0, Standing(0))
    heard: list[tuple[int, Standing] | None] = []
    waiting = threading.Thread(target=lambda: heard.append(board.wait_after(0, 5)))
    waiting.start()
    board.published()
    waiting.join()
    assert heard == [(1, Standing(1))]
    board.refused("1 error")
    assert board.latest == (2, Standing(1, "1 error", whole=False))
    board.published()
    assert board.latest == (3, Standing(2))
    # some sheets were kept back: that is said over pages that are new all the same
    board.published("1 label")
    assert board.latest == (4, Standing(3, "1 label", whole=True))


def test_nobody_waits_at_a_closed_board() -> None:
    board = Board()
    board.close()
    assert board.wait_after(0, 60) is None


def test_a_burst_is_waited_out() -> None:
    changes = Changes()
    stop = time.monotonic() + 0.4

    def write() -> None:
        while time.monotonic() < stop:
            changes.note()
            time.sleep(0.03)

    writing = threading.Thread(target=write)
    writing.start()
    assert changes.wait()
    assert time.monotonic() >= stop
    writing.join()


def test_a_burst_that_does_not_end_is_looked_at_all_the_same() -> None:
    changes = Changes()
    enough = threading.Event()

    def write() -> None:
        while not enough.is_set():
            changes.note()
            time.sleep(0.02)

    writing = threading.Thread(target=write)
    writing.start()
    begun = time.monotonic()
    assert changes.wait()
    assert time.monotonic() - begun < 5
    enough.set()
    writing.join()


def test_a_change_during_a_build_leads_to_another() -> None:
    changes, board = Changes(), Board()
    built: list[int] = []

    def build() -> Outcome:
        built.append(len(built))
        if len(built) == 1:
            changes.note()
        else:
            changes.close()
        return Outcome(published=True, report="")

    follow(build, changes, board, lambda _: None)
    assert built == [0, 1]


@pytest.mark.parametrize("act", ["write", "rename", "delete"])
def test_what_moves_in_a_folder_is_noticed(tmp_path: Path, act: str) -> None:
    (tmp_path / "loaf.md").write_text("first")
    changes = Changes()
    with watched([tmp_path], [], changes):
        match act:
            case "write":
                (tmp_path / "loaf.md").write_text("second")
            case "rename":
                (tmp_path / "loaf.md").rename(tmp_path / "bun.md")
            case _:
                (tmp_path / "loaf.md").unlink()
        assert changes.wait()


def test_what_moves_in_the_output_is_not(tmp_path: Path) -> None:
    (tmp_path / "build").mkdir()
    changes = Changes()
    with watched([tmp_path], [tmp_path / "build"], changes):
        (tmp_path / "build/page.html").write_text("page")
        time.sleep(0.4)
        threading.Timer(0.3, changes.close).start()
        assert not changes.wait()


@pytest.fixture
def board() -> Board:
    return Board()


@pytest.fixture
def address(site: Path, board: Board) -> Iterator[str]:
    with served(site, board, 0) as found:
        yield found


def ask(address: str, path: str, host: str = "") -> tuple[int, bytes]:
    name = address.removeprefix("http://").rstrip("/")
    line = http.client.HTTPConnection(name, timeout=10)
    line.request("GET", path, headers={"Host": host or name})
    answer = line.getresponse()
    content = answer.read()
    line.close()
    return answer.status, content


def test_pages_are_sent_with_the_script_and_kept_without_it(site: Path, address: str) -> None:
    status, content = ask(address, "/")
    assert status == 200
    assert b"/.watch/follow.js" in content
    assert b".watch" not in (site / "index.html").read_bytes()


def test_what_is_not_there_is_not_found(address: str) -> None:
    assert ask(address, "/elsewhere.html")[0] == 404
    assert ask(address, "/../../etc/passwd")[0] == 404


def test_a_page_of_another_site_is_not_answered(address: str) -> None:
    assert ask(address, "/", host="kitchen.example:80")[0] == 403


def test_a_page_hears_of_the_next_build(address: str, board: Board) -> None:
    assert json.loads(ask(address, "/.watch/next")[1])["number"] == 0
    threading.Timer(0.1, board.published).start()
    told = json.loads(ask(address, "/.watch/next?after=0")[1])
    assert told == {"number": 1, "build": 1, "problems": "", "whole": True}


@pytest.mark.browser
def test_an_open_page_follows_and_keeps_its_place_and_its_ticks(
    site: Path, address: str, board: Board, chromium: Chromium
) -> None:
    context = chromium.browser.new_context()
    page = context.new_page()
    loads: list[str] = []
    page.on("load", lambda _: loads.append("load"))
    page.goto(address)
    page.check("#done")
    page.evaluate("window.scrollTo(0, 900)")
    (site / "index.html").write_text(PAGE.format(title="Loaf, revised", words="second"), "utf-8")
    board.published()
    page.wait_for_function("document.getElementById('end').textContent === 'second'")
    assert page.title() == "Loaf, revised"
    assert page.is_checked("#done")
    assert page.evaluate("window.scrollY") == 900
    assert loads == ["load"]  # it was never loaded anew, so nothing flashed
    context.close()


@pytest.mark.browser
def test_problems_stand_over_the_last_good_page_until_they_are_mended(
    address: str, board: Board, chromium: Chromium
) -> None:
    context = chromium.browser.new_context()
    page = context.new_page()
    page.goto(address)
    board.refused("breads/loaf.md:5:3: error: no <flour>")
    page.wait_for_selector("#watch-problems")
    assert "breads/loaf.md:5:3: error: no <flour>" in page.inner_text("#watch-problems")
    assert page.inner_text("h1") == "Loaf"
    board.published()
    page.wait_for_selector("#watch-problems", state="detached")
    context.close()
