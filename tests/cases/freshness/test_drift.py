"""Drift between successive records: full texts, both sides of what is left, signs, instruments, what is missing."""

import datetime as dt
import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from making.comparisons import WITH_ALL, two_of_volts
from making.manifests import expect
from scipy import stats

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import computed, inspect_text, marked

RULE = "freshness/drift"
BETWEEN = "between the voltage comparison of 2026-02-10 and that of 2026-04-11"
NOT_FOLLOWED = NotApplicable("no drift is worked out for records of this kind")


def volts(
    first=0.0, second=0.0, days=("2026-02-10", "2026-04-11"), names=("meter", "meter"), accuracy=0.3, ratios=(10, 10)
):
    return two_of_volts((first, second), days, names, ratios, accuracy)


def all_told(text, judged_on="2026-05-21"):
    return [r.outcome for r in inspect_text(text, judged_on).results if r.rule.id == RULE]


def of_later(text, judged_on="2026-05-21"):
    """About the later of two records of a kind, whatever else is recorded."""
    told = all_told(text, judged_on)
    return next((answer for answer in reversed(told) if answer != NOT_FOLLOWED), NOT_FOLLOWED)


def test_used_up_in_full():
    # 0.5 % in 60 days; left of 1 % are 1 - 0.5 - U, U = 1.96 · 0.3 % / √3 = 0.34 %: about 0.16 %, good for 19 days.
    # One meter: a third of its accuracy anew each time leaves the change uncertain by √2 · 0.34 % / 3 = 0.16 %, so that
    # it lasts 60 · 0.16 / (0.5 + 0.16) = 14 to 60 · 0.16 / (0.5 - 0.16) = 28 days.
    text = volts(0.0, 0.5)
    first, found = all_told(text)
    assert first == NotApplicable("a later record of the kind counts")
    assert isinstance(found, Finding)
    assert found.message == (
        "the error of indication at 16.80 V drifts: 1 % is used up 40 days after the voltage comparison"
    )
    assert found.evidence == (
        "at this rate what was left of 1 % lasts until 2026-04-30 (2026-04-25 to 2026-05-09); the error of "
        "indication at 16.80 V moved by +0.50 ± 0.16 % in 60 days from 2026-02-10 to 2026-04-11"
    )
    assert found.do == (
        "repeat the voltage comparison: read the display and a meter at the same moment, at two pack voltages; "
        "while it drifts so, repeat it within 14 days each time"
    )
    assert marked(text, found.place) == "2026-04-11"
    assert [(marked(text, r.place), r.message) for r in found.related] == [
        ("2026-02-10", "the voltage comparison before it, of 2026-02-10")
    ]
    assert found.mind == ("Props removed. Pack in only for the reading; do not let the meter's tips touch each other.")


@pytest.mark.parametrize(
    ("judged_on", "expected"), [("2026-04-24", Clear), ("2026-04-30", Unproven), ("2026-05-11", Finding)]
)
@pytest.mark.parametrize("sign", [1, -1])
def test_both_sides_of_what_is_left(judged_on, expected, sign):
    assert isinstance(of_later(volts(0.0, sign * 0.5), judged_on), expected)


def test_too_uncertain_to_tell():
    text = volts(0.0, 0.5, names=("meter", "another"), accuracy=0.2)
    # Two instruments: the change is 0.5 % ± 1.96 · √2 · 0.2 % / √3 = 0.32 %; left is 1 - 0.5 - 0.23 = 0.27 %, which
    # lasts 60 · 0.27 / 0.5 = 33 days, at least 20 and at most 90.
    told = expect(Unproven, of_later(text))
    assert (told.cause, marked(text, told.place)) == ("uncertain", "2026-04-11")
    assert told.message == (
        "the error of indication at 16.80 V drifts: 1 % may be used up 40 days after the voltage comparison"
    )
    assert "; the error of indication at 16.80 V moved by +0.50 ± 0.32 % in 60 days from" in told.evidence
    assert told.do.startswith("repeat the voltage comparison: ")
    assert isinstance(of_later(text, "2026-04-28"), Clear)
    assert isinstance(of_later(text, "2026-07-20"), Finding)


