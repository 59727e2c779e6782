"""Plug, lead, pack and fuse against hover and full throttle: full texts, both sides, missing input."""

import pytest
from making.manifests import QUAD, answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.findings.outcome import ADVISORY
from preflint.testing import computed, inspect_text, marked

PLUG, MARGIN, FULL = "power_train/plug", "power_train/plug-margin", "power_train/plug-full"
LEAD, SHORT = "power_train/lead-heat", "power_train/lead-short"
PACK, OPENS, FUSE = "power_train/pack-rating", "power_train/fuse-opens", "power_train/fuse"
HOVER = "date: 2026-05-17, mean_current_a: {}, mean_voltage_v: 15.2, takeoff_mass_g: 2000"


def flown(pack, full=68, hover=15.4, site=""):
    motors = f"every_rotor: {{motor: {{full_throttle_draw_a: {full / 4}}}}}\n" if full else ""
    packs = f"packs: [{{label: A1, chemistry: lipo, cells: 4, {pack}}}]\n"
    records = {"hover": HOVER.format(hover)} if hover else {}
    return manifest(site, motors, QUAD, packs, records=records, more="takeoff_mass_g: 2000")


def told(rule, pack, **more):
    return answer(flown(pack, **more), rule, "A1")


def plug(amperes):
    return f"connector_continuous_a: {amperes}"


def lead(gauge, insulation=200, more=""):
    bears = f", insulation_c: {insulation}" if insulation else ""
    return f"lead: {{gauge_awg: {gauge}, one_way_length_mm: 130{bears}}}{more}"


# Hover 15.4 A is within 5 % 14.6 to 16.2 A; 68 A is within 11.3 % 60.3 to 75.7 A, a third of that 20.1 A.
@pytest.mark.parametrize(("amperes", "expected"), [
    (14.5, Finding), (20, Finding), (20.2, Clear), (30, Clear), (90, Clear),
])
def test_both_sides_of_the_plug(amperes, expected):
    assert isinstance(told(PLUG, plug(amperes)), expected)


# 80 % of 18.2 A is 14.56 A, of 18.4 A 14.72 A, of 20 A 16.0 A, of 20.3 A 16.24 A.
@pytest.mark.parametrize(("amperes", "expected"), [
    (14, NotApplicable), (18.2, Finding), (18.4, Unproven), (20, Unproven), (20.3, Clear), (60, Clear),
])
def test_both_sides_of_the_plugs_margin(amperes, expected):
    assert isinstance(told(MARGIN, plug(amperes)), expected)


@pytest.mark.parametrize(("amperes", "expected"), [
    (20, NotApplicable), (20.2, Finding), (60, Finding), (60.5, Unproven), (75, Unproven), (76, Clear),
])
def test_both_sides_of_full_throttle_on_the_plug(amperes, expected):
    assert isinstance(told(FULL, plug(amperes)), expected)


def test_the_hover_alone_is_enough():
    # At 40 A full throttle is 2.7 times 15 A at most, so the hover decides: 14.6 to 16.2 A.
    text = flown(plug(14.5), full=36)
    found = expect(Finding, answer(text, PLUG, "A1"))
    assert found.message == "hover takes 15 A or more; the plug carries 14.5 A"
    assert found.evidence == "hover 15.4 A (hover of 2026-05-17); the plug's continuous rating 14.5 A"
    assert found.do == "fit a plug with a higher continuous rating on pack and aircraft, new ones on both sides"
    assert marked(text, found.place) == "14.5"
    assert inspect_text(text).verdict == "no-go"
    assert isinstance(told(PLUG, plug(15), full=36), Unproven)
    assert isinstance(told(PLUG, plug(16.3), full=36), Clear)
    # 20 A are 19 to 21 A: both ends are within what a plug of that rating may have.
    assert isinstance(told(PLUG, plug(19), full=36, hover=20), Unproven)
    assert isinstance(told(PLUG, plug(21), full=36, hover=20), Clear)


def test_full_throttle_far_above_the_plug_in_full():
    found = expect(Finding, told(PLUG, plug(20)))
    assert found.message == "full throttle draws over 3 times what the plug is rated for"
    assert found.evidence == "full throttle 68 A ± 11 %; the plug's continuous rating 20 A"


