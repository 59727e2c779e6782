"""Amperes shown: what is found, in which words and where; what is not known; both sides of the limits."""

import pytest
from making.comparisons import CLAMP, amperes
from making.manifests import answer, expect, manifest

from preflint.api import HOVER_LOG, INVERTED_LOAD, PACK_UNPLUGGED, RESTRAINED, Clear, NotApplicable, Unproven
from preflint.testing import marked

CURRENT = "power_sensing/current-scale"
HOW_AMPERES = (
    "read display and meter at the same moment and note the throttle: motors still, then four steps or more up to "
    "hover current or more; load: tied down in "
    "the flight rig (restrained), with every prop exchanged and turned over (inverted-load), or from a hover-log"
)
GOOD_AMPERES = "[[0, 0.1, 0.0], [35, 8.8, 9.0], [55, 20.9, 21.4]]"
LOW_AMPERES = "[[0, 0.0, 0.0], [35, 7.9, 9.0], [55, 18.8, 21.4]]"
HOVER = "date: 2026-05-17, mean_current_a: 24"


def compared(
    rows, installed="26.4", zero="512", taken="route: restrained", throttle="throttle_percent, ", logbook=(), **others
):
    entry = amperes(rows, CLAMP, taken=taken, columns=f"{throttle}indicated_a, reference_a")
    return manifest(
        f"power_sensing: {{sensor_mv_per_a: {installed}, zero_mv: {zero}}}\n",
        records={"current_comparison": entry, **others}, logbook=logbook,
    )


def test_no_power_sensing():
    assert answer(manifest("power_sensing: none\n"), CURRENT) == NotApplicable("no power sensing is fitted")


def test_amperes_that_read_low():
    text = compared(LOW_AMPERES)
    found = answer(text, CURRENT)
    assert found.message == (
        "the display under-reads amperes by 12.2 ± 1.5 % at 21.4 A: more is drawn than counted"
    )
    assert found.evidence == (
        "dangerous, when 1000 mAh are counted, 1138 are used; "
        "3 readings of 2026-05-16 against clamp meter good to 1.5 % of the reading, its zero 0 A, sensor_mv_per_a 26.4 "
        "and zero_mv 512 in force; reference = zero + gain × indicated: gain-only 1.1384; "
        "gain-and-zero 1.1383 and +0.003 A; "
        "gain-with-zero-prior 1.1383 and +0.003 A; error of indication -12.2 % ± 1.5 % at 21.4 A"
    )
    assert found.do == "set sensor_mv_per_a to 23.19 and zero_mv to 511.9, then compare again under load"
    assert (found.place.line, found.place.column, marked(text, found.place)) == (3, 34, "26.4")
    assert [marked(text, related.place) for related in found.related] == ["date: 2026-05-16"]


def test_a_zero_of_rounding_is_none():
    # A display that reads low by a tenth has no zero: of it least squares leaves some 1e-14 mV.
    rows = "[[0, 0.0, 0.0], [25, 3.6, 4.0], [40, 7.2, 8.0], [55, 10.8, 12.0], [70, 18.0, 20.0]]"
    found = answer(compared(rows).replace("zero_mv: 512", "zero_mv: 0"), CURRENT)
    assert found.do.endswith(" and zero_mv to 0, then compare again under load")


@pytest.mark.parametrize(
    ("route", "hazards"), [("restrained", RESTRAINED), ("inverted-load", INVERTED_LOAD), ("hover-log", HOVER_LOG)]
)
def test_each_route_comes_with_its_own_hazards(route, hazards):
    assert answer(compared(LOW_AMPERES, taken=f"route: {route}"), CURRENT).mind == hazards


def test_where_the_route_is_open_the_hazards_of_all_are_shown():
    shown = answer(manifest("power_sensing: {sensor_mv_per_a: 26.4}\n"), CURRENT)
    assert (shown.message, shown.do) == ("no current comparison is recorded", HOW_AMPERES)
    for hazard in ("Flight rig: it pulls upward", "one missed prop turns it over", "Hover log: only with"):
        assert hazard in shown.mind
    assert answer(manifest(), CURRENT).mind == PACK_UNPLUGGED