def test_a_rate_inside_its_own_uncertainty_is_no_rate():
    changed = volts(0.0, 0.3, names=("meter", "another"))
    assert of_later(changed, "2030-01-01") == Clear(
        "the error of indication at 16.80 V moved by +0.30 ± 0.48 % between 2026-02-10 and 2026-04-11: no drift is told"
    )
    same = volts(0.0, 0.3)  # one instrument: its error leaves the change
    assert isinstance(of_later(same, "2030-01-01"), Finding)
    nobody_said = volts(0.0, 0.3).replace("instrument: meter, ", "")
    assert isinstance(of_later(nobody_said, "2030-01-01"), Clear)


def test_a_display_that_drifts_into_the_right_has_all_the_way_to_the_other_side():
    # From +0.6 to +0.3 %: at 0.005 % a day it passes zero and is at -(1 - 0.34) % after 0.96 / 0.005 = 192 days;
    # ± 0.16 % make that 125 to 411.
    text = volts(0.6, 0.3)
    assert isinstance(of_later(text, "2026-08-10"), Clear)
    assert isinstance(of_later(text, "2027-06-10"), Finding)


def test_what_is_not_within_its_limit_beyond_doubt_is_left_to_its_own_rule():
    for second in (0.8, 2.0):
        assert of_later(volts(0.0, second)) == NotApplicable(
            "the record itself is not within its limit beyond doubt, as its own rule says"
        )


def test_a_setting_changed_in_between_is_converted():
    # The setting was corrected by 1 %: what the sensor gives did not move, and what it shows by the setting of now is
    # the same both times.
    text = volts(0.0, 0.0, ratios=(10.1, 10)) + (
        "logbook:\n  - {date: 2026-03-01, kind: settings-changed, part: power-sensor}\n"
    )
    told = expect(Clear, of_later(text))
    assert told.evidence.endswith("moved by +0.00 ± 0.16 % between 2026-02-10 and 2026-04-11: no drift is told")


@pytest.mark.parametrize(("entry", "because"), [
    ("{date: 2026-03-01, kind: replaced, part: power-sensor}",
     f"power sensor replaced on 2026-03-01 (line 23) lies {BETWEEN}"),
    ("{date: 2026-04-11, kind: rewired, part: power-sensor}",
     f"power sensor rewired on 2026-04-11 (line 23) may lie {BETWEEN}"),
    ("{date: 2026-04-12, kind: settings-changed, part: power-sensor}",
     "it is stale, or may be, by what was done since"),
    ("{date: 2026-03-01, kind: replaced, part: motor, at: rear-left}", None),
])
def test_work(entry, because):
    told = of_later(volts(0.0, 0.5) + f"logbook:\n  - {entry}\n")
    assert isinstance(told, Finding) if because is None else told == NotApplicable(because)


def test_two_records_near_each_other_tell_how_well_a_reading_repeats():
    assert of_later(volts(0.0, 0.5, days=("2026-04-05", "2026-04-11"))) == NotApplicable(
        "the last two are 6 days apart, and a drift is told from 7 days on"
    )
    assert isinstance(of_later(volts(0.0, 0.5, days=("2026-04-04", "2026-04-11"))), Finding)


def test_what_the_question_does_not_arise_for():
    one = volts().replace("2026-04-11", "2026-06-11")
    assert all_told(one) == [
        NotApplicable("there is no earlier voltage comparison to compare with"),
        NotApplicable("it is dated after the day judged at"),
    ]
    assert of_later(WITH_ALL + "  range_test: [{date: 2026-05-20, control_held: true}]\n") == NOT_FOLLOWED
    unfitted = volts(0.0, 0.5).replace("{divider_ratio: 10, sensor_mv_per_a: 26.4, zero_mv: 512}", "none")
    assert of_later(unfitted) == NotApplicable("nothing is followed in these records")


