"""The order of work: by the state of the aircraft, each job once, in each state what flight needs first."""

import datetime as dt
import pickle
from pathlib import Path

import pytest

from preflint.api import (
    ADVISORY,
    ANY_LOADED_RUN,
    CAUTION,
    DESK,
    HOVER_LOG,
    NO_GO,
    PACK_UNPLUGGED,
    PROPS_REMOVED,
    RESTRAINED,
    RIG_CHANGE,
    SETTINGS,
    THRUST_STAND,
    Clear,
    Finding,
    Job,
    Precaution,
    Related,
    RuleModule,
    Staling,
    Unproven,
    name,
    records,
    rule,
    together,
)
from preflint.engine.rule_module import Registry
from preflint.findings.inspected import Inspected
from preflint.findings.next_jobs import NextJob, next_jobs
from preflint.findings.report import Report
from preflint.inspection import inspect_manifest

MANIFEST = """\
preflint: 1
aircraft: {name: Dunlin, layout: quad-x}
records:
  interference_run:
    - date: 2026-05-01
      route: restrained
      field_is: raw
      columns: [time_s, throttle_percent, current_a, field_x_ut, field_y_ut, field_z_ut]
      rows: [[0, 0, 0.1, 9.0, 24.0, 38.0]]
logbook:
  - {date: 2026-05-09, kind: moved, part: battery-tray}
"""
STALE = Staling("interference_run", "battery-tray", frozenset({"moved"}), False)


def asks(id: str, job: Job, answer, severity=NO_GO, each="aircraft", needed=False, precaution="Mind."):
    @rule(
        id, each=each, severity=severity, job=job, precaution=precaution, source="none",
        needed_for_flight=needed, shown_by=records.SpinTest if needed else None,
    )  # fmt: skip
    def asked(subject, on):
        """A rule of the trial."""
        return answer(subject, on)

    return asked


def finds(remedy: str):
    return lambda subject, on: Finding(place=subject.place, message="found", evidence="", do=remedy)


def open_until(how: str, cause="absent", on_paper=False):
    return lambda subject, on: Unproven(cause=cause, place=subject.place, message="open", do=how, on_paper=on_paper)


@pytest.fixture
def inspected(tmp_path: Path):
    def judged(*rules) -> Inspected:
        path = tmp_path / "trial.airframe.yaml"
        path.write_text(MANIFEST, encoding="utf-8")
        registry = Registry.of([RuleModule(1, "trial", rules, (), (STALE,))])
        return inspect_manifest(path, dt.date(2026, 5, 21), registry)

    return judged


def order(jobs: tuple[NextJob, ...]) -> list[str]:
    return [job.do for job in jobs]


def test_jobs_go_by_stage_whatever_the_names_of_the_rules(inspected) -> None:
    stages = list(Job)
    rules = [
        asks(f"control/rule-{'jihgfedcba'[i]}", stage, finds(f"stage {stage.value}"), CAUTION)
        for i, stage in enumerate(stages)
    ]
    assert order(next_jobs(inspected(*rules))) == [f"stage {n}" for n in range(1, 11)]


def test_in_each_state_what_flight_does_not_need_comes_last(inspected) -> None:
    jobs = next_jobs(
        inspected(
            asks("papers/a", Job.RECORD, finds("advisory, early"), ADVISORY),
            asks("papers/b", Job.RECORD, open_until("not needed, early")),
            asks("papers/c", Job.RECORD, finds("caution, early"), CAUTION),
            asks("control/a", Job.LAST_LOOK, finds("no-go, last")),
            asks("control/b", Job.PACK_IN, open_until("needed, later"), needed=True),
            asks("control/c", Job.FLIGHT_RIG, finds("caution, late"), CAUTION),
        )
    )
    assert order(jobs) == [
        "caution, early", "advisory, early", "not needed, early", "needed, later", "caution, late", "no-go, last"
    ]
    assert [job.needed_for_flight for job in jobs] == [False, False, False, True, False, True]
    assert [job.is_between for job in jobs] == [True, False, False, True, True, True]


def test_in_one_stage_what_grounds_comes_before_a_caution(inspected) -> None:
    jobs = next_jobs(
        inspected(
            asks("control/a", Job.MECHANICAL, finds("caution"), CAUTION),
            asks("control/b", Job.MECHANICAL, finds("no-go")),
            asks("control/c", Job.MECHANICAL, open_until("needed"), needed=True),
        )
    )
    assert order(jobs) == ["no-go", "needed", "caution"]
    assert [job.severity for job in jobs] == [NO_GO, None, CAUTION]