def test_the_margin_in_full():
    found = expect(Finding, told(MARGIN, plug(18), full=16))
    assert found.message == "hover takes 15 A or more of the 18 A that the plug carries"
    assert found.evidence == "hover 15.4 A (hover of 2026-05-17); 80 % of the plug's continuous rating of 18 A"
    assert found.do == "feel the plug after each flight, pack unplugged; fit a larger one on pack and aircraft"


def test_full_throttle_above_the_plug_in_full():
    """An advisory: racing quads of 5 in fly by the thousand with 60 A plugs and tables of 150 A (common practice)."""
    text = flown(plug(50))
    found = expect(Finding, answer(text, FULL, "A1"))
    assert found.message == "full throttle is more than the plug is rated for"
    assert found.evidence == "full throttle 68 A ± 11 %; the plug's continuous rating 50 A"
    assert found.do == (
        "keep full throttle to seconds; feel the plug after each flight; fit a larger one when it is next soldered"
    )
    assert marked(text, found.place) == "50"
    assert [one.rule.severity for one in inspect_text(text).results if one.rule.id == FULL] == [ADVISORY]
    expect(Clear, told(MARGIN, plug(50)))


# 150 K · (15.4·1.05/47)² = 17.8 K of No. 14; of No. 22 (0.6438 mm) times 2.528² to 2.528³, from 40 °C on.
@pytest.mark.parametrize(("gauge", "insulation", "expected"), [
    (12, 105, Clear), (14, 105, Clear), (22, 200, Unproven), (22, 105, Finding), (22, None, Unproven),
    (26, 200, Finding), (26, None, Finding), (18, 105, Unproven), (16, 105, Clear),
])
def test_both_sides_of_a_warm_lead(gauge, insulation, expected):
    assert isinstance(told(LEAD, lead(gauge, insulation)), expected)


@pytest.mark.parametrize("gauge", [18, 22])  # within what the best bears, and above what the poorest does
def test_of_a_lead_that_some_insulation_bears_the_insulation_is_asked_for(gauge):
    assert "insulation_c" in expect(Unproven, told(LEAD, lead(gauge, None))).message


def test_a_warm_lead_in_full():
    text = flown(lead(26))
    found = expect(Finding, answer(text, LEAD, "A1"))
    thinner = 92 ** (12 / 39)  # No. 14 and No. 26, ASTM B258
    low, high = (150 * (15.4 * part / 47) ** 2 * thinner**power for part, power in ((0.95, 2), (1.05, 3)))
    assert found.message == f"at hover the lead gets to {40 + low:.0f} °C, more than it bears"
    assert found.evidence == (
        "26 AWG, insulation for 200 °C, air 40 °C; hover 15.4 A (hover of 2026-05-17): the copper settles at "
        f"{40 + low:.0f} to {40 + high:.0f} °C"
    )
    assert found.do == "solder in a thicker lead, or one with insulation for more"
    assert marked(text, found.place) == "26"


def test_a_hotter_place_than_a_hot_day():
    assert "air 45 °C" in expect(Clear, told(LEAD, lead(12), site="site: {temperature_c: 45}\n")).evidence
    assert "air 40 °C" in expect(Clear, told(LEAD, lead(12), site="site: {temperature_c: -10}\n")).evidence


def test_full_throttle_on_a_lead():
    assert isinstance(told(SHORT, lead(12)), Clear)
    assert isinstance(told(SHORT, lead(10, 105)), Clear)
    assert isinstance(told(SHORT, lead(20, 105)), Finding)
    assert isinstance(told(SHORT, lead(22)), Finding)
    assert "insulation" in expect(Unproven, told(SHORT, lead(14, None))).message
    assert isinstance(told(SHORT, lead(8, None)), Clear)
    # A lead that settles below what it bears never gets there, however long.
    assert isinstance(told(SHORT, lead(14, 105), full=10, hover=4), Clear)


