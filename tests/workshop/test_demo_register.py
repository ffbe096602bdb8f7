"""The demo is in order: everything that it issued is as the book has it."""

import json

import pytest

from bookmaker.cli import main
from bookmaker.workshop.shipped import demo_book_dir
from tests.workshop.demo_register import DAY


@pytest.mark.parametrize("what", ["cards", "labels"])
def test_all_that_the_demo_issued_is_current(what: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(demo_book_dir()), f"--{what}", "--json", "--on", DAY]) == 0
    standings = json.loads(capsys.readouterr().out)[what]
    assert standings
    found = {each["title"]: (each["state"], each["why"]) for each in standings if each["state"] != "current"}
    assert found == {}, "run: python -m tests.workshop.demo_register"