def test_one_remedy_at_several_rotors_is_one_job_in_walk_round_order(inspected) -> None:
    def some(rotor, on):
        if name(rotor) in ("rear-right", "front-left"):
            return Finding(place=rotor.place, message=f"{name(rotor)} is wrong", evidence="", do="turn it over")
        return Clear("right")

    (job,) = next_jobs(inspected(asks("rotation/a", Job.MECHANICAL, some, each="rotor")))
    assert (job.do, job.at, job.rules) == ("turn it over", ("front-left", "rear-right"), ("rotation/a",))


def test_a_job_is_as_severe_as_the_worst_that_it_settles(inspected) -> None:
    told = zip("abc", (CAUTION, NO_GO, ADVISORY), strict=True)
    rules = [asks(f"rotation/{name}", Job.MECHANICAL, finds("turn it over"), severity) for name, severity in told]
    (job,) = next_jobs(inspected(*rules))
    assert job.severity == NO_GO


def test_two_rules_with_one_remedy_are_one_job_with_every_precaution_once(inspected) -> None:
    (job,) = next_jobs(
        inspected(
            asks(
                "rotation/a", Job.MECHANICAL, finds("turn it over"), precaution=Precaution("Pack out.", "Stand clear.")
            ),
            asks(
                "rotation/b", Job.MECHANICAL, open_until("turn it over"),
                precaution=Precaution("Pack out.", "Eyes on it."),
            ),
        )
    )
    assert job.rules == ("rotation/a", "rotation/b")
    assert job.precaution == "Pack out. Stand clear. Eyes on it."


def test_what_two_stages_ask_for_is_done_once_at_the_earlier(inspected) -> None:
    (job,) = next_jobs(
        inspected(
            asks("rotation/a", Job.LAST_LOOK, open_until("look at it")),
            asks("rotation/b", Job.MECHANICAL, open_until("look at it")),
        )
    )
    assert job.stage == Job.MECHANICAL


def waits(how: str):
    def answer(aircraft, on):
        on.freshest("interference_run", aircraft.records.interference_run, how)
        return Clear("fresh")

    return answer


def stale_record(aircraft, on):
    (run,) = aircraft.records.interference_run
    old = on.outdated("interference_run", run)
    return Finding(
        again=True, place=run.date.place, message="out of date", evidence="", do="measure again",
        mind=Precaution("Look.", job=Job.LOAD),
        related=(Related(old.event.place, "tray moved"),),
    )


def test_a_stale_record_is_measured_again_once(inspected) -> None:
    (job,) = next_jobs(
        inspected(
            asks("freshness/stale", Job.LAST_LOOK, stale_record, CAUTION),
            asks("interference/a", Job.LOAD, waits("log it"), needed=True, precaution="Tie it down."),
            asks("interference/b", Job.LOAD, waits("log it at more throttles"), precaution="Tie it down."),
        )
    )
    assert job.stage == Job.LOAD
    assert job.do == "measure again"
    assert job.rules == ("freshness/stale", "interference/a", "interference/b")
    assert job.precaution == "Look."  # of what is said to do, not of the other ways to ask for it
    assert job.needed_for_flight


def test_without_a_freshness_finding_what_flight_needs_says_how(inspected) -> None:
    (job,) = next_jobs(
        inspected(
            asks("interference/a", Job.PACK_IN, waits("for the curious")),
            asks("interference/b", Job.LOAD, waits("for flight"), needed=True),
        )
    )
    assert (job.stage, job.do) == (Job.LOAD, "for flight")


def minding(precaution):
    return lambda subject, on: Unproven(place=subject.place, message="open", do=f"{precaution}", mind=precaution)


def test_the_precaution_of_an_answer_tells_its_state(inspected) -> None:
    states = [DESK, PACK_UNPLUGGED, SETTINGS, PROPS_REMOVED, THRUST_STAND, RESTRAINED, RIG_CHANGE, HOVER_LOG]
    rules = [asks(f"control/rule-{'hgfedcba'[i]}", Job.LAST_LOOK, minding(one)) for i, one in enumerate(states)]
    assert order(next_jobs(inspected(*rules))) == states


def test_a_run_on_the_ground_does_not_wait_for_a_hover() -> None:
    assert ANY_LOADED_RUN.job is Job.LOAD
    assert together(THRUST_STAND, HOVER_LOG).job is Job.THRUST_STAND
    assert together(PACK_UNPLUGGED, PROPS_REMOVED).job is Job.PROPS_OFF
    assert together("Mind.").job is None
    assert pickle.loads(pickle.dumps(RESTRAINED)).job is Job.LOAD


