"""What a searched folder holds beside manifests: what was meant as one is told, unless the policy excludes it."""

import datetime as dt
import os
from pathlib import Path

import pytest
from making.manifests import opening

from preflint.cli.exits import exit_code
from preflint.errors import NotRead, UsageError
from preflint.findings.outcome import NO_GO
from preflint.findings.report import Report
from preflint.fleet.inspect import inspect_many

NEARLY = (
    "this is named nearly like a manifest and was not judged; name it as in kestrel.airframe.yaml, "
    "or name it under exclude in preflint.yaml"
)
LINK = "this is a link, which is not followed; inspect the file itself, or name it under exclude in preflint.yaml"


@pytest.fixture
def club(tmp_path: Path) -> Path:
    folder = tmp_path / "club"
    folder.mkdir()
    (folder / "wren.airframe.yaml").write_text(opening("Wren"))
    return folder


def inspected(*paths: Path, policy: Path | None = None) -> Report:
    return inspect_many(paths, judged_on=dt.date(2026, 5, 21), policy=policy)


def told(report: Report) -> list[tuple[str, str]]:
    return [(Path(error.file).name, error.problems[0].message) for error in report.not_read]


def policy(folder: Path, text: str) -> None:
    (folder / "preflint.yaml").write_text(f"preflint: 1\n{text}\n")


def test_what_is_named_nearly_like_a_manifest_is_not_judged_and_said(club: Path) -> None:
    (club / "old").mkdir()
    (club / "old" / "kite.airframe.yml").write_text(opening("Kite"))
    report = inspected(club)
    assert [one.aircraft.about.name.value for one in report.aircraft] == ["Wren"]
    assert told(report) == [("kite.airframe.yml", NEARLY)]
    assert exit_code(report, NO_GO) == 3


def test_it_is_told_beside_a_folder_without_any_manifest(club: Path) -> None:
    (club / "wren.airframe.yaml").rename(club / "Wren.Airframe.yaml")
    assert told(inspected(club)) == [
        ("club", "no file named *.airframe.yaml in this folder: nothing was judged"), ("Wren.Airframe.yaml", NEARLY)
    ]  # fmt: skip


def test_named_outright_it_is_taken_as_it_is(club: Path) -> None:
    (club / "kite.airframe.yml").write_text(opening("Kite"))
    report = inspected(club, club / "kite.airframe.yml")
    assert (len(report.aircraft), report.not_read) == (2, ())