def test_a_lead_that_sheds_its_heat_before_it_is_too_warm():
    """No. 24 (0.5106 mm) at 16 A less 11 %: 150·(14.2/47)²·(1.6277/0.5106)² = 139 K, 179 °C from 40 °C on.

    At 22 A less 11 % it settles 262 K above, which takes 2.5 s to 200 °C without a loss and 3.9 s with it.
    """
    cool = told(SHORT, lead(24), full=16, hover=2.2)
    assert "cannot be told" in expect(Unproven, cool).message
    assert cool.evidence.endswith("at its limit after 3 s, or never")
    warm = expect(Finding, told(SHORT, lead(24), full=22, hover=2.2))
    assert warm.message == "full throttle brings the lead to its limit within 4 s"


@pytest.mark.parametrize(("gauge", "insulation", "full", "expected"), [
    (12, 105, 88, Clear), (12, 105, 88.8, Unproven), (12, 105, 119.5, Unproven), (12, 105, 120.5, Finding),
    (14, 200, 84, Clear), (14, 200, 84.4, Unproven), (14, 200, 113.2, Unproven), (14, 200, 114.2, Finding),
])
def test_both_sides_of_ten_seconds_at_full_throttle(gauge, insulation, full, expected):
    """I = k·A/√10, k = 226·√ln((234.5 + θ)/(234.5 + θ₀)) of IEC 60364-5-54, annex A; worked by hand.

    No. 12 (3.309 mm²) from 51.2 °C at the most or 47.2 °C at the least to 105 °C: 98.3 and 102.1 A without a loss. With
    Newton's cooling towards 40 °C + 150·(I/47)²/1.261³ K the colder takes 1.086 times as long, so 106.4 A; ± 11.3 % of
    the draw: 88.3 and 120.0 A. No. 14 (2.081 mm²) from 57.8 or 54.5 to 200 °C: 93.7 and 95.0 A, 1.126 times as long in
    air, so 100.8 A: 84.1 and 113.7 A.
    """
    assert isinstance(told(SHORT, lead(gauge, insulation), full=full), expected)


def test_a_lead_at_full_throttle_in_full():
    found = expect(Finding, told(SHORT, lead(22)))
    assert found.message == "full throttle brings the lead to its limit within 1 s"
    assert found.do == "solder in a thicker lead, or one with insulation for more"


def test_the_leads_figures():
    # Both wires of 130 mm at 5.2107 mΩ/m (ASTM B258, IEC 60028) and 68 A; 10 %/√3 of it.
    seen = inspect_text(flown(lead(12)))
    drop = computed(seen, "lead_drop_v", "full-throttle", "A1")
    assert drop.unit == "V"
    assert drop.value == pytest.approx(0.0921, abs=5e-5)
    assert drop.standard_uncertainty == pytest.approx(0.0921 * 0.1 / 3**0.5, abs=1e-5)
    rise = computed(seen, "lead_rise_k", "hover", "A1")
    ratio = 1.6277 / 2.0525
    low, high = (150 * (15.4 / 47) ** 2 * ratio**power for power in (3, 2))
    assert rise.value == pytest.approx((low + high) / 2, rel=1e-4)
    assert rise.standard_uncertainty == pytest.approx((high - low) / 2 / 3**0.5, rel=1e-3)


# 68 A is 60.3 to 75.7 A: of 2000 mAh 30.1 C and 37.9 C.
@pytest.mark.parametrize(("rated", "expected"), [
    (25, Finding), (30, Finding), (31, Unproven), (37, Unproven), (38, Clear),
])
def test_both_sides_of_a_packs_rating(rated, expected):
    assert isinstance(told(PACK, f"capacity_mah: 2000, rated_c: {rated}"), expected)


def test_a_packs_rating_in_full():
    text = flown("capacity_mah: 2000, rated_c: 25")
    found = expect(Finding, answer(text, PACK, "A1"))
    assert found.message == "full throttle draws more than the 50 A that the pack is rated for"
    assert found.evidence == "full throttle 68 A ± 11 %; 2000 mAh at 25 C is 50 A"
    assert marked(text, found.place) == "25"
    clear = expect(Clear, told(PACK, "capacity_mah: 6000, rated_c: 25"))
    assert clear.evidence == "full throttle 68 A ± 11 %; 6000 mAh at 25 C is 150 A, by its maker's word alone"


