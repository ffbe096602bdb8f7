"""Quick to start: asking for help loads none of the heavy libraries."""

import re
import subprocess
import sys

from tests.contract.modules import ROOT

HEAVY = {"pint", "pydantic", "yaml", "markdown_it", "jinja2", "weasyprint", "PIL", "fontTools", "watchdog"}


def test_help_imports_nothing_heavy() -> None:
    command = [sys.executable, "-X", "importtime", "-m", "bookmaker", "--help"]
    ran = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True)
    imported = {name.partition(".")[0] for name in re.findall(r"\|\s+([\w.]+)$", ran.stderr, re.MULTILINE)}
    assert "bookmaker" in imported
    assert not imported & HEAVY
