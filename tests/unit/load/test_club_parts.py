"""A folder for each member, and parts of the club's beside its policy."""

from pathlib import Path

import pytest
from making.folders import inspected, manifest, missed, write

from preflint.aircraft.field import Known


@pytest.fixture
def club(tmp_path: Path) -> Path:
    write(tmp_path / "parts/big.yaml", "shaft_mm: 4.0\n")
    manifest(tmp_path / "members/rowe", "heron", "every_rotor: {motor: /parts/big.yaml}")
    return tmp_path


def test_a_member_fits_the_clubs_motor(club: Path) -> None:
    write(club / "preflint.yaml", "preflint: 1\n")
    report = inspected(club)
    (one,) = report.aircraft
    shafts = {r.motor.shaft_mm.value for r in one.aircraft.rotors if isinstance(r.motor.shaft_mm, Known)}
    places = {r.motor.shaft_mm.place.file for r in one.aircraft.rotors}
    assert (shafts, places) == ({4.0}, {"parts/big.yaml"})
    assert "parts/big.yaml" in one.files
    assert report.notes == ()  # it is used
    assert len(inspected(club, changed=[club / "parts/big.yaml"]).aircraft) == 1


def test_without_a_policy_nobody_knows_from_where(club: Path) -> None:
    (said,) = missed(inspected(club)).values()
    assert said == (
        '"/parts/big.yaml" begins with a slash, which is the folder of preflint.yaml, and there is none above this '
        "file; name the file relative to the file that refers to it"
    )