def test_folders_that_two_paths_share_tell_it_once(club: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (club / "kite.airframe.yml").write_text(opening("Kite"))
    monkeypatch.chdir(club)
    assert len(inspected(Path("."), club, Path("../club")).not_read) == 1


@pytest.mark.parametrize(("name", "target"), [
    ("kite.airframe.yaml", "wren.airframe.yaml"),
    ("kite.airframe.yaml", "nowhere"),
    ("kite.airframe.yaml", "kite.airframe.yaml"),
    ("kite.airframe.yml", "nowhere"),
    ("today.yaml", "../far/kite.airframe.yaml"),
    ("today", "../far/kite.airframe.yml"),
    ("kite.airframe.yaml", "../far"),
])  # fmt: skip
def test_a_link_named_like_a_manifest_or_to_one_is_not_followed_and_said(club: Path, name: str, target: str) -> None:
    (club.parent / "far").mkdir()
    (club / name).symlink_to(target)
    assert told(inspected(club)) == [(name, LINK)]
    policy(club, f"exclude: [{name}]")
    assert told(inspected(club)) == []


def test_a_folder_named_like_a_manifest_is_said(club: Path) -> None:
    (club / "kite.airframe.yaml").mkdir()
    assert told(inspected(club)) == [("kite.airframe.yaml", "this is not a regular file")]


def test_a_programs_own_folder_holds_no_manifest_that_is_misnamed(club: Path) -> None:
    (club / ".git" / "refs").mkdir(parents=True)
    (club / ".git" / "refs" / "kite.airframe").write_text("0")
    (club / ".git" / "refs" / "wren.airframe.yaml").symlink_to("nowhere")
    (club / ".git" / "own.airframe.yaml").write_text(opening("Own"))
    report = inspected(club)
    assert (told(report), report.notes, len(report.aircraft)) == ([], (), 1)
    assert len(inspected(club / ".git" / "own.airframe.yaml").aircraft) == 1
    assert len(inspected(club / ".git").aircraft) == 1


@pytest.mark.parametrize("name", ["build", "dist", "venv", "node_modules", "__pycache__"])
def test_what_programs_make_is_not_searched_and_a_manifest_in_it_is_noted(club: Path, name: str) -> None:
    deep = club / "planes" / name / "deep"
    deep.mkdir(parents=True)
    (deep / "notes.txt").write_text("")
    (deep / ".cache").mkdir()
    (deep / ".cache" / "kite.airframe.yaml").write_text(opening("Kite"))
    assert inspected(club).notes == ()
    (deep / "kite.airframe.yaml").write_text(opening("Kite"))
    report = inspected(club)
    assert [one.aircraft.about.name.value for one in report.aircraft] == ["Wren"]
    (note,) = report.notes
    assert note.message.endswith(
        f"planes/{name} was not searched and holds kite.airframe.yaml; name the folder to have it judged"
    )
    assert exit_code(report, NO_GO) == 1  # Wren is unproven
    assert len(inspected(club, club / "planes" / name).aircraft) == 2
    (club / "wren.airframe.yaml").unlink()
    assert exit_code(inspected(club), NO_GO) == 3


@pytest.mark.parametrize(("pattern", "left"), [
    ("old/", ["Wren"]),
    ("far/old/", ["Wren"]),
    ("f*/", ["Wren"]),
    ("far/ol*/", ["Wren"]),
    ("deep/", ["Wren", "Rook"]),
    ("old/deep/", ["Wren", "Rook", "Kite"]),
    ("old", ["Wren", "Rook", "Kite"]),
    ("far/old/*", ["Wren", "Rook", "Kite"]),
])  # fmt: skip
def test_the_policy_names_folders_that_are_not_judged(club: Path, pattern: str, left: list[str]) -> None:
    (club / "far" / "old" / "deep").mkdir(parents=True)
    (club / "far" / "old" / "rook.airframe.yaml").write_text(opening("Rook"))
    (club / "far" / "old" / "deep" / "kite.airframe.yaml").write_text(opening("Kite"))
    (club / "far" / "old" / "deep" / "odd.airframe.yml").write_text(opening("Odd"))
    policy(club, f'exclude: ["{pattern}", "*.yml"]')
    report = inspected(club)
    assert sorted(one.aircraft.about.name.value for one in report.aircraft) == sorted(left)
    assert report.not_read == ()
    gone = 3 - len(left)
    said = [note.message for note in report.notes if "exclude" in note.message]
    assert said == ([f"{gone} manifest{'s' if gone > 1 else ''} not judged: exclude in preflint.yaml names the folder"]
                    if gone else [])  # fmt: skip
    # Named outright it is judged all the same.
    assert len(inspected(club / "far" / "old" / "deep" / "kite.airframe.yaml").aircraft) == 1


def test_what_is_misnamed_in_an_excluded_folder_is_excluded(club: Path) -> None:
    (club / "old").mkdir()
    (club / "old" / "kite.airframe.yml").write_text(opening("Kite"))
    policy(club, 'exclude: ["old/"]')
    assert told(inspected(club)) == []


def test_what_is_named_twice_and_is_not_there_is_one(club: Path) -> None:
    missing = club / "none.airframe.yaml"
    counts = inspected(club, missing, missing).counts
    assert (counts.manifests_seen, counts.manifests_assessed, counts.manifests_not_assessed) == (2, 1, 1)


def test_all_excluded_is_no_pass(club: Path) -> None:
    (club / "old").mkdir()
    (club / "wren.airframe.yaml").rename(club / "old" / "wren.airframe.yaml")
    policy(club, 'exclude: ["old/"]')
    report = inspected(club)
    assert (len(report.aircraft), exit_code(report, NO_GO)) == (0, 3)


@pytest.mark.parametrize(("pattern", "excluded"), [
    ("kite.airframe.yml", True),
    ("*.yml", True),
    ("*", True),
    ("k*.air*.y*l", True),
    ("old/*", True),
    ("old/deep/kite.airframe.yml", True),
    ("*/kite.*", True),
    ("deep/*", False),
    ("kite", False),
    ("*.ym", False),
    ("kite.airframe.yml*.yml", False),
    ("k*old*.yml", False),
    ("Kite*", False),
])  # fmt: skip
def test_the_policy_excludes_by_name_or_from_its_folder(club: Path, pattern: str, excluded: bool) -> None:
    (club / "old" / "deep").mkdir(parents=True)
    (club / "old" / "deep" / "kite.airframe.yml").write_text("")
    policy(club, f'exclude: ["{pattern}"]')
    for searched in (club, club / "old"):
        assert ("kite.airframe.yml" in dict(told(inspected(searched)))) is not excluded
    named = club.parent / "mine.yaml"
    (club / "preflint.yaml").rename(named)
    if "/" not in pattern:
        assert ("kite.airframe.yml" in dict(told(inspected(club, policy=named)))) is not excluded


def test_no_pattern_takes_long(club: Path) -> None:
    (club / f"{'a' * 200}.airframe.yml").write_text("")
    stars = ", ".join(f'"{"*a" * 99}{i}"' for i in range(100))
    policy(club, f"exclude: [{stars}]")
    assert len(told(inspected(club))) == 1


def test_what_is_excluded_is_never_a_manifest(club: Path) -> None:
    policy(club, 'exclude: ["*"]')
    assert [one.aircraft.about.name.value for one in inspected(club).aircraft] == ["Wren"]


@pytest.mark.parametrize("pattern", ["/old/*", "old\\\\*", ""])
def test_a_pattern_that_can_never_fit_is_wrong(club: Path, pattern: str) -> None:
    policy(club, f'exclude: ["{pattern}"]')
    with pytest.raises(UsageError, match=r"preflint.yaml:2:11: something such as old/\* is needed here"):
        inspected(club)


@pytest.mark.parametrize("name", ["Preflint.yaml", "preflint.yml", ".preflint.yaml", "PREFLINT.YAML"])
@pytest.mark.parametrize("kind", ["file", "folder", "dead link", "beside the right one"])
def test_a_policy_that_is_misnamed_stops_the_run(club: Path, name: str, kind: str) -> None:
    misnamed = club.parent / name
    if kind == "folder":
        misnamed.mkdir()
    elif kind == "dead link":
        misnamed.symlink_to("nowhere")
    else:
        misnamed.write_text("preflint: 1\nlimits: {arm_mm: 1}\n")
    if kind == "beside the right one":
        policy(club.parent, "")
    with pytest.raises(UsageError) as error:
        inspected(club)
    assert str(error.value) == (
        f"{misnamed}: this is named nearly like a club policy; name it preflint.yaml, or move it away"
    )
    mine = club / "mine.yaml"
    mine.write_text("preflint: 1\n")
    assert len(inspected(club, policy=mine).aircraft) == 1  # nothing else is looked for


def test_a_misnamed_policy_matters_only_where_one_is_looked_for(club: Path) -> None:
    (club / "below").mkdir()
    (club / "below" / "preflint.yml").write_text("")
    assert len(inspected(club).aircraft) == 1


def test_a_folder_above_that_cannot_be_listed_has_nothing_to_tell(club: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    listed = os.listdir

    def refusing(folder: Path) -> list[str]:
        if folder == club.parent:
            raise PermissionError(13, "x", str(folder))
        return listed(folder)

    monkeypatch.setattr(os, "listdir", refusing)
    assert len(inspected(club).aircraft) == 1


def test_one_bad_path_spares_the_others(club: Path) -> None:
    loop = club.parent / "loop"
    loop.symlink_to("loop")
    bad = {
        club / ("x" * 300): "the name is too long",
        club / ("x" * 300) / "y": "the name is too long",
        loop: "this is a link; name the file itself",
        loop / "kite.airframe.yaml": "it leads through a link",
        club / "a\0b": "this is no usable file name",
        club / "gone": "there is no such file or folder",
        club / "wren.airframe.yaml" / "below": "there is no such file",
    }
    report = inspected(*bad, club)
    assert len(report.aircraft) == 1
    assert {error.file: error.problems[0].message for error in report.not_read} == {
        str(path).replace("\0", "\\x00"): why for path, why in bad.items()
    }
    assert exit_code(report, NO_GO) == 3


def test_a_policy_that_cannot_be_seen_keeps_back_its_own_aircraft_alone(
    club: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = club / "other"
    other.mkdir()
    (other / "kite.airframe.yaml").write_text(opening("Kite"))
    seen = os.lstat

    def failing(path: Path) -> os.stat_result:
        if path == other / "preflint.yaml":
            raise OSError(5, "x")
        return seen(path)

    monkeypatch.setattr(os, "lstat", failing)
    report = inspected(club)
    assert [one.aircraft.about.name.value for one in report.aircraft] == ["Wren"]
    assert told(report) == [(
        "kite.airframe.yaml",
        f"whether {other} holds preflint.yaml is not to be seen: the system could not read it (EIO)",
    )]  # fmt: skip
    assert isinstance(report.not_read[0], NotRead)
