"""Two interference runs with nothing done in between: full texts, both sides of the limit, signs, what is missing."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making.manifests import SITE, answer, expect, manifest

from preflint.api import PACK_UNPLUGGED, Clear, Finding, NotApplicable, Unproven
from preflint.testing import computed, inspect_text, marked, outcome

RULE = "interference/successive-runs"
HOVER = "date: 2026-05-17, mean_current_a: 24"
MADE = (0.11, -0.23, 0.05)  # µT/A forward, right, down
STILL = (9.1, 24.4, 38.2)
AMPERES = (0.0, 8.003, 16.001, 24.007, 0.0)  # to the last digit shown, so that neither axis is in doubt


def run(date, made=MADE, kind="raw", sensor=26.4, then=None, scatter=0.0, still=STILL, seen="", amperes=AMPERES):
    """What a logger shows whose ampere is as large as ``sensor`` mV makes it, where 26.4 shows the true one."""
    rows = []
    anew = 0.002 * (int(date[8:10]) - 18)  # no two days have the same field to the last digit
    for turn, a in enumerate(amperes):
        added = then or (0, 0, 0)
        shown = a * 26.4 / sensor
        noise = scatter * (-1) ** turn + anew
        field = [c + b * a + o * shown + noise for c, b, o in zip(still, made, added, strict=True)]
        rows.append([2 * a, round(shown, 6), *(round(value, 3) for value in field)])
    offset = f", interference_offset_ut_per_a: {list(then)}" if then else ""
    return (
        f"date: {date}\nroute: restrained\nfield_is: {kind}\nin_force: {{sensor_mv_per_a: {sensor}{offset}}}\n{seen}"
        f"columns: [throttle_percent, current_a, field_x_ut, field_y_ut, field_z_ut]\nrows: {rows}\n"
    )


def recorded(*runs, site=SITE, hover=HOVER, work=(), sensing="{sensor_mv_per_a: 26.4}", relies="[compass]"):
    return manifest(
        f"{site}power_sensing: {sensing}\ncompass: {{interference_offset_ut_per_a: [-0.11, 0.23, -0.05]}}\n",
        records={"interference_run": runs, "hover": hover}, logbook=work, more=f"relies_on: {relies}",
    )


def moved(by, *more, **kept):
    """An earlier run in which the current made so much less forward than in the later one."""
    made = (MADE[0] - by, *MADE[1:])
    return recorded(run("2026-04-18", made), run("2026-05-16"), *more, **kept)


def test_a_change_in_full():
    text = moved(0.08)
    found = expect(Finding, answer(text, RULE))
    error = computed(inspect_text(text), "normalised_error", "interference").value
    assert found.message == (
        "interference changed by 0.080 µT/A between 2026-04-18 and 2026-05-16, with no work on record"
    )
    assert found.evidence == (
        "at hover, 24 A (hover of 2026-05-17), the change turns the heading by up to 6.1° (5.3 to 6.9°); 5° is aimed "
        f"at; change [0.0800, 0.0000, 0.0000] ± 0.0094 µT/A, normalised error {error:.1f}; horizontal field 18.1 µT; "
        "the raw run of 2026-04-18 asks for [-0.0300, 0.2300, -0.0500] ± 0.0000 µT/A; the raw run of 2026-05-16 asks "
        "for [-0.1100, 0.2300, -0.0500] ± 0.0000 µT/A"
    )
    assert found.do == (
        "pull at every power lead, plug and motor wire, the battery tray and the compass; fasten what is loose; "
        "write the work in the logbook; log the run twice: both must agree"
    )
    assert (found.place.line, marked(text, found.place)) == (14, "2026-05-16")
    assert [(marked(text, r.place), r.message) for r in found.related] == [("2026-04-18", "the run of 2026-04-18")]
    rule = next(r.rule for r in inspect_text(text).results if r.rule.id == RULE)
    assert rule.precaution.startswith(PACK_UNPLUGGED)
    assert "Loaded run" in rule.precaution


@pytest.mark.parametrize(("instead_of", "written"), [
    ("power_sensing: {sensor_mv_per_a: 26.4}", "power_sensing: none"),  # by amperes that nothing here converts
    ("interference_offset_ut_per_a: [-0.11, 0.23, -0.05]", "hard_iron_ut: [1, 2, 3]"),
    ("compass: {interference_offset_ut_per_a: [-0.11, 0.23, -0.05]}\n", ""),
])  # fmt: skip
def test_a_change_is_told_without_what_is_in_force_now(instead_of, written):
    text = moved(0.08)
    assert instead_of in text
    found = expect(Finding, answer(text.replace(instead_of, written), RULE))
    assert found.message == expect(Finding, answer(text, RULE)).message


def test_two_runs_that_agree():
    assert answer(moved(0.0), RULE) == Clear(
        "at hover, 24 A (hover of 2026-05-17), the change turns the heading by up to 0.0° (0.0 to 0.8°); 5° is "
        "aimed at; change [0.0000, 0.0000, 0.0000] ± 0.0099 µT/A, normalised error 0.0; horizontal field 18.1 µT; "
        "the raw run of 2026-04-18 asks for [-0.1100, 0.2300, -0.0500] ± 0.0000 µT/A; the raw run of 2026-05-16 "
        "asks for [-0.1100, 0.2300, -0.0500] ± 0.0000 µT/A"
    )


# Horizontal field 18.09 ± 0.26 µT (WMM2025 as the model gives it here) and 24 A: asin(24·c / 18.09) is 5° at
# c = 0.0657 µT/A; the field's own doubt of ± 0.5 µT and the radius of 0.01 µT/A make that 0.054 to 0.078.
@pytest.mark.parametrize(("by", "expected"), [(0.051, Clear), (0.0657, Unproven), (0.081, Finding)])
@pytest.mark.parametrize("sign", [1, -1])
def test_both_sides_of_the_limit(by, expected, sign):
    assert isinstance(answer(moved(sign * by), RULE), expected)


def test_a_change_straight_down_counts_when_tilted():
    # Level it turns nothing; tilted by 25° its share is sin 25° = 0.4226: 5° at 0.0657 / 0.4226 = 0.1555 µT/A.
    for by, expected in ((0.12, Clear), (0.19, Finding)):
        text = recorded(run("2026-04-18", (*MADE[:2], MADE[2] - by)), run("2026-05-16"))
        assert isinstance(answer(text, RULE), expected)


def test_too_uncertain_to_tell():
    text = recorded(run("2026-04-18", scatter=0.6), run("2026-05-16", scatter=0.6))
    told = expect(Unproven, answer(text, RULE))
    assert (told.cause, marked(text, told.place)) == ("uncertain", "2026-05-16")
    assert told.message.startswith("interference may have changed, by ")
    assert told.message.endswith("° of heading: too near 5° to tell")
    assert told.do.startswith("repeat the run with more steps and a higher current; log time, current and field: ")
    assert computed(inspect_text(text), "normalised_error", "interference").value < 1


def test_figures_by_hand():
    # The last digit of the field, 0.001 µT, and a third of 5 % (a/√3) of what each run asks for.
    seen = inspect_text(moved(0.08))
    x, y, z = (computed(seen, "interference_change_ut_per_a", axis) for axis in "xyz")
    assert x.value == pytest.approx(0.08, abs=1e-4)
    assert (y.value, z.value) == (pytest.approx(0, abs=1e-9), pytest.approx(0, abs=1e-9))
    anew = 0.05 / 3 / math.sqrt(3)
    assert x.standard_uncertainty == pytest.approx(anew * math.hypot(0.03, 0.11), rel=1e-3)
    assert y.standard_uncertainty == pytest.approx(anew * math.hypot(0.23, 0.23), rel=1e-3)
    # The longest axis of both together, and k = 2.80 for three dimensions (JCGM 102:2011, Table 1, from memory).
    asked = [np.array([-0.03, 0.23, -0.05]), np.array([-0.11, 0.23, -0.05])]
    longest = anew * math.sqrt(np.linalg.eigvalsh(sum(np.outer(o, o) for o in asked))[-1])
    error = computed(seen, "normalised_error", "interference")
    assert error.value == pytest.approx(0.08 / (2.80 * longest), rel=3e-3)
    assert (error.unit, error.standard_uncertainty) == ("1", None)


@settings(derandomize=True, deadline=None, max_examples=25)
@given(
    change=st.tuples(*[st.floats(-0.3, 0.3)] * 3), kinds=st.tuples(*[st.sampled_from(["raw", "compensated"])] * 2),
    sensors=st.tuples(*[st.sampled_from([13.2, 26.4, 30.0])] * 2),
    then=st.tuples(*[st.floats(-0.3, 0.3).map(lambda v: round(v, 3))] * 3),
)
def test_what_a_run_shows_is_one_thing_and_what_it_means_another(change, kinds, sensors, then):
    """Raw or compensated, whatever the scale in force: the change told is what the wiring did, sign and all."""
    earlier = tuple(m - c for m, c in zip(MADE, change, strict=True))
    runs = [
        run(day, made, kind, sensor, then if kind == "compensated" else None)
        for day, made, kind, sensor in zip(("2026-04-18", "2026-05-16"), (earlier, MADE), kinds, sensors, strict=True)
    ]
    seen = inspect_text(recorded(*runs))
    told = [computed(seen, "interference_change_ut_per_a", axis).value for axis in "xyz"]
    assert told == pytest.approx(change, abs=5e-4)


@settings(derandomize=True, deadline=None, max_examples=15)
@given(change=st.tuples(*[st.floats(-0.2, 0.2)] * 3), turns=st.integers(1, 3))
def test_turned_exchanged_and_mirrored_aircraft_get_the_same_answer(change, turns):
    def told(first, second):
        seen = inspect_text(recorded(run("2026-04-18", first), run("2026-05-16", second)))
        return type(outcome(seen, RULE)), computed(seen, "normalised_error", "interference").value

    def turned(made):
        forward, right, down = made
        for _ in range(turns):
            forward, right = -right, forward
        return forward, right, down

    first = tuple(m - c for m, c in zip(MADE, change, strict=True))
    kind, error = told(first, MADE)
    mirrored = [(x, -y, z) for x, y, z in (first, MADE)]
    for other in (told(MADE, first), told(turned(first), turned(MADE)), told(*mirrored)):
        assert other[0] is kind
        assert other[1] == pytest.approx(error, rel=0.25, abs=1.5)  # the last digit falls otherwise


def test_the_two_latest_count():
    later = moved(0.08, run("2026-05-17"))
    assert isinstance(answer(later, RULE), Clear)
    first = recorded(run("2026-04-17", (0.3, 0.3, 0.3)), run("2026-04-18"), run("2026-05-16"))
    assert isinstance(answer(first, RULE), Clear)
    future = moved(0.0, run("2026-06-01", (0.3, 0.3, 0.3)))
    assert isinstance(answer(future, RULE), Clear)


@pytest.mark.parametrize(("entry", "expected"), [
    ("date: 2026-05-09, kind: moved, part: battery-tray", "battery tray moved on 2026-05-09 (line 23) lies"),
    ("date: 2026-04-18, kind: moved, part: battery-tray", "battery tray moved on 2026-04-18 (line 23) may lie"),
    ("date: 2026-05-09, kind: hard-landing", "hard landing on 2026-05-09 (line 23) lies"),
    ("date: 2026-05-09, kind: replaced, part: prop, at: rear-left", None),
    ("date: 2026-05-09, kind: flown", None),
    ("date: 2026-05-09, kind: settings-changed, part: power-sensor", None),
    ("date: 2026-04-17, kind: moved, part: battery-tray", None),
])
def test_work_between(entry, expected):
    told = answer(moved(0.08, work=entry), RULE)
    if expected is None:
        assert isinstance(told, Finding)
    else:
        assert told == NotApplicable(f"{expected} between the interference run of 2026-04-18 and that of 2026-05-16")


def test_work_since_the_later_run_leaves_nothing_proven():
    told = answer(moved(0.08, work="date: 2026-05-18, kind: moved, part: battery-tray"), RULE)
    assert (told.cause, told.message) == (
        "stale", "the interference run of 2026-05-16 is outdated: battery tray moved on 2026-05-18",
    )


def test_one_run_or_none_has_nothing_to_be_compared_with():
    nothing = NotApplicable("there is no earlier interference run to compare with")
    assert answer(recorded(run("2026-05-16")), RULE) == nothing
    assert answer(recorded(run("2026-05-16"), run("2026-05-22")), RULE) == nothing
    assert answer(manifest("compass: {noise_ut: 1}\n"), RULE) == nothing
    assert isinstance(answer(moved(0.08, relies="[]"), RULE), NotApplicable)


@pytest.mark.parametrize(("text", "message"), [
    (moved(0.08, site=""), "site.latitude_deg is not recorded"),
    (moved(0.08, hover=()), "aircraft.takeoff_mass_g is not recorded"),
    (recorded(run("2026-04-18").replace("sensor_mv_per_a: 26.4", "zero_mv: 512"), run("2026-05-16")),
     "sensor_mv_per_a in force during the interference run of 2026-04-18 is not recorded"),
    (recorded(run("2026-04-18", kind="compensated"), run("2026-05-16")),
     "interference_offset_ut_per_a in force during the interference run of 2026-04-18 is not recorded"),
    (recorded(run("2026-04-18").replace("field_is: raw\n", ""), run("2026-05-16")),
     "field_is of the interference run of 2026-04-18 is not recorded"),
])
def test_what_is_missing(text, message):
    told = answer(text, RULE)
    assert (told.cause, told.message) == ("absent", message)


def test_a_run_in_another_unit_is_no_change_of_wiring():
    text = recorded(run("2026-04-18", tuple(m / 5 for m in MADE), still=tuple(s / 5 for s in STILL)), run("2026-05-16"))
    told = answer(text, RULE)
    assert (told.cause, told.message, told.do) == (
        "uncertain",
        "at the least current: 9.25 µT in the run of 2026-04-18, 46.2 µT in that of 2026-05-16",
        "look in the logger's settings in what unit it logged each, and name the columns _ut or _mgauss by that",
    )


@pytest.mark.parametrize(("earlier", "why"), [
    ("steel_nearby: true\n", "during the run of 2026-04-18 steel was near"),
    ("magnetic_restraint: true\n",
     "during the run of 2026-04-18 what held the aircraft down attracts a magnet"),
    ("steel_nearby: false\nmagnetic_restraint: false\n", None),
])
def test_a_change_with_another_reason(earlier, why):
    told = answer(recorded(run("2026-04-18", (0.03, *MADE[1:]), seen=earlier), run("2026-05-16")), RULE)
    if why is None:
        assert isinstance(told, Finding)
        return
    assert told.cause == "uncertain"
    assert told.message == (
        f"interference seems to have changed, and perhaps has not: {why}"
    )
    assert told.do.startswith("look first whether that is the reason; log the run again: log time, current and field")


def test_a_compensated_log_said_to_be_raw_is_no_change_of_wiring():
    told = answer(recorded(run("2026-04-18", then=(-0.11, 0.23, -0.049)), run("2026-05-16")), RULE)
    assert told.message == (
        "interference seems to have changed, and perhaps has not: the log says raw, but next to nothing follows the "
        "current, though an offset is installed (run of 2026-04-18)"
    )


def test_an_earlier_run_during_which_something_moved():
    text = recorded(run("2026-04-18", (0.03, *MADE[1:])), run("2026-05-16"))
    shifted = text.replace("9.1, 24.4, 38.2]]", "13.1, 24.4, 38.2]]", 1)  # the last step of the first run
    assert shifted != text
    told = answer(shifted, RULE)
    assert told.cause == "uncertain"
    assert "the still field after the run of 2026-04-18 is " in told.message


def test_an_earlier_run_with_too_few_steps_or_a_dead_sensor():
    few = answer(recorded(run("2026-04-18", amperes=(0, 16)), run("2026-05-16")), RULE)
    assert few.message == "the run of 2026-04-18 has too few steps of current to tell its scatter: 2"
    dead = answer(recorded(run("2026-04-18", (0, 0, 0)), run("2026-05-16")), RULE)
    assert dead.message.startswith("the run of 2026-04-18 shows one field to the last digit at every current")
