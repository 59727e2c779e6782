"""A sheet's folder: whole or not at all, and never over what is no sheet."""

import os
from pathlib import Path

import pytest

from preflint import PreflintError
from preflint.errors import OutputError
from preflint.interface import UsageError, write_sheets
from preflint.render.folder import MARK


def files(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.fixture
def made(judge, report, dotterel):
    return report(judge(dotterel))


def test_an_older_sheet_makes_way_whole(made, report, tmp_path: Path) -> None:
    folder = tmp_path / "sheet"
    write_sheets(made, folder)
    first = files(folder)
    assert set(first) == {"index.html", "letters.html", "trial.html", MARK}
    write_sheets(report(), folder)
    assert set(files(folder)) == {"index.html", "letters.html", MARK}
    write_sheets(made, folder)
    assert files(folder) == first
    assert [path.name for path in tmp_path.iterdir() if path.name.startswith(".")] == []


def test_an_empty_folder_is_filled(made, tmp_path: Path) -> None:
    (tmp_path / "sheet").mkdir()
    write_sheets(made, tmp_path / "sheet")
    assert "index.html" in files(tmp_path / "sheet")


@pytest.mark.parametrize("other", ["notes.txt", "index.html", "deeper/x.html"])
def test_anything_else_stays(made, tmp_path: Path, other: str) -> None:
    folder = tmp_path / "sheet"
    write_sheets(made, folder)
    (folder / other).parent.mkdir(exist_ok=True)
    (folder / other).write_text("mine")
    before = files(folder)
    with pytest.raises(OutputError, match="there was not written by preflint, or changed since"):
        write_sheets(made, folder)
    assert files(folder) == before


def test_not_through_a_link(made, tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "real")
    with pytest.raises(OutputError, match="not a file, link or device"):
        write_sheets(made, tmp_path / "link")
    write_sheets(made, tmp_path / "sheet")
    os.unlink(tmp_path / "sheet" / "trial.html")
    (tmp_path / "sheet" / "trial.html").symlink_to(tmp_path / "sheet" / "index.html")
    with pytest.raises(OutputError, match=r"trial\.html there was not written"):
        write_sheets(made, tmp_path / "sheet")
    assert list((tmp_path / "real").iterdir()) == []


@pytest.mark.parametrize("where", ["file", "nowhere/sheet", "file/sheet"])
def test_where_no_folder_can_be_nothing_is_left(made, tmp_path: Path, where: str) -> None:
    (tmp_path / "file").write_text("mine")
    before = files(tmp_path)
    with pytest.raises(PreflintError):
        write_sheets(made, tmp_path / where)
    assert files(tmp_path) == before


def test_a_missing_extra_is_named(made, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from preflint.render.sheet import environment

    monkeypatch.setitem(__import__("sys").modules, "markupsafe", None)
    environment._environment.cache_clear()
    with pytest.raises(UsageError, match=r"pip install 'preflint\[sheet\]'"):
        write_sheets(made, tmp_path / "sheet")
    assert not (tmp_path / "sheet").exists()
