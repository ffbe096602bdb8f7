"""Themes laid over each other, file by file."""

from collections.abc import Iterable
from pathlib import Path


def themed(folders: Iterable[Path], path: str) -> Path:
    """A file from the first folder that has it. Raises `StopIteration` where none has."""
    return next(file for folder in folders if (file := folder / path).is_file())
