"""The sample rule module tested with the harness that the built-in one is tested with."""

import pytest

from preflint.api import Clear, Finding, Unproven
from preflint.testing import inspect_text, marked, outcome

AIRCRAFT = "preflint: 1\naircraft: {name: Trial, layout: quad-x, takeoff_mass_g: MASS}\n"


@pytest.mark.parametrize("mass", ["6999", "7000"])
def test_up_to_the_limit_it_is_clear(mass: str) -> None:
    inspected = inspect_text(AIRCRAFT.replace("MASS", mass), rules=["preflint_sample"])
    assert outcome(inspected, "club/mass-limit") == Clear(f"{mass} g, limit 7000 g")


def test_above_the_limit_it_is_found_at_the_number() -> None:
    manifest = AIRCRAFT.replace("MASS", "7001")
    found = outcome(inspect_text(manifest, rules=["preflint_sample"]), "club/mass-limit")
    assert isinstance(found, Finding)
    assert (found.message, marked(manifest, found.place)) == (
        "take-off mass 7001 g is above the club's 7000 g",
        "7001",
    )


def test_an_unweighed_aircraft_is_unproven() -> None:
    unknown = outcome(
        inspect_text(AIRCRAFT.replace(", takeoff_mass_g: MASS", ""), rules=["preflint_sample"]),
        "club/mass-limit",
    )
    assert isinstance(unknown, Unproven)
    assert (unknown.cause, unknown.do) == ("absent", "weigh it ready to fly, with its pack, unplugged")
