"""Thrust against weight: full texts, both sides of each limit, input missing, and what a hover shows."""

import math
import re

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import computed, inspect_text, marked

LIFTS, MARGIN = "mass/lifts", "mass/margin"
# 15 °C, 1013.25 hPa and dry: 1.225 kg/m³, ISO 2533.
SEA = (
    "site: {elevation_m: 0, temperature_c: 15, station_pressure_hpa: 1013.25, relative_humidity_percent: 0}\n"
)
LIPO = "packs: [{label: A1, chemistry: lipo, cells: 4}]\n"
HOVER = "date: 2026-05-17, mean_current_a: 15"


def craft(mass=1950, thrust=1300, *, site=SEA, packs=LIPO, layout="quad-x", rotors="", records=None, logbook=()):
    motor = f"every_rotor: {{motor: {{max_thrust_g: {thrust}}}}}\n" if thrust else ""
    weighs = f"takeoff_mass_g: {mass}" if mass else ""
    return manifest(motor, site, packs, rotors, layout=layout, more=weighs, records=records, logbook=logbook)


def ratio(text, case):
    return computed(inspect_text(text), "thrust_to_weight", case=case)


def test_a_heavy_one_in_full():
    text = craft(4600)
    found = expect(Finding, answer(text, LIFTS))
    assert found.message == "full throttle lifts 3537 g at 3.50 V a cell, and it weighs 4600 g"
    assert found.evidence == (
        "greatest thrust 5200 g by table, × 1.00 for air of 1.225 kg/m³, × 0.68 at 3.50 of 4.20 V a cell; over 4600 g "
        "that is 0.77 ± 0.08 (95 %); at least 1"
    )
    assert found.do == (
        "weigh it ready to fly, and look at max_thrust_g; if both are right take load off, or fit motors and props "
        "that lift more"
    )
    assert marked(text, found.place) == "4600"
    assert [marked(text, one.place) for one in found.related] == ["1300"]
    assert expect(NotApplicable, answer(text, MARGIN)).because == "said by mass/lifts"


def test_little_margin_in_full():
    text = craft(2900)
    found = expect(Finding, answer(text, MARGIN))
    assert found.message == "at 3.50 V a cell full throttle lifts only 1.22 times what it weighs"
    assert found.do == "take load off; until then fly it gently, in little wind, and land early"
    assert marked(text, found.place) == "2900"
    expect(Clear, answer(text, LIFTS))


# 5200 g × (3.5/4.2)^2 and ^2.23, in the middle: 0.68011. U of the ratio: 10 % of the table, 1 % of the mass, half of
# 0.0285 between the powers, 0.3 % of the air; 10.6 % in all, worked out by hand.
# lifts: 3536.6/m·(1 ± 0.106) against 1: found above 3911 g, clear below 3162 g.
@pytest.mark.parametrize(("mass", "expected"), [
    (3100, Clear), (3200, Unproven), (3500, Unproven), (3880, Unproven), (3940, Finding), (9000, Finding),
])  # fmt: skip
def test_both_sides_of_lifting(mass, expected):
    expect(expected, answer(craft(mass), LIFTS))


# margin: against 1.5, found above 2608 g, clear below 2108 g.
@pytest.mark.parametrize(("mass", "expected"), [
    (2070, Clear), (2140, Unproven), (2580, Unproven), (2640, Finding), (3100, Finding),
])  # fmt: skip
def test_both_sides_of_the_margin(mass, expected):
    expect(expected, answer(craft(mass), MARGIN))


def test_too_uncertain_asks_for_what_would_settle_it():
    told = expect(Unproven, answer(craft(3500), LIFTS))
    assert told.message == "it cannot be told whether the rotors still lift it at 3.50 V a cell"
    assert told.do == "take load off, or measure the greatest thrust of a motor on a stand"
    assert told.cause == "uncertain"
    expect(Clear, answer(craft(3000), LIFTS))
    nowhere = expect(Unproven, answer(craft(3000, site=""), LIFTS))
    assert nowhere.do == "write the site's elevation_m and temperature_c"
    warm = expect(Unproven, answer(craft(3000, site="site: {elevation_m: 1800}\n"), LIFTS))
    assert warm.do == "write the site's temperature_c"
    of_anything = expect(Unproven, answer(craft(3000, packs=""), LIFTS))
    assert of_anything.do == "write the chemistry of every pack"


