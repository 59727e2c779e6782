"""A test that failed stays failed until a later one of its kind passes, whatever was done to the aircraft since.

On every aircraft that is go the record that a rule judges is made a failed one; then a crash, then work on every part
that could end it. The verdict stays no-go (go-with-cautions for a rule that finds cautions), and a passed record after
the failed one takes it away.
"""

import copy
import re

import pytest
from making import silence
from making.manifests import GO

from preflint.api import Finding, records

# Each rule, the kind of record that it judges, and what makes the aircraft's own record a failed one.
FAILED = {
    "rotation/spin-seen": ("spin_test", lambda r: flip(r["seen"])),
    "rotation/output-order": ("output_test", lambda r: exchange(r["turned"])),
    "rotation/rig-check": ("rig_check", lambda r: r.update(rig="inverted-load")),
    "retention/bell-pull": ("bell_pull", lambda r: r.update(moved="true")),
    "control/tilt-answer": ("tilt_test", lambda r: r["moves"][1].update(indicated="left-down")),
    "control/stick-answer": ("stick_check", lambda r: r["moves"][1].update(indicated="left-down")),
    "control/throttle-answer": ("stick_check", lambda r: r["moves"][3].update(indicated="throttle-down")),
    "control/arms-at-raised-throttle": ("stick_check", lambda r: r.update(arms_at_raised_throttle="true")),
    "control/start-throttle": ("stick_check", lambda r: flip_throttle(r["start_throttle_percent"], "90")),
    "control/start-throttle-spread": ("stick_check", lambda r: flip_throttle(r["start_throttle_percent"])),
    "failsafe/link-loss": ("link_loss_test", lambda r: r.update(outputs_stopped="false")),
    "failsafe/cut-off": ("cut_off_test", lambda r: r.update(motors_stopped="false")),
    "failsafe/range-test": ("range_test", lambda r: r.update(control_held="false")),
    "warnings/heard": ("warning_test", lambda r: r.update(sounded="false")),
    "barometer/indicated-pressure": ("barometer_check", lambda r: r.update(indicated_hpa="950")),
    "compass/heading-check": ("heading_check", lambda r: r["rows"][1].__setitem__(1, "131")),
    "power_sensing/voltage-scale": ("voltage_comparison", lambda r: scale(r["rows"], 1.05, -1)),
    "power_sensing/current-scale": ("current_comparison", lambda r: scale(r["rows"], 1.15, -1)),
    "props/damage": ("prop_look", lambda r: r.update(found="crack")),
    "props/nicked": ("prop_look", lambda r: r.update(found="nick")),
    "vibration/unbalance-most": ("prop_balance", lambda r: r.update(residual_g_mm="200")),
    "inertial/scale": ("six_positions", lambda r: scale(r["rows"], 0.5, 2)),
}
SINCE = {
    "a crash": [{"kind": "crashed"}],
    "a tip-over": [{"kind": "tipped-over"}],
    "work": [
        {"kind": "replaced", "part": part}
        for part in ("motor", "prop", "esc", "flight-controller", "receiver", "compass", "barometer", "power-sensor")
    ],
}
FAILS_AT, PASSES_AT = "2026-05-18 09:00", "2026-05-18 10:00"


def flip(seen):
    first = next(iter(seen))
    seen[first] = {"cw": "ccw", "ccw": "cw"}[seen[first]]


def flip_throttle(starts, late="20"):
    starts[next(iter(starts))] = late


def exchange(turned):
    one, other, *_ = turned
    turned[one], turned[other] = other, one


def scale(rows, factor, column):
    for row in rows:
        row[column] = f"{float(row[column]) * factor:.3f}"


def told(document, rule):
    _, answers = silence.judged(document)
    return [outcome for (id, _), outcome in answers.items() if id == rule]


@pytest.mark.parametrize("rule", FAILED)
def test_a_failed_test_outlives_a_crash_and_work(rule):
    kind, spoil = FAILED[rule]
    name = GO[list(FAILED).index(rule) % len(GO)]
    document = silence.club_aircraft(name)
    good = copy.deepcopy(document["records"][kind][-1]) | {"date": FAILS_AT}
    bad = copy.deepcopy(good)
    spoil(bad)
    document["records"][kind].append(bad)
    for since, events in SINCE.items():
        log = [*document["logbook"], *({"date": "2026-05-19", **event} for event in events)]
        found = [one for one in told(document | {"logbook": log}, rule) if isinstance(one, Finding)]
        assert found, f"{name}: {rule} forgot it"
        if since == "a crash":  # it would have ended a good one of every kind
            assert found[0].evidence.startswith("failed on 2026-05-18 09:00, and no ")
            assert found[0].do.startswith(f"repeat the {records.named(kind)}; if it fails again: ")
    document["records"][kind].append(good | {"date": PASSES_AT})
    assert not [one for one in told(document, rule) if isinstance(one, Finding)]
    document["records"][kind][-1] = good | {"date": "2026-05-18"}  # the time of day is not written: failed counts
    assert [one for one in told(document, rule) if isinstance(one, Finding)]


def test_only_the_failed_record_itself_can_be_left_out_for_a_better_verdict():
    document = silence.club_aircraft("wheatear")
    failed = copy.deepcopy(document["records"]["stick_check"][-1]) | {"date": FAILS_AT}
    failed["moves"][1].update(indicated="left-down")
    document["records"]["stick_check"].append(failed)
    document["logbook"].append({"date": "2026-05-19", "kind": "crashed"})
    better = [
        (words, steps)
        for words, steps, without in silence.silences(document)
        if re.fullmatch(r"(records|logbook)(\.[a-z_]+)?(\.\*)?", words) and silence.judged(without)[0] != "no-go"
    ]
    assert {steps for _, steps in better} == {("records",), ("records", "stick_check"), ("records", "stick_check", 1)}
