"""Two records within days of each other: full texts, both sides of agreement, settings, what is missing."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making.comparisons import WITH_ALL, two_of_volts
from making.manifests import expect

from preflint.api import Clear, Finding, NotApplicable
from preflint.testing import inspect_text, marked

RULE = "freshness/repeats"
NOT_COMPARED = NotApplicable("records of this kind are not compared here")


def volts(first, second, days=("2026-05-18", "2026-05-20"), names=("meter", "another"), ratios=(10, 10)):
    return two_of_volts((first, second), days, names, ratios)


def amperes(first, second):
    """Two comparisons with two clamps in which the display reads so many per cent high."""
    records = "".join(
        f"    - date: {day}\n      route: hover-log\n      in_force: {{sensor_mv_per_a: 26.4, zero_mv: 512}}\n"
        f"      reference: {{instrument: {name}, accuracy_percent: 1, resolution_a: 0.01}}\n"
        "      columns: [indicated_a, reference_a]\n"
        f"      rows: {[[round(a * (1 + error / 100), 3), a] for a in (0, 10.003, 14.407, 19.801, 24.999)]}\n"
        for day, name, error in (("2026-05-18", "clamp", first), ("2026-05-20", "another", second))
    )
    return f"{WITH_ALL}  current_comparison:\n{records}"


def headings(first, second):
    """Two checks whose errors are all alike."""
    records = "".join(
        f"    - date: {day}\n      reference: {{accuracy_deg: 2}}\n      columns: [true_deg, indicated_deg]\n"
        f"      rows: {[[true, (true + error) % 360] for true in (0, 90, 180, 270)]}\n"
        for day, error in (("2026-05-18", first), ("2026-05-20", second))
    )
    return f"{WITH_ALL}  heading_check:\n{records}"


def pressures(first, second):
    """Two checks against a barometer, so many hPa too high."""
    return f"{WITH_ALL}  barometer_check:\n" + "".join(
        f"    - {{date: {day}, indicated_hpa: {990 + error}, station_pressure_hpa: 990, "
        "reference: {accuracy_hpa: 0.5}}\n"
        for day, error in (("2026-05-18", first), ("2026-05-20", second))
    )


def of_later(text, judged_on="2026-05-21"):
    """About the later of two records of a kind."""
    told = [r.outcome for r in inspect_text(text, judged_on).results if r.rule.id == RULE]
    return next((one for one in reversed(told) if one != NOT_COMPARED), NOT_COMPARED)


def test_two_meters_that_contradict_each_other_in_full():
    # Two meters good to 0.3 %: U of the change is 1.96 · √2 · 0.3 % / √3 = 0.48 %; the zero adds
    # a little, and 2.0 % are 4.1 times that.
    text = volts(2.0, 0.0)
    found = expect(Finding, of_later(text))
    assert found.message == (
        "the voltage comparisons of 2026-05-18 and 2026-05-20 contradict each other"
    )
    assert found.evidence == (
        "no work is recorded in between; the error of indication at 16.80 V moved by -2.00 ± 0.48 %, normalised "
        "error 4.1, at most 1; the later one is within 1 %, the earlier one is not beyond doubt"
    )
    assert found.do == (
        "log any work done in between; else repeat the voltage comparison against something else than both times, "
        "and believe what two of three say"
    )
    assert marked(text, found.place) == "2026-05-20"
    assert [(marked(text, r.place), r.message) for r in found.related] == [
        ("2026-05-18", "the voltage comparison before it, of 2026-05-18")
    ]
    assert found.mind == ("Props removed. Pack in only for the reading; do not let the meter's tips touch each other.")


@settings(derandomize=True, deadline=None, max_examples=25)
@given(first=st.floats(-3, 3), second=st.floats(-0.6, 0.6))
def test_found_where_the_earlier_one_leaves_the_limit_by_more_than_both_meters_explain(first, second):
    one = 1.96 * 0.3 / math.sqrt(3)
    apart, limit = abs(first - second) / (math.sqrt(2) * one), abs(first) + one
    near = min(abs(apart - 1), abs(limit - 1)) < 0.08  # roundings, and the zero's share, near the edge
    if not near:
        assert isinstance(of_later(volts(first, second)), Finding if apart > 1 and limit > 1 else Clear)


def test_what_is_no_contradiction():
    assert isinstance(of_later(volts(0.3, 0.0)), Clear)
    assert of_later(volts(2.0, 2.0)) == NotApplicable(
        "the record itself is not within its limit beyond doubt, as its own rule says"
    )
    # Far enough apart that the change is a drift, and told as one.
    assert of_later(volts(2.0, 0.0, ("2026-05-13", "2026-05-20"))) == NotApplicable(
        "the last two are 7 days apart, and what changed since is told as drift"
    )
    assert isinstance(of_later(volts(2.0, 0.0, ("2026-05-14", "2026-05-20"))), Finding)


def test_one_instrument_that_tells_two_things_is_found_too():
    assert isinstance(of_later(volts(2.0, 0.0, names=("meter", "Meter"))), Finding)


def test_a_setting_put_right_in_between_is_no_contradiction():
    # It read 2 % high at 10.2 and reads right at 10: by the setting of now both say the same.
    assert isinstance(of_later(volts(0.0, 0.0, ratios=(10.2, 10))), Clear)
    set_anew = "logbook:\n  - {date: 2026-05-19, kind: settings-changed, part: power-sensor}\n"
    assert isinstance(of_later(volts(0.0, 0.0, ratios=(10.2, 10)) + set_anew), Clear)


def test_work_in_between_explains_it():
    rewired = "logbook:\n  - {date: 2026-05-19, kind: rewired, part: power-sensor}\n"
    assert of_later(volts(2.0, 0.0) + rewired) == NotApplicable(
        "power sensor rewired on 2026-05-19 (line 23) lies between the voltage comparison of 2026-05-18 and that of "
        "2026-05-20"
    )


@pytest.mark.parametrize(("text", "expected"), [
    (amperes(12, 0), Finding),
    (amperes(-12, 0), Finding),
    (amperes(1, 0), Clear),
    (headings(20, 0), Finding),
    (headings(-20, 0), Finding),
    (headings(2, 0), Clear),
    (pressures(6, 0), Finding),
    (pressures(0.3, 0), Clear),
])
def test_amperes_headings_and_pressures(text, expected):
    assert isinstance(of_later(text), expected)


def test_nothing_to_compare():
    assert of_later(WITH_ALL.removesuffix("records:\n")) == NOT_COMPARED
    alone = volts(2.0, 0.0)
    alone = alone[: alone.index("    - date: 2026-05-20")]
    assert of_later(alone) == NotApplicable("there is no earlier voltage comparison to compare with")
    stale = volts(2.0, 0.0) + "logbook:\n  - {date: 2026-05-21, kind: rewired, part: power-sensor}\n"
    assert of_later(stale) == NotApplicable("it is stale, or may be, by what was done since")
    tomorrow = of_later(volts(2.0, 0.0), "2026-05-19")
    assert tomorrow == NotApplicable("it is dated after the day judged at")
    not_set = volts(2.0, 0.0).replace("divider_ratio: 10, ", "", 1)
    assert getattr(of_later(not_set), "message", "") == "power_sensing.divider_ratio is not recorded"
