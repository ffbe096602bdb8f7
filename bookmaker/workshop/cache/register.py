"""The register of what was issued, bound once for as long as it and the recipes' names stay."""

import marshal
from collections.abc import Mapping
from functools import cached_property

from bookmaker.model.register import Register
from bookmaker.problems.problem import Problem
from bookmaker.reading.book import unread_recipes
from bookmaker.reading.register import bind_register
from bookmaker.reading.walk import ISSUED
from bookmaker.workshop.cache.binding import Bound
from bookmaker.workshop.cache.library import Library, problem_bytes, problems_in
from bookmaker.workshop.cache.notes import label, recipe_of
from bookmaker.workshop.cache.packing import digest, digest_of, pack, recalled
from bookmaker.workshop.cache.store import Store


class KeptRegister:
    """The register as it is kept: what it comes to is unpacked when somebody wants it."""

    def __init__(self, library: Library, bound: Bound, store: Store) -> None:
        self._library, self._bound, self._store = library, bound, store
        self.key = self._key() if library.register is not None else ""
        """What stands for it; nothing where nothing was ever issued."""

    @cached_property
    def value(self) -> Register:
        """Everything that was issued."""
        if not self.key:
            return Register()
        found: Register | None = recalled(self._row[0])
        return found if found is not None else self._bind()[0]

    @cached_property
    def problems(self) -> tuple[Problem, ...]:
        """What is wrong with what was issued, held against the book."""
        return problems_in(self._row[1]) if self.key else ()

    @cached_property
    def labels(self) -> Mapping[str, str]:
        """For each product of which a label was issued, what stands for the last one."""
        return self._row[2] if self.key else {}

    @cached_property
    def _row(self) -> tuple[bytes, bytes, dict[str, str]]:
        row = self._store.get(f"register:{self.key}")
        if row is None:
            register, problems = self._bind()
            labels = {label(ref): digest_of(each) for ref, each in register.last_labels().items()}
            row = marshal.dumps((pack(register), problem_bytes(problems), labels))
            self._store.put(f"register:{self.key}", row)
        found: tuple[bytes, bytes, dict[str, str]] = marshal.loads(row)  # noqa: S302 - the store has checked it
        return found

    def _key(self) -> str:
        titles = (f"{key}\0{entry.title}" for key, entry in self._bound.entries.items())
        return digest("register", self._library.digest(ISSUED), *titles, "", *sorted(self._unread()))

    def _unread(self) -> frozenset[str]:
        library = self._library
        read = (name.removesuffix(".md") for name, entry in library.entries.items() if entry.claims is None)
        return unread_recipes((*library.entries, *(each.name for each in library.folder.unread)), read)

    def _bind(self) -> tuple[Register, tuple[Problem, ...]]:
        assert self._library.register is not None
        titles = {recipe_of(key): entry.title for key, entry in self._bound.entries.items()}
        register, problems = bind_register(self._library.register.value, titles, self._unread())
        return register, tuple(problems)
