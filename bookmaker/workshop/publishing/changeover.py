"""The changeover: a journal's steps are taken, or taken back. Each may be stopped anywhere, and begun again.

A published file is only ever replaced by a whole one. What was there before is kept until all steps are taken; a file
of ours that somebody had changed by hand is set aside and stays.
"""

from collections.abc import Callable
from contextlib import suppress
from itertools import count
from pathlib import Path

from bookmaker.workshop.publishing.disk import Disk
from bookmaker.workshop.publishing.imprints import holds, is_file, is_folder
from bookmaker.workshop.publishing.journal import (
    BACK,
    FORWARD,
    WORK,
    Journal,
    Step,
    new_folder,
    old_folder,
    read_journal,
)
from bookmaker.workshop.publishing.manifest import JOURNALS, PUBLISH_FOLDER, Imprint
from bookmaker.workshop.publishing.refusals import CannotWrite, Halfway, HeldOpen, InTheWay

PAUSES = (0.05, 0.1, 0.2, 0.4, 0.8)
"""Seconds between the tries to replace a file that a viewer has open, or a virus scanner."""

SET_ASIDE = "set-aside"
"""Where files are kept, within `PUBLISH_FOLDER`, that somebody had changed where we had to write."""


class Changeover:
    """One journal's changeover."""

    def __init__(self, disk: Disk, out: Path, journal: Journal) -> None:
        self._disk, self._out, self._journal = disk, out, journal
        self._ours = out / PUBLISH_FOLDER
        self.set_aside: list[Path] = []
        """Where hand-changed files have been kept."""

    def complete(self) -> None:
        """Take all steps. Where that cannot be, take all of them back and raise a refusal, or what stopped us."""
        try:
            for number, step in enumerate(self._journal.steps):
                if step.after is not None:
                    self._put(step)
                    continue
                self._drop(step)
                if number < self._journal.first:
                    self._drop_empty_folders(step)
        except BaseException as stopped:
            self.take_back()
            if isinstance(stopped, OSError):
                raise CannotWrite(stopped, Path(stopped.filename or self._out)) from stopped
            raise
        for step in self._journal.steps:
            if step.after is None:
                self._drop_empty_folders(step)
        self._close(FORWARD)

    def take_back(self) -> None:
        """Put everything back as it was. Raises `Halfway` where that cannot be either."""
        forward = self._ours / FORWARD
        try:
            if self._disk.look(forward) is not None:
                self._patiently_replace(forward, self._ours / BACK)
            steps = self._journal.steps[::-1]
            for step in steps:
                if step.after is not None:
                    self._unput(step, step.after)
            for folder in reversed(self._journal.folders):
                self._drop_if_empty(self._out / folder)
            for step in steps:
                if step.after is None:
                    self._undrop(step)
            self._close(BACK)
        except HeldOpen as held:
            raise Halfway(held.path) from held
        except OSError as failed:
            raise Halfway(Path(failed.filename or self._out)) from failed

    def _put(self, step: Step) -> None:
        new, place = self._journal.new(self._out, step), self._out / step.path
        if self._disk.look(new) is None:
            return  # taken before we were stopped
        found = self._disk.look(place)
        if found is None:
            self._disk.make_folder(place.parent)
        elif step.before is None or not is_file(found):
            raise InTheWay([place])
        else:
            if not holds(self._disk, place, step.before):
                self._set_aside(step.path)
            self._disk.keep(place, self._journal.old(self._out, step))
        self._patiently_replace(new, place)

    def _unput(self, step: Step, after: Imprint) -> None:
        if self._disk.look(self._journal.new(self._out, step)) is not None:
            return  # never taken
        old, place = self._journal.old(self._out, step), self._out / step.path
        found = self._disk.look(place)
        ours = holds(self._disk, place, after)
        if self._disk.look(old) is not None:
            if found is not None and not ours:
                if not is_file(found):
                    return  # somebody's by now
                self._set_aside(step.path)
            self._restore(old, place)
        elif ours and (step.before is None or step.before.digest != after.digest):
            self._patiently_replace(place, self._journal.new(self._out, step))

    def _drop(self, step: Step) -> None:
        old, place = self._journal.old(self._out, step), self._out / step.path
        if self._disk.look(old) is not None:
            return  # taken before we were stopped; what is there now may be its successor, with other capitals
        if step.before is not None and holds(self._disk, place, step.before):  # else it is somebody's by now
            self._patiently_replace(place, old)

    def _undrop(self, step: Step) -> None:
        old, place = self._journal.old(self._out, step), self._out / step.path
        if self._disk.look(old) is not None and self._disk.look(place) is None:
            self._restore(old, place)

    def _restore(self, old: Path, place: Path) -> None:
        try:
            if not is_folder(self._disk.look(place.parent)):
                self._disk.make_folder(place.parent)
        except (FileExistsError, NotADirectoryError):
            return  # somebody has put a file where its folder was
        self._patiently_replace(old, place)

    def _drop_empty_folders(self, step: Step) -> None:
        for folder in (self._out / step.path).parents:
            if folder == self._out or not self._drop_if_empty(folder):
                break

    def _drop_if_empty(self, folder: Path) -> bool:
        found = self._disk.look(folder)
        if found is None:
            return True
        try:
            if not is_folder(found) or self._disk.names(folder):
                return False
            self._disk.drop_folder(folder)
        except OSError:  # somebody works in it, or has just put something there
            return False
        return True

    def _set_aside(self, path: str) -> None:
        """Keep what somebody made of a file of ours, once."""
        place = self._out / path
        content = self._disk.read(place)
        for number in count(1):
            aside = self._ours / SET_ASIDE / str(number) / path
            found = self._disk.look(aside)
            if found is None:
                try:
                    self._disk.make_folder(aside.parent)
                except (FileExistsError, NotADirectoryError):  # one was kept here that had this folder's name
                    continue
                self._disk.keep(place, aside)
            if found is None or (is_file(found) and self._disk.read(aside) == content):
                self.set_aside.append(aside)
                return

    def _patiently_replace(self, path: Path, target: Path) -> None:
        self._patiently(lambda: self._disk.replace(path, target), target if self._ours in path.parents else path)

    def _patiently(self, change: Callable[[], None], path: Path) -> None:
        for pause in (*PAUSES, None):
            try:
                change()
            except PermissionError:
                if pause is None:
                    raise HeldOpen(path) from None
                self._disk.sleep(pause)
            else:
                return

    def _close(self, name: str) -> None:
        """All is done: let it be known, and clear up. Raises `Halfway` if it cannot be made known."""
        folders = {(self._out / step.path).parent for step in self._journal.steps} | {self._ours}
        journal = self._ours / name
        try:
            there = [folder for folder in folders if is_folder(self._disk.look(folder))]
            self._disk.each(self._disk.flush_folder, there)
            self._patiently(lambda: self._disk.remove(journal), journal)
        except (OSError, HeldOpen) as failed:
            raise Halfway(journal) from failed
        clear(self._disk, self._out, self._journal.work)


def recover(disk: Disk, out: Path) -> None:
    """Complete or take back what a stopped publication left. Raises `Halfway` where neither can be."""
    ours = out / PUBLISH_FOLDER
    back, forward = read_journal(out, BACK), read_journal(out, FORWARD)
    if back is not None:
        Changeover(disk, out, back).take_back()
    if forward is not None:
        with suppress(InTheWay, HeldOpen, CannotWrite):  # then it has been taken back
            Changeover(disk, out, forward).complete()
    for name in disk.names(ours):
        if name in JOURNALS:  # damaged: it tells us nothing
            disk.remove(ours / name)
    for name in disk.names(ours):
        if name.startswith(WORK):
            clear(disk, out, name)


def clear(disk: Disk, out: Path, work: str) -> None:
    """Remove a working folder as far as it can be removed; what is left of it does no harm."""
    whole = out / PUBLISH_FOLDER / work
    for folder in (new_folder(out, work), old_folder(out, work), whole):
        with suppress(OSError):
            disk.each(disk.remove, [folder / name for name in disk.names(folder)])
        with suppress(OSError):
            disk.drop_folder(folder)
