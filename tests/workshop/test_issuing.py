"""What was issued against the book: through the commands, as a kitchen does it."""

import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Mapping
from datetime import date
from pathlib import Path

import pytest

from bookmaker.cli import main
from bookmaker.editions.cards.code import code_of, parts_of
from bookmaker.kitchen.compute import compute
from bookmaker.kitchen.figures import Figures
from bookmaker.kitchen.label import label_of
from bookmaker.kitchen.label_figures import LabelFigure
from bookmaker.model.book import Book
from bookmaker.model.refs import RecipeRef
from bookmaker.reading.book import read_book
from bookmaker.workshop.building import Build
from bookmaker.workshop.cache.kept import KeptBook
from bookmaker.workshop.cache.projecting import Projector
from bookmaker.workshop.cache.store import Store
from bookmaker.workshop.console import Progress
from bookmaker.workshop.issuing.cards import Cards, with_cards
from bookmaker.workshop.terminal.table import width_of
from tests.workshop.test_watch_command import Watch

BOOK = Path(__file__).parent / "issuing"
ON = ["--on", "2026-11-25"]

Kitchen = Callable[..., tuple[int, str, str]]


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """Two released products, one of which has a mousse in it; a trial; and one that is retired."""
    shutil.copytree(BOOK, tmp_path / "book")
    return tmp_path / "book"


@pytest.fixture
def ask(book: Path, capsys: pytest.CaptureFixture[str]) -> Kitchen:
    """Ask something of the book: the exit code, the answer, and what is wrong."""

    def asked(*words: str, on: str = "2026-11-25") -> tuple[int, str, str]:
        of_book = ["--book", str(book)] if words[0] not in {"build", "check"} else [str(book)]
        capsys.readouterr()
        code = main([*words, *of_book, "--on", on])
        told = capsys.readouterr()
        return code, told.out, told.err

    return asked


@pytest.fixture
def issued(ask: Kitchen) -> Kitchen:
    """The same, with everything issued on 25 November."""
    assert ask("issue", "labels", "--by", "Ada")[0] == 0
    assert ask("issue", "cards", "--by", "Ada")[0] == 0
    return ask