# Within twice the fuse from 37.9 A on, and surely above it below 30.1 A; the hover is 14.6 to 16.2 A.
@pytest.mark.parametrize(("fuse", "expected"), [(14, Finding), (30, Finding), (31, Unproven), (38, Clear), (80, Clear)])
def test_both_sides_of_a_fuse_in_flight(fuse, expected):
    assert isinstance(told(OPENS, f"fuse_a: {fuse}"), expected)


def test_a_fuse_that_opens_in_full():
    text = flown("fuse_a: 14")
    found = expect(Finding, answer(text, OPENS, "A1"))
    assert found.message == "the hover opens the fuse of 14 A in the air"
    assert found.evidence == "hover 15.4 A (hover of 2026-05-17); full throttle 68 A ± 11 %; fuse 14 A"
    assert found.do == "fit a fuse above the draw at full throttle, or none"
    assert inspect_text(text).verdict == "no-go"
    assert expect(Finding, told(OPENS, "fuse_a: 25")).message == "full throttle opens the fuse of 25 A in the air"
    assert isinstance(told(OPENS, "capacity_mah: 5000"), NotApplicable)


def test_a_fuse_that_protects_and_one_that_does_not():
    # (k·A/2I)² with k = 226·√ln((234.5 + 200)/(234.5 + 40)) = 153 A√s/mm², IEC 60364-5-54, from memory: of No. 12
    # 3.3088 mm² to 5 s up to 113 A; of PVC, k = 104, up to 77 A.
    assert isinstance(told(FUSE, lead(12, 200, ", fuse_a: 112")), Clear)
    found = expect(Finding, told(FUSE, lead(12, 200, ", fuse_a: 115")))
    assert found.message == "the lead is too thin for a fuse of 115 A to protect it"
    assert found.evidence.endswith("the fuse opens within 5 s; the table for light aircraft has 20 A")
    assert isinstance(told(FUSE, lead(12, 105, ", fuse_a: 76")), Clear)
    assert isinstance(told(FUSE, lead(12, 105, ", fuse_a: 79")), Finding)
    assert "insulation" in expect(Unproven, told(FUSE, lead(12, None, ", fuse_a: 90"))).message
    assert isinstance(told(FUSE, lead(12)), NotApplicable)


@pytest.mark.parametrize(("rule", "pack", "what"), [
    (PLUG, "capacity_mah: 5000", "connector"), (MARGIN, "capacity_mah: 5000", "connector"),
    (FULL, "capacity_mah: 5000", "connector"),
    (LEAD, "capacity_mah: 5000", "gauge"), (SHORT, "capacity_mah: 5000", "gauge"),
    (PACK, "capacity_mah: 5000", "rated_c"), (PACK, "rated_c: 25", "capacity"), (FUSE, "fuse_a: 30", "gauge"),
])
def test_what_is_missing_of_the_pack(rule, pack, what):
    assert what in expect(Unproven, told(rule, pack)).message


@pytest.mark.parametrize("rule", [PLUG, MARGIN, FULL, LEAD, SHORT, PACK, OPENS])
def test_without_loads_nothing_passes(rule):
    pack = lead(12, 200, ", capacity_mah: 5000, rated_c: 25, connector_continuous_a: 90, fuse_a: 80")
    without = told(rule, pack, full=0, hover=0)
    assert isinstance(without, Unproven)
    assert isinstance(told(rule, pack), Clear)


# FAA AC 43.13-1B CHG 1, table 11-3, fuses of copper wires, from memory; it has no odd gauges.
@pytest.mark.parametrize(("gauge", "fuse"), [
    (22, 5), (20, 5), (18, 10), (16, 10), (14, 15), (12, 20), (10, 30), (8, 50), (6, 70), (4, 70), (2, 100), (1, 150),
    (0, 150),
])  # fmt: skip
def test_the_fuse_of_light_aircraft_stands_beside_it(gauge, fuse):
    assert f"; the table for light aircraft has {fuse} A" in told(FUSE, lead(gauge, more=", fuse_a: 80")).evidence
    assert "light aircraft" not in told(FUSE, lead(13, more=", fuse_a: 80")).evidence
