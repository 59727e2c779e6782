"""Every single fault, seeded into an aircraft that has none, is found where it stands.

Into three of the seven, others for each fault; with PREFLINT_FULL=1 in the environment into all that can have it.
"""

import re
from functools import cache

import pytest
from making import kinds_asked_for, one_screen
from making.full import FULL
from making.manifests import CLUB, FILES, GO
from making.seeded import Fault
from making.seeded_faults import FAULTS

from preflint.api import Finding, Unproven
from preflint.testing import findings, inspect_text, open_questions


@cache
def of_the_club(name: str) -> str:
    return (CLUB / f"{name}.airframe.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", GO)
def test_the_untouched_aircraft_gives_nothing(name: str) -> None:
    inspected = inspect_text(of_the_club(name), files=FILES)
    assert (inspected.verdict, findings(inspected), open_questions(inspected)) == ("go", [], [])


def fitting(turn: int, fault: Fault) -> list[str]:
    """The aircraft that can have the fault; of each fault another is tried first."""
    return [name for name in (*GO[turn:], *GO[:turn]) if fault.seed(of_the_club(name))]


SEEDED = [
    pytest.param(fault, name, FULL or number == 0, id=f"{fault.name.replace(' ', '-')}-{name}")
    for turn, fault in enumerate(FAULTS)
    for number, name in enumerate(fitting(turn % len(GO), fault)[: None if FULL else 3])
]


@pytest.mark.parametrize(("fault", "name", "on_screen"), SEEDED)
def test_a_seeded_fault_is_found(fault: Fault, name: str, on_screen: bool) -> None:
    fault_made = fault.seed(of_the_club(name))
    assert fault_made
    inspected = inspect_text(fault_made.text, files=FILES)
    # What holds of any aircraft is looked at here, too, while this one is at hand.
    kinds_asked_for.check(inspected)
    if on_screen:
        one_screen.check(inspected)
    rule, kind = fault.rule.removesuffix("?"), Unproven if fault.rule.endswith("?") else Finding
    if "nut of the wrong hand" in fault.name and "diameter_in: 10," in fault_made.text:
        rule = "retention/nut-hand-locknut"  # its new locknut holds up to there: a caution
    matching = [r for r in inspected.results if r.rule.id == rule and isinstance(r.outcome, kind)]
    if fault.name == "rig looked at before the inverted run" and "route: inverted-load" not in fault_made.text:
        assert matching == []  # nothing was ever loaded upside down: the look is not needed
        return
    assert matching, [(r.rule.id, r.at) for r in inspected.results if isinstance(r.outcome, (Finding, Unproven))]
    here = next((r for r in matching if fault_made.at in (None, r.at) or r.at is None), None)
    assert here, (fault_made.at, [r.at for r in matching])
    assert isinstance(here.outcome, (Finding, Unproven))
    place = here.outcome.place
    if fault_made.mark:
        marked = [i for i, line in enumerate(fault_made.text.split("\n"), start=1) if fault_made.mark in line]
        assert place.line in marked, (place, marked)
    if isinstance(here.outcome, Finding):
        assert fault_made.remedy in here.outcome.do
        for key, right, share in fault_made.settings:
            told = re.search(rf"{key}(?: to)? \[?(-?[\d.]+)", here.outcome.do)
            assert told, here.outcome.do
            assert float(told[1]) == pytest.approx(right, rel=share)
    assert inspected.verdict != "go" or here.rule.severity.name == "ADVISORY"


def test_some_aircraft_can_have_each_fault() -> None:
    assert [fault.name for fault in FAULTS if not fitting(0, fault)] == []
