"""The tool chain that a piece's layout depends on, as part of its key in the store."""

import sys
from functools import cache
from hashlib import blake2b
from importlib.metadata import version
from importlib.resources import files

from bookmaker.press import pdf as engine
from bookmaker.press.fonts import FACES


@cache
def stamp() -> bytes:
    """A digest of Python, the page engine and what it stands on, the fonts, and our own way of taking pieces apart."""
    digest = blake2b(digest_size=16)
    said = [
        f"python {sys.version}",
        *(f"{name} {version(name)}" for name in ("weasyprint", "pydyf", "fonttools", "pillow")),
    ]
    digest.update("\n".join((*said, *engine.system_libraries())).encode())
    for face in FACES:
        digest.update(files(face.package).joinpath("files", face.source).read_bytes())
    for package in ("bookmaker.press.assembly", "bookmaker.press"):
        for module in sorted(files(package).iterdir(), key=lambda each: each.name):
            if module.name.endswith(".py"):
                digest.update(module.name.encode() + module.read_bytes())
    return digest.digest()


def key(html: str, css: str) -> str:
    """The key of a piece in the store: what it is laid out from, and with what."""
    digest = blake2b(stamp(), digest_size=20)
    for text in (css, html):
        content = text.encode()
        digest.update(len(content).to_bytes(8, "big") + content)
    return digest.hexdigest()
