"""The one door to jinja2: templates of a theme, laid over each other file by file."""

from collections.abc import Iterable, Mapping
from functools import lru_cache
from pathlib import Path
from posixpath import relpath

from jinja2 import Environment, FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context
from markupsafe import Markup

from bookmaker.editions.team.views import Route
from bookmaker.editions.team.views_prose import Prose, Run
from bookmaker.press import prose
from bookmaker.press.formats import Formats


@lru_cache(maxsize=16384)
def relative(folder: str, to: Route) -> str:
    """The address of a page or place, seen from a page in `folder`."""
    path = relpath(f"{to.key}.html", folder or ".")
    return f"{path}#{to.place}" if to.place else path


@lru_cache(maxsize=1024)
def relative_file(folder: str, path: str) -> str:
    """The address of a published file that is no page (`assets/ledger.css`), seen from a page in `folder`."""
    return relpath(path, folder or ".")


def environment(folders: Iterable[Path], formats: Formats, more: Mapping[str, object] | None = None) -> Environment:
    """Templates from `folders`, the first that has a file winning; undefined names are errors, output is escaped.

    Filters are the methods of `Formats` by name, `url` and `file` (relative to the page's `folder`), `prose` and `run`.
    `more` are global names, such as the pictures.
    """
    made = Environment(
        loader=FileSystemLoader([*map(str, folders)]),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        extensions=["jinja2.ext.i18n"],
    )
    made.install_gettext_translations(formats.words)  # type: ignore[attr-defined]
    for name in ("word", "number", "factor", "amount", "bare", "known", "lacking", "duration", "time", "temperature",
                 "date", "size"):  # fmt: skip
        made.filters[name] = getattr(formats, name)
    made.filters |= {"url": _url, "file": _file, "prose": _passages, "run": _run}
    made.globals |= dict(more or {})
    return made


@pass_context
def _url(context: Context, route: Route) -> str:
    return relative(context["folder"], route)


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
