"""What a builder is told to do first with a draft as it is printed: each act at the bench once, writing first."""

from preflint.aircraft.layouts import NAMES
from preflint.api import Job
from preflint.cli.draft import draft_text
from preflint.findings.next_jobs import next_jobs
from preflint.testing import inspect_text

SPIN = (
    "props removed: let each motor turn briefly, look from above the aircraft, and write its spin under rotors "
    "and a spin_test"
)


def test_the_first_jobs_of_a_draft() -> None:
    for layout in NAMES:
        first, *more = next_jobs(inspect_text(draft_text(layout, 4, "Trial")))
        assert first.stage is Job.RECORD
        for part in ("power_sensing", "compass", "barometer"):
            assert f"write {part}: what is fitted, or {part}: none" in first.do
        at_the_bench = [job.do for job in more if job.stage is Job.PROPS_OFF and job.needed_for_flight]
        assert at_the_bench.count(SPIN) == 1
        assert sum("spin_test" in do for do in at_the_bench) == 1
