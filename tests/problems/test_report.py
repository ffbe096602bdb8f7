"""The report for people, letter by letter, and the one for machines."""

from bookmaker.problems.anchors import Anchor, SourceMap
from bookmaker.problems.problem import Problem, Related, problem
from bookmaker.problems.report import columns, json_report, text_report

TEXT = "title: Rührkuchen\nformula:\n  - 480 g plian flour\n  - 全卵 60 g whole egg\n\tx: y\n"
SPANS = {
    (): (0, len(TEXT)),
    ("title",): (7, 17),
    ("formula", 0): (31, 48),
    ("formula", 1): (53, 69),
}
SOURCES = {"cakes/rühr.md": SourceMap("cakes/rühr.md", TEXT, SPANS)}
LINE = Anchor("cakes/rühr.md", ("formula", 0))
EGG = Anchor("cakes/rühr.md", ("formula", 1))


def _unknown(anchor: Anchor, fix: str = "", related: tuple[Related, ...] = ()) -> Problem:
    return problem("price-without-item", anchor, name="plian flour", fix=fix, related=related)


def test_a_problem_shows_its_line_with_carets_under_the_part_that_is_wrong() -> None:
    report = text_report([_unknown(LINE.part(6, 17), "did you mean 'plain flour'?")], SOURCES)
    assert report == (
        "cakes/rühr.md:3:11: error[price-without-item]: nothing in the stores is called\n"
        "  'plian flour'\n"
        "    3 |   - 480 g plian flour\n"
        "      |           ^^^^^^^^^^^\n"
        "  did you mean 'plain flour'?\n"
        "\n"
        "1 error in 1 file.\n"
    )


def test_wide_characters_take_two_columns() -> None:
    report = text_report([_unknown(EGG.part(3, 7)), _unknown(EGG.part(0, 2))], SOURCES)
    assert report == (
        "cakes/rühr.md:4:5: error[price-without-item]: nothing in the stores is called\n"
        "  'plian flour'\n"
        "    4 |   - 全卵 60 g whole egg\n"
        "      |     ^^^^\n"
        "  fix: add it to a file in stores/, or correct the name\n"
        "\n"
        "cakes/rühr.md:4:8: error[price-without-item]: nothing in the stores is called\n"
        "  'plian flour'\n"
        "    4 |   - 全卵 60 g whole egg\n"
        "      |          ^^^^\n"
        "  fix: add it to a file in stores/, or correct the name\n"
        "\n"
        "2 errors in 1 file.\n"
    )


def test_columns() -> None:
    assert [columns(text) for text in ("abc", "全卵", "e\u0301", "½", "\u200b")] == [3, 4, 1, 1, 0]


def test_related_places_and_files_that_could_not_be_read() -> None:
    gone = Anchor("b.md")
    report = text_report(
        [
            _unknown(gone, "look.", (Related(LINE, "the first one"), Related(gone, "the other"))),
        ],
        SOURCES,
    )
    assert report == (
        "b.md: error[price-without-item]: nothing in the stores is called 'plian flour'\n"
        "  fix: look.\n"
        "  see: cakes/rühr.md:3:5 (the first one)\n"
        "  see: b.md (the other)\n"
        "\n"
        "1 error in 1 file.\n"
    )


def test_problems_come_by_file_and_place_once_each_with_a_count() -> None:
    warning = problem("unknown-supplier", Anchor("a.yaml"), name="Nobody")
    report = text_report([_unknown(EGG), _unknown(LINE), warning, _unknown(LINE)], SOURCES)
    heads = [line.rpartition(": error")[0] for line in report.splitlines() if "error[" in line]
    assert report.startswith("a.yaml: warning[unknown-supplier]")
    assert heads == ["cakes/rühr.md:3:5", "cakes/rühr.md:4:5"]
    assert report.endswith("\n2 errors and 1 warning in 2 files.\n")


def test_a_long_line_is_cut_around_the_place() -> None:
    text = "a" * 100 + " here " + "b" * 100
    sources = {"x": SourceMap("x", text, {(): (0, len(text))})}
    shown = text_report([_unknown(Anchor("x", (), 101, 105))], sources).splitlines()
    line, carets = shown[2], shown[3]
    assert len(line) <= 80
    assert line[8] == line[-1] == "…"
    assert line[carets.index("^") : carets.rindex("^") + 1] == "here"


def test_nothing_wrong_nothing_said() -> None:
    assert text_report([], SOURCES) == ""
    assert json_report([], SOURCES) == []


def test_no_line_is_wider_than_asked_unless_a_word_is() -> None:
    report = text_report([_unknown(LINE, "word " * 40)], SOURCES, width=60)
    assert max(len(line) for line in report.splitlines()) <= 60


def test_colour_adds_nothing_but_colour() -> None:
    coloured = text_report([_unknown(LINE)], SOURCES, colour=True)
    plain = text_report([_unknown(LINE)], SOURCES)
    assert coloured != plain
    bare = coloured
    for code in ("\x1b[1;31m", "\x1b[1m", "\x1b[2m", "\x1b[0m"):
        bare = bare.replace(code, "")
    assert bare == plain


def test_json_has_places_and_advice() -> None:
    found = json_report(
        [_unknown(LINE.part(6, 17), "did you mean 'plain flour'?", (Related(Anchor("b.md"), "there"),))], SOURCES
    )
    assert found == [
        {
            "code": "price-without-item",
            "severity": "error",
            "stops publishing": True,
            "file": "cakes/rühr.md",
            "line": 3,
            "column": 11,
            "end column": 22,
            "message": "nothing in the stores is called 'plian flour'",
            "fix": "did you mean 'plain flour'?",
            "related": [{"file": "b.md", "line": None, "column": None, "end column": None, "note": "there"}],
        }
    ]
