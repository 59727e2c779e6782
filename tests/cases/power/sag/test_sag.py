"""What a pack sags: resistance against second implementations, full throttle, the lead's own part; texts in full."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making.manifests import answer, expect, manifest
from scipy import stats

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import computed, inspect_text, marked, outcome

SAG, RESISTANCE = "power_sensing/sag", "power_sensing/pack-resistance"
LEAD = "{gauge_awg: 16, one_way_length_mm: 200}"
# Both scales compared with meters good to 1 % and 2 %, and found without error.
COMPARED = {
    "voltage_comparison": "date: 2026-05-16, loaded: false, in_force: {divider_ratio: 7},"
    " reference: {instrument: meter, accuracy_percent: 1}, columns: [indicated_v, reference_v],"
    " rows: [[16.01, 16.01], [12.01, 12.01]]",
    "current_comparison": "date: 2026-05-16, route: restrained, in_force: {sensor_mv_per_a: 26, zero_mv: 512},"
    " reference: {instrument: clamp, accuracy_percent: 2}, columns: [indicated_a, reference_a],"
    " rows: [[0.001, 0.001], [20.001, 20.001], [40.001, 40.001]]",
}


def sag(rows, label="A1", dwell=", dwell_s: 10", full=21, lead=LEAD, cells=4, chemistry="lipo", before=None, **after):
    entry = (
        f"date: 2026-05-17, pack: {label}, route: restrained{dwell}, "
        f"columns: [current_a, voltage_v, used_mah], rows: {rows}"
    )
    return manifest(
        f"packs: [{{label: A1, chemistry: {chemistry}, cells: {cells}, lead: {lead}}}]\n"
        "power_sensing: {divider_ratio: 7, sensor_mv_per_a: 26, zero_mv: 512}\n"
        f"every_rotor: {{motor: {{full_throttle_draw_a: {full}}}}}\n",
        records={**(before or {}), "sag_run": entry, **after},
    )


def run(ohm=0.025, open_v=16.02, by_charge=0.0004, noise=(0.008, -0.006, -0.008, 0.002, 0.004)):
    """Five steps up and down again, 50 A at the top."""
    drawn = ((0, 0), (25, 70), (50, 210), (25, 280), (1, 290))
    return [[i, round(open_v - ohm * i - by_charge * q + n, 3), q] for (i, q), n in zip(drawn, noise, strict=True)]


def test_pack_resistance_as_built_into_the_readings():
    # V = 16.6 - 0.025·I - 0.0004·Q, exact. Scales good to 1 % and 2 % (half-widths): 0.025 · √(1² + 2²) % / √3.
    drawn = ((0, 0), (10, 30), (20, 90), (30, 200), (5, 230))
    rows = [[i, round(16.6 - 0.025 * i - 0.0004 * q, 4), q] for i, q in drawn]
    told = computed(inspect_text(sag(rows, before=COMPARED)), "pack_resistance_ohm", "dwell-10-s", "A1")
    assert told.value == pytest.approx(0.025, rel=1e-9)
    assert told.standard_uncertainty == pytest.approx(0.025 * math.sqrt(5) * 0.01 / math.sqrt(3), rel=0.02)


def test_no_uncertainty_is_stated_where_a_scale_was_not_compared():
    for text in (
        sag(run()),
        sag(run(), before=COMPARED).replace("in_force: {divider_ratio: 7}", "in_force: {divider_ratio: 7.5}"),
        sag(run(), before=COMPARED) + "logbook:\n  - {date: 2026-05-16, kind: firmware, part: flight-controller}\n",
        sag(run(), before=COMPARED).replace("accuracy_percent: 2", "accuracy_percent: 0"),
    ):
        told = computed(inspect_text(text), "pack_resistance_ohm", "dwell-10-s", "A1")
        assert told.value == pytest.approx(0.025, rel=0.02)
        assert told.standard_uncertainty is None


def test_where_no_charge_is_told_apart_it_is_the_line_of_scipy():
    # scipy.stats.linregress, a second implementation; half the width at 95 % by scipy.stats.t.
    current, volts = [0.0, 8.0, 16.0, 24.0, 31.0], [16.52, 16.31, 16.12, 15.89, 15.74]
    rows = [[i, v, 100] for i, v in zip(current, volts, strict=True)]
    seen = inspect_text(sag(rows))
    line = stats.linregress(current, volts)
    assert computed(seen, "pack_resistance_ohm", "dwell-10-s", "A1").value == pytest.approx(-line.slope, rel=1e-9)
    reach = stats.t.ppf(0.975, 3) * line.stderr
    assert f"R {-1000 * line.slope:.1f} mΩ ± {1000 * reach:.1f} mΩ (95 %)" in outcome(seen, RESISTANCE, "A1").evidence


def test_three_parameters_and_the_prediction_against_the_normal_equations():
    rng = np.random.default_rng(5)
    current, used = np.array([0, 10, 20, 30, 5, 15, 25.0]), np.array([0, 30, 90, 180, 230, 290, 380.0])
    volts = np.round(16.6 - 0.025 * current - 0.0004 * used + rng.normal(0, 0.02, 7), 3)
    rows = [[float(a), float(b), float(c)] for a, b, c in zip(current, volts, used, strict=True)]
    seen = inspect_text(sag(rows, full=12))
    design = np.column_stack([np.ones(7), -current, -used])
    inverse = np.linalg.inv(design.T @ design)
    best = inverse @ design.T @ volts
    scatter = math.sqrt(float(np.sum((volts - design @ best) ** 2)) / 4)
    assert computed(seen, "pack_resistance_ohm", "dwell-10-s", "A1").value == pytest.approx(best[1], rel=1e-9)
    reach = stats.t.ppf(0.975, 4) * scatter * math.sqrt(inverse[1, 1])
    assert f"R {1000 * best[1]:.1f} mΩ ± {1000 * reach:.1f} mΩ" in outcome(seen, RESISTANCE, "A1").evidence
    where = np.array([1, -48, -380.0])
    u = scatter * math.sqrt(where @ inverse @ where)  # with the covariance of all three
    says = f"at 48 A and 380 mAh used {where @ best:.2f} V ± {stats.t.ppf(0.975, 4) * u:.2f} V (95 %)"
    assert says in outcome(seen, SAG, "A1").evidence


NO_RESISTANCE = (
    "the readings of 2026-05-17 tell no resistance: there are too few, or current and charge used rise together"
)
NONE_TO_SPARE = "the 3 readings of 2026-05-17 leave none to spare to tell how they scatter"
FALLS = "the charge used falls from row to row in the sag run of 2026-05-17"


@pytest.mark.parametrize(("rows", "says"), [
    ([[10, 16.0, 50]], NO_RESISTANCE),
    ([[10, 16.0, 50], [10, 15.9, 90], [10, 15.8, 150]], NO_RESISTANCE),
    ([[0, 16, 0], [10, 15.7, 100], [20, 15.4, 200]], NO_RESISTANCE),
    ([[0, 16, 0], [10, 15.7, 30], [20, 15.4, 200]], NONE_TO_SPARE),
    ([[0, 16, 0], [10, 15.7, 30], [20, 15.4, 20], [5, 15.8, 90]], FALLS),
])
def test_rows_that_tell_nothing(rows, says):
    seen = inspect_text(sag(rows))
    for rule in (SAG, RESISTANCE):
        open_ = expect(Unproven, outcome(seen, rule, "A1"))
        assert (open_.cause, open_.message) == ("uncertain", says)
    if says == NO_RESISTANCE:
        with pytest.raises(LookupError):
            computed(seen, "pack_resistance_ohm", "dwell-10-s", "A1")
    elif says == NONE_TO_SPARE:
        assert computed(seen, "pack_resistance_ohm", "dwell-10-s", "A1").standard_uncertainty is None


def test_full_throttle_pulls_the_pack_down_in_full():
    text = sag(run(0.04, 14.9))
    found = expect(Finding, answer(text, SAG, "A1"))
    assert found.message == (
        "full throttle (84 A) pulls a cell to 2.85 V, below the 3.00 V of an empty one"
    )
    assert found.evidence == (
        "5 readings of 2026-05-17, each after 10 s: V = 14.91 V - 40.3 mΩ × I - 0.40 mV/mAh × Q; at 84 A and "
        "290 mAh used 11.41 V ± 0.03 V (95 %), 2.85 V a cell; an empty lipo cell has 3.00 V"
    )
    assert found.do == ("fly a pack of less resistance (fresher, warmer or larger), or lighter and with less throttle")
    assert marked(text, found.place).startswith("{date: 2026-05-17")
    assert marked(text, found.related[0].place) == "4"


# At 84 A and 290 mAh by hand: open - 0.04 · 84 - 0.0004 · 290 = open - 3.476, against 12 V. U is 0.03 V.
@pytest.mark.parametrize(("open_v", "kind"), [(15.46, Finding), (15.48, Unproven), (15.52, Unproven), (15.54, Clear)])
def test_both_sides_of_the_empty_cell(open_v, kind):
    assert isinstance(answer(sag(run(0.04, open_v)), SAG, "A1"), kind)


def test_the_chemistry_sets_what_empty_is():
    for chemistry, kind in (("lipo", Finding), ("lipo-hv", Finding), ("li-ion", Clear), ("life", Clear)):
        assert isinstance(answer(sag(run(0.04, 14.9), chemistry=chemistry), SAG, "A1"), kind)


@pytest.mark.parametrize(("dwell", "kind"), [("4.9", Unproven), ("5", Clear)])
def test_both_sides_of_the_dwell(dwell, kind):
    text = sag(run(), dwell=f", dwell_s: {dwell}")
    seen = expect(kind, answer(text, SAG, "A1"))
    if kind is Unproven:
        assert seen.message == "each current was held for 4.9 s, too short for the pack to sag as in flight"
        assert marked(text, seen.place) == "4.9"


def test_the_charge_used_must_bear_the_dwell_out():
    # 25 A take 69.4 mAh in 10 s, and 80 % of that 55.6 mAh; the last digit may hide one.
    for used, kind in ((55, Clear), (54, Unproven)):
        rows = run()
        rows[1][2] = used
        text = sag(rows)
        seen = expect(kind, answer(text, SAG, "A1"))
    assert seen.cause == "uncertain"
    assert seen.message == (
        "54 mAh used up to the reading at 25 A, but 10 s there take 69 mAh"
    )
    assert marked(text, seen.place) == str(rows[1])


def test_a_reading_without_load_need_use_nothing():
    # 1 A takes 2.8 mAh in 10 s; a counter of whole mAh may show none, and one of tenths may leave the idle out.
    for digits in ("", ".0"):
        rows = str(run()).replace(", 290]", f", 280{digits}]")
        assert isinstance(answer(sag(rows), SAG, "A1"), Clear)


def test_small_loads_in_whole_milliampere_hours():
    # 1.3 A for 5 s are 1.8 mAh, of which a counter of whole mAh may show one.
    rows = [[0, 4.12, 0], [1.3, 4.06, 1], [2.6, 4.0, 4], [3.9, 3.94, 9], [0.2, 4.1, 9]]
    text = sag(rows, dwell=", dwell_s: 5", cells=1, full=1)
    assert isinstance(answer(text, SAG, "A1"), Clear)


def test_rows_that_agree_by_luck_are_no_surer_than_their_last_digit_and_their_number():
    # Exact rows of 10 mV: q/√12 for each, by Student's t at 95 % of two rows to spare, 4.303 (GUM, table G.2).
    rows = [[i, round(16 - 0.02 * i - 0.001 * q, 2), q] for i, q in ((0, 0), (25, 70), (50, 210), (25, 280), (0, 290))]
    current, used = np.array(rows)[:, 0], np.array(rows)[:, 2]
    design = np.stack([np.ones(5), -current, -used], axis=1)
    u = 0.01 / math.sqrt(12) * math.sqrt(np.linalg.inv(design.T @ design)[1, 1])
    told = answer(sag(str(rows).replace("16.0,", "16.00,")), RESISTANCE, "A1").evidence
    assert f"R 20.0 mΩ ± {1000 * 4.303 * u:.1f} mΩ" in told


def test_the_degrees_of_freedom_stand_beside_the_uncertainty():
    # Two rows to spare; the scales, of type B, add to u and so to its degrees of freedom (GUM G.4.1).
    told = computed(inspect_text(sag(run(), before=COMPARED)), "pack_resistance_ohm", "dwell-10-s", "A1")
    assert told.dof > 2
    of_scales = told.value * math.sqrt(5) * 0.01 / math.sqrt(3)
    of_rows = math.sqrt(told.standard_uncertainty**2 - of_scales**2)
    assert told.dof == pytest.approx(2 * (told.standard_uncertainty / of_rows) ** 4, rel=0.3)  # and their last digits
    assert computed(inspect_text(sag(run())), "pack_resistance_ohm", "dwell-10-s", "A1").dof is None


@pytest.mark.parametrize(("full", "kind"), [(25, Clear), (25.1, Unproven)])
def test_both_sides_of_the_coverage(full, kind):
    seen = expect(kind, answer(sag(run(), full=full), SAG, "A1"))
    if kind is Unproven:
        assert seen.message == "the sag run goes to 50 A, but full throttle draws 100 A"


# A run to hover current speaks too, as the current comparison's does: 50 A are 90 % of 55.5 A.
@pytest.mark.parametrize(("hover", "kind"), [(30, Clear), (55.5, Clear), (55.6, Unproven)])
def test_a_run_to_hover_current_speaks(hover, kind):
    text = sag(run(), full=34, hover=f"date: 2026-05-17, mean_current_a: {hover}")
    seen = expect(kind, answer(text, SAG, "A1"))
    if kind is Unproven:
        assert seen.message == "the sag run goes to 50 A, but full throttle draws 136 A and hover 56 A"


def test_where_full_throttle_is_not_recorded_hover_is_asked_about():
    text = sag(run()).replace("every_rotor: {motor: {full_throttle_draw_a: 21}}\n", "")
    open_ = expect(Unproven, answer(text, SAG, "A1"))
    assert open_.message == "the hover current is not known: neither a hover nor a thrust stand is recorded"
    hover = "  hover:\n    - {date: 2026-05-17, mean_current_a: 30}\n"
    seen = expect(Clear, answer(text + hover, SAG, "A1"))
    assert "at 30 A and 290 mAh used 15.15 V" in seen.evidence


@pytest.mark.parametrize(("gone", "says"), [
    (", dwell_s: 10", "dwell_s of the sag run of 2026-05-17 is not recorded"),
    (", cells: 4", "packs[0].cells is not recorded"),
    ("chemistry: lipo, ", "packs[0].chemistry is not recorded"),
])
def test_what_sag_needs(gone, says):
    text = sag(run())
    assert gone in text
    open_ = expect(Unproven, answer(text.replace(gone, ""), SAG, "A1"))
    assert open_.cause == "absent"


def test_where_sag_is_not_asked():
    for rule in (SAG, RESISTANCE):
        text = sag(run()).partition("  sag_run:")[0].replace("records:\n", "")
        assert answer(text, rule, "A1") == NotApplicable("no sag run of this pack is recorded")
        two = sag(run()).replace("packs: [", "packs: [{label: B2, cells: 4, chemistry: lipo}, ")
        assert answer(two, rule, "B2") == NotApplicable("no sag run of this pack is recorded")
        assert isinstance(answer(two, rule, "A1"), Clear)
        unfitted = sag(run()).replace("{divider_ratio: 7, sensor_mv_per_a: 26, zero_mv: 512}", "none")
        assert answer(unfitted, rule, "A1") == NotApplicable("no power sensing is fitted")
        stale = sag(run()) + "logbook:\n  - {date: 2026-05-18, kind: rewired, part: pack}\n"
        assert answer(stale, rule, "A1").cause == "stale"
    unlabelled = sag(run()).replace("pack: A1, ", "")
    assert isinstance(answer(unlabelled, SAG, "A1"), Clear)


def test_a_pack_that_resists_less_than_its_lead_in_full():
    text = sag(run(0.0015))
    found = expect(Finding, answer(text, RESISTANCE, "A1"))
    assert found.message == ("pack and lead come out at 1.8 mΩ ± 0.5 mΩ, less than the 4.4 mΩ of the lead alone")
    assert [one.message for one in found.related] == ["the lead alone has 4.4 mΩ"]
    assert found.evidence == (
        "5 readings of 2026-05-17, each after 10 s: V = 16.02 V - 1.8 mΩ × I - 0.39 mV/mAh × Q, R 1.8 mΩ ± 0.5 mΩ "
        "(95 %); both wires of the lead, 16 AWG and 200 mm, 4.4 mΩ at the least"
    )
    assert found.do == (
        "compare volts and amperes with a meter under load: volts that stand still or amperes that read high make a "
        "sag too small; measure the lead again"
    )
    assert marked(text, found.related[0].place) == "16"


# ASTM B258: 16 AWG has 1.309 mm2; IEC 60028: 1/58 ohm mm2/m at 20 °C, 0.00393 per kelvin. Both wires of 200 mm at
# -20 °C: 0.4 / 58 / 1.309 · (1 - 0.157) = 4.44 mohm. U 0.49 mohm; the noise adds 0.31 mohm to R.
@pytest.mark.parametrize(("ohm", "kind"), [(0.0036, Finding), (0.0038, Unproven), (0.0046, Unproven), (0.0048, Clear)])
def test_both_sides_of_the_lead(ohm, kind):
    assert isinstance(answer(sag(run(ohm)), RESISTANCE, "A1"), kind)


def test_volts_that_rise_with_the_current_tell_nothing():
    seen = inspect_text(sag(run(-0.01)))
    open_ = expect(Unproven, outcome(seen, RESISTANCE, "A1"))
    assert open_.cause == "uncertain"
    assert open_.message == ("the volts of the sag run of 2026-05-17 rise with the current: -9.7 mΩ ± 0.5 mΩ")
    assert open_.do.startswith("look whether the columns are exchanged; hold several currents for ten seconds each")
    assert outcome(seen, SAG, "A1") == NotApplicable("the run shows no resistance: see pack-resistance")


def test_a_lead_that_nobody_recorded():
    open_ = expect(Unproven, answer(sag(run(), lead="{gauge_awg: 16}"), RESISTANCE, "A1"))
    assert open_.cause == "absent"
    assert "one_way_length_mm" in open_.message


@settings(derandomize=True, deadline=None, max_examples=30)
@given(
    ohm=st.floats(0.008, 0.08), scale_v=st.floats(0.5, 3), scale_a=st.floats(0.5, 3), by_charge=st.floats(0.0001, 0.001)
)
def test_resistance_scales_with_volts_and_against_amperes(ohm, scale_v, scale_a, by_charge):
    rows = run(ohm, 16.0, by_charge)
    plain = computed(inspect_text(sag(rows)), "pack_resistance_ohm", "dwell-10-s", "A1").value
    other = [[i * scale_a, v * scale_v, q] for i, v, q in rows]
    scaled = computed(inspect_text(sag(other)), "pack_resistance_ohm", "dwell-10-s", "A1").value
    assert scaled == pytest.approx(plain * scale_v / scale_a, rel=1e-6)


def test_the_stated_reach_holds_the_true_resistance():
    """Readings drawn with scatter: U at 95 % misses the true resistance about one time in twenty."""
    rng = np.random.default_rng(3)
    missed = 0
    for _ in range(200):
        text = sag(run(0.025, noise=rng.normal(0, 0.01, 5).tolist()))
        evidence = answer(text, RESISTANCE, "A1").evidence
        told, reach = evidence.partition(", R ")[2].partition(" (95")[0].replace(" mΩ", "").split(" ± ")
        missed += abs(float(told) - 25) > float(reach)
    assert 2 <= missed <= 20