@pytest.mark.parametrize(("mass", "thrust", "message", "do"), [
    (None, 1300, "aircraft.takeoff_mass_g is not recorded", "weigh it ready to fly, with its pack, unplugged"),
    (1950, None, "the greatest thrust of front-left is not recorded",
     "read the greatest thrust in the motor's table, of your prop and cell count; write max_thrust_g"),
])  # fmt: skip
def test_input_missing(mass, thrust, message, do):
    for rule in (LIFTS, MARGIN):
        told = expect(Unproven, answer(craft(mass, thrust), rule))
        assert (told.message, told.do) == (message, do)


def test_nothing_recorded_is_one_job():
    told = expect(Unproven, answer(craft(None, None), LIFTS))
    assert told.message == "neither take-off mass nor greatest thrust is recorded"
    assert told.do == (
        "weigh it ready to fly, with its pack, unplugged; read the greatest thrust in the motor's table, of your prop "
        "and cell count; write max_thrust_g"
    )


def test_a_hover_shows_it_too():
    shown = expect(Clear, answer(craft(1950, None, records={"hover": f"{HOVER}, takeoff_mass_g: 1950"}), LIFTS))
    assert shown.evidence == "it hovered with 1950 g on 2026-05-17"
    expect(Unproven, answer(craft(1950, None, records={"hover": f"{HOVER}, takeoff_mass_g: 1950"}), MARGIN))
    for mass in (None, 1950):
        expect(Clear, answer(craft(mass, None, records={"hover": HOVER}), LIFTS))


# Within hover_mass_percent, 5 %: 1852.5 g.
@pytest.mark.parametrize(("flown", "expected"), [(1853, Clear), (1852, Unproven), (2400, Clear)])
def test_a_hover_of_at_least_that_mass(flown, expected):
    expect(expected, answer(craft(1950, None, records={"hover": f"{HOVER}, takeoff_mass_g: {flown}"}), LIFTS))


@pytest.mark.parametrize(("work", "expected"), [
    ("kind: replaced, part: motor, at: front-left", Unproven),
    ("kind: fitted, part: payload", Unproven),
    ("kind: crashed", Unproven),
    ("kind: replaced, part: power-sensor", Clear),
    ("kind: settings-changed, part: flight-controller", Clear),
    ("kind: flown", Clear),
])  # fmt: skip
def test_what_was_changed_since_the_hover(work, expected):
    """What only changes what the display shows does not take away that it flew."""
    text = craft(1950, None, records={"hover": HOVER}, logbook=f"date: 2026-05-18, {work}")
    expect(expected, answer(text, LIFTS))


def test_an_earlier_hover_with_more_counts_where_the_last_was_light():
    hovers = [f"{HOVER}, takeoff_mass_g: 1950", "date: 2026-05-18, mean_current_a: 9, takeoff_mass_g: 1200"]
    expect(Clear, answer(craft(1950, None, records={"hover": hovers}), LIFTS))


def test_a_hover_too_old_or_ahead_shows_nothing():
    for day in ("2024-05-01", "2026-06-01"):
        text = craft(1950, None, records={"hover": f"date: {day}, mean_current_a: 15"})
        expect(Unproven, answer(text, LIFTS))


def test_a_hover_settles_what_is_uncertain_but_not_what_is_found():
    hover = {"hover": HOVER}
    told = expect(Clear, answer(craft(3500, records=hover), LIFTS))
    assert told.evidence.startswith("it hovered on 2026-05-17; greatest thrust 5200 g")
    expect(Finding, answer(craft(4600, records=hover), LIFTS))


def test_masses_of_two_aircraft_are_told_once():
    text = craft(15000, records={"hover": f"{HOVER}, takeoff_mass_g: 1500"})
    expect(Finding, answer(text, "power_sensing/mass-plausible"))
    for rule in (LIFTS, MARGIN):
        assert expect(NotApplicable, answer(text, rule)).because.endswith("see power_sensing/mass-plausible")


STAND = "date: 2026-04-25, at: front-left, columns: [throttle_percent, thrust_g, current_a, voltage_v], rows: "


def test_a_stand_tells_what_no_table_does():
    """At 14.8 V, 3.7 V a cell: at 3.5 V a cell × 0.889, 5200 g lift 4624 g."""
    rows = "[[50, 400, 4, 14.9], [100, 1300, 17, 14.8]]"
    told = expect(Clear, answer(craft(1950, None, records={"thrust_stand": STAND + rows}), LIFTS))
    assert told.evidence.startswith("greatest thrust 5200 g on a stand, × 0.89 at 3.50 of 4.20 V a cell")
    expect(Finding, answer(craft(6000, None, records={"thrust_stand": STAND + rows}), LIFTS))


