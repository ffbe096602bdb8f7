"""Publishing: only what changed is written, what is stale goes, and nobody else's file is ever touched."""

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from bookmaker.workshop.publishing.disk import Disk
from bookmaker.workshop.publishing.manifest import intact
from bookmaker.workshop.publishing.publisher import Published, Publisher
from bookmaker.workshop.publishing.refusals import CannotWrite, Halfway, HeldOpen, InTheWay
from tests.support.disks import Change, Died, NoCapitals, NoLinks, QuickDisk, Viewer, files_in, publish, put, recover

FIRST = {"team/index.html": b"front", "team/breads/loaf.html": b"loaf"}
FRONT = {"team/index.html": b"front"}


def test_first_publication_writes_every_file(tmp_path: Path) -> None:
    assert publish(tmp_path, "team", FIRST) == Published(written=2, unchanged=0, dropped=0)
    assert files_in(tmp_path) == FIRST


def test_a_folder_is_made_when_there_is_something_to_put_into_it(tmp_path: Path) -> None:
    with Publisher(tmp_path / "build") as publisher:
        assert not (tmp_path / "build").exists()
        publisher.publish("team", FIRST.items())
    assert files_in(tmp_path / "build") == FIRST


def test_what_has_not_changed_is_not_written_again(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST)
    untouched = (tmp_path / "team/breads/loaf.html").stat()
    assert publish(tmp_path, "team", FIRST | {"team/index.html": b"new"}) == Published(1, 1, 0)
    assert (tmp_path / "team/breads/loaf.html").stat() == untouched


def test_nothing_is_written_where_nothing_changed(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST, stamp={"on": "2026-11-25"})
    disk = QuickDisk()
    assert publish(tmp_path, "team", FIRST, stamp={"on": "2026-11-25"}, disk=disk) == Published(0, 2, 0)
    assert not {"write", "flush", "replace", "keep"} & set(disk.done)


def test_an_unchanged_file_is_not_even_read(tmp_path: Path) -> None:
    class Unread(QuickDisk):
        def read(self, path: Path) -> bytes:
            raise AssertionError(path)

    publish(tmp_path, "team", FIRST)
    assert publish(tmp_path, "team", FIRST, disk=Unread()) == Published(0, 2, 0)


def test_what_is_kept_needs_no_content(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST | {"team/gone.html": b"gone"})
    with Publisher(tmp_path) as publisher:
        done = publisher.publish("team", [("team/index.html", b"new")], keep=["team/breads/loaf.html"])
    assert done == Published(1, 1, 1)
    assert files_in(tmp_path) == FIRST | {"team/index.html": b"new"}
    assert intact(tmp_path, "team")


def test_what_is_kept_is_not_published_as_well(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST)
    with Publisher(tmp_path) as publisher, pytest.raises(ValueError, match="published twice"):
        publisher.publish("team", FIRST.items(), keep=["team/index.html"])


def test_rewrite_writes_all(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST)
    assert publish(tmp_path, "team", FIRST, rewrite=True) == Published(2, 0, 0)


def test_content_is_taken_as_it_comes(tmp_path: Path) -> None:
    """One file at a time, each on the disk before the next is asked for, and none of them published before the last."""

    def pages() -> Iterator[tuple[str, bytes]]:
        for number in range(5):
            waiting = list(tmp_path.glob(".publish/work-*/new/*"))
            assert len(waiting) == number
            assert not files_in(tmp_path)
            yield f"team/{number}.html", b"page %d" % number

    with Publisher(tmp_path) as publisher:
        assert publisher.publish("team", pages()).written == 5


def test_content_that_cannot_be_made_changes_nothing(tmp_path: Path) -> None:
    def pages() -> Iterator[tuple[str, bytes]]:
        yield "team/index.html", b"new"
        raise OSError("a photo is gone")

    publish(tmp_path, "team", FIRST)
    with Publisher(tmp_path) as publisher, pytest.raises(OSError, match="a photo is gone"):
        publisher.publish("team", pages())
    assert files_in(tmp_path) == FIRST
    assert not list(tmp_path.glob(".publish/work-*"))


def test_stale_files_go_and_their_empty_folders_too(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST)
    assert publish(tmp_path, "team", FRONT) == Published(0, 1, 1)
    assert not (tmp_path / "team/breads").exists()