def test_amperes_that_read_right():
    assert answer(compared(GOOD_AMPERES), CURRENT) == Clear(
        "3 readings of 2026-05-16 against clamp meter good to 1.5 % of the reading, its zero 0 A, sensor_mv_per_a 26.4 "
        "and zero_mv 512 in force; reference = zero + gain × indicated: gain-only 1.0237; "
        "gain-and-zero 1.0286 and -0.084 A; "
        "gain-with-zero-prior 1.0286 and -0.084 A; error of indication -2.4 % ± 1.7 % at 21.4 A"
    )


def test_a_current_correction_entered_the_wrong_way_round():
    text = compared(LOW_AMPERES, installed="30.05")  # the scale times the gain instead of divided by it
    found = answer(text, CURRENT)
    assert found.message == (
        "the display under-reads amperes by 22.8 ± 1.4 % at 21.4 A, as set now: more is drawn than counted"
    )
    assert found.evidence.startswith("dangerous, when 1000 mAh are counted, 1296 are used; ")
    assert found.do == "set sensor_mv_per_a to 23.19 and zero_mv to 511.9, then compare again under load"
    told = answer(compared(LOW_AMPERES, installed="23.19", zero="511.9"), CURRENT)
    assert (told.cause, told.message) == (
        "stale", "sensor_mv_per_a 23.19 and zero_mv 511.9 now, 26.4 and 512 in the readings",
    )


def test_a_changed_zero_alone_is_pointed_at():
    text = compared(GOOD_AMPERES, zero="510")
    assert marked(text, answer(text, CURRENT).place) == "510"


NO_HOVER = "the hover current is not known: neither a hover nor a thrust stand is recorded"
STAND = (
    "date: 2026-05-01, at: front-left, columns: [thrust_g, current_a, voltage_v], "
    "rows: [[0, 0, 16], [400, 4, 16], [800, 10, 16]]"
)


@pytest.mark.parametrize(("text", "message"), [
    (compared("[[35, 8.8, 9.0], [55, 20.9, 21.4]]"),
     "the lowest reading is 9.0 A: the zero takes one with the motors still"),
    (compared("[[0.1, 0.0], [20.9, 21.4]]", throttle=""),
     f"the highest reading is 21.4 A; whether that is flight's current is not known: {NO_HOVER}"),
    (compared("[[0.1, 0.0], [20.9, 21.4]]", throttle="", hover=HOVER),
     "the highest reading is 21.4 A, but hover draws 24.0 A (hover of 2026-05-17)"),
    (
        compared("[[0.1, 0.0], [20.9, 21.4]]", throttle="", thrust_stand=STAND),
        (
            "the highest reading is 21.4 A; whether that is flight's current is not known: aircraft.takeoff_mass_g "
            "is not recorded"
        ),
    ),
    (
        compared("[[0.1, 0.0], [20.9, 21.4]]", throttle="", thrust_stand=STAND).replace(
            "layout: quad-x", "layout: quad-x, takeoff_mass_g: 2400"
        ),
        # By a power law 64 W · 1.5^log₂2.5 = 109.4 W each, four of them at the stand's 16 V.
        (
            "the highest reading is 21.4 A, but hover draws 27.3 A (thrust stand of 2026-05-01 at 600 g a rotor "
            "and 16.0 V)"
        ),
    ),
    (
        compared("[[0.1, 0.0], [20.9, 21.4]]", throttle="", thrust_stand=STAND).replace(
            "layout: quad-x", "layout: quad-x, takeoff_mass_g: 4000"
        ),
        (
            "the highest reading is 21.4 A; whether that is flight's current is not known: the thrust stand goes "
            "from 400 to 800 g, but at hover a rotor lifts 1000 g"
        ),
    ),
])
def test_what_the_readings_do_not_reach(text, message):
    told = answer(text, CURRENT)
    assert (told.cause, told.message) == ("absent", message)


