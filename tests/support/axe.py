"""axe-core, the accessibility checker, run on a page in Chromium; a Python package carries its script."""

from importlib.resources import files
from typing import Any

from playwright.sync_api import Page

_SCRIPT = files("axe_playwright_python") / "axe.min.js"


def violations(page: Page) -> list[str]:
    """What the checker finds wrong with a page: the rule, how grave it is, and the first elements that break it."""
    page.evaluate(_SCRIPT.read_text("utf-8"))
    found: list[dict[str, Any]] = page.evaluate("async () => (await axe.run({preload: false})).violations")
    return [
        f"{rule['id']} ({rule['impact']}): {rule['help']}: "
        + "; ".join(str(node["html"]) for node in rule["nodes"][:3])
        for rule in found
    ]
