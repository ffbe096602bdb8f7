"""Knowing a file again: by size and time where they agree, by its content where they do not."""

import hashlib
import os
import stat
from pathlib import Path

from bookmaker.workshop.publishing.disk import Disk
from bookmaker.workshop.publishing.manifest import Imprint


def digest_of(content: bytes) -> str:
    """What stands for a content."""
    return hashlib.blake2b(content, digest_size=16).hexdigest()


def imprint_of(found: os.stat_result, digest: str) -> Imprint:
    """The imprint of a file that is there."""
    return Imprint(found.st_size, found.st_mtime_ns, digest)


def is_file(found: os.stat_result | None) -> bool:
    """Whether a plain file is there: no folder, no link."""
    return found is not None and stat.S_ISREG(found.st_mode)


def is_folder(found: os.stat_result | None) -> bool:
    """Whether a folder is there: no link to one."""
    return found is not None and stat.S_ISDIR(found.st_mode)


def unmoved(found: os.stat_result, imprint: Imprint) -> bool:
    """Whether size and time say that a file is the one we know."""
    return found.st_size == imprint.size and found.st_mtime_ns == imprint.mtime_ns


def holds(disk: Disk, path: Path, imprint: Imprint) -> bool:
    """Whether a plain file is there with the content we know."""
    found = disk.look(path)
    if found is None or not is_file(found):
        return False
    if unmoved(found, imprint):
        return True
    return found.st_size == imprint.size and digest_of(disk.read(path)) == imprint.digest