@pytest.mark.parametrize(("pack", "amps", "volts"), [
    ("packs: [{label: A1, chemistry: lipo, cells: 3}]\n", "40.5", "10.8 V"),  # 437.5 W at 3 · (3.0 + 4.2) / 2 V
    ("packs: [{label: A1, chemistry: lipo, cells: 6}, {label: A2, chemistry: lipo, cells: 3}]\n", "40.5", "10.8 V"),
    ("packs: [{label: A1, chemistry: lipo}]\n", "27.3", "16.0 V"),
])
def test_the_thrust_stand_counts_at_the_voltage_of_the_packs(pack, amps, volts):
    text = compared("[[0.1, 0.0], [20.9, 21.4]]", throttle="", thrust_stand=STAND).replace(
        "layout: quad-x}\n", f"layout: quad-x, takeoff_mass_g: 2400}}\n{pack}"
    )
    told = answer(text, CURRENT)
    assert f"but hover draws {amps} A (thrust stand of 2026-05-01 at 600 g a rotor and {volts})" in told.message


def test_the_thrust_stand_counts_rotors_that_share_air():
    text = (
        compared("[[0.1, 0.0], [20.9, 21.4]]", throttle="", thrust_stand=STAND)
        .replace("layout: quad-x}", "layout: x8, takeoff_mass_g: 4800}\nevery_rotor: {prop: {diameter_in: 10}}")
        .replace("at: front-left,", "at: front-left-upper,")
    )
    # Twice as many rotors as four that draw 27.3 A, each pair 1.281 times as much.
    assert "but hover draws 70.1 A (thrust stand of 2026-05-01 at 600 g" in answer(text, CURRENT).message


@pytest.mark.parametrize(("then", "message"), [
    # 18.0 A then were 18.0 · 26.4 mV + 512 mV; the zero installed is 480 mV: 1.2 A more.
    ("sensor_mv_per_a: 26.4, zero_mv: 512", "but hover draws 25.2 A (hover of 2026-05-17)"),
    ("sensor_mv_per_a: 26.4", "but hover draws 24.0 A (hover of 2026-05-17)"),
])
def test_the_hover_counts_as_the_settings_installed_show_it(then, message):
    hover = f"date: 2026-05-17, mean_current_a: 24, in_force: {{{then}}}"
    rows = compared("[[0.1, 0.0], [20.9, 21.4]]", throttle="", hover=hover)
    told = answer(rows.replace("zero_mv: 512}\n", "zero_mv: 480}\n"), CURRENT)
    assert told.message.endswith(message)


NOTED = "in_force: {sensor_mv_per_a: 33, zero_mv: 512}"


@pytest.mark.parametrize(("then", "work", "says"), [
    # 24 A at 33 mV/A are 30 A at 26.4 mV/A.
    (NOTED, "settings-changed, part: flight-controller", "but hover draws 30.0 A (hover of 2026-05-10, converted)"),
    (NOTED, "settings-changed, part: power-sensor", "but hover draws 30.0 A (hover of 2026-05-10, converted)"),
    (NOTED, "firmware, part: flight-controller", "but hover draws 30.0 A (hover of 2026-05-10, converted)"),
    (NOTED, "replaced, part: power-sensor", "power sensor replaced on 2026-05-12"),
    (NOTED, "replaced, part: motor", "motor replaced on 2026-05-12"),
    ("in_force: {sensor_mv_per_a: 33}", "settings-changed, part: flight-controller",
     "settings changed on 2026-05-12"),
    ("wind_m_s: 1", "settings-changed, part: flight-controller", "settings changed on 2026-05-12"),
])
def test_a_hover_is_converted_where_only_the_display_was_set_anew(then, work, says):
    hover, logbook = f"date: 2026-05-10, mean_current_a: 24, {then}", f"date: 2026-05-12, kind: {work}"
    text = compared("[[0.1, 0.0], [20.9, 21.4]]", throttle="", hover=hover, logbook=logbook)
    told = expect(Unproven, answer(text, CURRENT))
    assert told.message.endswith(says)


def test_of_two_hovers_of_a_day_none_is_converted():
    hovers = [f"date: 2026-05-10, mean_current_a: {current}, {NOTED}" for current in (24, 12)]
    work = "date: 2026-05-12, kind: firmware, part: flight-controller"
    told = answer(compared("[[0.1, 0.0], [20.9, 21.4]]", throttle="", hover=hovers, logbook=work), CURRENT)
    assert told.message.endswith("flight controller on 2026-05-12")


