"""The order of work, over one aircraft with any of its records left out, work done since, and several faults at once.

In which state the aircraft stands for a job is read from the first words of its precaution alone.
"""

import datetime as dt
import random
import re
from collections.abc import Iterator
from typing import Any

import pytest
from making import silence

from preflint.findings.inspected import Inspected
from preflint.findings.next_jobs import NextJob, next_jobs
from preflint.findings.outcome import NO_GO, Finding, Unproven
from preflint.findings.report import Report
from preflint.render.text import render_text
from preflint.testing import inspect_text

# The states in the order of work, each by the words of the precautions that it is told by.
STATES = (
    ("desk", r"$"),
    ("unplugged", r"Pack unplugged (before|until|while it is not known)"),
    ("pack in", r"Props removed( before the pack goes in)?\.|Props removed or motors disarmed"),
    ("turning", r"(Pack unplugged before you touch .*wire\. )?Props removed before the pack goes in; keep hands"),
    ("stand", r"Thrust stand"),
    ("load", r".*Loaded run"),
    ("rig", r"Pack unplugged while the props are changed"),
    ("last look", r"Pack unplugged while you look at it and strap it in"),
    ("hover", r"(Pack unplugged .*)?Hover log|Open ground|Pack unplugged before you touch a motor"),
)
RANK = {name: rank for rank, (name, _) in enumerate(STATES)}
TODAY = dt.date(2026, 5, 21)
OTHER = {"cw": "ccw", "ccw": "cw", "up": "down", "down": "up"}
ROTORS = range(4)
FAULTS = [("prop", "hand"), ("prop", "face"), ("fixing", "nut_tightens"), ("spin",)]
OFFSET = ("compass", "interference_offset_ut_per_a")


def state_of(job: NextJob) -> str:
    return next(name for name, words in reversed(STATES) if re.match(words, job.precaution))


def turned_round(document: dict[str, Any], rotor: int, *steps: str) -> dict[str, Any]:
    value: Any = document["rotors"][rotor]
    for step in steps:
        value = value[step]
    return silence.changed(document, ("rotors", rotor, *steps), OTHER[value])


def made(rng: random.Random) -> dict[str, Any]:
    """One aircraft of which much is known, some of it wrong, some done since."""
    document = silence.club_aircraft("avocet")
    records = document["records"]
    del records["compass_rotation"]  # half of the time, for nothing that is looked at here
    for kind in rng.sample(sorted(records), rng.randint(0, 8)):
        del records[kind]
    for fault in rng.sample(FAULTS, rng.randint(0, 2)):
        document = turned_round(document, rng.choice(ROTORS), *fault)
    if rng.random() < 0.2:  # all props left in the inverted rig
        for rotor in ROTORS:
            document = turned_round(turned_round(document, rotor, "prop", "hand"), rotor, "prop", "face")
    for key, value in (("divider_ratio", "6.0"), ("sensor_mv_per_a", "33")):
        if rng.random() < 0.25:
            document = silence.changed(document, ("power_sensing", key), value)
    if rng.random() < 0.25:
        document = silence.changed(document, OFFSET, ["0.0896", "0.0503", "-0.0302"])
    for kind in rng.sample(["crashed", "replaced", "moved"], rng.randint(0, 1)):
        entry = {"date": "2026-05-19", "kind": kind}
        if kind != "crashed":
            entry["part"] = rng.choice(["motor", "battery-tray", "power-sensor", "flight-controller"])
        document = silence.changed(document, ("logbook", "+"), entry)
    for name in ("compass", "takeoff_mass_g"):
        if rng.random() < 0.15:
            document.get("aircraft" if name == "takeoff_mass_g" else "", document).pop(name, None)
    return document


def aircraft() -> Iterator[Inspected]:
    rng = random.Random(20260521)
    for _ in range(40):
        yield inspect_text(silence.text_of(made(rng)), judged_on="2026-05-21")


@pytest.fixture(scope="module")
def fleet() -> list[Inspected]:
    return list(aircraft())


def test_jobs_of_one_state_stand_together(fleet: list[Inspected]) -> None:
    """Props come off once and go on once, and nothing is done with props removed after the hover."""
    seen = set()
    for one in fleet:
        jobs = next_jobs(one)
        ranks = [RANK[state_of(job)] for job in jobs if not is_wrong_prop(job)]
        assert ranks == sorted(ranks), [(state_of(job), job.do) for job in jobs]
        seen |= {state_of(job) for job in jobs}
    assert seen >= {"desk", "unplugged", "pack in", "turning", "load", "rig", "hover"}


def is_wrong_prop(job: NextJob) -> bool:
    return state_of(job) == "rig" and job.severity == NO_GO


def test_what_is_wrong_on_something_that_turns_comes_before_what_turns_it(fleet: list[Inspected]) -> None:
    tried = 0
    for one in fleet:
        jobs = next_jobs(one)
        for i, job in enumerate(jobs):
            if job.severity == NO_GO and any(rule.startswith(("retention/", "rotation/")) for rule in job.rules):
                before = [each for each in jobs[:i] if each.severity != NO_GO]
                turns = RANK["stand"] if is_wrong_prop(job) else RANK["turning"]  # a prop turns where it is on
                assert not [each.do for each in before if RANK[state_of(each)] >= turns]
                tried += 1
    assert tried > 20


def test_all_load_that_flight_needs_is_one_job(fleet: list[Inspected]) -> None:
    needed = [sum(state_of(job) == "load" and job.is_between for job in next_jobs(one)) for one in fleet]
    assert set(needed) == {0, 1}
    assert max(len(job.results) for one in fleet for job in next_jobs(one) if state_of(job) == "load") > 3


def test_each_answer_is_settled_by_one_job(fleet: list[Inspected]) -> None:
    for one in fleet:
        open_ones = [r for r in one.results if isinstance(r.outcome, Finding | Unproven)]
        settled = [r for job in next_jobs(one) for r in job.results]
        assert sorted(map(id, settled)) == sorted(map(id, open_ones))


def test_after_a_crash_the_walk_round_is_the_first_job_on_the_aircraft(fleet: list[Inspected]) -> None:
    crashed = [one for one in fleet if any(entry.kind.value == "crashed" for entry in one.aircraft.logbook)]
    for one in crashed:
        jobs = next_jobs(one)
        walk = next(job for job in jobs if state_of(job) != "desk")
        assert walk.rules == ("freshness/walk-round",)
        text = " ".join(render_text(Report(TODAY, "preflint", None, (one,), ())).split())
        assert "walk round the aircraft; look at" in text
    assert len(crashed) > 3


def test_every_no_go_has_its_job_among_those_shown(fleet: list[Inspected]) -> None:
    most = 0
    for one in fleet:
        text = render_text(Report(TODAY, "preflint", None, (one,), ()), detail="full")
        found, _, jobs = text.partition("THE NEXT")
        no_gos = set(re.findall(r"^\[(\d+)\] NO-GO", found, re.M))
        assert no_gos <= set(re.findall(r"\[(\d+)\]", jobs)), text
        most = max(most, len(no_gos))
    assert most > 3
