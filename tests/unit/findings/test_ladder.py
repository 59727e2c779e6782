"""The ladder: what flight needs of this aircraft, by what it takes to show it, each thing and its minutes once."""

import datetime as dt
import json
from pathlib import Path

import pytest
from making.manifests import CLUB, FILES, GO, QUAD, manifest

from preflint.aircraft.declare import Kind
from preflint.aircraft.declared import is_group
from preflint.aircraft.records import KINDS, NutTest, Records, SpinTest
from preflint.aircraft.rung import Rung
from preflint.api import CAUTION, NO_GO, PACK_UNPLUGGED, Clear, Job, fitted, records, rule
from preflint.engine.rule_module import builtin_and
from preflint.errors import RuleModuleError
from preflint.findings.inspected import Inspected
from preflint.findings.ladder import Step, Thing, ladder, needed_kinds
from preflint.fleet.inspect import inspect_many
from preflint.inspection import inspect_manifest
from preflint.render.json_report import render_json
from preflint.render.ladder import how_far
from preflint.testing import inspect_text

NOTHING_FITTED = "power_sensing: none\ncompass: none\nbarometer: none\nsatellite_receiver: none\n"
NUTS = "every_rotor: {fixing: {kind: nut}}\n"
# Minutes as the README gives them, at a quad: a nut 2 each, the look at the props 2, spin and outputs 5 each, tilt and
# sticks 5 together, link loss and cut-off 5 together.
BENCH_MINUTES = {
    "Nut test": 8, "Rig check": 2, "Spin test": 5, "Output test": 5, "Tilt test": 2, "Stick check": 3,
    "Link-loss test": 3, "Cut-off test": 2,
}  # fmt: skip
LIFT = {"Take-off mass and thrust": 3, "Battery warning": 2}  # of every aircraft


def things(step: Step) -> dict[str, int]:
    return {thing.title: thing.minutes for thing in step.things}


def open_things(judged: Inspected) -> list[Thing]:
    return [thing for step in ladder(judged) for thing in step.things if not thing.shown]


def test_an_aircraft_without_sensors_has_the_bench_look_its_weight_and_thrust_and_its_warning_only() -> None:
    step, meter = ladder(inspect_text(manifest(NOTHING_FITTED, NUTS, QUAD)))
    assert (step.rung, meter.rung) == (Rung.BENCH_LOOK, Rung.METER)
    assert things(meter) == LIFT
    assert things(step) == BENCH_MINUTES
    assert how_far([step]) == "0 of 8 needed things shown; next step: bench look, about 30 minutes"


@pytest.mark.parametrize(
    ("fitted", "rung", "minutes"),
    [
        (
            "power_sensing: {divider_ratio: 11, sensor_mv_per_a: 40, zero_mv: 0}", Rung.METER,
            {"Voltage comparison": 10} | LIFT,
        ),
        ("power_sensing: {divider_ratio: 11, sensor_mv_per_a: 40, zero_mv: 0}", Rung.LOAD, {"Current comparison": 30}),
        ("barometer: {}", Rung.METER, {"Barometer check": 2} | LIFT),
        ("satellite_receiver: {}", Rung.METER, {"Position check": 5, "Loss of link in the air": 3} | LIFT),
        ("compass: {}", Rung.LOAD, {"Heading check": 10, "Interference run": 20}),
    ],
)
def test_what_is_fitted_puts_its_checks_on_the_ladder(fitted: str, rung: Rung, minutes: dict[str, int]) -> None:
    key = fitted.partition(":")[0]
    others = "\n".join(line for line in NOTHING_FITTED.splitlines() if not line.startswith(key)) + "\n"
    steps = {step.rung: step for step in ladder(inspect_text(manifest(others, fitted + "\n", NUTS, QUAD)))}
    assert things(steps[rung]) == minutes


def test_what_flight_does_not_rely_on_is_not_on_it() -> None:
    fitted = "power_sensing: none\ncompass: {}\nbarometer: {}\nsatellite_receiver: {}\n"
    step, meter = ladder(inspect_text(manifest(fitted, NUTS, QUAD, more="relies_on: []")))
    assert step.rung is Rung.BENCH_LOOK
    assert things(meter) == LIFT


def test_a_nut_that_was_tried_saves_its_minutes_and_the_thing_is_shown_with_the_last() -> None:
    tried = [f"date: 2026-05-20, at: {at}, nut: runs-on, motor_turned: {spin}" for at, spin in (
        ("front-left", "cw"), ("front-right", "ccw"), ("rear-left", "ccw"), ("rear-right", "cw"))]  # fmt: skip
    for count in range(5):
        records = {"nut_test": tried[:count]} if count else {}
        step, _ = ladder(inspect_text(manifest(NOTHING_FITTED, NUTS, QUAD, records=records)))
        [nuts] = [thing for thing in step.things if thing.by is NutTest]
        assert (nuts.minutes, nuts.shown) == (2 * (4 - count), count == 4)


