"""A draft is legal as it is, honest about what is open, and cannot be filled in by taking the marks away."""

import re

import pytest

from preflint.aircraft.layouts import NAMES
from preflint.api import Job
from preflint.cli.draft import draft_text
from preflint.errors import NotRead
from preflint.findings.next_jobs import next_jobs
from preflint.testing import findings, inspect_text

SPIN = (
    "props removed: let each motor turn briefly, look from above the aircraft, and write its spin under rotors "
    "and a spin_test"
)


@pytest.mark.parametrize("layout", NAMES)
def test_an_empty_draft_is_unproven_and_finds_nothing(layout: str) -> None:
    inspected = inspect_text(draft_text(layout, 4, "Trial"))
    assert inspected.verdict == "unproven"
    assert [f for f in findings(inspected) if f[0] != "freshness/first-flight"] == []


@pytest.mark.parametrize("name", ['a "quoted" name', "back\\slash", "new\nline", "-: {#}", "\x1b[2J"])
def test_any_name_stays_one_value(name: str) -> None:
    inspected = inspect_text(draft_text("quad-x", 4, name))
    assert inspected.aircraft.about.name.value == "".join(
        c if c.isprintable() and c not in '"\\' else " " for c in name
    )


def test_open_choices_are_refused_when_only_uncommented() -> None:
    text = re.sub(r"^(\s+)# (spin: )", r"\1\2", draft_text("quad-x", 4, "Trial"), flags=re.MULTILINE)
    with pytest.raises(NotRead) as refused:
        inspect_text(text)
    assert len(refused.value.problems) == 4
    assert all("cw" in problem.message for problem in refused.value.problems)


def test_the_first_jobs_of_a_draft() -> None:
    """Each act at the bench once, writing first."""
    for layout in NAMES:
        first, *more = next_jobs(inspect_text(draft_text(layout, 4, "Trial")))
        assert first.stage is Job.RECORD
        for part in ("power_sensing", "compass", "barometer"):
            assert f"write {part}: what is fitted, or {part}: none" in first.do
        at_the_bench = [job.do for job in more if job.stage is Job.PROPS_OFF and job.needed_for_flight]
        assert at_the_bench.count(SPIN) == 1
        assert sum("spin_test" in do for do in at_the_bench) == 1