def swap(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")


def held(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def states(ask: Kitchen, what: str) -> Mapping[str, tuple[str, list[str]]]:
    """Each recipe's card or label: its state, and why."""
    code, told, _ = ask("check", f"--{what}", "--json")
    assert code == 0
    return {each["title"]: (each["state"], each["why"]) for each in json.loads(told)[what]}


# --- issuing


def test_only_what_clients_see_is_issued_and_only_once(book: Path, ask: Kitchen) -> None:
    before = held(book)
    code, told, wrong = ask("issue", "labels", "--by", "Ada  Quill")
    assert (code, wrong) == (0, "")
    assert " ".join(told.split()).startswith("2 labels issued on 2026-11-25 by Ada Quill, written to ")
    assert "Plain bar" in told
    assert "Trial bar" not in told
    assert "check against your local food law" in told
    now = held(book)
    # nothing else in the book was touched
    assert {name: content for name, content in now.items() if name != "issued.csv"} == before
    code, told, _ = ask("issue", "labels", "--by", "Ben", on="2026-12-01")
    assert code == 0
    assert told.startswith("Issued already, and unchanged since\n   2026-11-25: Plain bar, Dark pebble\n")
    assert held(book) == now


def test_every_card_in_use_is_issued_but_none_of_what_is_retired(ask: Kitchen) -> None:
    code, told, _ = ask("issue", "cards", "--json")
    assert code == 0
    titles = [each["title"] for each in json.loads(told)["issued"]]
    assert titles == ["Plain bar", "Trial bar", "Dark mousse", "Dark pebble"]
    code, told, _ = ask("issue", "cards", "old bar")
    assert code == 1
    assert "Old bar: it is retired, and has no card any more" in told


def test_whoever_is_signed_in_issues_unless_said_otherwise(ask: Kitchen, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("getpass.getuser", lambda: "night baker")
    assert " by night baker, written to " in " ".join(ask("issue", "cards", "plain bar")[1].split()) + " "

    def nobody() -> str:
        raise KeyError

    monkeypatch.setattr("getpass.getuser", nobody)
    assert ask("issue", "cards")[::2] == (
        2, "bookmaker: nobody is signed in here; say who hands it out with --by NAME\n",
    )  # fmt: skip
    assert ask("issue", "cards", "--by", " ")[0] == 2
    assert ask("issue", "cards", "no such thing", "--by", "Ada")[0] == 2


def test_answers_fit_eighty_columns(book: Path, issued: Kitchen) -> None:
    swap(book / "stores/dairy.yaml", "contains: [milk]", "contains: [milk, hazelnuts, almonds, walnuts]")
    swap(book / "creams/mousse.md", "700 g", "650 g")
    for asked in (("check", "--cards"), ("check", "--labels"), ("issue", "labels"), ("issue", "cards"), ("check",)):
        _, told, wrong = issued(*asked, on="2026-11-26")
        assert told
        long = [line for line in (told + wrong).splitlines() if width_of(line) > 80]
        # the book's folder is a test's, and may be longer than any line
        assert [line for line in long if str(book) not in line] == []


# --- refusing


@pytest.mark.parametrize(
    ("recipe", "why"),
    [
        ("dark mousse", "it is a component, and only products go out to clients"),
        ("trial bar", "its status is trial, and only approved products go out to clients"),
        ("old bar", "its status is retired, and only approved products go out to clients"),
    ],
)
def test_what_clients_do_not_see_has_no_label(book: Path, ask: Kitchen, recipe: str, why: str) -> None:
    code, told, _ = ask("issue", "labels", recipe, "plain bar")
    assert code == 1
    assert why in " ".join(told.split())
    # what can be issued is
    assert "1 label issued" in told
    assert (book / "issued.csv").read_text("utf-8").count("\nlabel,") == 1


def test_a_label_without_what_the_law_wants_is_refused_with_what_to_do(book: Path, ask: Kitchen) -> None:
    swap(book / "stores/dry.yaml", "  contains: [soybeans]\n", "")
    code, told, _ = ask("issue", "labels", "dark pebble")
    assert code == 1
    words = " ".join(told.split())
    assert "nobody declared the allergens of dark chocolate in Dark mousse (stores/dry.yaml:" in words
    assert "a guest would take that for free from everything" in words
    assert "write `contains: [...]` in the stores" in words
    assert not (book / "issued.csv").exists()


def test_an_ingredient_list_that_is_not_complete_is_refused(book: Path, ask: Kitchen) -> None:
    swap(book / "bars/bar.md", "200 g caster sugar", "to taste caster sugar")
    code, told, _ = ask("issue", "labels", "plain bar")
    assert code == 1
    words = " ".join(told.split())
    assert "its ingredient list is not complete. Nobody can tell how much caster sugar goes in: weigh it" in words


@pytest.mark.parametrize("what", ["cards", "labels"])
def test_nothing_is_issued_from_a_book_with_errors(book: Path, ask: Kitchen, what: str) -> None:
    swap(book / "bars/bar.md", "plain flour", "plane flour")
    code, told, wrong = ask("issue", what)
    assert (code, told) == (1, "")
    assert "did you mean 'plain flour'?" in wrong
    assert not (book / "issued.csv").exists()


def test_what_was_issued_later_counts(book: Path, issued: Kitchen) -> None:
    swap(book / "bars/bar.md", "200 g caster sugar", "300 g caster sugar")
    before = held(book)
    for what in ("cards", "labels"):
        code, told, _ = issued("issue", what, "plain bar", on="2026-11-24")
        assert code == 1
        assert "Plain bar: it was issued on 2026-11-25 already" in told
    assert held(book) == before


def test_a_folder_that_cannot_be_written_to_is_said(book: Path, ask: Kitchen, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("bookmaker.workshop.publishing.disk.Disk.write", full)
    code, told, wrong = ask("issue", "cards")
    assert (code, told) == (1, "")
    assert wrong.endswith("issued.csv cannot be written (No space left on device); nothing was issued\n")
    assert not (book / "issued.csv").exists()


_ISSUER = """
import sys
from bookmaker.cli import main
sys.exit(main(["issue", "cards", "--by", sys.argv[2], "--book", sys.argv[1], "--on", "2026-11-25"]))
"""


def test_two_who_issue_at_once_issue_each_card_once(book: Path) -> None:
    environment = os.environ | {"PYTHONPATH": str(Path(__file__).parents[2])}
    running = [
        subprocess.Popen([sys.executable, "-c", _ISSUER, str(book), name], env=environment, stdout=subprocess.DEVNULL)
        for name in ("Ada", "Ben")
    ]
    assert [each.wait(60) for each in running] == [0, 0]
    found = read_book(book)
    assert found.book is not None
    assert found.problems == ()
    cards = found.book.register.cards
    assert len(cards) == 4
    # whoever came first issued them all
    assert len({each.by for each in cards}) == 1
    assert not list(book.glob(".issued*"))


# --- cards


def test_a_changed_weight_lists_exactly_the_cards_that_show_it(book: Path, issued: Kitchen) -> None:
    swap(book / "creams/mousse.md", "300 g dark", "310 g dark")
    found = states(issued, "cards")
    assert found["Dark mousse"][0] == "reprint"
    assert "weights" in found["Dark mousse"][1]
    assert "steps" not in found["Dark mousse"][1]
    # the pebble's card still says 1000 g of mousse
    assert {title: state for title, (state, _) in found.items() if title != "Dark mousse"} == {
        "Plain bar": "current", "Trial bar": "current", "Dark pebble": "current",
    }  # fmt: skip


def test_a_changed_step_is_told_as_a_step(book: Path, issued: Kitchen) -> None:
    swap(book / "moulded/pebble.md", "Roll in sugar", "Roll in coarse sugar")
    assert states(issued, "cards")["Dark pebble"] == ("reprint", ["steps"])


def test_an_allergen_prints_the_cards_of_all_that_have_it_again(book: Path, issued: Kitchen) -> None:
    swap(book / "stores/dairy.yaml", "contains: [milk]", "contains: [milk, hazelnuts]")
    found = states(issued, "cards")
    assert {title for title, (state, why) in found.items() if state == "reprint" and "allergens" in why} == {
        "Dark mousse", "Dark pebble",
    }  # fmt: skip
    assert {title for title, (state, _) in found.items() if state == "current"} == {"Plain bar", "Trial bar"}


def test_what_only_costs_otherwise_prints_nothing_again(book: Path, issued: Kitchen) -> None:
    swap(book / "stores/prices.csv", "18.00", "28.00")
    swap(book / "stores/dry.yaml", "made up for tests", "made up for other tests")
    assert {state for state, _ in states(issued, "cards").values()} == {"current"}
    assert {state for state, _ in states(issued, "labels").values()} == {"current"}
    assert issued("check")[0] == 0


def test_cards_and_labels_of_what_is_no_more_are_taken_away(book: Path, issued: Kitchen) -> None:
    swap(book / "bars/bar.md", "status: approved", "status: retired")
    (book / "moulded/pebble.md").unlink()
    assert states(issued, "cards")["Plain bar"] == ("take away", ["the recipe is retired"])
    assert states(issued, "cards")["Dark pebble"] == ("take away", ["the recipe is gone"])
    assert states(issued, "labels")["Plain bar"] == ("take back", ["its status is retired"])
    assert states(issued, "labels")["Dark pebble"] == ("take back", ["the recipe is gone"])
    code, _, wrong = issued("check")
    assert code == 0
    assert wrong.count("note[issued-unknown]") == 2


def test_what_was_never_issued_is_said_to_be_so(ask: Kitchen) -> None:
    assert ask("check", "--cards", "--labels")[1] == (
        "Never issued\n   Plain bar, Trial bar, Dark mousse, Dark pebble\n\nNever issued\n   Plain bar, Dark pebble\n"
    )


# --- the alarm


def test_what_was_issued_and_is_so_still_is_heard_of_nowhere(issued: Kitchen, tmp_path: Path) -> None:
    assert issued("check")[0] == 0
    assert issued("check")[2] == ""
    assert issued("build", "--only", "record", "--out", str(tmp_path / "out"))[0] == 0


def test_an_allergen_is_an_error_of_its_sheet_alone_until_it_is_issued_again(
    book: Path, issued: Kitchen, tmp_path: Path
) -> None:
    build = ["build", "--only", "record", "--out", str(tmp_path / "out")]
    swap(book / "stores/dairy.yaml", "contains: [milk]", "contains: [milk, hazelnuts]")
    time.sleep(0.1)  # files as young as a build are not relied on
    code, _, wrong = issued("check")
    assert code == 1
    report = " ".join(wrong.split())
    assert "stores/dairy.yaml:4:13: error[label-allergens]: the label of 'Dark pebble' (issued on 2026-11-25)" in report
    assert "not named: hazelnuts, contained now" in report
    assert "see: moulded/pebble.md:8:5 (Dark mousse, in Dark pebble)" in report
    assert "see: creams/mousse.md:7:5 (whipping cream, in Dark mousse)" in report
    assert "see: issued.csv:3:1 (what was issued of Dark pebble, " in report
    assert "Plain bar" not in report
    assert "1 error in 1 file." in report

    # all else is published, and the exit code tells
    code, told, said = issued(*build)
    assert (code, said) == (1, wrong)
    assert "book.json  (1 written)" in told
    # so does a build that has nothing to do
    code, told, said = issued(*build)
    assert (code, said) == (1, wrong)
    assert "book.json  (1 unchanged)" in told

    # in passing it is not cured
    code, told, _ = issued("issue", "labels", on="2026-11-26")
    assert code == 1
    assert 'If that is right, issue it by name: bookmaker issue labels "Dark pebble"' in " ".join(told.split())
    assert issued("check", on="2026-11-26")[0] == 1
    # but on purpose
    code, told, _ = issued("issue", "labels", "dark pebble", on="2026-11-26")
    assert code == 0
    assert "Dark pebble: not named: hazelnuts, contained now" in " ".join(told.split())
    assert issued("check", on="2026-11-26")[::2] == (0, "")
    assert issued(*build, on="2026-11-26")[::2] == (0, "")


def test_another_ingredient_list_is_a_sheet_to_send_again(book: Path, issued: Kitchen, tmp_path: Path) -> None:
    swap(book / "stores/dry.yaml", "cocoa mass 60 %, sugar 39 %", "cocoa mass 60 %, vanilla 2 %, sugar 37 %")
    code, _, wrong = issued("check")
    assert code == 0
    report = " ".join(wrong.split())
    assert "warning[label-changed]: the sheet of 'Dark pebble' (issued on 2026-11-25) is to be sent again" in report
    assert "vanilla is new in dark chocolate" in report
    assert "stores/dry.yaml:16:12: " in report
    assert issued("build", "--only", "record", "--out", str(tmp_path / "out"))[::2] == (0, wrong)
    # nobody is hurt by it, so it is cured in passing
    assert issued("issue", "labels", on="2026-11-26")[0] == 0
    assert issued("check", on="2026-11-26")[2] == ""


def test_more_sugar_changes_what_the_label_says(book: Path, issued: Kitchen) -> None:
    swap(book / "bars/bar.md", "200 g caster sugar", "400 g caster sugar")
    found = states(issued, "labels")
    assert found["Dark pebble"] == ("current", [])
    state, (order, table) = found["Plain bar"]
    assert state == "send again"
    assert order == "sugar stands in another place"
    assert table.startswith("the nutrition table says energy ")


def test_a_recipe_whose_file_moved_is_held_against_its_label_all_the_same(book: Path, issued: Kitchen) -> None:
    (book / "domes").mkdir()
    (book / "moulded/pebble.md").rename(book / "domes/dark.md")
    assert issued("check")[::2] == (0, "")
    swap(book / "stores/dairy.yaml", "contains: [milk]", "contains: [milk, eggs]")
    code, _, wrong = issued("check")
    assert code == 1
    assert "not named: eggs" in " ".join(wrong.split())


def test_other_commands_answer_while_a_sheet_is_withheld(book: Path, issued: Kitchen) -> None:
    swap(book / "stores/dairy.yaml", "contains: [milk]", "contains: [milk, hazelnuts]")
    assert issued("weigh", "dark pebble")[0] == 0
    code, told, wrong = issued("label", "dark pebble")
    assert code == 0
    assert "hazelnuts" in told.lower()
    assert "the label of Dark pebble issued on 2026-11-25 does not hold any more" in " ".join(wrong.split())
    assert issued("label", "plain bar")[2] == ""


# --- kept or not, the same is said


def _nothing(_: Path) -> None:
    pass


def _allergen(book: Path) -> None:
    swap(book / "stores/dairy.yaml", "contains: [milk]", "contains: [milk, hazelnuts]")


def _allergen_back(book: Path) -> None:
    swap(book / "stores/dairy.yaml", "contains: [milk, hazelnuts]", "contains: [milk]")


def _legal_name(book: Path) -> None:
    swap(book / "creams/mousse.md", "code: QI-02", "code: QI-02\nsold as: dark chocolate cream")


def _weight(book: Path) -> None:
    swap(book / "bars/bar.md", "200 g caster sugar", "250 g caster sugar")


def _house(book: Path) -> None:
    swap(book / "house.yaml", "[sesame]", "[sesame, celery]")


def _title(book: Path) -> None:
    swap(book / "moulded/pebble.md", "title: Dark pebble", "title: Black pebble")


def _price(book: Path) -> None:
    swap(book / "stores/prices.csv", "42.00", "43.00")


def _retire(book: Path) -> None:
    swap(book / "bars/bar.md", "status: approved", "status: retired")


def _mistake(book: Path) -> None:
    swap(book / "bars/trial.md", "plain flour", "plane flour")


def _mended(book: Path) -> None:
    swap(book / "bars/trial.md", "plane flour", "plain flour")


def _issue(book: Path) -> None:
    main(["issue", "labels", "dark pebble", "plain bar", "--by", "Ada", "--book", str(book), "--on", "2026-11-27"])


def _line_lost(book: Path) -> None:
    path = book / "issued.csv"
    path.write_text("".join(path.read_text("utf-8").splitlines(keepends=True)[:-1]), "utf-8")


def _edited(book: Path) -> None:
    swap(book / "issued.csv", "WHEAT flour, sugar", "WHEAT flour, a little sugar")


def _edited_back(book: Path) -> None:
    swap(book / "issued.csv", "WHEAT flour, a little sugar", "WHEAT flour, sugar")


def _article(book: Path) -> None:
    swap(
        book / "stores/dry.yaml",
        "  made of:",
        '  articles: {"Millstone & Reed MR-3": {contains: [soybeans, milk], may contain: [eggs]}}\n  made of:',
    )


def _comment(book: Path) -> None:
    swap(book / "stores/dairy.yaml", "whipping cream:", "# a line more above\nwhipping cream:")


STEPS = [
    _nothing, _mistake, _mended, _edited, _nothing, _edited_back, _weight, _nothing, _price, _allergen, _nothing,
    _comment, _issue, _allergen_back, _legal_name, _house, _issue, _article, _title, _line_lost, _retire, _nothing,
]  # fmt: skip


def test_what_is_kept_says_the_same_as_a_fresh_look(book: Path, issued: Kitchen, tmp_path: Path) -> None:
    """Through a history of changes, each build with what is kept reports what `check`, which keeps nothing, does."""
    heard = set()
    for change in STEPS:
        change(book)
        code, _, wrong = issued("check", on="2026-11-27")
        built = issued("build", "--only", "record", "--out", str(tmp_path / "out"), on="2026-11-27")
        refused = "\nNothing was published; what was there before is untouched.\n"
        assert (built[0], built[2].removesuffix(refused)) == (code, wrong), change.__name__
        heard.add((code, "label-allergens" in wrong, "label-changed" in wrong))
    assert {(0, False, False), (0, False, True), (1, True, False), (1, False, False)} <= heard


@pytest.mark.usefixtures("issued")
def test_a_label_is_made_anew_only_where_it_may_say_something_else(
    book: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made: list[str] = []

    def noted(ref: RecipeRef, book: Book, figures: Figures) -> LabelFigure:
        made.append(ref.id)
        return label_of(ref, book, figures)

    monkeypatch.setattr("bookmaker.kitchen.label.label_of", noted)

    def build() -> list[str]:
        """As every build begins, whatever it publishes."""
        made.clear()
        (tmp_path / "out").mkdir(exist_ok=True)
        begun = Build(book, date(2026, 11, 25), tmp_path / "out", fresh=False, progress=Progress())
        begun.keep()
        return sorted(made)

    assert build() == ["bars/bar", "moulded/pebble"]
    for change in (_price, _comment):
        change(book)
        assert build() == []
    _weight(book)
    assert build() == ["bars/bar"]
    _legal_name(book)
    assert build() == ["moulded/pebble"]
    swap(book / "stores/prices.csv", "Millstone & Reed,MR-1,", "Millstone & Reed,MR-9,")
    assert build() == ["bars/bar"]
    swap(book / "stores/dry.yaml", "sugars: 100 g", "sugars: 99 g")
    assert build() == ["bars/bar", "moulded/pebble"]


@pytest.mark.slow
def test_watch_shows_the_alarm_over_pages_that_are_new_until_it_is_issued(book: Path, issued: Kitchen) -> None:
    command = [sys.executable, "-m", "bookmaker", "watch", str(book), "--only", "record", "--port", "0", *ON]
    environment = os.environ | {"PYTHONPATH": str(Path(__file__).parents[2]), "PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(
        command, cwd=book.parent, env=environment, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    ) as process:
        try:
            assert process.stdout is not None
            watch = Watch(process, book, process.stdout.readline().split()[0].removeprefix("http://").rstrip("/"))
            told = watch.standing() if watch.standing()["number"] else watch.next_after(0)
            assert told["problems"] == ""
            _allergen(book)
            shown = watch.next_after(int(str(told["number"])))
            assert "not named: hazelnuts" in " ".join(str(shown["problems"]).split())
            assert (shown["build"], shown["whole"]) == (int(str(told["build"])) + 1, True)
            assert issued("issue", "labels", "dark pebble")[0] == 0
            after = watch.next_after(int(str(shown["number"])))
            while after["problems"]:  # what moved in the folder on the way to the new register
                after = watch.next_after(int(str(after["number"])))
        finally:
            process.kill()


def test_the_site_knows_cards_by_the_codes_that_are_issued(book: Path, tmp_path: Path) -> None:
    """A recipe seen from another one is not all of it: what a card shows of a component must be there all the same."""
    on = date(2026, 11, 25)
    kept = KeptBook(book, on, Store(tmp_path, "tool"), tmp_path)
    projector = Projector(kept.desk, kept.bound, kept.figured, kept.contents.places())
    plain = read_book(book).book
    assert plain is not None
    cards = Cards(plain, compute(plain, on))
    for ref in with_cards(plain):
        bench = projector.pages(ref).bench
        assert bench is not None
        assert (code_of(bench), tuple(parts_of(bench).items())) == (cards.printed(ref).code, cards.printed(ref).parts)


@pytest.mark.pdf
def test_a_withheld_sheet_is_not_published_and_comes_back_when_it_is_issued(
    book: Path, issued: Kitchen, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    build = ["build", "--only", "sheets", "--out", str(out)]

    def published() -> set[str]:
        return {path.name for path in (out / "sheets").iterdir() if path.suffix in {".html", ".pdf"}}

    _allergen(book)
    assert issued(*build)[0] == 1
    assert published() == {"index.html", "all.pdf", "plain-bar.html", "plain-bar.pdf", "dark-pebble.html"}
    page = (out / "sheets/dark-pebble.html").read_text("utf-8")
    assert "This sheet is being revised" in page
    # neither the old allergens nor the new ones, before somebody has looked at them
    assert "hazelnut" not in page.lower()
    assert "milk" not in page.lower()
    assert "dark-pebble" not in (out / "sheets/index.html").read_text("utf-8")
    assert issued("issue", "labels", "dark pebble")[0] == 0
    assert issued(*build)[0] == 0
    assert "dark-pebble.pdf" in published()
    assert "hazelnuts" in (out / "sheets/dark-pebble.html").read_text("utf-8").lower()