def test_what_is_missing():
    text = volts(0.0, 0.5).replace("in_force: {divider_ratio: 10}", "in_force: {zero_mv: 512}", 1)
    told = of_later(text)
    assert (told.cause, told.message) == (
        "absent", "divider_ratio in force during the voltage comparison of 2026-02-10 is not recorded",
    )


@settings(derandomize=True, deadline=None, max_examples=60)
@given(first=st.floats(-0.6, 0.6), second=st.floats(-0.6, 0.6), age=st.integers(0, 400), apart=st.integers(7, 200))
def test_when_it_is_used_up_by_plain_arithmetic(first, second, age, apart):
    """By hand, at every voltage alike: e + rate · age against 1 % - U, by the lower and the upper bound of the rate."""
    change, u = second - first, 1.96 * 0.3 / math.sqrt(3)

    def expected(doubt, limit):
        if abs(second) + u > limit:
            return NotApplicable
        if abs(change) <= doubt:
            return Clear
        at_least, at_most = (
            abs(second + change * (1 + side * doubt / abs(change)) * age / apart) + u > limit for side in (-1, 1)
        )
        return Finding if at_least else Unproven if at_most else Clear

    answers = {expected(math.sqrt(2) * u / 3 * slack, 1 + more) for slack in (0.95, 1.1) for more in (-0.02, 0.02)}
    assume(len(answers) == 1)  # clear of every limit by the last digits shown
    later = dt.date(2026, 4, 11)
    text = volts(first, second, days=(str(later - dt.timedelta(days=apart)), str(later)))
    assert {type(of_later(text, str(later + dt.timedelta(days=age))))} == answers


def amperes(second, hover=""):
    records = "".join(
        f"    - date: {day}\n      route: restrained\n      in_force: {{sensor_mv_per_a: {sensor}, zero_mv: 512}}\n"
        "      reference: {instrument: clamp meter, accuracy_percent: 1.5, resolution_a: 0.01, zero_a: 0.0}\n"
        "      columns: [throttle_percent, indicated_a, reference_a]\n"
        f"      rows: [[0, 0.00, 0.00], [35, {9.03 * by:.2f}, 9.03], [55, {24.03 * by:.2f}, 24.03]]\n"
        for day, sensor, by in (("2026-02-10", 13.2, 2.0), ("2026-04-11", 26.4, 1 + second / 100))
    )
    return f"{WITH_ALL}  current_comparison:\n{records}{hover}"


def test_amperes_by_the_settings_of_now():
    # Shown by 13.2 mV/A they were twice as many; 2.5 % in 60 days leave 5 - 2.5 - 1.7 = 0.8 %, good for 19 days:
    # ± 0.8 %, a third of the meter anew each time, make that 14 to 28.
    found = expect(Finding, of_later(amperes(2.5)))
    assert found.message == (
        "the error of indication at 24.0 A drifts: 5 % is used up 40 days after the current comparison"
    )
    assert found.mind.startswith("Loaded run: ")
    assert isinstance(of_later(amperes(2.5), "2026-04-20"), Clear)
    hovered = amperes(-2.5, "  hover: [{date: 2026-04-12, mean_current_a: 12}]\n")
    assert of_later(hovered).message.startswith("the error of indication at ")
    rates = [computed(inspect_text(hovered), "drift_percent_per_day", f"amperes-{case}") for case in ("top", "hover")]
    assert [rate.value for rate in rates] == pytest.approx([-2.5 / 60] * 2, rel=0.02)


def test_the_figure_by_hand():
    seen = inspect_text(volts(0.0, 0.5, names=("meter", "another")))
    rate = computed(seen, "drift_percent_per_day", "volts-full")
    assert (rate.value, rate.unit) == (pytest.approx(0.5 / 60, rel=1e-3), "%/d")
    assert rate.standard_uncertainty == pytest.approx(math.sqrt(2) * 0.3 / math.sqrt(3) / 60, rel=0.02)
    assert rate.dof == math.inf  # of meters' accuracies and last digits