def test_a_stand_at_less_than_the_lowest_voltage_is_taken_as_it_is():
    """13.2 V are 3.3 V a cell: at 3.5 V a cell it gives no less, and more is not known."""
    stand = {"thrust_stand": STAND + "[[50, 400, 4, 13.3], [100, 1300, 17, 13.2]]"}
    text = craft(1950, None, records=stand)
    assert ratio(text, "lowest-voltage").value == pytest.approx(ratio(text, "full").value, rel=1e-9)


@pytest.mark.parametrize(("cells", "lowest"), [
    ("4, 3", 0.4842), ("3, 4", 0.4842), ("4", 0.8891), ("4, 4", 0.8891),
])
def test_of_packs_with_more_and_fewer_cells_the_fewer_tell(cells, lowest):
    """Three cells at 3.5 V are 10.5 V of the stand's 14.8: between its square, 0.503, and its power of 2.23, 0.465."""
    listed = ", ".join(
        f"{{label: A{at}, chemistry: lipo, cells: {count}}}" for at, count in enumerate(cells.split(", "))
    )
    stand = {"thrust_stand": STAND + "[[50, 400, 4, 14.9], [100, 1300, 17, 14.8]]"}
    text = craft(1950, None, packs=f"packs: [{listed}]\n", records=stand)
    share = ratio(text, "lowest-voltage").value / ratio(text, "full").value
    assert share == pytest.approx(lowest, abs=1e-3)


@pytest.mark.parametrize(("top", "told"), [(95, Finding), (94.9, Unproven)])
def test_both_sides_of_full_throttle_on_a_stand(top, told):
    rows = f"[[50, 400, 4, 14.9], [{top}, 1300, 17, 14.8]]"
    expect(told, answer(craft(6000, None, records={"thrust_stand": STAND + rows}), LIFTS))


def test_a_stand_that_stopped_early_shows_enough_or_nothing():
    rows = "[[50, 400, 4, 14.9], [80, 1300, 17, 14.8]]"
    expect(Clear, answer(craft(1950, None, records={"thrust_stand": STAND + rows}), LIFTS))
    for rule in (LIFTS, MARGIN):
        expect(Unproven, answer(craft(6000, None, records={"thrust_stand": STAND + rows}), rule))


def test_a_stand_beside_packs_of_unlike_cells():
    """5200 g at 16.8 V. Six cells lift that and more; four at 3.50 V are 14.0 V: (14/16.8)^2 to ^2.23, 0.68, 3537 g."""
    both = "packs:\n  - {label: A1, chemistry: lipo, cells: 4}\n  - {label: B2, chemistry: lipo, cells: 6}\n"
    stand = {"thrust_stand": STAND + "[[50, 600, 4, 16.8], [100, 1300, 17, 16.8]]"}
    told = expect(Finding, answer(craft(4600, None, packs=both, records=stand), LIFTS))
    assert told.message == "full throttle lifts 3537 g at 3.50 V a cell, and it weighs 4600 g"
    expect(Clear, answer(craft(3100, None, packs=both, records=stand), LIFTS))


def test_a_table_is_taken_as_of_the_fewest_cells_and_says_so():
    both = "packs:\n  - {label: A1, chemistry: lipo, cells: 4}\n  - {label: B2, chemistry: lipo, cells: 6}\n"
    told = expect(Clear, answer(craft(1950, packs=both), LIFTS))
    assert told.evidence.startswith("greatest thrust 5200 g by table, taken as with 4 cells, × 1.00 for air of")


def test_the_stand_of_a_rotor_speaks_for_it_before_others():
    weak = STAND.replace("front-left", "rear-left") + "[[50, 100, 4, 14.9], [100, 300, 17, 14.8]]"
    strong = STAND + "[[50, 400, 4, 14.9], [100, 1300, 17, 14.8]]"
    told = expect(Clear, answer(craft(1500, None, records={"thrust_stand": [strong, weak]}), LIFTS))
    # The latest speaks for the two of which none is recorded.
    assert told.evidence.startswith("greatest thrust 2200 g on a stand")


def test_the_pack_that_falls_furthest_counts():
    """3.3 of 4.2 V against 3.5 of 4.2 V: (0.7857^2 + 0.7857^2.23)/2 = 0.6007; lipo 0.6801."""
    packs = "packs: [{label: A1, chemistry: lipo, cells: 4}, {label: A2, chemistry: li-ion, cells: 4}]\n"
    assert ratio(craft(packs=packs), "lowest-voltage").value == pytest.approx(5200 / 1950 * 0.6007, rel=1e-3)
    assert ratio(craft(), "lowest-voltage").value == pytest.approx(5200 / 1950 * 0.6801, rel=1e-3)


