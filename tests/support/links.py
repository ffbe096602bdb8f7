"""Every link, picture, style and anchor of a published folder, followed: what leads nowhere, or out of the folder."""

import os
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

LINKING = {"href", "src", "xlink:href", "poster", "data", "action", "cite"}
FOR_PEOPLE = {"a", "area"}
"""Elements whose link a reader may follow to the web; anything else would have to be fetched to show the page."""

_IN_STYLE = re.compile(r"""url\(\s*["']?([^"')]+)["']?\s*\)|@import\s+["']([^"']+)["']""")


@dataclass(frozen=True, slots=True)
class Broken:
    """A link that does not hold, the file it stands in, and why."""

    file: Path
    link: str
    why: str

    def __str__(self) -> str:
        return f"{self.file}: {self.link}: {self.why}"


@dataclass(slots=True)
class _Page(HTMLParser):
    """The links of one page with the element that carries each, and the anchors it offers."""

    links: list[tuple[str, str]] = field(default_factory=list)
    anchors: set[str] = field(default_factory=set)

    def __post_init__(self) -> None:
        HTMLParser.__init__(self)
        self._in_style = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._in_style = tag == "style"
        for name, value in attrs:
            if value is None:
                continue
            if name == "id" or (name == "name" and tag == "a"):
                self.anchors.add(value)
            elif name in LINKING:
                self.links.append((tag, value))
            elif name == "srcset":
                self.links += ((tag, candidate.split()[0]) for candidate in value.split(",") if candidate.strip())
            elif name == "style":
                self.links += (("style", link) for link in _in_style(value))

    def handle_endtag(self, tag: str) -> None:
        if tag == "style":
            self._in_style = False

    def handle_data(self, data: str) -> None:
        if self._in_style:
            self.links += (("style", link) for link in _in_style(data))


def broken(root: Path) -> list[Broken]:
    """What does not hold in a folder of pages that must be complete in itself."""
    root = root.resolve()
    known = frozenset(root.rglob("*")) | {root}
    pages = {file: _read(file) for file in sorted(known) if file.suffix in {".html", ".css"}}

    def why(file: Path, element: str, link: str) -> str:
        parts = urlsplit(link)
        if parts.scheme or parts.netloc:
            followed = element in FOR_PEOPLE and parts.scheme in {"http", "https", "mailto", "tel"}
            return "" if followed or parts.scheme == "data" else "needs the network"
        if parts.path.startswith("/"):
            return "starts at the disk's root"
        target = Path(os.path.normpath(file.parent / unquote(parts.path))) if parts.path else file
        if not target.is_relative_to(root):
            return "leaves the folder"
        # Compared as spelt, since some disks take `A.html` for `a.html`
        if target not in known:
            return "no such file"
        if target.is_dir():
            return "a folder, which only a server turns into a page"
        anchor = unquote(parts.fragment)
        return "no such anchor" if anchor and not _offers(pages.get(target), anchor) else ""

    return [
        Broken(file.relative_to(root), link, reason)
        for file, page in pages.items()
        for element, link in page.links
        if (reason := why(file, element, link))
    ]


def _read(file: Path) -> _Page:
    text = file.read_text(encoding="utf-8")
    page = _Page()
    if file.suffix == ".css":
        page.links += (("style", link) for link in _in_style(text))
    else:
        page.feed(text)
        page.close()
    return page


def _in_style(text: str) -> Iterator[str]:
    return (match[1] or match[2] for match in _IN_STYLE.finditer(text))


def _offers(page: _Page | None, anchor: str) -> bool:
    """Whether a fragment leads somewhere; in a file that is no page, such as a PDF, its viewer decides."""
    return page is None or anchor == "top" or anchor in page.anchors
