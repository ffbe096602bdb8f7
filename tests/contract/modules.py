"""The package's own source, parsed: which modules there are and what each one imports."""

import ast
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "bookmaker"


@dataclass(frozen=True, slots=True)
class Import:
    """One imported module, as a dotted name, with where the statement stands."""

    target: str
    line: int
    in_function: bool
    for_types_only: bool

    @property
    def top(self) -> str:
        """The distribution's import name: the part before the first dot."""
        return self.target.partition(".")[0]

    @property
    def is_ours(self) -> bool:
        return self.top == "bookmaker"

    @property
    def is_foreign(self) -> bool:
        """Neither ours nor the standard library's."""
        return not self.is_ours and self.top not in sys.stdlib_module_names


@dataclass(frozen=True, slots=True)
class Module:
    """One source file: its dotted name and its imports."""

    name: str
    path: Path
    imports: tuple[Import, ...]

    @property
    def floor(self) -> str:
        """The part of the house it belongs to: `kitchen`, or `cli`; the package itself has none."""
        return floor_of(self.name)


def floor_of(dotted: str) -> str:
    """The floor that a module of ours stands on."""
    parts = dotted.split(".")
    return parts[1] if len(parts) > 1 else ""


@cache
def modules() -> dict[str, Module]:
    """Every module of the package by its dotted name."""
    paths = {_dotted(path): path for path in sorted(PACKAGE.rglob("*.py"))}
    return {
        name: Module(name, path, tuple(imports_of(path.read_text(encoding="utf-8"), frozenset(paths))))
        for name, path in paths.items()
    }


def imports_of(source: str, known: frozenset[str] = frozenset()) -> Iterator[Import]:
    """The imports of one source text. `from a import b` counts as `a.b` if that is a module in `known`, else as `a`."""

    def visit(node: ast.AST, in_function: bool, for_types: bool) -> Iterator[Import]:
        match node:
            case ast.Import(names=names):
                yield from (Import(alias.name, node.lineno, in_function, for_types) for alias in names)
            case ast.ImportFrom(module=str(module), names=names):
                for alias in names:
                    inner = f"{module}.{alias.name}"
                    yield Import(inner if inner in known else module, node.lineno, in_function, for_types)
            case ast.FunctionDef() | ast.AsyncFunctionDef() | ast.Lambda():
                yield from _below(node, True, for_types)
            case ast.If(test=ast.Name(id="TYPE_CHECKING") | ast.Attribute(attr="TYPE_CHECKING")):
                for child in node.body:
                    yield from visit(child, in_function, True)
                for child in node.orelse:
                    yield from visit(child, in_function, for_types)
            case _:
                yield from _below(node, in_function, for_types)

    def _below(node: ast.AST, in_function: bool, for_types: bool) -> Iterator[Import]:
        for child in ast.iter_child_nodes(node):
            yield from visit(child, in_function, for_types)

    yield from visit(ast.parse(source), False, False)


def _dotted(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