@pytest.mark.parametrize(("throttle", "kind"), [(50, Clear), (49.9, Unproven)])
def test_half_throttle_under_load_is_enough(throttle, kind):
    rows = GOOD_AMPERES.replace("55", str(throttle))
    assert isinstance(answer(compared(rows, hover=HOVER), CURRENT), kind)


def test_half_throttle_counts_only_where_a_route_says_that_there_was_a_load():
    open_ = answer(compared(GOOD_AMPERES, taken=""), CURRENT)
    assert (open_.cause, open_.message) == ("absent", "route of the current comparison of 2026-05-16 is not recorded")
    reached = compared("[[0, 0.1, 0.0], [35, 8.8, 9.0], [55, 23.5, 24.0]]", taken="", hover=HOVER)
    assert isinstance(answer(reached, CURRENT), Clear)


@pytest.mark.parametrize(("rows", "kind"), [
    ("[[0, 0.8, 0.8], [35, 8.9, 9.0], [55, 21.2, 21.4]]", Clear),  # electronics that draw more than half an ampere
    ("[[5, 0.8, 0.8], [35, 8.9, 9.0], [55, 21.2, 21.4]]", Unproven),
    ("[[5, 0.5, 0.5], [35, 8.9, 9.0], [55, 21.2, 21.4]]", Clear),
])
def test_what_counts_as_motors_still(rows, kind):
    assert isinstance(answer(compared(rows), CURRENT), kind)


def test_no_setting_makes_up_for_other_units():
    found = answer(compared("[[0, 0.0, 0.0], [35, 9.0, 9000], [55, 21.4, 21400]]"), CURRENT)
    assert found.do == (
        "look first whether both columns are in amperes and the meter was around one lead of the pack; if so, "
        "set sensor_mv_per_a to 0.0264 and zero_mv to 512, then compare again under load"
    )


@pytest.mark.parametrize(("hover_a", "kind"), [(23.7, Clear), (23.9, Unproven)])
def test_nine_tenths_of_hover_current_is_enough(hover_a, kind):
    hover = f"date: 2026-05-17, mean_current_a: {hover_a}"
    text = compared("[[0.0, 0.0], [9.0, 9.0], [21.3, 21.4]]", throttle="", hover=hover)
    assert isinstance(answer(text, CURRENT), kind)


def test_the_zero_of_the_clamp_is_taken_off_its_readings():
    # The clamp shows 0.6 A with nothing in it: every reading is so much too high, and the display is right.
    rows = "[[0, 0.1, 0.7], [35, 8.9, 9.5], [55, 21.4, 22.0]]"
    told = expect(Clear, answer(compared(rows).replace("zero_a: 0.0", "zero_a: 0.6"), CURRENT))
    assert "of the reading, its zero 0.6 A," in told.evidence
    assert told.evidence.endswith("prior 1.0000 and +0.000 A; error of indication +0.0 % ± 1.8 % at 21.4 A")


def test_a_clamp_too_coarse_for_a_small_aircraft():
    # By hand: half of 0.1 A is 2.6 % of 1.9 A, /√3 · 1.96 = 3.0 %; the meter's 1.5 % and the rows make it 4.1 %,
    # where 5 - 1.7 are to spare.
    rows = "[[0, 0.10, 0.1], [30, 0.61, 0.6], [40, 1.22, 1.2], [50, 1.63, 1.6], [55, 1.93, 1.9]]"
    told = expect(Unproven, answer(compared(rows), CURRENT))
    assert told.cause == "uncertain"
    assert told.do == "compare again with a meter that shows 0.01 A, and note its zero (zero_a)"
    assert "over-reads amperes by 1.7 ± 4.1 %" in told.message
    finer = "[[0, 0.10, 0.10], [30, 0.61, 0.60], [40, 1.22, 1.20], [50, 1.63, 1.60], [55, 1.93, 1.90]]"
    assert isinstance(answer(compared(finer).replace("resolution_a: 0.1", "resolution_a: 0.01"), CURRENT), Clear)


