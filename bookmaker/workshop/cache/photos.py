"""Photos: each is made ready for pages once for as long as its file is the same."""

from collections.abc import Iterable, Iterator, Mapping
from hashlib import blake2b
from pathlib import Path

from bookmaker.press.images import Photo, UnusablePhoto, prepare
from bookmaker.workshop.cache.ledger import PhotoEntry
from bookmaker.workshop.cache.packing import pack, recalled
from bookmaker.workshop.cache.store import Store


class Photos(Mapping[str, Photo]):
    """The photos that pages show, by their path in the book. What is no picture has been reported by reading."""

    def __init__(self, folder: Path, sources: Iterable[str], before: Mapping[str, PhotoEntry], store: Store) -> None:
        self._folder, self._store = folder, store
        self._made: dict[str, Photo] = {}
        self.entries: dict[str, PhotoEntry] = {}
        for source in sorted(set(sources)):
            entry = self._entry(source, before.get(source))
            if entry is not None:
                self.entries[source] = entry

    def key(self, source: str) -> str:
        """What stands for a photo; nothing where there is none."""
        return self.entries[source].content if source in self.entries else ""

    def __getitem__(self, source: str) -> Photo:
        if source not in self._made:
            entry = self.entries[source]
            kept: Photo | None = recalled(self._store.get(f"photo:{entry.content}"))
            self._made[source] = kept if kept is not None else prepare((self._folder / source).read_bytes())
        return self._made[source]

    def __iter__(self) -> Iterator[str]:
        return iter(self.entries)

    def __len__(self) -> int:
        return len(self.entries)

    def _entry(self, source: str, before: PhotoEntry | None) -> PhotoEntry | None:
        """A photo's entry; None where there is no such file, or no picture in it."""
        path = self._folder / source
        try:
            found = path.stat()
            mark = f"{found.st_size} {found.st_mtime_ns} {found.st_ctime_ns} {found.st_ino}"
            if before is not None and before.file == mark:
                return before
            content = path.read_bytes()
            digest = blake2b(content, digest_size=16).hexdigest()
            key = f"photo:{digest}"
            made: Photo = recalled(self._store.get(key)) or prepare(content)
        except (OSError, UnusablePhoto):
            return None
        self._store.put(key, pack(made))
        self._made[source] = made
        return PhotoEntry(mark, digest, tuple(size.width for size in made.renditions))
