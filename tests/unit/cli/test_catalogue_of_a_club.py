"""The catalogue with a club's own rules, and the tool's own ids in it."""

from pathlib import Path

import pytest
from making.manifests import CLUB
from making.program import run

from preflint.render.sarif_rules import OWN

POLICY = """\
preflint: 1
limits: {takeoff_mass_g: 3000}
deferrals: forbidden
needed_for_flight: [retention/bell-pull]
rules:
  - id: club/owner-named
    severity: caution
    message: nobody is named
    remedy: write whose it is under aircraft.owner
    precaution: None.
    needs: {properties: {aircraft: {required: [owner]}}}
"""


@pytest.fixture
def club(tmp_path: Path) -> Path:
    (tmp_path / "preflint.yaml").write_text(POLICY)
    (tmp_path / "far").mkdir()
    (tmp_path / "a.airframe.yaml").write_text("preflint: 1\naircraft: {name: Heron, layout: quad-x}\n")
    return tmp_path


def test_in_a_clubs_folder_its_rules_stand_with_the_others(club: Path) -> None:
    for where in (club, club / "far"):
        told = run("catalogue", cwd=where).stdout
        assert "\nclub\n" in told
        rows = told[told.index("\nclub\n") :].splitlines()[2:5]
        assert [row.split()[:3] for row in rows] == [
            ["no-deferrals", "advisory", "Is"], ["owner-named", "caution", "nobody"], ["*", "takeoff-mass", "no-go"],
        ]  # fmt: skip
    page = run("catalogue", "club/owner-named", cwd=club).stdout
    assert "Where it does not: write whose it is under aircraft.owner" in " ".join(page.split())
    assert "Source: club policy, preflint.yaml line 11" in page
    assert "needed for flight" in run("catalogue", "retention", cwd=club).stdout.partition("retention/bells")[0]


def test_a_clubs_words_reach_no_terminal_as_a_command(club: Path) -> None:
    text = POLICY.replace("nobody is named", '"nobody \\e[31mis named"')
    (club / "preflint.yaml").write_text(text)
    told = run("catalogue", "club", cwd=club)
    assert told.returncode == 2
    assert "\x1b" not in told.stdout + told.stderr


def test_elsewhere_the_policy_is_named(club: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    elsewhere = tmp_path_factory.mktemp("elsewhere")
    assert run("catalogue", "club", cwd=elsewhere).returncode == 2
    named = run("catalogue", "club", "--policy", club / "preflint.yaml", cwd=elsewhere)
    assert named.returncode == 0
    assert "club/takeoff-mass  (no-go, needed for flight)" in named.stdout
    other = run("catalogue", "club", "--policy", CLUB / "preflint.yaml", cwd=club).stdout
    assert "club/meadow-packs" in other
    assert "club/no-deferrals" not in other
    assert run("catalogue", "--policy", elsewhere / "none.yaml").returncode == 2


def test_a_wrong_policy_is_told(club: Path) -> None:
    (club / "preflint.yaml").write_text("preflint: 1\nlimit: 1\n")
    told = run("catalogue", cwd=club)
    assert (told.returncode, told.stdout) == (2, "")
    assert "preflint.yaml:2:1" in told.stderr


@pytest.mark.parametrize("id", [row[0] for row in OWN])
def test_the_tools_own_ids_have_a_page(id: str, tmp_path: Path) -> None:
    page = run("catalogue", id, cwd=tmp_path)
    assert (page.returncode, page.stdout.splitlines()[0]) == (0, id)
    assert "This is no rule" in page.stdout
    assert f"\n{id}\n" in "\n" + run("catalogue", "preflint", cwd=tmp_path).stdout
    assert max(map(len, page.stdout.splitlines())) <= 80


def test_a_clubs_remedy_is_what_to_do(club: Path) -> None:
    told = run("inspect", club / "a.airframe.yaml", "--as-of", "2026-05-21", "--detail", "full").stdout
    assert "write whose it is under aircraft.owner" in " ".join(told.split())
    assert "put right what club/owner-named asks" not in told
