"""README's examples, run: `console` blocks hold commands and what they print, `diff` blocks changes to a file.

Each chapter begins in a folder that holds a copy of the demo book and nothing else; `cd` holds till the chapter's end.
`python -m tests.guide.readme` puts what the commands print now into README.md.
"""

import os
import re
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass, field
from pathlib import Path

from tests.contract.modules import ROOT

README = ROOT / "README.md"

_BLOCK = re.compile(r"^```(?P<kind>console|diff)\n(?P<text>.*?)^```$", re.MULTILINE | re.DOTALL)
_COMMAND = re.compile(r"^\$ (?P<command>.*)\n(?P<output>(?:(?!\$ ).*\n)*)", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Folder:
    """Where the examples run: a folder with the demo book, and `bookmaker` on the path."""

    top: Path
    environment: dict[str, str] = field(default_factory=dict)

    @classmethod
    def laid_out(cls, top: Path) -> "Folder":
        """Lay the folder out."""
        tools = top / "tools"
        tools.mkdir()
        tool = tools / "bookmaker"
        tool.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m bookmaker "$@"\n', encoding="utf-8")
        tool.chmod(0o755)
        start = top / "start"
        shutil.copytree(ROOT / "recipes", start / "recipes")
        path = os.pathsep.join([str(tools), os.environ.get("PATH", "")])
        # unbuffered, so that complaints and answers come in the order of a terminal
        return cls(start, os.environ | {"PATH": path, "PYTHONPATH": str(ROOT), "PYTHONUNBUFFERED": "1"})


def current(text: str, folder: Folder) -> str:
    """The text with what its commands print now."""
    chapters = re.split(r"(?=^## )", text, flags=re.MULTILINE)
    return "".join(_Chapter(folder).current(chapter) for chapter in chapters)


class _Chapter:
    def __init__(self, folder: Folder) -> None:
        self.folder = folder
        self.here = folder.top

    def current(self, text: str) -> str:
        return _BLOCK.sub(self._block, text)

    def _block(self, block: re.Match[str]) -> str:
        if block["kind"] == "diff":
            self._change(block["text"])
            return block[0]
        return f"```console\n{_COMMAND.sub(self._run, block['text'])}```"

    def _run(self, found: re.Match[str]) -> str:
        command = found["command"]
        if command.startswith("cd "):
            self.here = self.here / command.removeprefix("cd ")
            return f"$ {command}\n"
        ran = subprocess.run(
            ["sh", "-c", command],
            check=False,
            cwd=self.here,
            env=self.folder.environment,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            encoding="utf-8",
        )
        return f"$ {command}\n{ran.stdout}"

    def _change(self, text: str) -> None:
        head, *lines = text.splitlines()
        path = self.here / head.removeprefix("--- ")
        before, after = ("".join(f"{line[1:]}\n" for line in lines if line.startswith(sign)) for sign in "-+")
        whole = path.read_text(encoding="utf-8")
        assert whole.count(before) == 1, f"{path} has no such lines: {before}"
        path.write_text(whole.replace(before, after), encoding="utf-8")


def main() -> None:
    """Bring README.md up to date."""
    with tempfile.TemporaryDirectory() as place:
        README.write_text(current(README.read_text(encoding="utf-8"), Folder.laid_out(Path(place))), encoding="utf-8")


if __name__ == "__main__":
    main()
