"""Which files of a folder belong to the book, and how they come in."""

from pathlib import Path

import pytest

from bookmaker.problems.anchors import Anchor
from bookmaker.reading import files
from bookmaker.reading.files import Folder, read_folder


def write(root: Path, **contents: str) -> Path:
    """Files by name, with `__` for a slash and `_` for a dot before the ending."""
    for key, text in contents.items():
        name, _, ending = key.replace("__", "/").rpartition("_")
        path = root / f"{name}.{ending}"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return root


def names(folder: Folder) -> list[str]:
    """All documents in order."""
    return [document.name for document in folder.documents]


def test_everything_has_its_place(tmp_path: Path) -> None:
    book = write(
        tmp_path, house_yaml="h", cautions_yaml="c", glossary_md="g", issued_csv="i", stores__dairy_yaml="d",
        stores__a_yaml="a", stores__prices_csv="p", orders__monday_yaml="o", breads__rye_md="r",
        breads__sour__levain_md="l", images__x_jpg="x", readme_md="no recipe", breads__notes_txt="n",
    )  # fmt: skip
    folder, problems = read_folder(book)
    assert problems == []
    assert names(folder) == [
        "house.yaml", "cautions.yaml", "glossary.md", "stores/prices.csv", "issued.csv", "stores/a.yaml",
        "stores/dairy.yaml", "orders/monday.yaml", "breads/rye.md", "breads/sour/levain.md",
    ]  # fmt: skip
    assert folder.other == {"images/x.jpg", "readme.md", "breads/notes.txt"}
    assert folder.house is not None
    assert folder.house.text == "h"


def test_dot_folders_and_the_output_folder_are_passed_over(tmp_path: Path) -> None:
    book = write(tmp_path, breads__a_md="a", build__team__b_md="b", build2__c_md="c")
    write(tmp_path / ".cache", breads__d_md="d")
    folder, _ = read_folder(book, output=tmp_path / "build")
    assert names(folder) == ["breads/a.md", "build2/c.md"]


def test_a_byte_order_mark_and_windows_line_ends_do_no_harm(tmp_path: Path) -> None:
    (tmp_path / "house.yaml").write_bytes(b"\xef\xbb\xbfformat: 1\r\nname: x\r\n")
    folder, problems = read_folder(tmp_path)
    assert problems == []
    assert folder.house is not None
    assert folder.house.text == "format: 1\nname: x\n"


def test_the_digest_is_of_the_bytes(tmp_path: Path) -> None:
    book = write(tmp_path, breads__a_md="same", breads__b_md="same", breads__c_md="other")
    one, two, three = read_folder(book)[0].recipes
    assert one.digest == two.digest != three.digest


def test_text_that_is_not_utf8_is_shown_but_not_read(tmp_path: Path) -> None:
    (tmp_path / "house.yaml").write_bytes("format: 1\r\nname: Café\r\n".encode("latin-1"))
    folder, problems = read_folder(tmp_path)
    assert folder.house is None
    assert [document.text for document in folder.unread] == ["format: 1\nname: Caf\ufffd\n"]
    assert [(each.code, each.anchor) for each in problems] == [("not-utf8", Anchor("house.yaml", (), 19, 20))]


def test_text_in_two_bytes_a_character_is_not_shown_as_rubbish(tmp_path: Path) -> None:
    (tmp_path / "house.yaml").write_bytes("format: 1\n".encode("utf-16"))
    folder, problems = read_folder(tmp_path)
    assert folder.unread == ()
    assert [each.code for each in problems] == ["not-utf8"]


def test_huge_files_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(files, "LARGEST", 10)
    folder, problems = read_folder(write(tmp_path, breads__a_md="x" * 11, breads__b_md="x" * 10))
    assert names(folder) == ["breads/b.md"]
    assert [each.code for each in problems] == ["too-large"]


def test_names_that_differ_in_capitals_only(tmp_path: Path) -> None:
    book = write(tmp_path, breads__Rye_md="a", breads__rye_md="b")
    if len(list((book / "breads").iterdir())) == 1:
        pytest.skip("this disk cannot tell them apart either")
    folder, problems = read_folder(book)
    assert names(folder) == ["breads/Rye.md"]
    assert [(each.code, each.anchor.document) for each in problems] == [("same-name", "breads/rye.md")]


@pytest.mark.parametrize(
    ("name", "fix"),
    [
        ("stores/dairy.yml", "rename it to dairy.yaml"),
        ("huose.yaml", "rename it to house.yaml"),
        ("flours.yaml", "move it into stores/ if it lists what the house buys"),
        ("stores/price.csv", "rename it to stores/prices.csv if it is the price list"),
        ("prices.csv", "rename it to stores/prices.csv if it is the price list"),
        ("stores/issued.csv", "the register lies beside house.yaml and is called issued.csv"),
        ("Issued.csv", "the register lies beside house.yaml and is called issued.csv"),
    ],
)
def test_files_that_are_passed_over_though_somebody_meant_them(tmp_path: Path, name: str, fix: str) -> None:
    path = tmp_path / name
    path.parent.mkdir(exist_ok=True)
    path.write_text("x", encoding="utf-8")
    folder, problems = read_folder(tmp_path)
    assert folder.documents == ()
    assert [(each.code, each.fix) for each in problems] == [("misplaced-file", fix)]


def test_a_folder_linked_into_itself_ends(tmp_path: Path) -> None:
    book = write(tmp_path, breads__a_md="a")
    try:
        (book / "breads" / "again").symlink_to(book, target_is_directory=True)
    except OSError:
        pytest.skip("no links on this disk")
    assert names(read_folder(book)[0]) == ["breads/a.md"]