@pytest.mark.parametrize("sign", [1, -1])
@pytest.mark.parametrize(("zero", "kind"), [(2.0, Clear), (2.1, Unproven), (15.0, Unproven)])
def test_no_meter_has_such_a_zero(sign, zero, kind):
    rows = ", ".join(
        f"[{throttle}, {shown}, {true + sign * zero:.1f}]"
        for throttle, shown, true in ((0, 0.1, 0.1), (35, 8.9, 8.9), (55, 21.4, 21.4))
    )
    text = compared(f"[{rows}]").replace("zero_a: 0.0", f"zero_a: {sign * zero}")
    told = expect(kind, answer(text, CURRENT))
    if kind is Unproven:
        assert told.cause == "uncertain"
        assert told.message == (
            f"zero_a says {sign * zero:g} A with no current: more than 2 A is no meter's zero"
        )
        assert told.do == (
            "set the meter to zero away from leads and magnets, note zero_a, and compare again: read display and meter "
            "at the same moment and note the throttle: motors still, then four steps or more up to hover current or "
            "more; load as before: tied down in the flight rig (restrained)"
        )
        assert told.mind == RESTRAINED
        assert marked(text, told.place) == f"{sign * zero}"


def test_a_zero_that_nobody_noted_may_be_out():
    # By hand: 0.2 A / √3 · 1.96 = 0.226 A, 1.06 % of 21.4 A, beside 1.7 % of the meter and the last digits.
    text = compared(GOOD_AMPERES).replace(", zero_a: 0.0", "")
    told = expect(Clear, answer(text, CURRENT))
    assert "of the reading, its zero not noted," in told.evidence
    assert told.evidence.endswith("error of indication -2.4 % ± 2.0 % at 21.4 A")


def test_the_zero_is_asked_for_where_it_is_all_the_doubt():
    rows = "[[0, 0.0, 0.0], [35, 2.5, 2.5], [55, 4.2, 4.3]]"
    told = expect(Unproven, answer(compared(rows).replace(", zero_a: 0.0", ""), CURRENT))
    assert told.cause == "uncertain"
    assert told.do == "compare again, and note first what the meter shows with no current through it (zero_a)"
    assert isinstance(answer(compared(rows), CURRENT), Clear)


@pytest.mark.parametrize(("rows", "kind"), [
    ("[[0, 0.1, 0.0], [55, 21.0, 21.4]]", Unproven),
    ("[[0, 0.1, 0.0], [55, 21.0, 21.4], [55, 21.0, 21.4]]", Unproven),  # the same reading once more
    ("[[0, 0.1, 0.0], [0, 0.2, 0.1], [55, 21.0, 21.4]]", Unproven),
    ("[[0, 0.1, 0.0], [55, 21.0, 21.4], [55, 21.1, 21.4]]", Clear),
    ("[[0, 0.1, 0.0], [35, 8.9, 9.0], [55, 21.0, 21.4]]", Clear),
])
def test_one_reading_under_load_vouches_for_nothing(rows, kind):
    told = expect(kind, answer(compared(rows), CURRENT))
    if kind is Unproven:
        assert (told.cause, told.message) == (
            "uncertain", "display and meter agree at 21.4 A only: one reading may agree by chance"
        )
        assert told.do == (
            "record a second reading under load, at another throttle; load as before: tied down in the flight rig "
            "(restrained)"
        )
        assert told.mind == RESTRAINED


def test_one_reading_under_load_still_finds_an_error():
    assert answer(compared("[[0, 0.0, 0.0], [55, 18.8, 21.4]]"), CURRENT).message.startswith("the display under-reads")


def test_a_small_aircraft_needs_no_half_ampere():
    # Its electronics draw 0.05 A and its motors 0.4 A: a tenth of the highest reading is what counts as loaded.
    rows = "[[0.05, 0.05], [0.40, 0.40], [1.60, 1.60]]"
    hover = "date: 2026-05-17, mean_current_a: 1.5"
    text = compared(rows, throttle="", hover=hover).replace("resolution_a: 0.1,", "resolution_a: 0.01,")
    assert isinstance(answer(text, CURRENT), Clear)
