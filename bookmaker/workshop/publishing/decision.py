"""The decision: what is staged is made to last, the new manifest is added, and the journal is written."""

import json
import time
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from bookmaker.workshop.publishing.disk import Disk
from bookmaker.workshop.publishing.imprints import digest_of, imprint_of, is_file
from bookmaker.workshop.publishing.journal import FORWARD, Journal, Step, new_folder, written_journal
from bookmaker.workshop.publishing.manifest import (
    PUBLISH_FOLDER,
    Manifest,
    manifest_of,
    manifest_path,
    written_manifest,
)
from bookmaker.workshop.publishing.staging import Staged

TICK_NS = 10_000_000
"""The coarsest step of the clock that file systems date files by, but for those of memory sticks."""


def decide(
    disk: Disk,
    out: Path,
    *,
    work: str,
    edition: str,
    staged: Staged,
    stamp: Mapping[str, Any],
    before: Manifest | None,
) -> Journal | None:
    """Write the journal of a staged publication; None if it would change nothing. Raises `OSError`.

    Once this has returned, the publication outlives us: it will be completed, or taken back.
    """
    manifest = manifest_of(staged.files, json.loads(json.dumps(stamp)))
    files = (*staged.first, *staged.puts, *staged.last)
    if not files and manifest == before:
        return None
    new, ours = new_folder(out, work), out / PUBLISH_FOLDER
    disk.each(disk.flush, [new / str(step.number) for step in staged.puts])
    _let_the_clock_tick(disk, staged.newest_ns)
    number = len(files)
    waiting = new / str(number)
    last = _manifest_step(disk, number, waiting, manifest_path(out, edition), written_manifest(manifest))
    journal = Journal(work, staged.folders, (*files, last), len(staged.first))
    written = ours / work / FORWARD
    disk.write(written, written_journal(journal))
    disk.each(disk.flush, [waiting, written])
    disk.each(disk.flush_folder, [new, ours / work])
    disk.replace(written, ours / FORWARD)
    disk.flush_folder(ours)
    return journal


def _manifest_step(disk: Disk, number: int, waiting: Path, place: Path, content: bytes) -> Step:
    disk.write(waiting, content)
    found, written = disk.look(place), waiting.lstat()
    before = imprint_of(found, digest_of(disk.read(place))) if found is not None and is_file(found) else None
    return Step(number, f"{PUBLISH_FOLDER}/{place.name}", before, imprint_of(written, digest_of(content)))


def _let_the_clock_tick(disk: Disk, newest_ns: int) -> None:
    """Wait until a file changed from now on is dated later than ours, and later than the manifest says ours are."""
    wait = newest_ns + TICK_NS - time.time_ns()
    if 0 < wait <= TICK_NS:
        disk.sleep(wait / 1e9)
