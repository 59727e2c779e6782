"""A folder is written whole or not at all, and takes the place of nothing but an earlier one of ours."""

import os
import stat
from pathlib import Path

import pytest
from making.program import run

from preflint.errors import OutputError
from preflint.render.folder import MARK, write_folder

FILES = {"index.html": "<p>é</p>\n", "a/one.html": "1", "a/b/two.bin": b"\xff\x00"}


def held(folder: Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def beside(folder: Path) -> list[str]:
    return sorted(p.name for p in folder.parent.iterdir())


def test_it_holds_what_was_given_and_a_mark(tmp_path: Path) -> None:
    write_folder(FILES, tmp_path / "site")
    found = held(tmp_path / "site")
    assert MARK in found
    del found[MARK]
    assert found == {"index.html": "<p>é</p>\n".encode(), "a/one.html": b"1", "a/b/two.bin": b"\xff\x00"}
    assert beside(tmp_path / "site") == ["site"]
    umask = os.umask(0)
    os.umask(umask)
    assert stat.S_IMODE((tmp_path / "site").stat().st_mode) == 0o777 & ~umask


def test_the_same_files_give_the_same_folder_whatever_their_order(tmp_path: Path) -> None:
    write_folder(FILES, tmp_path / "one")
    write_folder(dict(reversed(FILES.items())), tmp_path / "two")
    assert held(tmp_path / "one") == held(tmp_path / "two")


def test_an_earlier_one_is_replaced_whole(tmp_path: Path) -> None:
    write_folder(FILES, tmp_path / "site")
    write_folder({"index.html": "new"}, tmp_path / "site")
    assert sorted(held(tmp_path / "site")) == ["index.html", MARK]
    assert (tmp_path / "site/index.html").read_text() == "new"
    assert not (tmp_path / "site/a").exists()
    assert beside(tmp_path / "site") == ["site"]


def test_an_empty_folder_is_taken(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    write_folder(FILES, tmp_path / "site")
    assert (tmp_path / "site/index.html").exists()
    assert beside(tmp_path / "site") == ["site"]


def change(folder: Path, how: str) -> None:
    match how:
        case "a file more":
            (folder / "mine.txt").write_text("mine")
        case "a file more below":
            (folder / "a/mine.txt").write_text("mine")
        case "an empty folder":
            (folder / "mine").mkdir()
        case "a page changed":
            (folder / "index.html").write_text("mine")
        case "a page by a link":
            (folder / "a/one.html").rename(folder.parent / "elsewhere")
            (folder / "a/one.html").symlink_to(folder.parent / "elsewhere")
        case "a folder by a link":
            (folder / "a").rename(folder.parent / "elsewhere")
            (folder / "a").symlink_to(folder.parent / "elsewhere")
        case "no mark":
            (folder / MARK).unlink()
        case "a mark of nothing":
            (folder / MARK).write_text("[]")
        case "a mark that nests":
            (folder / MARK).write_text("[" * 100_000)


@pytest.mark.parametrize("how", [
    "a file more", "a file more below", "an empty folder", "a page changed", "a page by a link",
    "a folder by a link", "no mark", "a mark of nothing", "a mark that nests",
])  # fmt: skip
def test_a_folder_that_holds_anything_else_is_left_alone(tmp_path: Path, how: str) -> None:
    write_folder(FILES, tmp_path / "site")
    change(tmp_path / "site", how)
    before, names = held(tmp_path), beside(tmp_path / "site")
    with pytest.raises(OutputError, match=r"name (another|a new or an empty) "):
        write_folder({"index.html": "new"}, tmp_path / "site")
    assert (held(tmp_path), beside(tmp_path / "site")) == (before, names)


def test_no_file_no_link_and_no_missing_parent(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    write_folder(FILES, tmp_path / "real")
    (tmp_path / "link").symlink_to(tmp_path / "real")
    before = held(tmp_path)
    for name in ("file", "link"):
        with pytest.raises(OutputError, match="only a folder is written to"):
            write_folder(FILES, tmp_path / name)
    with pytest.raises(OutputError, match="could not be written: No such file"):
        write_folder(FILES, tmp_path / "none/site")
    assert held(tmp_path) == before


def test_what_fails_halfway_leaves_the_old_folder_and_nothing_beside_it(tmp_path: Path) -> None:
    write_folder(FILES, tmp_path / "site")
    before = held(tmp_path)
    with pytest.raises(OutputError, match="could not be written"):
        write_folder({"a": "a file", "a/b": "and a folder of the same name"}, tmp_path / "site")
    with pytest.raises(OutputError, match="could not be written: File name too long"):
        write_folder({"good.html": "1", "x" * 300: "2"}, tmp_path / "site")
    assert held(tmp_path) == before
    assert beside(tmp_path / "site") == ["site"]


@pytest.mark.parametrize("name", [
    "../x", "/x", "a/../../x", "a//b", "./x", "", "a\\b", "c:x", "a\0b", MARK,
])  # fmt: skip
def test_no_name_leads_out_of_it(tmp_path: Path, name: str) -> None:
    with pytest.raises(ValueError, match="is no name of a file inside the folder"):
        write_folder({name: "x"}, tmp_path / "site")
    assert list(tmp_path.iterdir()) == []


def test_the_catalogue_is_written_into_a_folder_and_a_folder_of_others_is_exit_code_4(tmp_path: Path) -> None:
    done = run("catalogue", "--html", "site", cwd=tmp_path)
    assert (done.returncode, done.stdout) == (0, "")
    assert "pages are written; open site/index.html in a browser" in done.stderr
    assert (tmp_path / "site/retention/nut-hand.html").is_file()
    (tmp_path / "site/mine.txt").write_text("mine")
    before = held(tmp_path)
    done = run("catalogue", "--html", "site", cwd=tmp_path)
    assert done.returncode == 4
    assert "site: mine.txt there was not written by preflint, or changed since; name another folder" in done.stderr
    done = run("catalogue", "retention", "--html", "other", cwd=tmp_path)
    assert done.returncode == 2
    assert "--html writes the pages of all rules; leave retention out" in done.stderr
    assert held(tmp_path) == before
