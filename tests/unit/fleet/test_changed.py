"""Which aircraft a list of changed files concerns, and lists that cannot be meant."""

import shutil
from pathlib import Path
from typing import Any

import pytest
from making.folders import inspected, missed, names, said, write

from preflint.cli.exits import exit_code
from preflint.errors import NotRead
from preflint.findings.outcome import NO_GO
from preflint.fleet.changed import read_names


@pytest.mark.parametrize(("changed", "judged"), [
    (["parts/big.yaml"], ["One", "Two"]),
    (["sites/near.yaml"], ["One", "Two"]),
    (["logs/run.csv"], ["Three"]),
    (["two.airframe.yaml"], ["Two"]),
    (["preflint.yaml"], ["One", "Three", "Two"]),
    (["sites/far.yaml"], ["One", "Three", "Two"]),
    (["two.airframe.yaml", "logs/run.csv"], ["Three", "Two"]),
])
def test_every_aircraft_that_uses_a_changed_file_is_judged(club: Path, changed: list[str], judged: list[str]) -> None:
    report = inspected(club, changed=[club / name for name in changed])
    assert (names(report), said(report), report.spared) == (judged, [], False)


def test_a_name_that_no_aircraft_uses_is_said(club: Path) -> None:
    report = inspected(club, changed=[club / "README.md"])
    assert (names(report), report.spared) == ([], True)
    assert said(report) == [f"{club}/README.md changed, and no aircraft here uses it"]


def test_a_part_that_is_gone_concerns_those_that_name_it(club: Path) -> None:
    (club / "parts/big.yaml").unlink()
    report = inspected(club, changed=[club / "parts/big.yaml"])
    assert [error.file for error in report.not_read] == ["one.airframe.yaml", "two.airframe.yaml"]


def test_a_policy_that_is_gone_concerns_all_below_it(club: Path) -> None:
    (club / "preflint.yaml").unlink()
    assert names(inspected(club, changed=[club / "preflint.yaml"])) == ["One", "Three", "Two"]


def test_a_manifest_that_cannot_be_read_may_use_any_shared_file(club: Path) -> None:
    write(club / "broken.airframe.yaml", "a: [1, 2")
    assert [error.file for error in inspected(club, changed=[club / "logs/run.csv"]).not_read] == [
        "broken.airframe.yaml"
    ]
    assert inspected(club, changed=[club / "one.airframe.yaml"]).not_read == ()


def test_the_policy_named_by_the_user_counts_as_used(club: Path, tmp_path: Path) -> None:
    strict = tmp_path / "strict.yaml"
    write(strict, "preflint: 1\nlimits: {arm_mm: 100}\n")
    report = inspected(club, changed=[strict], policy=strict)
    assert names(report) == ["One", "Three", "Two"]
    assert report.policy
    assert report.policy.startswith("strict.yaml sha256:")
    assert {"club/arm-length"} == {r.rule.id for one in report.aircraft for r in one.results if r.rule.topic == "club"}


@pytest.mark.parametrize(("data", "read"), [
    (b"a.yaml\nb c.yaml\r\n\n", ["a.yaml", "b c.yaml"]),
    (b"a\nb\0c\0", ["a\nb", "c"]),
    (b"\xff.yaml\n", ["\udcff.yaml"]),
])
def test_names_by_line_and_by_nul(data: bytes, read: list[str]) -> None:
    assert read_names(data, "-") == [Path(name) for name in read]


@pytest.mark.parametrize(
    ("data", "why"), [(b"", "empty"), (b"\n\n", "empty"), (b"\0", "empty"), (b'"caf\\303\\251.yaml"\n', "in quotes")]
)
def test_lists_that_are_no_lists(data: bytes, why: str) -> None:
    with pytest.raises(NotRead, match=why):
        read_names(data, "-")


NO_FOLDER = (
    "name changed files from the current folder: there is no such folder; where it was removed, inspect without a list"
)
OUTSIDE = "name changed files from the current folder: it is not in what is inspected"


def test_names_made_in_another_folder_spare_nobody_in_silence(club: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(club)  # a list of names as from the folder above
    report = inspected(Path("."), changed=[Path("club/one.airframe.yaml"), Path("README.md")])
    assert missed(report) == {"club/one.airframe.yaml": NO_FOLDER}
    assert said(report) == ["README.md changed, and no aircraft here uses it"]
    assert exit_code(report, NO_GO) == 3


def test_names_outside_what_is_inspected_miss(club: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    tools = tmp_path.parent / f"{tmp_path.name}-tools"
    tools.mkdir()
    (tools / "notes.txt").write_text("")
    monkeypatch.chdir(tools)  # a list of names as from the club
    report = inspected(club, changed=[Path("one.airframe.yaml"), Path("notes.txt")])
    assert missed(report) == {"notes.txt": OUTSIDE, "one.airframe.yaml": OUTSIDE}
    report = inspected(club, changed=[club / "one.airframe.yaml", Path("notes.txt"), Path("gone.txt")])
    assert (names(report), missed(report)) == (["One"], {"gone.txt": OUTSIDE})
    assert said(report) == ["notes.txt changed, and no aircraft here uses it"]


def test_a_removed_file_is_no_miss_and_a_removed_folder_that_is_used_neither(club: Path) -> None:
    shutil.rmtree(club / "parts")
    (club / "sites" / "near.yaml").unlink()
    report = inspected(club, changed=[club / "parts/big.yaml", club / "sites/old.yaml"])
    assert set(missed(report)) == {"one.airframe.yaml", "two.airframe.yaml"}
    assert said(report) == [f"{club}/sites/old.yaml changed, and no aircraft here uses it"]


def test_one_bad_name_in_a_list_spares_the_others(club: Path) -> None:
    (club / "loop").symlink_to("loop")
    bad = {
        club / "loop" / "x.yaml": "it leads through a link",
        club / ("x" * 300): "the name is too long",
        club / "a\0b": "this is no usable file name",
    }
    report = inspected(club, changed=[*bad, club / "one.airframe.yaml"])
    assert names(report) == ["One"]
    assert missed(report) == {str(path).replace("\0", "\\x00"): why for path, why in bad.items()}


def test_memory_that_ends_while_names_are_compared_leaves_the_manifest_concerned(
    club: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(*_: Any) -> None:
        raise MemoryError

    monkeypatch.setattr("preflint.fleet.changed.load_yaml", failing)
    assert len(names(inspected(club, changed=[club / "logs/run.csv"]))) == 3
