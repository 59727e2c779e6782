"""A manifest is written whole or not at all, and only over what was read."""

from pathlib import Path

import pytest

from preflint.errors import OutputError
from preflint.load.tree import Tree
from preflint.writing.save import save

BEFORE, AFTER = b"preflint: 1\n", b"preflint: 1\n# more\n"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "fleet" / "one.airframe.yaml"
    path.parent.mkdir()
    path.write_bytes(BEFORE)
    return path


def saved(file: Path, before: bytes = BEFORE) -> None:
    save(Tree(file.parent.parent, None), "fleet/one.airframe.yaml", before, AFTER)


def test_it_is_written_and_nothing_else_is_left(file: Path) -> None:
    file.chmod(0o604)
    saved(file)
    assert file.read_bytes() == AFTER
    assert file.stat().st_mode & 0o777 == 0o604
    assert list(file.parent.iterdir()) == [file]


def refused(file: Path, why: str, before: bytes = BEFORE) -> None:
    held = file.read_bytes() if file.exists() else None
    beside = sorted(file.parent.iterdir())
    with pytest.raises(OutputError, match=f"nothing was written: .*{why}"):
        saved(file, before)
    assert (file.read_bytes() if file.exists() else None) == held
    assert sorted(file.parent.iterdir()) == beside


def test_another_text_than_was_read_is_kept(file: Path) -> None:
    refused(file, "changed meanwhile", b"preflint: 1")


def test_a_protected_file_is_kept(file: Path) -> None:
    file.chmod(0o400)
    refused(file, "protected against writing")


def test_a_link_is_not_replaced(file: Path) -> None:
    other = file.with_name("other.yaml")
    file.rename(other)
    file.symlink_to(other)
    refused(file, "a link or no regular file")
    assert file.is_symlink()


def test_a_folder_that_became_a_link_leads_nowhere(file: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    """The file behind the link is as it was, and nothing is laid beside it."""
    elsewhere = tmp_path_factory.mktemp("elsewhere") / "fleet"
    file.parent.rename(elsewhere)
    file.parent.symlink_to(elsewhere)
    refused(file, "link")


def test_a_file_that_is_gone_is_not_made(file: Path) -> None:
    file.unlink()
    refused(file, "No such file")


def test_a_tree_with_a_text_that_is_not_on_the_disk(file: Path) -> None:
    beside = file.with_name("site.yaml")
    beside.write_bytes(b"name: Hill\n")
    tree = Tree(file.parent.parent, None, unsaved={"fleet/one.airframe.yaml": AFTER})
    assert tree.read("fleet/one.airframe.yaml", 100) == AFTER
    assert tree.read("fleet/site.yaml", 100) == b"name: Hill\n"
    assert file.read_bytes() == BEFORE
