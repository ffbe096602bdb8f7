"""Putting an edition's files into the output folder: only what changed, whole files only, and nothing of anybody
else's.

Each edition has a manifest of the files that it published last. A file of ours that is no longer wanted goes; a file
that we did not write is never touched, and is an error when it stands where one of ours belongs.
"""

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

PUBLISH_FOLDER = ".publish"


class InTheWay(Exception):
    """Files that we did not write stand where ours belong."""

    def __init__(self, paths: Iterable[Path]) -> None:
        self.paths = tuple(paths)
        super().__init__(", ".join(str(path) for path in self.paths))


@dataclass(frozen=True, slots=True)
class Published:
    """What a publication did, in files."""

    written: int
    unchanged: int
    dropped: int


def publish(out: Path, edition: str, files: Mapping[str, bytes], *, rewrite: bool = False) -> Published:
    """Make `out` hold exactly `files` (paths with `/`, relative to `out`) for this edition.

    `rewrite` writes every file anew. Raises `InTheWay` before anything is changed.
    """
    before = _manifest(out, edition)
    digests = {path: _digest(content) for path, content in files.items()}
    strangers = [path for path in files if path not in before and _holds_other(out / path, digests[path])]
    if strangers:
        raise InTheWay(out / path for path in sorted(strangers))
    todo = [path for path in files if rewrite or not _holds(out / path, digests[path])]
    stage = out / PUBLISH_FOLDER / "stage" / edition
    staged: list[tuple[Path, Path]] = []
    for number, path in enumerate(todo):
        waiting = stage / str(number)
        waiting.parent.mkdir(parents=True, exist_ok=True)
        waiting.write_bytes(files[path])
        staged.append((waiting, out / path))
    for waiting, place in staged:
        place.parent.mkdir(parents=True, exist_ok=True)
        waiting.replace(place)
    stale = [path for path in before if path not in files]
    for path in stale:
        # changed by somebody since we wrote it: then it is theirs now
        if _holds(out / path, before[path]):
            (out / path).unlink()
    _drop_empty_folders(out, stale)
    _write_manifest(out, edition, digests)
    return Published(len(todo), len(files) - len(todo), len(stale))


def _manifest_path(out: Path, edition: str) -> Path:
    return out / PUBLISH_FOLDER / f"{edition}.json"


def _manifest(out: Path, edition: str) -> dict[str, str]:
    try:
        held = json.loads(_manifest_path(out, edition).read_text("utf-8"))
    except (FileNotFoundError, ValueError):
        return {}
    return {str(path): str(digest) for path, digest in held.items()} if isinstance(held, dict) else {}


def _write_manifest(out: Path, edition: str, digests: Mapping[str, str]) -> None:
    path = _manifest_path(out, edition)
    path.parent.mkdir(parents=True, exist_ok=True)
    new = path.with_suffix(".new")
    new.write_text(json.dumps(dict(sorted(digests.items())), ensure_ascii=False, indent=0), "utf-8")
    new.replace(path)


def _digest(content: bytes) -> str:
    return hashlib.blake2b(content, digest_size=16).hexdigest()


def _holds(place: Path, digest: str) -> bool:
    try:
        return _digest(place.read_bytes()) == digest
    except (FileNotFoundError, NotADirectoryError, IsADirectoryError):
        return False


def _holds_other(place: Path, digest: str) -> bool:
    return place.exists() and not _holds(place, digest)


def _drop_empty_folders(out: Path, stale: Iterable[str]) -> None:
    for folder in _parents(stale):
        place = out / folder
        if place.is_dir() and not any(place.iterdir()):
            place.rmdir()


def _parents(paths: Iterable[str]) -> Iterator[PurePosixPath]:
    """Folders of these paths, deepest first, the top left out."""
    folders = {parent for path in paths for parent in PurePosixPath(path).parents if str(parent) != "."}
    yield from sorted(folders, key=lambda folder: len(folder.parts), reverse=True)
