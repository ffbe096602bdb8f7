"""Random histories of an output folder: publications, deaths, full disks, and people who put, change and remove files.

Laws: what the manifest says is in force stands there whole; nothing else of ours does; what somebody wrote is still to
be had; who is stopped by somebody's file has changed nothing.
"""

import shutil
from collections.abc import Mapping
from contextlib import ExitStack
from errno import EIO

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from bookmaker.workshop.publishing.manifest import PUBLISH_FOLDER, read_manifest
from bookmaker.workshop.publishing.refusals import Halfway, InTheWay, NotPublished
from tests.support.disks import (
    Died,
    Failing,
    Full,
    Mortal,
    NoLinks,
    QuickDisk,
    Viewer,
    date,
    files_in,
    memory,
    publish,
    recover,
)

PATHS = {"team": ("a", "a/b", "a/b/c", "a/d", "A", "e", "e/f"), "record": ("r", "s", "s/t")}
"""Where the editions publish."""
ALL_PATHS = [path for paths in PATHS.values() for path in paths]
CONTENTS = (b"", b"one", b"other", b"another")


def _allowed(files: Mapping[str, bytes]) -> dict[str, bytes]:
    """As many of these as can be published together: no name twice but for capitals, none both file and folder."""
    kept: dict[str, bytes] = {}
    for path, content in files.items():
        names = {name.casefold() for name in kept}
        above = any(path.casefold().startswith(f"{name}/") for name in names)
        below = any(name.startswith(f"{path.casefold()}/") for name in names)
        if path.casefold() not in names and not above and not below:
            kept[path] = content
    return kept


def _files_of(edition: str) -> st.SearchStrategy[tuple[str, dict[str, bytes]]]:
    files = st.dictionaries(st.sampled_from(PATHS[edition]), st.sampled_from(CONTENTS), max_size=5)
    return st.tuples(st.just(edition), files.map(_allowed))


wishes = st.one_of(_files_of("team"), _files_of("team"), _files_of("record"))
some_disk = st.one_of(
    st.builds(QuickDisk),
    st.builds(NoLinks),
    st.builds(Mortal, st.integers(0, 60)),
    st.builds(Full, st.integers(0, 60)),
    st.builds(Failing, st.integers(0, 60), st.just(EIO)),
)


