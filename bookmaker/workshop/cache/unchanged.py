"""Whether a build has anything to do at all; and if not, what it says.

An edition that stands as it was published, made by this tool from a book that looks as it did, is left alone. Nothing
is imported here that takes time.
"""

import os
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from bookmaker.workshop.cache.stamp import glance, library_marks, survey, tool
from bookmaker.workshop.clock import NoDate, costing_date
from bookmaker.workshop.console import complain, say
from bookmaker.workshop.finding import NoBook, find_book
from bookmaker.workshop.lines import published_line
from bookmaker.workshop.publishing.manifest import Manifest, read_manifest, stands


def nothing_to_do(named: str | None, out: Path, *, only: Sequence[str], on: str | None) -> int | None:
    """The exit code of a build where every edition asked for stands as it would make it; None where one does not.

    Then what the last build had to say about the book is said again. Whatever is in doubt is left to the build itself.
    """
    manifests: dict[str, Manifest] = {}
    for edition in only:
        manifest = read_manifest(out, edition)
        if manifest is None or "sources" not in manifest.stamp:
            return None
        manifests[edition] = manifest
    try:
        folder = find_book(named, Path())
        made_from = {
            "book": os.path.realpath(folder),
            "on": costing_date(on).isoformat(),
            "sources": survey(str(folder), str(out)),
        }
    except (NoBook, NoDate, OSError):
        return None
    if not all(_holds(manifest.stamp, made_from) and stands(out, manifest) for manifest in manifests.values()):
        return None
    _say(out, manifests)
    return max(int(manifest.stamp["code"]) for manifest in manifests.values())


def _holds(stamp: Mapping[str, Any], made_from: Mapping[str, str]) -> bool:
    """Whether a stamp says what a new one would."""
    if any(stamp.get(key) != value for key, value in made_from.items()):
        return False
    libraries = stamp.get("libraries", {})
    # asked of the folders again, it also tells of those that they lie in
    if not libraries.items() <= library_marks(libraries).items():
        return False
    return bool(stamp.get("glance") == glance() or stamp.get("tool") == tool())


def _say(out: Path, manifests: Mapping[str, Manifest]) -> None:
    """What the last build said about the book and each edition, and that nothing was to be done."""
    colour = "colour" if sys.stderr.isatty() else "plain"
    reports = dict.fromkeys(manifest.stamp["report"][colour] for manifest in manifests.values())
    for report in reports:
        if report:
            complain(report)
    for edition, manifest in manifests.items():
        for sentence in manifest.stamp["said"]:
            complain(sentence)
        files = sum(len(names) for names in manifest.folders.values())
        say(published_line(edition, out, unchanged=files))
