"""A folder that cannot be listed: whether it holds a misnamed policy is then not known, and nothing is judged."""

from pathlib import Path

import pytest

from preflint.errors import NotRead, UsageError
from preflint.policy.source import refuse_misnamed


def test_a_folder_that_the_system_fails_to_list_is_told(tmp_path: Path) -> None:
    loop = tmp_path / "loop"
    loop.symlink_to(loop)  # "too many levels of symbolic links"
    with pytest.raises(NotRead) as told:
        refuse_misnamed([loop])
    assert "whether this folder holds a misnamed preflint.yaml is not to be seen" in told.value.problems[0].message


def test_a_folder_that_is_none_or_not_there_has_no_policy(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    refuse_misnamed([tmp_path / "gone", tmp_path / "file", tmp_path])
    (tmp_path / "preflint.yml").write_text("preflint: 1\n")
    with pytest.raises(UsageError, match="this is named nearly like a club policy"):
        refuse_misnamed([tmp_path / "gone", tmp_path])