def interference(more):
    """The second run with so many µT/A more forward than the offset of the first takes away."""

    def rows(by):
        made = ((9.1, 0.11 + by), (24.4, -0.23), (38.2, 0.05))
        return [[round(2 * a), a, *(round(c + b * a, 3) for c, b in made)] for a in (0.0, 8.003, 16.001, 24.007, 0.0)]

    runs = "".join(
        f"    - date: {day}\n      route: restrained\n      field_is: raw\n      in_force: {{sensor_mv_per_a: 26.4}}\n"
        "      columns: [throttle_percent, current_a, field_x_ut, field_y_ut, field_z_ut]\n"
        f"      rows: {rows(by)}\n"
        for day, by in (("2026-02-10", 0.0), ("2026-04-11", more))
    )
    return f"{WITH_ALL}  interference_run:\n{runs}  hover: [{{date: 2026-04-12, mean_current_a: 24}}]\n"


def test_interference_that_creeps():
    # 18.09 ± 0.26 µT and 24 A: 10° at (18.09 - 0.5)·sin 10° / 24 = 0.1272 µT/A; 0.08 in 60 days leave 35 days, and
    # with ± 0.0106 µT/A, a third of 5 % for the amperes of each run, 31 to 42.
    text = interference(0.08)
    found = expect(Finding, of_later(text, "2026-05-25"))
    assert found.message == (
        "what each ampere makes at the compass drifts: 10° at hover is used up 44 days after the interference run"
    )
    assert "; what each ampere makes at the compass moved by 0.0800 ± 0.0" in found.evidence
    assert found.mind.startswith("Loaded run: ")
    assert isinstance(of_later(text, "2026-05-10"), Clear)
    assert isinstance(of_later(text, "2026-05-16"), Unproven)
    assert isinstance(of_later(interference(-0.08), "2026-05-25"), Finding)
    assert isinstance(of_later(interference(0.001), "2026-12-31"), Clear)
    assert isinstance(of_later(interference(0.005), "2026-12-31"), Clear)
    rate = computed(inspect_text(text), "drift_ut_per_a_per_day", "interference")
    assert (rate.value, rate.unit) == (pytest.approx(0.08 / 60, rel=1e-2), "µT/(A·d)")
    # U of the change, as the evidence has it, is that of a ball by the F-distribution for just these dof.
    ball = math.sqrt(3 * stats.f.ppf(0.95, 3, min(rate.dof, 1e6))) * 60 * rate.standard_uncertainty
    assert f"moved by 0.0800 ± {ball:.4f} µT/A" in found.evidence


def test_rows_that_scatter_leave_few_degrees_of_freedom():
    text = volts(names=("meter", "another"), accuracy=0.1)
    assert text.count("[14.407, 14.407]") == 2
    seen = inspect_text(text.replace("[14.407, 14.407]", "[14.607, 14.407]"))
    # Three rows and a zero known beforehand leave two to spare, in each of two alike: four, and a little for meters.
    assert computed(seen, "drift_percent_per_day", "volts-full").dof == pytest.approx(4.0, abs=0.1)


def test_a_stale_run_is_not_asked_how_it_drifts():
    moved = "logbook:\n  - {date: 2026-04-13, kind: moved, part: battery-tray}\n"
    assert of_later(interference(0.08) + moved) == NotApplicable("it is stale, or may be, by what was done since")
    one = interference(0.08).replace("field_is: raw", "field_is: compensated", 1)
    told = of_later(one)
    assert (told.cause, told.message) == (
        "absent", "interference_offset_ut_per_a in force during the interference run of 2026-02-10 is not recorded",
    )


def headings(second, accuracy=1, rows=(0, 90, 180, 270)):
    checks = "".join(
        f"    - {{date: {day}, reference: {{accuracy_deg: {accuracy}}}, columns: [true_deg, indicated_deg], "
        f"rows: {[[h, (h + by) % 360] for h in rows]}}}\n"
        for day, by in (("2026-02-10", 0), ("2026-04-11", second))
    )
    return f"{WITH_ALL}  heading_check:\n{checks}"


