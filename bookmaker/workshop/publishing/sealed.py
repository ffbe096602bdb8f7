"""Sealed files: JSON that ends with a check sum, so that a damaged one is seen to be damaged."""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any
from zlib import crc32

FORMAT = 1
"""Of all sealed files. One of another format is as good as none."""


def seal(content: Mapping[str, Any]) -> bytes:
    """The file's bytes."""
    text = json.dumps({"format": FORMAT} | dict(content), ensure_ascii=False, separators=(",", ":"))
    body = text.encode("utf-8", "surrogatepass")
    return body + _foot(body)


def unsealed(path: Path) -> dict[str, Any] | None:
    """What a sealed file says; None if it is missing, unreadable, damaged, or of another format."""
    try:
        held = path.read_bytes()
    except OSError:
        return None
    body, line, _ = held.rpartition(b"\n#")
    if not line or held != body + _foot(body):
        return None
    content: dict[str, Any] = json.loads(body.decode("utf-8", "surrogatepass"))
    return content if content.get("format") == FORMAT else None


def _foot(body: bytes) -> bytes:
    return b"\n#%08x" % crc32(body)
