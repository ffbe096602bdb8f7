"""The manifest: what an edition published last, and from what.

A build that changes nothing needs no more of publishing than this module, so it imports nothing that takes time: that
is why its values are no dataclasses.
"""

import os
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any, NamedTuple

from bookmaker.workshop.publishing.sealed import seal, unsealed

PUBLISH_FOLDER = ".publish"
"""Ours within the output folder."""

JOURNALS = ("journal", "journal-back")
"""What is under way in `PUBLISH_FOLDER`: a publication, or its taking back."""

NEVER = -1
"""A modification time that no file has."""


class Imprint(NamedTuple):
    """What a published file is known by."""

    size: int
    mtime_ns: int
    digest: str


class Manifest(NamedTuple):
    """What an edition published.

    `folders` holds the files' imprints by name, by folder relative to the output folder (`""` is that folder itself).
    `stamp` is the caller's, who writes down in it what the edition was made from. An imprint as young as the manifest
    has the modification time `NEVER`: a file changed in the same moment would have the same time.
    """

    folders: Mapping[str, Mapping[str, Imprint]]
    stamp: Mapping[str, Any]

    def files(self) -> dict[str, Imprint]:
        """The imprints by path."""
        return {
            f"{folder}/{name}" if folder else name: imprint
            for folder, names in self.folders.items()
            for name, imprint in names.items()
        }


def manifest_path(out: Path, edition: str) -> Path:
    """Where an edition's manifest is kept."""
    return out / PUBLISH_FOLDER / f"{edition}.json"


def manifest_of(files: Mapping[str, Imprint], stamp: Mapping[str, Any]) -> Manifest:
    """The manifest of a publication."""
    folders: dict[str, dict[str, Imprint]] = {}
    for path in sorted(files):
        folder, _, name = path.rpartition("/")
        folders.setdefault(folder, {})[name] = files[path]
    return Manifest(folders, dict(stamp))


def written_manifest(manifest: Manifest) -> bytes:
    """The manifest as a file."""
    return seal({"stamp": manifest.stamp, "folders": manifest.folders})


def read_manifest(out: Path, edition: str) -> Manifest | None:
    """What the edition published last; None if it never did, or if the manifest is damaged."""
    path = manifest_path(out, edition)
    try:
        found = path.stat()
    except OSError:
        return None
    return _read(path, found.st_mtime_ns, found.st_size, found.st_ino)


@lru_cache(maxsize=16)
def _read(path: Path, written_ns: int, _size: int, _number: int) -> Manifest | None:
    """The manifest in a file of such looks: within one build it is asked for again and again."""
    held = unsealed(path)
    if held is None:
        return None
    folders = {
        folder: {
            name: Imprint(size, mtime_ns if mtime_ns < written_ns else NEVER, digest)
            for name, (size, mtime_ns, digest) in names.items()
        }
        for folder, names in held["folders"].items()
    }
    return Manifest(folders, held["stamp"])


def intact(out: Path, edition: str) -> bool:
    """Whether the edition was published and all of it is still there as it was, going by size and time."""
    manifest = read_manifest(out, edition)
    return manifest is not None and stands(out, manifest)


def stands(out: Path, manifest: Manifest) -> bool:
    """Whether what the manifest says is still there as it was, going by size and time, and nothing is under way."""
    if any((out / PUBLISH_FOLDER / journal).exists() for journal in JOURNALS):
        return False
    return all(_folder_stands(f"{out}/{folder}", names) for folder, names in manifest.folders.items())


def _folder_stands(folder: str, names: Mapping[str, Imprint]) -> bool:
    missing = len(names)
    try:
        with os.scandir(folder) as entries:
            for entry in entries:
                imprint = names.get(entry.name)
                if imprint is None:
                    continue
                found = entry.stat(follow_symlinks=False)
                if found.st_size != imprint.size or found.st_mtime_ns != imprint.mtime_ns:
                    return False
                missing -= 1
    except OSError:
        return False
    return missing == 0
