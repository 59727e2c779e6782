"""Reports that tell less, of fewer aircraft; a manifest from standard input; how often each rule found something."""

import json
import shutil
from pathlib import Path

import pytest
from making.program import DAY, run

ROOT = Path(__file__).parents[3]
CLUB = ROOT / "examples" / "club"
FORMATS = ("text", "json", "sarif", "junit", "markdown", "annotations", "lines")


def told(folder: Path, *options: object) -> dict[str, str]:
    """The club's report in every format."""
    into = {form: folder / form for form in FORMATS}
    run("inspect", CLUB, *DAY, *options, *(f"--report={form}={path}" for form, path in into.items()))
    return {form: path.read_text() for form, path in into.items()}


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    return told(tmp_path_factory.mktemp("whole"))


@pytest.fixture(scope="module")
def cautions(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    return told(tmp_path_factory.mktemp("cautions"), "--least", "caution")


@pytest.mark.parametrize("form", FORMATS)
def test_no_format_tells_notes_and_all_tell_that_they_are_left_out(
    form: str, whole: dict[str, str], cautions: dict[str, str]
) -> None:
    if form in ("json", "lines"):  # the others do not tell all, or describe each rule
        assert "matched-batch" in whole[form]  # a question that flight does not wait for
        assert "matched-batch" not in cautions[form]
    assert "notice" not in cautions["annotations"].partition("preflint: ")[0]
    assert "of less than caution" in cautions[form]
    assert "of less than caution" not in whole[form]


def test_results_are_errors_and_warnings_and_the_numbers_stay(whole: dict[str, str], cautions: dict[str, str]) -> None:
    run_before, run_after = (json.loads(made["sarif"])["runs"][0] for made in (whole, cautions))
    levels = [result["level"] for result in run_after["results"]]
    assert set(levels) == {"error", "warning"}
    assert levels == [r["level"] for r in run_before["results"] if r["level"] != "note"]
    assert run_after["properties"]["rules"] == run_before["properties"]["rules"]
    assert json.loads(cautions["json"])["counts"] == json.loads(whole["json"])["counts"]


def test_what_grounds_is_never_left_out() -> None:
    redshank = CLUB / "redshank.airframe.yaml"
    refused = run("inspect", redshank, *DAY, "--ground-at", "caution", "--least", "no-go")
    assert refused.returncode == 2
    assert "least no-go leaves out what grounds from caution on" in refused.stderr
    assert not refused.stdout
    unproven = run("inspect", redshank, *DAY, "--least", "no-go", "--report", "lines=-")
    assert unproven.returncode == 1
    assert "error: Redshank: not proven: the interference run" in unproven.stdout


def test_a_deferred_caution_is_a_note_and_goes_with_them(tmp_path: Path) -> None:
    shutil.copytree(CLUB, tmp_path / "club")
    file = tmp_path / "club/whimbrel.airframe.yaml"
    text = file.read_text()
    file.write_text(
        text + "\ndeferred_defects:\n  - {rule: retention/centring-ring, at: front-left, until: 2026-06-10, "
        "by: R. Ashdown, because: ring ordered}\n"
    )
    for least, places in (("advisory", 4), ("caution", 3)):
        report = json.loads(run("inspect", file, *DAY, "--least", least, "--format", "json").stdout)
        found = [one["at"] for one in report["aircraft"][0]["findings"] if one["rule"] == "retention/centring-ring"]
        assert len(found) == places


def test_aircraft_of_one_owner_or_verdict() -> None:
    few = [CLUB / f"{name}.airframe.yaml" for name in ("avocet", "curlew", "redshank", "siskin", "whimbrel")]
    one = run("inspect", *few, *DAY, "--owner", "r.  ASHDOWN", "--verdict", "no-go", "--detail", "none")
    assert one.returncode == 1
    assert one.stdout.splitlines()[0] == "NO-GO  Whimbrel, quad-x (whimbrel.airframe.yaml)"
    assert "Left out: " in one.stdout
    assert "Avocet" not in one.stdout
    # The exit code is that of all that was judged: a filter makes nothing fly.
    clear = run("inspect", *few, *DAY, "--verdict", "go", "--format", "json")
    assert clear.returncode == 1
    assert {one["verdict"] for one in json.loads(clear.stdout)["aircraft"]} == {"go"}
    nobody = run("inspect", *few, *DAY, "--owner", "Nobody At All", "--format", "json")
    assert (nobody.returncode, json.loads(nobody.stdout)["aircraft"]) == (1, [])


def test_how_often_each_rule_found_something() -> None:
    lines = run("inspect", CLUB, *DAY, "--statistics", "--detail", "none").stdout.splitlines()
    rows = lines[lines.index("BY RULE") + 1 :]
    rows = [row.split() for row in rows[: rows.index("")]]
    assert ["no-go", "power_sensing/voltage-scale:", "1", "aircraft"] in rows
    assert ["caution", "retention/centring-ring:", "1", "aircraft", "(4", "times)"] in rows
    assert max(map(len, lines)) <= 80


def test_a_manifest_from_standard_input_is_judged_where_it_would_stand(tmp_path: Path) -> None:
    shutil.copytree(CLUB, tmp_path / "club")
    file = tmp_path / "club/curlew.airframe.yaml"
    text = file.read_text()
    expected = run("inspect", file, *DAY, "--format", "json")
    file.unlink()  # it need not be on the disk
    given = run("inspect", "-", "--stdin-name", file, *DAY, "--format", "json", given=text)
    assert given.returncode == expected.returncode == 0
    assert given.stdout == expected.stdout


def test_standard_input_is_one_manifest_by_itself(tmp_path: Path) -> None:
    short = (CLUB / "knot.airframe.yaml").read_text()
    alone = run("inspect", "-", *DAY, "--detail", "none", given=short, cwd=tmp_path)
    assert (alone.returncode, alone.stdout.splitlines()[0]) == (1, "UNPROVEN  Knot, quad-x (stdin.airframe.yaml)")
    for arguments, said in (
        (("-", CLUB), "it goes with no other path"),
        ((CLUB, "--stdin-name", "x.airframe.yaml"), "write - in place of PATHS"),
        (("-", "--files-from", "names.txt"), "it goes with no other path"),
    ):
        refused = run("inspect", *arguments, *DAY, given=short, cwd=tmp_path)
        assert (refused.returncode, refused.stdout) == (2, "")
        assert said in " ".join(refused.stderr.split())


@pytest.mark.parametrize("given", ["", "a: [", "x" * 300_000, "preflint: 1\naircraft: \udcff\n"])
def test_nonsense_on_standard_input_is_not_judged(given: str, tmp_path: Path) -> None:
    refused = run("inspect", "-", *DAY, given=given, cwd=tmp_path)
    assert refused.returncode == 3
    assert "NOT READ" in refused.stdout
    assert "Traceback" not in refused.stdout + refused.stderr