def test_found_wrong_is_shown() -> None:
    seen = "seen: {front-left: ccw, front-right: ccw, rear-left: ccw, rear-right: cw}"  # front-left is written cw
    spins = f"date: 2026-05-20, props: removed, {seen}"
    judged = inspect_text(manifest(NOTHING_FITTED, NUTS, QUAD, records={"spin_test": spins}))
    assert judged.verdict == "no-go"
    [turning] = [thing for step in ladder(judged) for thing in step.things if thing.by is SpinTest]
    assert (turning.shown, turning.minutes) == (True, 0)


@pytest.mark.parametrize("name", GO)
def test_an_aircraft_that_goes_has_climbed_it(name: str) -> None:
    text = (CLUB / f"{name}.airframe.yaml").read_text()
    files = {file: body for file, body in FILES.items() if file != "preflint.yaml"}
    judged = inspect_text(text, files=files)
    assert judged.verdict == "go"
    assert open_things(judged) == []
    steps = ladder(judged)
    count = sum(len(step.things) for step in steps)
    assert how_far(steps) == f"{count} of {count} needed things shown"


def test_the_line_names_the_lowest_rung_that_is_open() -> None:
    path = CLUB / "redshank.airframe.yaml"
    judged = inspect_manifest(path, dt.date(2026, 5, 21), builtin_and([]))
    assert how_far(ladder(judged)).endswith("; next step: load, about 20 minutes")
    assert [(thing.title, thing.minutes) for thing in open_things(judged)] == [("Interference run", 20)]


def test_programs_are_told_of_it() -> None:
    report = inspect_many([CLUB / "redshank.airframe.yaml"], judged_on=dt.date(2026, 5, 21))
    told = json.loads("".join(render_json(report)))["aircraft"][0]["ladder"][-1]
    assert told["rung"] == "load"
    assert told["needed"] == ["Heading check", "Interference run", "Current comparison"]
    assert told["shown"] == ["Heading check", "Current comparison"]
    assert told["minutes"] == 20


def test_what_only_the_policy_needs_has_the_rung_of_its_job() -> None:
    policy = "preflint: 1\nneeded_for_flight: [failsafe/range-test]\n"
    judged = inspect_text(manifest(NOTHING_FITTED, NUTS, QUAD), files={"preflint.yaml": policy})
    step, _ = ladder(judged)
    [walk] = [thing for thing in step.things if thing.by is None]
    assert (walk.title, walk.rung, walk.minutes) == ("Did control hold in the range test?", Rung.BENCH_LOOK, 5)


def test_every_rule_that_flight_needs_says_what_shows_it_and_no_other_does() -> None:
    rules = [one.info for one in builtin_and([]).rules]
    for info in rules:
        assert (info.shown_by is not None) == (info.needed_for_flight or info.needed_for_pack), info.id
        assert info.shown_by is None or is_group(info.shown_by)
    assert any(info.shown_by is Records for info in rules)


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
def test_every_kind_of_record_has_minutes(kind: Kind) -> None:
    assert 0 < kind.minutes <= 60


def test_only_a_rule_of_each_pack_is_needed_of_a_pack() -> None:
    with pytest.raises(RuleModuleError, match="demo/half: only a rule of each pack can be needed for a pack"):

        @rule(
            "demo/half", each="aircraft", severity=NO_GO, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED, source="none",
            needed_for_pack=True, shown_by=SpinTest,
        )  # fmt: skip
        def half(aircraft: object, on: object) -> Clear:
            """A rule of the trial."""
            return Clear("")


@pytest.mark.parametrize(("needed", "by"), [(True, None), (False, SpinTest)])
def test_a_rule_that_says_half_of_it_is_refused(needed: bool, by: type | None) -> None:
    with pytest.raises(RuleModuleError, match="demo/half: what flight needs names what shows it"):

        @rule(
            "demo/half", each="aircraft", severity=NO_GO, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED, source="none",
            needed_for_flight=needed, shown_by=by,
        )  # fmt: skip
        def half(aircraft: object, on: object) -> Clear:
            """A rule of the trial."""
            return Clear("")


def test_what_shows_it_is_a_kind_of_record_or_a_group() -> None:
    with pytest.raises(RuleModuleError, match="shown_by is a kind of record or a group of fields"):

        @rule(
            "demo/int", each="aircraft", severity=CAUTION, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED, source="none",
            needed_for_flight=True, shown_by=Path,
        )  # fmt: skip
        def wrong(aircraft: object, on: object) -> Clear:
            """A rule of the trial."""
            return Clear("")


def test_which_records_are_still_needed() -> None:
    """Those of what is not shown; none for fields of the aircraft, nor for what only a club's policy asks."""
    listed = [
        (records.SpinTest, False), (records.LinkLossTest, True), (None, False), (None, True), (fitted.Airframe, False),
        (records.RigCheck, False),
    ]  # fmt: skip
    step = Step(Rung.METER, tuple(Thing(by, "thing", Rung.METER, shown, 3) for by, shown in listed))
    assert needed_kinds([step]) == ["spin_test"]
    assert needed_kinds([step, step], props_written=True) == ["spin_test", "rig_check"] * 2
    assert (len(step.shown), step.minutes) == (2, 18)