# In the middle of the powers 2 and 2.23 of the share of the voltage that is left, by hand.
@pytest.mark.parametrize(("chemistry", "left"), [
    ("lipo", 3.5 / 4.2), ("lipo-hv", 3.5 / 4.35), ("li-ion", 3.3 / 4.2), ("life", 3.0 / 3.65),
])  # fmt: skip
def test_each_chemistry_is_flown_down_to_its_own_voltage(chemistry, left):
    told = ratio(craft(packs=LIPO.replace("lipo", chemistry)), "lowest-voltage").value
    assert told == pytest.approx(5200 / 1950 * (left**2 + left**2.23) / 2, rel=1e-4)


def test_hot_and_high_in_full():
    """1500 m, 35 °C: 0.9559 kg/m³, × 0.780; dry air by ISO 2533, worked out with its formulae by hand."""
    hot = craft(site="site: {elevation_m: 1500, temperature_c: 35, relative_humidity_percent: 0}\n")
    assert ratio(hot, "full").value == pytest.approx(2.667 * 0.780, rel=1e-3)
    assert ratio(craft(), "full").value == pytest.approx(2.667, rel=1e-3)
    cold = craft(site="site: {elevation_m: 0, temperature_c: -20, relative_humidity_percent: 0}\n")
    assert ratio(cold, "full").value == pytest.approx(2.667 * 288.15 / 253.15, rel=1e-3)
    assert ratio(cold, "full").value > ratio(craft(), "full").value > ratio(hot, "full").value


def test_rotors_on_one_axis_lift_less_than_apart():
    """1.281 times the power for the same thrust: 1.281^(-2/3) = 0.848 of the thrust at the same power."""
    apart = ratio(craft(3900, layout="octo-x"), "full")
    paired = ratio(craft(3900, layout="x8"), "full")
    assert paired.value == pytest.approx(apart.value * 0.848, rel=1e-3)
    # Anywhere within 1.414 - 1.281 of it: 0.133/√3/1.281 of the power, two thirds of that of the thrust; by hand.
    shares = [one.standard_uncertainty / one.value for one in (paired, apart)]
    assert math.sqrt(shares[0] ** 2 - shares[1] ** 2) == pytest.approx(0.0400, abs=2e-4)
    sized = craft(3900, layout="x8").replace("1300}", "1300}, prop: {diameter_in: 12}").replace(
        "takeoff_mass_g", "arm_mm: 300, takeoff_mass_g"
    )
    assert ratio(sized, "full").value == pytest.approx(paired.value, rel=1e-6)


@pytest.mark.parametrize(("grams", "cells"), [(32, 1), (250, 3), (1950, 4), (7000, 6), (25000, 12)])
def test_palm_sized_to_25_kg(grams, cells):
    packs = f"packs: [{{label: A1, chemistry: lipo, cells: {cells}}}]\n"
    told = ratio(craft(grams, grams * 2.667 / 4, packs=packs), "lowest-voltage")
    assert told.value == pytest.approx(2.667 * 0.6801, rel=1e-3)


def test_more_mass_lifts_less():
    ratios = [ratio(craft(mass), "lowest-voltage").value for mass in range(1000, 5000, 500)]
    assert ratios == sorted(ratios, reverse=True)


def test_flight_needs_it_and_its_place_on_the_ladder_says_what():
    from preflint.findings.ladder import ladder

    told = {thing.title: (step.rung.name, thing) for step in ladder(inspect_text(craft(None))) for thing in step.things}
    rung, thing = told["Take-off mass and thrust"]
    assert (rung, thing.minutes, thing.shown) == ("METER", 3, False)


def test_no_line_is_too_wide():
    told = expect(Finding, answer(craft(4600), LIFTS))
    assert len(told.message) <= 80
    assert not re.search(r"\s{2}", told.evidence)


def test_a_stand_that_tells_no_thrust_of_a_cell_is_passed_over():
    """Without a pack nobody knows the cells; rows without thrust tell none; the older stand then speaks."""
    rows, nothing = "[[50, 400, 4, 14.9], [100, 1300, 17, 14.8]]", "[[50, 0, 4, 14.9], [100, 0, 17, 14.8]]"
    silent = (STAND + nothing).replace("2026-04-25", "2026-04-26")
    for text in (
        craft(1950, None, packs="", records={"thrust_stand": STAND + rows}),
        craft(1950, None, records={"thrust_stand": silent}),
    ):
        assert expect(Unproven, answer(text, LIFTS)).message == "the greatest thrust of front-left is not recorded"
    both = craft(1950, None, records={"thrust_stand": [STAND + rows, silent]})
    assert expect(Clear, answer(both, LIFTS)).evidence.startswith("greatest thrust 5200 g on a stand")
