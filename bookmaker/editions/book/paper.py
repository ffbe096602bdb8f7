"""What becomes of links on paper: pages that are not printed are named without a link."""

from collections.abc import Collection, Iterator
from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

from bookmaker.editions.team.views import Link, Route
from bookmaker.editions.team.views_prose import PageLink

View = TypeVar("View")


def on_paper(view: View, printed: Collection[str]) -> View:
    """`view` with links to `printed` pages alone (keys of routes), each to the page as a whole."""
    found: View = _pruned(view, printed)
    return found


def _pruned(view: Any, printed: Collection[str]) -> Any:
    match view:
        case Route() | Link(route=None):
            return view
        case Link(name, Route() as route):
            return Link(name, route.at("") if route.key in printed else None)
        case PageLink(to, content):
            return PageLink(to.at(""), _pruned(content, printed))
        case tuple():
            return tuple(_members(view, printed))
        case _ if is_dataclass(view) and not isinstance(view, type):
            changed = {}
            for field in fields(view):
                was = getattr(view, field.name)
                now = _pruned(was, printed)
                if now is not was:
                    changed[field.name] = now
            return replace(view, **changed) if changed else view
        case _:
            return view


def _members(views: tuple[Any, ...], printed: Collection[str]) -> Iterator[Any]:
    """Members of a tuple; a link in prose to a page that is not printed leaves its words behind."""
    for view in views:
        if isinstance(view, PageLink) and view.to.key not in printed:
            yield from _members(view.content, printed)
        else:
            yield _pruned(view, printed)