def test_a_wrong_prop_is_put_right_before_anything_turns_it(inspected) -> None:
    jobs = next_jobs(
        inspected(
            asks("rotation/a", Job.FLIGHT_RIG, finds("turn every prop over")),
            asks("rotation/b", Job.FLIGHT_RIG, open_until("look at every prop"), needed=True),
            asks("power_sensing/a", Job.LOAD, finds("compare under load"), needed=True),
            asks("power_sensing/b", Job.THRUST_STAND, open_until("measure on a stand"), needed=True),
            asks("rotation/c", Job.PROPS_OFF, open_until("look which way it spins"), needed=True),
        )
    )
    assert order(jobs) == [
        "look which way it spins", "turn every prop over", "measure on a stand", "compare under load",
        "look at every prop",
    ]


def test_all_that_is_done_under_load_is_one_job(inspected) -> None:
    jobs = next_jobs(
        inspected(
            asks("power_sensing/a", Job.LOAD, finds("compare; load: tied down"), precaution="Tie it down."),
            asks("interference/a", Job.LOAD, open_until("log the field; load: tied down"), needed=True),
            asks("power_sensing/b", Job.LOAD, open_until("hold several currents")),
            asks("power_sensing/c", Job.LOAD, open_until("repeat it")),
        )
    )
    assert order(jobs) == ["compare; load: tied down; log the field", "hold several currents; repeat it"]
    assert jobs[0].precaution == "Tie it down. Mind."
    assert jobs[0].rules == ("interference/a", "power_sensing/a")
    assert [job.needed_for_flight for job in jobs] == [True, False]


def test_nothing_found_is_no_job(inspected) -> None:
    assert next_jobs(inspected(asks("control/a", Job.RECORD, lambda subject, on: Clear("fine")))) == ()


def test_nothing_that_is_found_or_open_is_left_out(inspected) -> None:
    one = inspected(
        asks("control/a", Job.RECORD, finds("a"), each="rotor"),
        asks("control/b", Job.PACK_IN, open_until("b", "uncertain"), each="rotor"),
        asks("interference/a", Job.LOAD, waits("c")),
    )
    settled = [result for job in next_jobs(one) for result in job.results]
    assert len(settled) == len(one.results) == 9
    assert all(result in settled for result in one.results)


def test_counts_tell_every_kind(inspected) -> None:
    def fails(subject, on):
        raise ValueError("by itself")

    one = inspected(
        asks("control/a", Job.RECORD, finds("a"), each="rotor"), asks("control/b", Job.RECORD, open_until("b")),
        asks("control/c", Job.RECORD, fails), asks("control/d", Job.RECORD, lambda subject, on: Clear("fine")),
    )
    counts = Report(dt.date(2026, 5, 21), "preflint", None, (one, one), ()).counts
    assert counts.answers == {"finding": 8, "clear": 2, "unproven": 2, "not_applicable": 0, "crashed": 2}
    assert counts.verdicts == {"no-go": 2, "unproven": 0, "go-with-cautions": 0, "go": 0}
    assert (counts.manifests_seen, counts.manifests_assessed, counts.manifests_not_assessed) == (2, 2, 0)


def test_what_only_needs_writing_down_is_one_job_before_all_others(inspected) -> None:
    jobs = next_jobs(
        inspected(
            asks("compass/a", Job.PACK_IN, open_until("write compass: none", on_paper=True), needed=True),
            asks("control/a", Job.PROPS_OFF, open_until("look, and write a tilt_test"), needed=True),
            asks(
                "power_sensing/a", Job.PACK_IN, open_until("write power_sensing: none", on_paper=True),
                needed=True,
            ),
            asks("rotation/a", Job.MECHANICAL, open_until("write the time", "order-open"), needed=True),
            asks("retention/a", Job.MECHANICAL, open_until("write a label", on_paper=True)),
        )
    )
    assert [(job.stage, job.do) for job in jobs] == [
        (Job.RECORD, "write compass: none; write power_sensing: none"),
        (Job.RECORD, "write a label"),
        (Job.MECHANICAL, "write the time"),
        (Job.PROPS_OFF, "look, and write a tilt_test"),
    ]
    assert jobs[0].precaution == ""
    assert jobs[3].precaution == "Mind."
