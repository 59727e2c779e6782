"""What is said of a file that is not there: where it is named, and what lies in its folder."""

# ruff: noqa: E501 - a row of a table of cases stays on one line
from pathlib import Path

import pytest

from preflint.errors import NotRead
from preflint.load.tree import Tree
from preflint.places import Place

NO_FILE = "there is no such file"


@pytest.fixture
def club(tmp_path: Path) -> Path:
    folder = tmp_path / "club"
    folder.mkdir()
    (folder / "preflint.yaml").write_text("preflint: 1\n")
    return folder


def test_a_missing_side_file_is_named_at_the_place_that_refers_to_it(club: Path) -> None:
    place = Place("fleet/kite.airframe.yaml", 3, 7, 3, 19, "/site")
    with pytest.raises(NotRead) as refused:
        Tree(club, None).read("sites/gone.yaml", 9, place)
    assert refused.value.file == "sites/gone.yaml"
    assert [(p.message, p.place) for p in refused.value.problems] == [(f"sites/gone.yaml: {NO_FILE}, and no folder sites", place)]


def test_of_a_missing_file_the_likeliest_of_its_folder_are_named(club: Path) -> None:
    (club / "parts").mkdir()
    tree = Tree(club, None)

    def said() -> str:
        with pytest.raises(NotRead) as refused:
            tree.read("parts/motr-4010.yaml", 9)
        return refused.value.problems[0].message

    assert said() == f"{NO_FILE}, nor another .yaml file in its folder"
    for name in ("esc-40.yaml", "motor-4014.yaml", "motor-4010.yaml", "motor-4010.csv", "motor\x1b.yaml", "a.yaml", "b.yaml"):
        (club / "parts" / name).touch()
    assert said() == f"{NO_FILE}; its folder has motor-4010.yaml, motor-4014.yaml, motor\\x1b.yaml, esc-40.yaml and 2 more"


def test_a_folder_behind_a_link_is_not_listed(club: Path, tmp_path: Path) -> None:
    (tmp_path / "elsewhere").mkdir()
    (tmp_path / "elsewhere" / "secret.yaml").touch()
    (club / "parts").symlink_to(tmp_path / "elsewhere")
    with pytest.raises(NotRead) as refused:
        Tree(club, None).read("parts/motor.yaml", 9)
    assert "secret" not in str(refused.value)