@pytest.mark.parametrize("sign", [1, -1])
def test_a_heading_that_creeps(sign):
    # 6° in 60 days, directions known to 1°, the nose pointed to 1° four times: left are 10 - 6 - 1.27 = 2.73°, good for
    # 27 days (21 to 38).
    text = headings(sign * 6)
    found = expect(Finding, of_later(text))
    assert f"; the mean error of heading moved by {sign * 6:+.1f} ± 1.8° in 60 days from" in found.evidence
    assert found.message.startswith("the mean error of heading drifts: 10° is used up ")
    assert isinstance(of_later(text, "2026-05-02"), Clear)
    assert isinstance(of_later(text, "2026-05-10"), Unproven)
    assert isinstance(of_later(headings(sign * 1), "2030-01-01"), Clear)
    assert computed(inspect_text(text), "drift_deg_per_day", "heading").value == pytest.approx(sign * 0.1)


def test_headings_that_do_not_go_round_tell_no_mean():
    assert of_later(headings(6, rows=(0, 90))) == NotApplicable("nothing is followed in these records")


def pressures(second, how="station_pressure_hpa: 986.4"):
    checks = "".join(
        f"    - {{date: {day}, indicated_hpa: {986.4 + by:.1f}, {how}, reference: {{accuracy_hpa: 0.3}}}}\n"
        for day, by in (("2026-02-10", 0), ("2026-04-11", second))
    )
    return f"{WITH_ALL}  barometer_check:\n{checks}"


@pytest.mark.parametrize("sign", [1, -1])
def test_a_barometer_that_creeps(sign):
    # 1.8 hPa ± 0.48 in 60 days; left are 3 - 1.8 - 0.34 = 0.86 hPa, good for 28 days, at most 39.
    text = pressures(sign * 1.8)
    found = expect(Finding, of_later(text))
    assert found.message == (
        "the error of the indicated pressure drifts: 3 hPa is used up 40 days after the barometer check"
    )
    assert isinstance(of_later(text, "2026-05-02"), Clear)
    assert of_later(pressures(0), "2030-01-01") == Clear(
        "the error of the indicated pressure moved by +0.0 ± 0.5 hPa between 2026-02-10 and 2026-04-11: no drift is "
        "told"
    )
    not_relied_on = text.replace("[compass, barometer]", "[compass]")
    assert of_later(not_relied_on) == NotApplicable("the aircraft does not rely on a barometer")


def test_a_slow_drift_may_last_ten_years():
    """0.06 ± 0.05 % in 60 days, of 0.9 %: two and a half years, and fifteen at the slowest."""
    slow = expect(Clear, of_later(volts(0.0, 0.06, accuracy=0.1)))
    assert slow.evidence.startswith("at this rate what was left of 1 % lasts until 2028-07-08 (2027-06-18 to ten years")


def test_at_no_volts_no_drift_is_told():
    """Without a pack the highest and the lowest reading count, and of nothing there is no per cent."""
    bare = volts(0.0, 0.3, accuracy=0.1).replace("packs: [{label: A1, chemistry: lipo, cells: 4}]\n", "")
    cases = [
        {one.case for one in inspect_text(text).computed if one.quantity == "drift_percent_per_day"}
        for text in (bare, bare.replace("rows: [", "rows: [[0, 0], "))
    ]
    assert cases == [{"volts-full", "volts-lowest"}, {"volts-full"}]


@pytest.mark.parametrize(("text", "fitted"), [
    (amperes(2.5), "power_sensing: {divider_ratio: 10, sensor_mv_per_a: 26.4, zero_mv: 512}"),
    (volts(0.0, 0.5), "power_sensing: {divider_ratio: 10, sensor_mv_per_a: 26.4, zero_mv: 512}"),
])  # fmt: skip
def test_what_is_no_longer_fitted_does_not_drift(text, fitted):
    assert fitted in text
    told = of_later(text.replace(fitted, "power_sensing: none"))
    assert told == NotApplicable("nothing is followed in these records")
