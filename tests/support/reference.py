"""The outside checks in tests/reference: each case names its published source and how sure we are of it."""

from pathlib import Path
from typing import Any

import yaml

FOLDER = Path(__file__).parent.parent / "reference"


def cases(topic: str) -> dict[str, dict[str, Any]]:
    """The cases of one file by id, every number as text so that nothing passes through a float."""
    with (FOLDER / f"{topic}.yaml").open(encoding="utf-8") as file:
        found: list[dict[str, Any]] = yaml.load(file, Loader=yaml.BaseLoader)
    return {case["id"]: case for case in found}
