"""What a grammar makes of a text: its value, or the refusal itself."""

from collections.abc import Callable
from typing import TypeVar

from bookmaker.measures.numbers import Unreadable

T = TypeVar("T")


def outcome(grammar: Callable[[], T]) -> T | Unreadable:
    """Anything but a value or a refusal is a bug, and fails the test."""
    try:
        return grammar()
    except Unreadable as refused:
        return refused
