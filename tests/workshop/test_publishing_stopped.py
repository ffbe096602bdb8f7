"""Publishing, stopped before every single change it makes to the disk: by death, by power cut, by a full disk.

Whoever comes next finds the edition whole, either as it was or as it should be, and nobody else's file lost.
"""

import errno
import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import count
from pathlib import Path

import pytest

from bookmaker.workshop.publishing.manifest import intact, read_manifest
from bookmaker.workshop.publishing.refusals import CannotWrite, Halfway, HeldOpen, InTheWay, NotPublished
from tests.support.disks import (
    Change,
    Died,
    Failing,
    Full,
    Mortal,
    NoCapitals,
    NoLinks,
    QuickDisk,
    files_in,
    memory,
    publish,
    put,
    recover,
)

MOST = 400
"""More changes than any publication here makes."""


@dataclass(frozen=True, slots=True)
class Case:
    """An edition as it was and as it should be, and what somebody did in between."""

    old: dict[str, bytes]
    new: dict[str, bytes]
    theirs: dict[str, bytes] = field(default_factory=dict)
    """Put where no file of ours was."""
    changed: dict[str, bytes] = field(default_factory=dict)
    """Put where a file of ours was."""
    rewrite: bool = False

    def set_up(self, out: Path, disk: QuickDisk | None = None) -> None:
        """Publish what was, and let others do what they do."""
        if self.old:
            publish(out, "team", self.old, disk=disk, stamp={"state": "old"})
        publish(out, "record", {"book.json": b"{}"}, disk=disk)
        for path, content in (self.theirs | self.changed).items():
            put(out / path, content)

    def publish(self, out: Path, disk: QuickDisk | None = None) -> None:
        """Publish what should be."""
        publish(out, "team", self.new, disk=disk, stamp={"state": "new"}, rewrite=self.rewrite)

    def states(self) -> tuple[dict[str, bytes], dict[str, bytes]]:
        """All files before and after."""
        others = {"book.json": b"{}"} | self.theirs
        kept = {path: content for path, content in self.changed.items() if path not in self.new}
        return self.old | others | self.changed, self.new | others | kept


CASES = {
    "first": Case({}, {"index.html": b"front page", "a/b.html": b"b", "a/c/d.html": b"d"}),
    "changed": Case(
        {"i.html": b"front page", "a/gone.html": b"gone", "a/b.html": b"before", "same.html": b"same"},
        {"i.html": b"new front page", "a/b.html": b"after", "new/x.html": b"x", "same.html": b"same"},
        theirs={"a/notes.txt": b"mine", "new/notes.txt": b"mine too"},
    ),
    "by hand": Case(
        {"i.html": b"front page", "a/gone.html": b"gone", "a/b.html": b"before"},
        {"i.html": b"new front page", "a/b.html": b"before"},
        changed={"a/gone.html": b"annotated", "a/b.html": b"annotated too"},
    ),
    "nested": Case(
        {"a": b"a file", "b/c/d.html": b"d", "b/e.html": b"e", "f": b"f"},
        {"a/b/c.html": b"c", "b": b"a file now", "f": b"f"},
    ),
    "rewritten": Case(
        {"i.html": b"front page", "a.html": b"a"}, {"i.html": b"front page", "a.html": b"a"}, rewrite=True
    ),
    "all gone": Case({"i.html": b"front page", "a/b.html": b"b"}, {}),
}


@pytest.fixture(params=list(CASES), ids=[name.replace(" ", "-") for name in CASES])
def case(request: pytest.FixtureRequest) -> Case:
    return CASES[request.param]


@pytest.fixture
def rooms() -> Iterator[Callable[[], Path]]:
    """A new output folder at every call; the one before is cleared away."""
    numbers = count()
    with memory() as folder:

        def room() -> Path:
            shutil.rmtree(folder / "out", ignore_errors=True)
            return folder / "out" / f"{next(numbers)}"

        yield room


def each_stop(rooms: Callable[[], Path], case: Case, make: Callable[[int], QuickDisk]) -> Iterator[Path]:
    """An output folder for every change of the case's publication, stopped at that change."""
    for at in range(MOST):
        out = rooms()
        case.set_up(out)
        try:
            case.publish(out, make(at))
        except Died:
            yield out
        else:
            assert at > 10
            return
    pytest.fail("never came to its end")


def assert_whole(out: Path, case: Case) -> None:
    """All files are as before or as after, and the manifest knows which."""
    old, new = case.states()
    manifest = read_manifest(out, "team")
    now = "none" if manifest is None else manifest.stamp["state"]
    assert files_in(out) == (new if now == "new" else old)
    assert now in {"new", "old" if case.old else "none"}
    if manifest is not None and (now == "new" or not case.changed):
        assert set(manifest.files()) == set(case.new if now == "new" else case.old)
        assert intact(out, "team")
    assert not list(out.glob(".publish/work-*"))
    assert not list(out.glob(".publish/journal*"))


def assert_as_new(out: Path, case: Case) -> None:
    """Publishing again gives what it should have given."""
    case.publish(out)
    assert files_in(out) == case.states()[1]
    for path, content in case.changed.items():
        assert content in files_in(out / ".publish/set-aside").values() or path not in case.new


def assert_untorn(out: Path, case: Case) -> None:
    """No published file is anything but a whole one."""
    old, new = case.states()
    for path, content in files_in(out).items():
        assert content in {old.get(path), new.get(path)}, path


def test_death_at_every_change(rooms: Callable[[], Path], case: Case) -> None:
    for out in each_stop(rooms, case, Mortal):
        assert_untorn(out, case)
        recover(out)
        assert_whole(out, case)
        assert_as_new(out, case)


