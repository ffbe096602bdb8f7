"""What stands at the top of the checkout, and that README's commands are the ones that run."""

import re
import subprocess

import pytest

from tests.contract.modules import ROOT

TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "bookmaker", "recipes", "tests", "themes"}


@pytest.mark.skipif(not (ROOT / ".git").exists(), reason="not a git checkout")
def test_nothing_else_lies_about_at_the_top() -> None:
    command = ["git", "-c", "safe.directory=*", "ls-files", "-z"]
    listing = subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stdout
    top = {name.partition("/")[0] for name in listing.split("\0") if name}
    assert {name for name in top if not name.startswith(".")} <= TOP


def test_readme_opens_with_the_two_commands() -> None:
    blocks = re.findall(
        r"^```sh\n(.*?)^```", (ROOT / "README.md").read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL
    )
    assert blocks[:2] == ["sh .setup/book\n", "sh .setup/test\n"]


def test_ci_runs_readmes_test_command() -> None:
    assert (ROOT / ".ci" / "run").read_text(encoding="utf-8").rstrip().endswith("exec sh .setup/test")
