"""Values of ours as bytes and back, and digests of values.

Pickles are not canonical: equal values may have different ones. So bytes are for keeping, and a digest is that of a
value's `repr`, which says everything that is in it, in an order of its own.
"""

import io
import pickle
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from enum import Enum
from hashlib import blake2b
from operator import attrgetter
from typing import Any

Reduced = tuple[Any, ...]


class Damaged(ValueError):
    """Bytes that hold no value of ours."""


class _Reducers(dict[type, Callable[[Any], Reduced]]):
    """How values of each class are taken apart. Rebuilding a frozen value by its class is twice as fast as pickle's
    own way, which sets field after field.
    """

    def __missing__(self, kind: type) -> Callable[[Any], Reduced]:
        if issubclass(kind, type):
            raise KeyError(kind)  # a class: pickle writes down its name
        self[kind] = found = _reducer(kind)
        return found


def _reducer(kind: type) -> Callable[[Any], Reduced]:
    if is_dataclass(kind):
        names = [each.name for each in fields(kind)]
        if len(names) > 1:
            all_of = attrgetter(*names)
            return lambda value: (kind, all_of(value))
        return lambda value: (kind, tuple(getattr(value, name) for name in names))
    if issubclass(kind, Enum):
        return lambda value: (kind, (value.value,))
    if issubclass(kind, Decimal):
        return lambda value: (Decimal, (str(value),))
    if issubclass(kind, date):
        return lambda value: (date, (value.year, value.month, value.day))
    raise TypeError(f"{kind.__qualname__} is nothing that is kept")


_REDUCERS = _Reducers()


def pack(value: object) -> bytes:
    """A value as bytes. Raises `TypeError` for what is made of anything but our values and plain ones."""
    into = io.BytesIO()
    pickler = pickle.Pickler(into, pickle.HIGHEST_PROTOCOL)
    pickler.dispatch_table = _REDUCERS
    pickler.dump(value)
    return into.getvalue()


class _Unpickler(pickle.Unpickler):
    """Makes nothing but our own values, whatever the bytes ask for."""

    _found: dict[tuple[str, str], Any] = {("decimal", "Decimal"): Decimal, ("datetime", "date"): date}  # noqa: RUF012

    def find_class(self, module: str, name: str) -> Any:
        found = self._found.get((module, name))
        if found is None:
            if not module.startswith("bookmaker.") or "." in name:
                raise pickle.UnpicklingError(f"{module}.{name} is no value of ours")
            found = super().find_class(module, name)
            if not isinstance(found, type):
                raise pickle.UnpicklingError(f"{module}.{name} is no class")
            self._found[module, name] = found
        return found


def unpack(content: bytes) -> Any:
    """The value that `pack` was given. Raises `Damaged`."""
    try:
        return _Unpickler(io.BytesIO(content)).load()
    except (
        pickle.UnpicklingError,
        ArithmeticError,
        AttributeError,
        EOFError,
        ImportError,
        LookupError,
        TypeError,
        ValueError,
    ) as error:
        raise Damaged(str(error)) from error


def recalled(content: bytes | None) -> Any:
    """The value that `pack` was given; None where nothing is kept, or nothing of ours."""
    if not content:
        return None
    try:
        return unpack(content)
    except Damaged:
        return None


def digest(*parts: str) -> str:
    """A digest of texts in their order; each counts with its length, so that it matters where one ends."""
    told = "".join([f"{len(part)}:{part}" for part in parts])
    return blake2b(told.encode("utf-8", "surrogatepass"), digest_size=16).hexdigest()


def digest_of(value: object) -> str:
    """A digest of everything in a value, whose `repr` must be the same at every run."""
    return digest(repr(value))


def canonical(value: object) -> str:
    """A text that says everything in a value: as its `repr`, but with sets in order, which have none of their own."""
    match value:
        case frozenset():
            return "{" + ", ".join(sorted(map(canonical, value))) + "}"
        case tuple():
            return "(" + ", ".join(map(canonical, value)) + ")"
        case _ if is_dataclass(value):
            inside = (f"{each.name}={canonical(getattr(value, each.name))}" for each in fields(value))
            return f"{type(value).__qualname__}({', '.join(inside)})"
        case _:
            return repr(value)