def test_death_and_a_build_at_once(rooms: Callable[[], Path], case: Case) -> None:
    for out in each_stop(rooms, case, Mortal):
        assert_as_new(out, case)


@pytest.mark.parametrize("name", [name for name, case in CASES.items() if not case.changed])
def test_death_and_another_wish(rooms: Callable[[], Path], name: str) -> None:
    """The book was changed back before the next build."""
    case = CASES[name]
    for out in each_stop(rooms, case, Mortal):
        publish(out, "team", case.old)
        assert files_in(out) == case.states()[0]


@pytest.mark.parametrize("name", ["changed", "nested"])
def test_death_twice(rooms: Callable[[], Path], name: str) -> None:
    """Recovery, stopped at every change that it makes."""
    case = CASES[name]
    for at in range(MOST):
        for again in range(MOST):
            out = rooms()
            case.set_up(out)
            try:
                case.publish(out, Mortal(at))
            except Died:
                pass
            else:
                return
            try:
                recover(out, Mortal(again))
            except Died:
                assert_untorn(out, case)
            else:
                break
            recover(out)
            assert_whole(out, case)


def test_death_while_it_is_taken_back(rooms: Callable[[], Path], case: Case) -> None:
    """The manifest, which comes last, cannot be replaced; and then the process dies."""

    def hold(change: Change) -> None:
        if change.operation == "replace" and change.target is not None and change.target.name == "team.json":
            raise PermissionError

    for at in range(MOST):
        out = rooms()
        case.set_up(out)
        try:
            case.publish(out, Mortal(at, hold))
        except Died:
            taken_back = (out / ".publish/journal-back").exists()
            recover(out)
            assert_whole(out, case)
            assert not taken_back or files_in(out) == case.states()[0]
        except HeldOpen:
            assert at > 10
            return
        assert_untorn(out, case)


def test_a_power_cut_at_every_change(rooms: Callable[[], Path], case: Case) -> None:
    """What was written and not flushed is lost; so all that matters has been flushed by then."""
    disks: list[Mortal] = []

    def make(at: int) -> Mortal:
        disks.append(Mortal(at))
        return disks[-1]

    for out in each_stop(rooms, case, make):
        disks[-1].cut_power(out)
        assert_untorn(out, case)
        recover(out)
        assert_whole(out, case)


@pytest.mark.parametrize("name", ["changed", "nested", "by hand"])
def test_death_on_a_disk_without_links(rooms: Callable[[], Path], name: str) -> None:
    class Both(Mortal, NoLinks):
        pass

    case = CASES[name]
    for out in each_stop(rooms, case, Both):
        recover(out, NoLinks())
        assert_whole(out, case)
        assert_as_new(out, case)


def test_death_on_a_disk_without_capitals(rooms: Callable[[], Path]) -> None:
    old, new = {"a/Loaf.html": b"loaf", "B.html": b"b"}, {"A/loaf.html": b"loaf", "b.html/c.html": b"other"}
    folded = [{path.casefold(): content for path, content in state.items()} for state in (old, new)]
    for at in range(MOST):
        out = rooms()
        publish(out, "team", old, disk=NoCapitals(out))
        try:
            publish(out, "team", new, disk=NoCapitals(out, at))
        except Died:
            recover(out, NoCapitals(out))
            assert files_in(out) in folded
            publish(out, "team", new, disk=NoCapitals(out))
            assert files_in(out) == folded[1]
        else:
            assert at > 10
            return


def test_a_full_disk_at_every_change(rooms: Callable[[], Path], case: Case) -> None:
    """From some change on there is no room: then all is as it was, at once and without anybody's help."""
    refused = 0
    for at in range(MOST):
        out = rooms()
        case.set_up(out)
        try:
            case.publish(out, Full(at))
        except CannotWrite:
            refused += 1
            assert files_in(out) == case.states()[0]
            assert_as_new(out, case)
        except Halfway:  # a folder had made room for a file, and there is no room to make it again
            assert any(path.startswith(f"{name}/") for path in case.old for name in case.new)
            recover(out)
            assert_whole(out, case)
        else:
            if at > len(case.new) * 10 + 30:
                break
            assert_whole(out, case)
    assert refused > 5


@pytest.mark.parametrize("error", [errno.EIO, errno.EACCES])
def test_a_failure_at_every_change(rooms: Callable[[], Path], case: Case, error: int) -> None:
    """One operation fails, once: the publication takes place or not, and what it left half done is set right."""
    for at in range(MOST):
        out = rooms()
        case.set_up(out)
        disk = Failing(at, error)
        try:
            case.publish(out, disk)
        except Halfway:
            recover(out)
            assert_whole(out, case)
        except NotPublished:
            assert files_in(out) == case.states()[0]
        else:
            assert files_in(out) == case.states()[1]
            if len(disk.done) <= at:
                assert at > 10
                return
        assert_as_new(out, case)


def test_a_stranger_comes_between_death_and_recovery(rooms: Callable[[], Path]) -> None:
    """Somebody puts files where ours were going to be, and changes ours, after every possible death."""
    case = CASES["changed"]
    theirs = {"new/x.html": b"theirs by now", "i.html": b"their own front page", "a/gone.html": b"their own, again"}
    for out in each_stop(rooms, case, Mortal):
        for path, content in theirs.items():
            put(out / path, content)
        recover(out)
        try:
            case.publish(out)
        except InTheWay:
            assert files_in(out)["new/x.html"] == theirs["new/x.html"]
        else:
            assert files_in(out) == case.states()[1] | {"a/gone.html": b"their own, again"}
        alive = list(files_in(out).values()) + list(files_in(out / ".publish/set-aside").values())
        assert set(theirs.values()) <= set(alive)
