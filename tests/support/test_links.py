from pathlib import Path

import pytest

from tests.support.links import broken


def _site(folder: Path, **extra: str) -> Path:
    pages = {
        "index.html": '<h1 id="top-shelf">Ours</h1>',
        "breads/rye.html": '<a href="../index.html#top-shelf">home</a>',
        **extra,
    }
    for name, text in pages.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


@pytest.mark.parametrize(
    "text",
    [
        '<a href="breads/rye.html">rye</a>',
        '<a href="#here">here</a><p id="here">',
        '<a href="index.html?x=1#top-shelf">with a query</a>',
        '<a href="https://example.org/">the web, by choice</a>',
        '<a href="#top">up</a>',
        '<img src="data:image/gif;base64,AAAA" alt="">',
        '<a href="cr%C3%A8me.html">accents</a>',
    ],
)
def test_a_link_holds(tmp_path: Path, text: str) -> None:
    assert broken(_site(tmp_path, **{"page.html": text, "crème.html": ""})) == []


@pytest.mark.parametrize(
    ("text", "link", "why"),
    [
        ('<a href="oat.html">oat</a>', "oat.html", "no such file"),
        ('<a href="Index.html">home</a>', "Index.html", "no such file"),
        ('<a href="index.html#bottom">home</a>', "index.html#bottom", "no such anchor"),
        ('<a href="#gone">gone</a>', "#gone", "no such anchor"),
        ('<a href="breads/">breads</a>', "breads/", "a folder, which only a server turns into a page"),
        ('<a href="../other.html">out</a>', "../other.html", "leaves the folder"),
        ('<a href="/index.html">root</a>', "/index.html", "starts at the disk's root"),
        ('<a href="file:///tmp/x.html">disk</a>', "file:///tmp/x.html", "needs the network"),
        ('<link rel="stylesheet" href="https://example.org/a.css">', "https://example.org/a.css", "needs the network"),
        ('<img srcset="a.png 1x" src="index.html">', "a.png", "no such file"),
        ("<style>p {background: url('a.svg')}</style>", "a.svg", "no such file"),
        ('<p style="background: url(a.svg)">', "a.svg", "no such file"),
        ('<svg><use xlink:href="#mark"/></svg>', "#mark", "no such anchor"),
    ],
)
def test_a_broken_link_is_found(tmp_path: Path, text: str, link: str, why: str) -> None:
    (found,) = broken(_site(tmp_path, **{"page.html": text}))
    assert (str(found.file), found.link, found.why) == ("page.html", link, why)


def test_styles_are_followed_from_their_own_folder(tmp_path: Path) -> None:
    site = _site(tmp_path, **{"style/a.css": "@font-face {src: url(a.woff2)} @import 'b.css';", "style/a.woff2": ""})
    assert [found.link for found in broken(site)] == ["b.css"]
