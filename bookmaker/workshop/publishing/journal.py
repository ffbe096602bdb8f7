"""The journal: what a publication is about to change, written down before the first published file is touched.

Whoever finds it can complete the publication, or take it back: what is to come stands in `new/` of its working
folder, what was there before goes to `old/`.
"""

from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from bookmaker.workshop.publishing.manifest import JOURNALS, PUBLISH_FOLDER, Imprint
from bookmaker.workshop.publishing.sealed import seal, unsealed

FORWARD, BACK = JOURNALS
"""The journal's names. Its name says which way it goes, since renaming needs no room on a disk that is full."""


WORK = "work-"
"""What the names of working folders begin with."""


class Step(NamedTuple):
    """One file to be put, or dropped where `after` is None."""

    number: int
    """Its name in the working folder."""
    path: str
    before: Imprint | None
    """What we know to be there; None: nothing."""
    after: Imprint | None


@dataclass(frozen=True, slots=True)
class Journal:
    """A publication that is decided. Steps are taken in order, the manifest's last."""

    work: str
    """The working folder's name."""
    folders: tuple[str, ...]
    """Folders that the publication makes, upper ones first."""
    steps: tuple[Step, ...]
    first: int
    """So many steps drop files that stand where something else belongs; their folders go with them if that empties
    them. Other emptied folders wait until nothing can be taken back: it might need room to make them again."""

    def new(self, out: Path, step: Step) -> Path:
        """Where the coming file waits."""
        return new_folder(out, self.work) / str(step.number)

    def old(self, out: Path, step: Step) -> Path:
        """Where the former file is kept until all is done."""
        return old_folder(out, self.work) / str(step.number)


def new_folder(out: Path, work: str) -> Path:
    """Where coming files wait."""
    return out / PUBLISH_FOLDER / work / "new"


def old_folder(out: Path, work: str) -> Path:
    """Where former files are kept."""
    return out / PUBLISH_FOLDER / work / "old"


def written_journal(journal: Journal) -> bytes:
    """The journal as a file."""
    return seal({"work": journal.work, "folders": journal.folders, "steps": journal.steps, "first": journal.first})


def read_journal(out: Path, name: str) -> Journal | None:
    """The journal of that name; None if there is none or it is damaged."""
    held = unsealed(out / PUBLISH_FOLDER / name)
    if held is None:
        return None
    steps = tuple(
        Step(number, path, Imprint(*before) if before else None, Imprint(*after) if after else None)
        for number, path, before, after in held["steps"]
    )
    return Journal(held["work"], tuple(held["folders"]), steps, held["first"])