def test_a_strangers_file_in_the_way_stops_everything(tmp_path: Path) -> None:
    put(tmp_path / "team/index.html", b"somebody's")
    with pytest.raises(InTheWay) as stopped:
        publish(tmp_path, "team", FIRST)
    assert stopped.value.paths == (tmp_path / "team/index.html",)
    assert files_in(tmp_path) == {"team/index.html": b"somebody's"}
    assert not (tmp_path / "team/breads").exists()


def test_all_strangers_are_named(tmp_path: Path) -> None:
    put(tmp_path / "team/index.html", b"somebody's")
    put(tmp_path / "team/breads", b"a file where a folder belongs")
    (tmp_path / "team/c/one.html").mkdir(parents=True)
    put(tmp_path / "team/c/two.html/deep/notes.txt", b"mine")
    wanted = dict.fromkeys(["team/index.html", "team/breads/loaf.html", "team/c/one.html", "team/c/two.html"], b"page")
    with pytest.raises(InTheWay) as stopped:
        publish(tmp_path, "team", wanted)
    names = ["team/breads", "team/c/one.html", "team/c/two.html/deep/notes.txt", "team/index.html"]
    assert [path.relative_to(tmp_path).as_posix() for path in stopped.value.paths] == names


def test_a_strangers_file_that_comes_while_we_work_stops_everything(tmp_path: Path) -> None:
    def interrupt(change: Change) -> None:
        if change.operation == "replace" and change.target == tmp_path / "team/breads/loaf.html":
            put(tmp_path / "team/index.html", b"somebody's")

    wanted = {"team/breads/loaf.html": b"loaf", "team/index.html": b"front"}
    with pytest.raises(InTheWay) as stopped:
        publish(tmp_path, "team", wanted, disk=QuickDisk(interrupt))
    assert stopped.value.paths == (tmp_path / "team/index.html",)
    assert files_in(tmp_path) == {"team/index.html": b"somebody's"}


def test_a_stale_file_that_is_gone_makes_no_gap_in_the_steps(tmp_path: Path) -> None:
    """Found by the histories: a dropped file and the manifest were kept under the same number."""
    publish(tmp_path, "team", FIRST)
    (tmp_path / "team/breads/loaf.html").unlink()

    def hold(change: Change) -> None:
        if change.target == tmp_path / ".publish/team.json":
            raise PermissionError

    with pytest.raises(HeldOpen):
        publish(tmp_path, "team", {}, disk=QuickDisk(hold))
    assert files_in(tmp_path) == FRONT


def test_a_link_is_a_stranger(tmp_path: Path) -> None:
    put(tmp_path / "elsewhere/index.html", b"somebody's")
    (tmp_path / "build").mkdir()
    (tmp_path / "build/team").symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    with pytest.raises(InTheWay) as stopped:
        publish(tmp_path / "build", "team", FIRST)
    assert tmp_path / "build/team" in stopped.value.paths
    assert files_in(tmp_path / "elsewhere") == {"index.html": b"somebody's"}


def test_a_link_to_the_same_bytes_is_a_stranger_too(tmp_path: Path) -> None:
    put(tmp_path / "mine.html", b"front")
    (tmp_path / "index.html").symlink_to(tmp_path / "mine.html")
    with pytest.raises(InTheWay):
        publish(tmp_path, "team", {"index.html": b"front"})


def test_stale_files_behind_a_link_are_left_alone(tmp_path: Path) -> None:
    publish(tmp_path / "build", "team", FIRST)
    (tmp_path / "build/team").rename(tmp_path / "elsewhere")
    (tmp_path / "build/team").symlink_to(tmp_path / "elsewhere", target_is_directory=True)
    assert publish(tmp_path / "build", "team", {}) == Published(0, 0, 0)
    assert len(files_in(tmp_path / "elsewhere")) == 2


def test_a_strangers_file_beside_ours_stays(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST)
    put(tmp_path / "team/breads/notes.txt", b"mine")
    publish(tmp_path, "team", FRONT)
    assert files_in(tmp_path) == FRONT | {"team/breads/notes.txt": b"mine"}