class OutputFolder(RuleBasedStateMachine):
    """An output folder, and what is known of it."""

    def __init__(self) -> None:
        super().__init__()
        self._open = ExitStack()
        self._out = self._open.enter_context(memory()) / "build"
        self._out.mkdir()
        self._published: list[Mapping[str, bytes]] = []
        """All publications that were ever wanted, by number: their stamp."""
        self._theirs: set[bytes] = set()
        """What people wrote and did not remove themselves. No two wrote the same."""
        self._touched: set[str] = set()
        """Where people did something since that was last published."""
        self._settled = True
        """Whether nothing is left half done."""

    def teardown(self) -> None:
        self._open.close()

    @initialize(wish=wishes)
    def begin(self, wish: tuple[str, dict[str, bytes]]) -> None:
        self._publish(*wish, QuickDisk(), rewrite=False)

    @rule(wish=wishes, disk=some_disk, rewrite=st.booleans())
    def publish(self, wish: tuple[str, dict[str, bytes]], disk: QuickDisk, rewrite: bool) -> None:
        self._publish(*wish, disk, rewrite=rewrite)

    @rule(edition=st.sampled_from(list(PATHS)), at=st.integers(0, 60))
    def publish_again(self, edition: str, at: int) -> None:
        """The same once more, in a process that dies perhaps."""
        self._publish(edition, self._in_force(edition), Mortal(at), rewrite=False)

    @rule(wish=wishes, held=st.sampled_from(ALL_PATHS), tries=st.sampled_from([1, 7, 99]))
    def publish_while_one_is_held_open(self, wish: tuple[str, dict[str, bytes]], held: str, tries: int) -> None:
        self._publish(*wish, Viewer(self._out / held, tries), rewrite=False)

    @rule(disk=some_disk)
    def recover(self, disk: QuickDisk) -> None:
        try:
            recover(self._out, disk)
        except (Died, NotPublished):
            self._settled = False
        else:
            self._settled = True

    @rule(path=st.sampled_from(ALL_PATHS), in_place=st.booleans())
    def somebody_writes(self, path: str, in_place: bool) -> None:
        place = self._out / path
        if place.is_dir() or any(folder.is_file() for folder in place.parents):
            return
        if place.is_file():
            self._theirs.discard(place.read_bytes())
            if not in_place:
                place.unlink()
        content = b"theirs %d" % len(self._published) + b"!" * len(self._theirs)
        while content in self._theirs:
            content += b"?"
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(content)
        date(place)
        self._theirs.add(content)
        self._touched.add(path)

    @rule(path=st.sampled_from(ALL_PATHS))
    def somebody_removes(self, path: str) -> None:
        place = self._out / path
        if place.is_file():
            self._theirs.discard(place.read_bytes())
            place.unlink()
            self._touched.add(path)

    @rule(folder=st.sampled_from(ALL_PATHS))
    def somebody_removes_a_folder(self, folder: str) -> None:
        if (self._out / folder).is_dir():
            self._theirs -= set(files_in(self._out / folder).values())
            self._touched |= {path for path in ALL_PATHS if path.startswith(f"{folder}/")}
            shutil.rmtree(self._out / folder)

    @rule(path=st.sampled_from(ALL_PATHS))
    def somebody_makes_a_folder(self, path: str) -> None:
        place = self._out / path
        if not place.exists() and not any(folder.is_file() for folder in place.parents):
            place.mkdir(parents=True)

    @invariant()
    def nothing_of_theirs_is_lost(self) -> None:
        aside = files_in(self._out / PUBLISH_FOLDER / "set-aside")
        assert self._theirs <= {*files_in(self._out).values(), *aside.values()}

    @invariant()
    def nothing_is_torn(self) -> None:
        for path, content in files_in(self._out).items():
            assert content in self._theirs or any(files.get(path) == content for files in self._published)

    @invariant()
    def what_is_in_force_stands(self) -> None:
        if self._settled:
            expected = {path: what for edition in PATHS for path, what in self._in_force(edition).items()}
            found = {path: what for path, what in files_in(self._out).items() if what not in self._theirs}
            wrong = {path for path in expected | found if expected.get(path) != found.get(path)}
            assert wrong <= self._touched

    def _publish(self, edition: str, files: dict[str, bytes], disk: QuickDisk, *, rewrite: bool) -> None:
        before = self._everything() if self._settled else None
        self._published.append(files)
        stamp = {"number": len(self._published) - 1}
        try:
            publish(self._out, edition, files, disk=disk, stamp=stamp, rewrite=rewrite)
        except (Died, Halfway):
            self._settled = False
        except InTheWay as stopped:
            self._settled = True
            self._is_said_rightly(stopped)
            assert before in {None, self._everything()}
        except NotPublished:
            # to be taken over may have failed as well
            self._settled = before is not None
            assert before in {None, self._everything()}
        else:
            self._settled = True
            assert self._in_force(edition) == files
            self._touched -= files.keys()
            assert files.items() <= files_in(self._out).items()

    def _is_said_rightly(self, stopped: InTheWay) -> None:
        assert all(path.is_dir() or path.read_bytes() in self._theirs for path in stopped.paths)

    def _in_force(self, edition: str) -> dict[str, bytes]:
        manifest = read_manifest(self._out, edition)
        return {} if manifest is None else dict(self._published[manifest.stamp["number"]])

    def _everything(self) -> tuple[object, ...]:
        """The files, and which publications are in force."""
        numbers = [manifest and manifest.stamp["number"] for manifest in (read_manifest(self._out, e) for e in PATHS)]
        return (*sorted(files_in(self._out).items()), *numbers)


TestHistories = OutputFolder.TestCase
TestHistories.settings = settings(max_examples=150, stateful_step_count=25)
