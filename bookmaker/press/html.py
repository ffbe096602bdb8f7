"""The one door to jinja2: templates of a theme, laid over each other file by file."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import lru_cache
from pathlib import Path
from posixpath import relpath
from typing import Protocol, cast

from jinja2 import BytecodeCache, Environment, FileSystemLoader, StrictUndefined, pass_context
from jinja2.bccache import Bucket
from jinja2.ext import Extension
from jinja2.lexer import Token, TokenStream
from jinja2.runtime import Context
from markupsafe import Markup, escape

from bookmaker.editions.team.views import Link, Route
from bookmaker.editions.team.views_prose import Prose, Run
from bookmaker.press import prose
from bookmaker.press.formats import Formats


def relative(folder: str, to: Route) -> str:
    """The address of a page or place, seen from a page in `folder`."""
    path = f"{_way(folder, to.folder)}{to.stem}.html"
    return f"{path}#{to.place}" if to.place else path


@lru_cache(maxsize=4096)
def _way(folder: str, other: str) -> str:
    """From one folder to another, with the stroke behind it."""
    way = relpath(other or ".", folder or ".")
    return "" if way == "." else f"{way}/"


@lru_cache(maxsize=1024)
def relative_file(folder: str, path: str) -> str:
    """The address of a published file that is no page (`assets/ledger.css`), seen from a page in `folder`."""
    return relpath(path, folder or ".")


class Shelf(Protocol):
    """Where something may be kept from one run to the next."""

    def get(self, key: str) -> bytes | None:
        """What is kept under `key`, if anything is."""

    def put(self, key: str, content: bytes) -> None:
        """Keep `content` under `key`."""


class _Compiled(BytecodeCache):
    """Templates as they were compiled, for as long as their source is the same; compiling takes longer than a page."""

    def __init__(self, shelf: Shelf, language: str) -> None:
        self._shelf = shelf
        self._language = language  # its words stand in the compiled template

    def load_bytecode(self, bucket: Bucket) -> None:
        if kept := self._shelf.get(self._key(bucket)):
            bucket.bytecode_from_string(kept)

    def dump_bytecode(self, bucket: Bucket) -> None:
        self._shelf.put(self._key(bucket), bucket.bytecode_to_string())

    def _key(self, bucket: Bucket) -> str:
        return f"template:{self._language}:{bucket.key}:{bucket.checksum}"


def environment(
    folders: Iterable[Path],
    formats: Formats,
    more: Mapping[str, object] | None = None,
    shelf: Shelf | None = None,
) -> Environment:
    """Templates from `folders`, the first that has a file winning; undefined names are errors, output is escaped.

    Filters are the methods of `Formats` by name, `url` and `file` (relative to the page's `folder`), `prose` and `run`.
    `more` are global names, such as the pictures. Compiled templates are kept on the `shelf`.
    """
    made = Environment(
        loader=FileSystemLoader([*map(str, folders)]),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        bytecode_cache=_Compiled(shelf, formats.language) if shelf else None,
        extensions=["jinja2.ext.i18n", _Translated],
    )
    made.install_gettext_translations(formats.words)  # type: ignore[attr-defined]
    for name in ("word", "number", "factor", "amount", "bare", "known", "lacking", "duration", "time", "temperature",
                 "date", "size"):  # fmt: skip
        made.filters[name] = getattr(formats, name)
    made.filters |= {"url": _url, "link": _link, "file": _file, "prose": _passages, "run": _run}
    made.globals |= dict(more or {})
    return made


class _Translated(Extension):
    """`_("…")` is translated once, when a template is read, not whenever a page is set: the language stands fast."""

    def filter_stream(self, stream: TokenStream) -> Iterator[Token]:
        """The tokens of a template, with the words themselves in the place of such calls."""
        translate = cast(Callable[[str], str], self.environment.globals["gettext"])
        for token in stream:
            if token.test("name:_") and stream.current.type == "lparen" and stream.look().type == "string":
                next(stream)
                words = next(stream)
                stream.expect("rparen")
                yield Token(words.lineno, "string", translate(words.value))
            else:
                yield token


@pass_context
def _url(context: Context, route: Route) -> str:
    return relative(context["folder"], route)


@pass_context
def _link(context: Context, link: Link) -> Markup:
    """A name with the way to its page; without one it may be a word of ours."""
    if link.route is None:
        return escape(context.environment.filters["word"](link.name))
    return prose.anchor(relative(context["folder"], link.route), escape(link.name))


@pass_context
def _file(context: Context, path: str) -> str:
    return relative_file(context["folder"], path)


@pass_context
def _passages(context: Context, content: Prose) -> Markup:
    folder: str = context["folder"]
    return prose.passages(content, lambda route: relative(folder, route))


@pass_context
def _run(context: Context, content: Run) -> Markup:
    folder: str = context["folder"]
    return prose.run(content, lambda route: relative(folder, route))