def test_a_stale_file_that_somebody_changed_is_theirs_now(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST)
    put(tmp_path / "team/breads/loaf.html", b"annotated by hand")
    assert publish(tmp_path, "team", FRONT) == Published(0, 1, 0)
    assert files_in(tmp_path)["team/breads/loaf.html"] == b"annotated by hand"
    with pytest.raises(InTheWay):
        publish(tmp_path, "team", FIRST)


def test_a_stale_file_changed_at_the_last_moment_is_theirs_too(tmp_path: Path) -> None:
    def interrupt(change: Change) -> None:
        if change.target == tmp_path / ".publish/journal":
            put(tmp_path / "team/breads/loaf.html", b"annotated by hand")

    publish(tmp_path, "team", FIRST)
    publish(tmp_path, "team", FRONT, disk=QuickDisk(interrupt))
    assert files_in(tmp_path)["team/breads/loaf.html"] == b"annotated by hand"


def test_a_published_file_that_somebody_changed_is_set_aside(tmp_path: Path) -> None:
    publish(tmp_path, "book", {"book.pdf": b"printed"})
    asides = [tmp_path / ".publish/set-aside" / name for name in ("1/book.pdf", "2/book.pdf")]
    for aside, notes in zip(asides, (b"with notes", b"with other notes"), strict=True):
        put(tmp_path / "book.pdf", notes)
        assert publish(tmp_path, "book", {"book.pdf": b"printed"}) == Published(1, 0, 0, set_aside=(aside,))
        assert files_in(tmp_path) == {"book.pdf": b"printed"}
        assert aside.read_bytes() == notes


def test_what_is_set_aside_does_not_stand_in_the_way_of_more(tmp_path: Path) -> None:
    for files in ({"team/c": b"codes"}, {"team/c/1.html": b"one"}):
        publish(tmp_path, "team", files)
        for path in files:
            put(tmp_path / path, b"changed by hand")
        assert len(publish(tmp_path, "team", files).set_aside) == 1
        assert files_in(tmp_path) == files


def test_a_file_that_was_only_dated_anew_is_still_ours(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST)
    for path, content in FIRST.items():
        put(tmp_path / path, content)
    assert publish(tmp_path, "team", FRONT) == Published(0, 1, 1)
    assert files_in(tmp_path) == FRONT


def test_a_file_that_was_removed_comes_back(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST)
    (tmp_path / "team/index.html").unlink()
    assert publish(tmp_path, "team", FIRST) == Published(1, 1, 0)
    assert files_in(tmp_path) == FIRST


def test_the_same_bytes_by_another_hand_are_adopted(tmp_path: Path) -> None:
    put(tmp_path / "team/index.html", b"front")
    assert publish(tmp_path, "team", FRONT) == Published(0, 1, 0)
    assert publish(tmp_path, "team", {"team/index.html": b"new"}) == Published(1, 0, 0)


def test_editions_do_not_touch_each_other(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST)
    publish(tmp_path, "record", {"book.json": b"{}"})
    publish(tmp_path, "record", {})
    assert files_in(tmp_path) == FIRST


def test_an_edition_does_not_take_anothers_file(tmp_path: Path) -> None:
    publish(tmp_path, "team", FIRST)
    with pytest.raises(InTheWay):
        publish(tmp_path, "record", {"team/index.html": b"{}"})


def test_a_file_becomes_a_folder_and_back(tmp_path: Path) -> None:
    states = [{"team/c": b"codes"}, {"team/c/1.html": b"one", "team/c/2/3.html": b"three"}, {"team": b"all"}, {}]
    for state in [*states, *reversed(states)]:
        publish(tmp_path, "team", state)
        assert files_in(tmp_path) == state


def test_capitals_may_change_on_a_disk_that_ignores_them(tmp_path: Path) -> None:
    states = [
        {"team/Breads/Loaf.html": b"loaf"},
        {"team/breads/Loaf.html": b"loaf"},
        {"team/breads/loaf.html": b"other loaf"},
        {"team/Breads": b"now a file"},
        {"team/breads": b"still a file"},
        {"team/BREADS/loaf.html": b"a folder again"},
    ]
    for state in [*states, *reversed(states)]:
        publish(tmp_path, "team", state, disk=NoCapitals(tmp_path))
        assert files_in(tmp_path) == {path.casefold(): content for path, content in state.items()}


