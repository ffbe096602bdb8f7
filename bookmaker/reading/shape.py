"""From a tree to a written document: every key known, every value of the right kind. The one door to pydantic.

Pydantic builds the dataclasses of `model.written` and finds what does not fit; this module turns its findings into
sentences at the right place. Values stay text here: what a text means is for the reader of that key to say.
"""

import re
from collections.abc import Hashable
from collections.abc import Sequence as AnySequence
from dataclasses import fields, is_dataclass
from functools import cache
from types import UnionType
from typing import Any, TypeVar, Union, cast, get_args, get_origin

from bookmaker.problems.anchors import Anchor, Path
from bookmaker.problems.problem import Problem, problem
from bookmaker.reading.suggest import did_you_mean, near
from bookmaker.reading.tree import Entry, Mapping, Node, Scalar, Sequence, Tree, key_of

T = TypeVar("T")

_GROUP = "a group of `key: value`"
_HOW = {
    "one text": "write it as one text, without brackets or dashes",
    "a list": "write each one on a line of its own, beginning with `- `",
    _GROUP: "write `key: value` lines indented under it",
}
_KINDS = {"string_type": "one text", "tuple_type": "a list", "dict_type": _GROUP, "dataclass_type": _GROUP}


def shape(tree: Tree, written: type[T], *, go_on: bool = False) -> tuple[T | None, list[Problem]]:
    """A whole document as `written`; None when it does not fit. Problems as `shape_node` reports them."""
    return shape_node(tree.root, written, Anchor(tree.document), go_on=go_on)


def shape_node(node: Node, written: type[T], anchor: Anchor, *, go_on: bool = False) -> tuple[T | None, list[Problem]]:
    """One node as `written`, a dataclass of `model.written`; None when it does not fit.

    Problems: `unknown-key`, `missing-key`, `wrong-kind`, `empty-value`; all of them, not the first only. Keys at
    fault are left out of the value, so that reading goes on; there is none only where something that must be said is
    missing. An empty list item is reported here and stays in the value as empty text.
    With `go_on` a missing text is reported and stands in the value as empty text, too.
    """
    from pydantic import ValidationError

    problems: list[Problem] = []
    data = _plain(node, anchor, problems)
    adapter: Any = _adapter(cast(Hashable, written))
    dropped: set[Path] = set()
    filled: set[Path] = set()
    while True:
        try:
            (value,) = adapter.validate_python((data,))
            return value, problems
        except ValidationError as error:
            found = _relevant([_Finding(each["type"], each["loc"][1:], node) for each in error.errors()])
        misspelt = {_respelt(each, written) for each in found if each.unknown}
        problems += [
            _report(each, node, written, anchor) for each in found if each.path not in dropped | filled | misspelt
        ]
        if any(not each.path or (each.missing and not go_on) or each.path in filled for each in found):
            return None, problems
        for each in found:
            if each.missing:
                filled.add(_fill(data, each.path))
            else:
                dropped.add(_drop(data, each.path))


@cache
def _adapter(written: Any) -> Any:
    from pydantic import ConfigDict, TypeAdapter

    config = ConfigDict(extra="forbid", alias_generator=key_for)
    # a tuple of one: pydantic takes no configuration beside a dataclass, but hands a tuple's on to what is in it
    return TypeAdapter(tuple[written], config=config)


def key_for(field: str) -> str:
    """The key that a cook writes for a field."""
    return field.rstrip("_").replace("_", " ")


def _plain(node: Node, anchor: Anchor, problems: list[Problem]) -> Any:
    """The node without positions; empty values are reported and left out."""
    match node:
        case Scalar(text):
            return text
        case Sequence(items):
            for index, item in enumerate(items):
                if _empty(item):
                    problems.append(problem("empty-value", anchor.at(index), key="-"))
            return [_plain(item, anchor.at(index), problems) for index, item in enumerate(items)]
        case Mapping(entries):
            kept: dict[str, Any] = {}
            before: Entry | None = None
            for entry in entries:
                if fault := _nothing_behind(entry, before, anchor):
                    problems.append(fault)
                    if fault.code == "comma-number" and before:
                        kept.pop(before.key.text, None)
                else:
                    kept[entry.key.text] = _plain(entry.value, anchor.at(entry.key.text), problems)
                before = entry
            return kept


def _nothing_behind(entry: Entry, before: Entry | None, anchor: Anchor) -> Problem | None:
    """What is wrong with a key that has no value: inside braces it is mostly a comma that ended the text before it."""
    key = entry.key
    # `mix:1 %` is a key to YAML and a missing space to a cook: it is left to be reported as unknown
    if not _empty(entry.value) or ":" in key.text:
        return None
    at = key_of(anchor.at(key.text))
    if entry.value.span[0] != key.span[1] or before is None:  # there is a colon
        return problem("empty-value", at, key=key.text)
    value = before.value
    left = re.search(r"\d+$", value.text) if isinstance(value, Scalar) else None
    right = re.match(r"\d+", key.text)
    if left and right:
        where = Anchor(anchor.document, (), value.span[0] + left.start(), key.span[0] + right.end())
        why = f"{left[0]},{right[0]}: numbers take a decimal point, not a comma"
        return problem("comma-number", where, why=why, fix=f"write {left[0]}.{right[0]}")
    return problem("comma-in-braces", at, part=key.text)


def _empty(node: Node) -> bool:
    return isinstance(node, Scalar) and not node.text and not node.quoted


