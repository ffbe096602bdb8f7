"""Prose trees as HTML: every node, links relative, nothing unescaped."""

from bookmaker.editions.team.views import Route
from bookmaker.editions.team.views_prose import (
    Grid,
    Literal,
    NewLine,
    PageLink,
    Para,
    Points,
    Stress,
    WebLink,
    Words,
)
from bookmaker.press.html import relative
from bookmaker.press.prose import passages, run


def url(route: Route) -> str:
    return relative("recipes/breads", route)


def test_words_are_escaped() -> None:
    assert run((Words("a < b & c"), Literal("<i>")), url) == "a &lt; b &amp; c<code>&lt;i&gt;</code>"


def test_every_inline_node() -> None:
    pieces = (
        Stress((Words("soft"),)),
        Stress((Words("hard"),), strong=True),
        NewLine(),
        PageLink(Route("recipes/biscuits", "sable", "step-2"), (Words("sablé"),)),
        WebLink("https://example.org/?a=1&b=2", (Words("out"),)),
    )
    assert run(pieces, url) == (
        '<em>soft</em><strong>hard</strong><br><a href="../biscuits/sable.html#step-2">sablé</a>'
        '<a href="https://example.org/?a=1&amp;b=2" rel="noreferrer">out</a>'
    )


def test_every_block() -> None:
    para = Para((Words("one"),))
    assert passages((para, Points(((para,), (para, para)))), url) == (
        "<p>one</p>\n<ul><li>one</li><li><p>one</p>\n<p>one</p></li></ul>"
    )
    assert passages((Points(((para,),), ordered=True),), url) == "<ol><li>one</li></ol>"
    assert passages((Grid(((Words("h"),),), (((Words("c"),),),)),), url) == (
        '<table><thead><tr><th scope="col">h</th></tr></thead><tbody><tr><td>c</td></tr></tbody></table>'
    )