def test_a_strangers_file_with_other_capitals_is_in_the_way(tmp_path: Path) -> None:
    put(tmp_path / "team/index.html", b"somebody's")
    with pytest.raises(InTheWay):
        publish(tmp_path, "team", {"team/INDEX.html": b"front"}, disk=NoCapitals(tmp_path))


@pytest.mark.parametrize(
    "paths",
    [
        ["../book.pdf"],
        ["/book.pdf"],
        ["team//index.html"],
        ["team/./index.html"],
        ["team\\index.html"],
        [".publish/team.json"],
        [".Publish/x"],
        ["team/"],
        [""],
        ["team/index.html", "team/index.html"],
        ["team/index.html", "team/Index.html"],
        ["team", "team/index.html"],
    ],
)
def test_what_cannot_be_published_is_a_bug(tmp_path: Path, paths: list[str]) -> None:
    with Publisher(tmp_path / "build") as publisher, pytest.raises(ValueError, match="published"):
        publisher.publish("team", [(path, b"") for path in paths])
    assert not files_in(tmp_path / "build")


def test_a_name_that_is_too_long_is_said_before_anything_changes(tmp_path: Path) -> None:
    with pytest.raises(CannotWrite, match="too long"):
        publish(tmp_path, "team", {"team/a.html": b"", f"team/{'n' * 300}.html": b"", "team/b.html": b""})
    assert not files_in(tmp_path)
    assert not (tmp_path / "team").exists()


def test_an_output_folder_that_is_a_file_is_said(tmp_path: Path) -> None:
    put(tmp_path / "build", b"somebody's")
    with pytest.raises(CannotWrite):
        publish(tmp_path / "build", "team", FIRST)
    assert files_in(tmp_path) == {"build": b"somebody's"}


@pytest.mark.parametrize("make", [QuickDisk, NoLinks])
def test_times_and_all_come_back_when_a_publication_is_taken_back(tmp_path: Path, make: type[QuickDisk]) -> None:
    def hold(change: Change) -> None:
        if change.target == tmp_path / "team/last.html":
            raise PermissionError

    old = FIRST | {"team/last.html": b"last"}
    publish(tmp_path, "team", old)
    before = {path: (tmp_path / path).stat().st_mtime_ns for path in old}
    with pytest.raises(HeldOpen):
        publish(
            tmp_path,
            "team",
            {"team/index.html": b"new", "team/more/x.html": b"x", "team/last.html": b"new"},
            disk=make(hold),
        )
    assert files_in(tmp_path) == old
    assert {path: (tmp_path / path).stat().st_mtime_ns for path in old} == before
    assert not (tmp_path / "team/more").exists()


BOOK = {"book.pdf": b"printed", "team/index.html": b"front"}
NEXT = {"team/index.html": b"new front", "book.pdf": b"printed anew"}


def _dies_on_writing(path: Path) -> Callable[[Change], None]:
    seen: list[Change] = []

    def die(change: Change) -> None:
        if seen or change.target == path:
            seen.append(change)
            raise Died

    return die


def test_a_folder_that_is_gone_does_not_hinder_the_taking_back(tmp_path: Path) -> None:
    def interfere(change: Change) -> None:
        if change.target == tmp_path / "book.pdf":
            if (tmp_path / "team").is_dir():
                shutil.rmtree(tmp_path / "team")
                put(tmp_path / "team", b"somebody's")
            raise PermissionError

    publish(tmp_path, "book", BOOK)
    with pytest.raises(HeldOpen):
        publish(tmp_path, "book", NEXT, disk=QuickDisk(interfere))
    assert files_in(tmp_path) == {"book.pdf": b"printed", "team": b"somebody's"}


def test_what_somebody_does_to_our_files_is_not_undone_with_the_rest(tmp_path: Path) -> None:
    """A dropped file's place is taken; a file is removed just before it would have been replaced."""

    def interfere(change: Change) -> None:
        if change.target == tmp_path / ".publish/journal":
            (tmp_path / "team/index.html").unlink()
        if change.target == tmp_path / ".publish/book.json":
            put(tmp_path / "book.pdf", b"somebody's")
            raise PermissionError

    publish(tmp_path, "book", BOOK)
    with pytest.raises(HeldOpen):
        publish(tmp_path, "book", {"team/index.html": b"new front"}, disk=QuickDisk(interfere))
    assert files_in(tmp_path) == {"book.pdf": b"somebody's"}