class _Finding:
    """A complaint of pydantic's: the path in the cook's document, the node there, and what kinds of value would do."""

    def __init__(self, kind: str, where: AnySequence[str | int], root: Node) -> None:
        path: list[str | int] = []
        node = root
        self.missing = kind == "missing"
        for step in where[:-1] if self.missing else where:
            # a step that leads nowhere is pydantic's name for a branch of a union
            if (below := _step(node, step)) is not None:
                path.append(step)
                node = below
        self.unknown = kind == "unexpected_keyword_argument"
        self.path: Path = (*path, where[-1]) if self.missing else tuple(path)
        self.node = node
        self.wants = [_KINDS[kind]] if kind in _KINDS else []


def _step(node: Node, step: str | int) -> Node | None:
    match node, step:
        case Mapping(), str():
            return node.get(step)
        case Sequence(items), int() if step < len(items):
            return items[step]
        case _:
            return None


def _relevant(found: list[_Finding]) -> list[_Finding]:
    """Of the branches of a union, only what the branch that fits the cook's text has to say."""
    kept: list[_Finding] = []
    for each in found:
        below = (other for other in found if other is not each and other.path[: len(each.path)] == each.path)
        if each.wants and any(not (other.wants and other.path == each.path) for other in below):
            continue
        same = next((other for other in kept if other.wants and other.path == each.path), None)
        if each.wants and same:
            same.wants += [kind for kind in each.wants if kind not in same.wants]
            continue
        kept.append(each)
    return kept


def _report(found: _Finding, root: Node, written: type, anchor: Anchor) -> Problem:
    where = Anchor(anchor.document, (*anchor.path, *found.path))
    name = str(found.path[-1]) if found.path else ""
    if found.missing:
        above = found.path[:-1]
        of = next((f" from '{step}'" for step in reversed((*anchor.path, *above)) if isinstance(step, str)), "")
        return problem("missing-key", _beside(root, above, anchor), key=name, of=of, fix=f"add a line `{name}: …`")
    if found.unknown:
        return problem("unknown-key", key_of(where), key=name, fix=_advice(name, _keys(written, found.path[:-1])))
    key = next((str(step) for step in reversed(where.path) if isinstance(step, str)), "this")
    if found.path and isinstance(found.path[-1], int):
        key = f"{key}, number {found.path[-1] + 1}"
    fix = _HOW.get(found.wants[0], "") if found.wants else ""
    return problem("wrong-kind", where, key=key, wanted=" or ".join(found.wants), found=_kind(found.node), fix=fix)


def _kind(node: Node) -> str:
    match node:
        case Scalar():
            return "one text"
        case Sequence():
            return "a list"
        case Mapping():
            return _GROUP


def _respelt(found: _Finding, written: type) -> Path:
    """Where a misspelt key probably belongs: what is missing there is no second mistake."""
    close = near(str(found.path[-1]), _keys(written, found.path[:-1]))
    return (*found.path[:-1], *close)


def _beside(root: Node, path: Path, anchor: Anchor) -> Anchor:
    """Where a missing key is noticed: the key of the group that lacks it, or the document's first key."""
    node = root
    for step in path:
        node = _step(node, step) or node
    whole = Anchor(anchor.document, (*anchor.path, *path))
    if whole.path and isinstance(whole.path[-1], str):
        return key_of(whole)
    if isinstance(node, Mapping) and node.entries:
        return key_of(whole.at(node.entries[0].key.text))
    return whole


def _advice(name: str, known: list[str]) -> str:
    before, colon, _ = name.partition(":")
    if colon and before in known:
        return f"put a space behind the colon: `{before}: …`"
    return did_you_mean(name, known) or (f"known here: {', '.join(known)}" if known else "")


def _keys(written: Any, path: Path) -> list[str]:
    """The keys that may stand at `path` in a document of the type `written`."""
    kinds = [written]
    for step in path:
        kinds = [inner for kind in kinds for inner in _inside(kind, step)]
    found = [branch for kind in kinds for branch in _branches(kind) if is_dataclass(branch)]
    return [key_for(each.name) for kind in found for each in fields(kind)]


def _branches(kind: Any) -> list[Any]:
    return list(get_args(kind)) if get_origin(kind) in (UnionType, Union) else [kind]


def _inside(kind: Any, step: str | int) -> list[Any]:
    found: list[Any] = []
    for branch in _branches(kind):
        arguments = get_args(branch)
        if is_dataclass(branch):
            found += [each.type for each in fields(branch) if key_for(each.name) == step]
        elif arguments and isinstance(step, int):
            found.append(arguments[0])
        elif len(arguments) == 2 and isinstance(step, str):
            found.append(arguments[1])
    return found


def _drop(data: Any, path: Path) -> Path:
    """Take the faulty key out; a faulty list item takes its whole list along, lest the others change their places."""
    while isinstance(path[-1], int):
        path = path[:-1]
    for step in path[:-1]:
        data = data[step]
    data.pop(path[-1], None)
    return path


def _fill(data: Any, path: Path) -> Path:
    """Put empty text where text is missing; for a missing list or group the next round finds that it will not do."""
    for step in path[:-1]:
        data = data[step]
    data[path[-1]] = ""
    return path


def columns_of(written: type) -> tuple[str, ...]:
    """The column names of a row type, in the order described."""
    return tuple(key_for(each.name) for each in fields(written))
