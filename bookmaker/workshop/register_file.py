"""`issued.csv`, the one file of a book that we write, and only add to.

What is there stays byte for byte, line ends and all; new records follow in the columns that the file has. It is written
beside itself and takes its own place at once, so that whoever is stopped leaves the old file or the new one.
"""

import shutil
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Self

from bookmaker.model.register import IssuedCard, one_line
from bookmaker.reading.csv_rows import read_rows
from bookmaker.reading.register import CARD, COLUMNS, LABEL, Issued
from bookmaker.reading.walk import ISSUED
from bookmaker.workshop.publishing.disk import Disk
from bookmaker.workshop.publishing.lock import Lock

PATIENCE = 60.0
"""Seconds to wait for somebody else who issues."""


class Busy(Exception):
    """Somebody else has been issuing for too long."""


class RegisterFile:
    """The register of a book while it is ours alone, from entering to leaving.

    The book is to be read when the register is ours, so that nothing is issued that somebody else just did. Entering
    raises `Busy`, and `OSError` where the folder cannot be written to.
    """

    def __init__(
        self, folder: Path, *, disk: Disk | None = None, on_wait: Callable[[], None], patience: float = PATIENCE
    ) -> None:
        self._path = (folder / ISSUED).resolve()
        self._disk = disk if disk is not None else Disk()
        self._lock = Lock(self._beside("lock"))
        self._on_wait, self._patience = on_wait, patience

    def __enter__(self) -> Self:
        if not self._lock.take(self._patience, self._on_wait):
            raise Busy
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self._lock.release(remove=True)

    def add(self, records: Sequence[Issued]) -> None:
        """Add records behind what is there. Raises `OSError`; then the file is as it was."""
        disk, path, beside = self._disk, self._path, self._beside("new")
        there = disk.read(path) if disk.look(path) is not None else b""
        disk.write(beside, there + added(there, records))
        if there:
            with suppress(OSError):  # on some disks all files belong to everybody
                shutil.copymode(path, beside)
        disk.flush(beside)
        disk.replace(beside, path)
        disk.flush_folder(path.parent)

    def _beside(self, ending: str) -> Path:
        return self._path.with_name(f".{ISSUED}.{ending}")


def added(there: bytes, records: Sequence[Issued]) -> bytes:
    """What is to follow the bytes of a register, a sound one or none, to add records to it."""
    text = there.decode("utf-8-sig")
    end = "\r\n" if "\r\n" in text else "\n"
    lines: list[str] = []
    columns: Sequence[str] = COLUMNS
    if text.strip():
        columns = [field.text.lower() for field in next(read_rows(text.replace("\r\n", "\n")))]
        if not text.endswith(("\n", "\r")):
            lines.append("")  # closes the last line, which has no end
    else:
        lines.append(",".join(COLUMNS))
    lines += [",".join(_field(fields[name]) for name in columns) for fields in map(fields_of, records)]
    return "".join(f"{line}{end}" for line in lines).encode()


def fields_of(record: Issued) -> Mapping[str, str]:
    """A record's fields by column."""
    fields = dict.fromkeys(COLUMNS, "")
    fields |= {
        "what": CARD if isinstance(record, IssuedCard) else LABEL,
        "recipe": record.recipe.id,
        "size": record.recipe.size,
        "title": record.title,
        "revision": str(record.revision),
        "on": record.on.isoformat(),
        "by": record.by,
        "code": record.code,
    }
    if isinstance(record, IssuedCard):
        fields["parts"] = ", ".join(f"{name} {digest}" for name, digest in record.parts)
    else:
        fields["contains"] = ", ".join(record.contains)
        fields["may contain"] = ", ".join(record.may_contain)
        fields["sold as"] = record.sold_as
        fields["declaration"] = record.declaration
        fields["nutrition"] = record.nutrition
        fields["notes"] = record.notes
    return fields


def _field(text: str) -> str:
    """A field as RFC 4180 has it, on one line; in quotation marks where it must be."""
    bare = one_line(text)
    return '"' + bare.replace('"', '""') + '"' if "," in bare or '"' in bare else bare