class TestHeldOpen:
    """A viewer has a file open; the system says so by refusing to replace it."""

    def test_for_a_moment(self, tmp_path: Path) -> None:
        publish(tmp_path, "book", BOOK)
        disk = Viewer(tmp_path / "book.pdf", tries=3)
        assert publish(tmp_path, "book", NEXT, disk=disk).written == 2
        assert files_in(tmp_path) == NEXT
        assert len(disk.slept) == 3
        assert disk.slept == sorted(disk.slept)

    def test_for_good(self, tmp_path: Path) -> None:
        publish(tmp_path, "book", BOOK)
        disk = Viewer(tmp_path / "book.pdf", tries=99)
        with pytest.raises(HeldOpen, match=r"book\.pdf' is open in another program") as held:
            publish(tmp_path, "book", NEXT, disk=disk)
        assert held.value.path == tmp_path / "book.pdf"
        assert 1 < sum(disk.slept) < 5
        assert files_in(tmp_path) == BOOK
        assert publish(tmp_path, "book", NEXT).written == 2

    def test_when_stale(self, tmp_path: Path) -> None:
        publish(tmp_path, "book", BOOK)
        with pytest.raises(HeldOpen) as held:
            publish(tmp_path, "book", {"team/index.html": b"new"}, disk=Viewer(tmp_path / "book.pdf", tries=99))
        assert held.value.path == tmp_path / "book.pdf"
        assert files_in(tmp_path) == BOOK

    def test_while_it_is_taken_back(self, tmp_path: Path) -> None:
        """Opened between its replacement and the taking back: then the next publisher sets it right."""

        def hold(change: Change) -> None:
            if change.target == tmp_path / "book.pdf":
                raise PermissionError
            if change.target == tmp_path / "team/index.html" and "old" in change.path.parts:
                raise PermissionError

        publish(tmp_path, "book", BOOK)
        with pytest.raises(Halfway, match="close it and build again, which sets this right") as halfway:
            publish(tmp_path, "book", NEXT, disk=QuickDisk(hold))
        assert halfway.value.path == tmp_path / "team/index.html"
        with pytest.raises(Halfway):
            recover(tmp_path, QuickDisk(hold))
        recover(tmp_path)
        assert files_in(tmp_path) == BOOK

    def test_when_a_stopped_publication_is_to_be_completed(self, tmp_path: Path) -> None:
        """Then it is taken back, and whoever came can go on."""
        publish(tmp_path, "book", BOOK)
        with pytest.raises(Died):
            publish(tmp_path, "book", NEXT, disk=QuickDisk(_dies_on_writing(tmp_path / "book.pdf")))
        assert files_in(tmp_path) == BOOK | {"team/index.html": b"new front"}
        recover(tmp_path, Viewer(tmp_path / "book.pdf", tries=99))
        assert files_in(tmp_path) == BOOK
        assert not list(tmp_path.glob(".publish/[jw]*"))


class TestDisk:
    """What the quick disks of these tests do not do."""

    @pytest.mark.parametrize("links", [True, False])
    def test_what_is_kept_stays(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, links: bool) -> None:
        def no_links(_: Path, __: Path) -> None:
            raise PermissionError

        if not links:
            monkeypatch.setattr(Path, "hardlink_to", no_links)
        place, copy = tmp_path / "place", tmp_path / "copy"
        for content in (b"one", b"other"):
            put(place, content)
            for _ in range(2):
                Disk().keep(place, copy)
                assert copy.read_bytes() == content
                assert copy.stat().st_mtime_ns == place.stat().st_mtime_ns
            assert place.samefile(copy) == links

    def test_the_first_error_of_many_is_raised_when_all_are_through(self, tmp_path: Path) -> None:
        paths = [tmp_path / str(number) for number in range(100)]
        for path in paths[::2]:
            path.touch()
        with pytest.raises(FileNotFoundError):
            Disk().each(Disk().remove, paths)
        assert not list(tmp_path.iterdir())

    def test_a_flush_of_nothing_is_an_error(self, tmp_path: Path) -> None:
        with pytest.raises(FileNotFoundError):
            Disk().flush(tmp_path / "nothing")
        Disk().flush_folder(tmp_path)
