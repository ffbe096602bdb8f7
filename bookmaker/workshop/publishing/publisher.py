"""Publishing an edition, from its content to the finished changeover."""

import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Any, Self

from bookmaker.workshop.publishing.changeover import Changeover, clear, recover
from bookmaker.workshop.publishing.decision import decide
from bookmaker.workshop.publishing.disk import Disk
from bookmaker.workshop.publishing.journal import WORK, new_folder, old_folder
from bookmaker.workshop.publishing.lock import Lock
from bookmaker.workshop.publishing.manifest import PUBLISH_FOLDER, read_manifest
from bookmaker.workshop.publishing.refusals import Busy, CannotWrite
from bookmaker.workshop.publishing.staging import Staging

PATIENCE = 60.0
"""Seconds that a build waits for another to finish."""


@dataclass(frozen=True, slots=True)
class Published:
    """What a publication did, in files. `set_aside` are copies of files that somebody had changed by hand."""

    written: int
    unchanged: int
    dropped: int
    set_aside: tuple[Path, ...] = ()


class Publisher:
    """The one who publishes into an output folder, while it is entered (`with Publisher(out) as publisher`).

    Enter it before the sources are read: then whoever read last publishes last. A folder that does not exist is
    neither made nor locked before there is something to put into it. `on_wait` is called when another publisher has to
    be waited for. Entering and publishing raise `NotPublished`.
    """

    def __init__(
        self,
        out: Path,
        *,
        on_wait: Callable[[], None] = lambda: None,
        patience: float = PATIENCE,
        disk: Disk | None = None,
    ) -> None:
        self._out, self._on_wait, self._patience = out, on_wait, patience
        self._disk = disk if disk is not None else Disk()
        self._ours = out / PUBLISH_FOLDER
        self._lock = Lock(self._ours / "lock")

    def __enter__(self) -> Self:
        if self._ours.is_dir():
            self._take_over()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self._lock.release()

    def publish(
        self,
        edition: str,
        files: Iterable[tuple[str, bytes]],
        *,
        keep: Iterable[str] = (),
        stamp: Mapping[str, Any] | None = None,
        rewrite: bool = False,
    ) -> Published:
        """Make the output folder hold exactly these files of the edition: path, with `/`, and content.

        They are taken one at a time; nothing that is published changes before the last is there. No two editions
        publish the same path. `keep` are paths of the last publication that belong to this one as they are; the caller
        has seen that they still stand. `rewrite` writes all of `files` anew. `stamp`, of JSON's values, is for the
        manifest: what the edition was made from. Raises `NotPublished`, and whatever `files` raises; then the edition
        is as it was before, unless that is `Halfway`.
        """
        self.be_alone()
        before = read_manifest(self._out, edition)
        with _in_words(self._ours):
            work = self._new_work()
        try:
            staging = Staging(
                self._disk, self._out, new_folder(self._out, work), before.files() if before else {}, rewrite=rewrite
            )
            for path in keep:
                staging.keep(path)
            for path, content in files:
                with _in_words(self._out / path):
                    staging.add(path, content)
            with _in_words(self._ours):
                staged = staging.finish()
                journal = decide(
                    self._disk,
                    self._out,
                    work=work,
                    edition=edition,
                    staged=staged,
                    stamp=stamp or {},
                    before=before,
                )
        except BaseException:
            clear(self._disk, self._out, work)
            raise
        if journal is None:
            clear(self._disk, self._out, work)
            return Published(0, len(staged.files), 0)
        changeover = Changeover(self._disk, self._out, journal)
        changeover.complete()
        return Published(
            written=len(staged.puts),
            unchanged=len(staged.files) - len(staged.puts),
            dropped=len(staged.first) + len(staged.last),
            set_aside=tuple(changeover.set_aside),
        )

    def be_alone(self) -> None:
        """Have the output folder to ourselves, waiting for whoever has it; a folder still to be made is made.

        Raises `NotPublished`.
        """
        if not self._lock.held:
            self._take_over()

    def _take_over(self) -> None:
        """Be the only one here, and set right what the last one left."""
        with _in_words(self._ours):
            self._disk.make_folder(self._ours)
            if not self._lock.take(self._patience, self._on_wait):
                raise Busy(self._out, self._patience)
            try:
                recover(self._disk, self._out)
            except BaseException:
                self._lock.release()
                raise

    def _new_work(self) -> str:
        """A working folder, of a name that no journal from before a power cut can mean."""
        work = f"{WORK}{time.time_ns():x}"
        self._disk.make_folder(new_folder(self._out, work))
        self._disk.make_folder(old_folder(self._out, work))
        return work


@contextmanager
def _in_words(at: Path) -> Iterator[None]:
    """What the disk refuses becomes a sentence."""
    try:
        yield
    except OSError as failed:
        raise CannotWrite(failed, Path(failed.filename) if failed.filename else at) from failed
