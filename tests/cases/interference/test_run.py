"""The run itself: whether it reaches the current of flight, and was taken as the aircraft flies."""

import pytest
from making.manifests import answer, expect, opening

from preflint.api import ANY_LOADED_RUN, PRECAUTION_OF_ROUTE, RESTRAINED, Clear, Finding, Unproven
from preflint.testing import marked

CONDITIONS = "magnetic_restraint: false, steel_nearby: false, payload_on: true"
COVERAGE, CONDITION = "interference/run-coverage", "interference/run-conditions"
STEPS = (
    "log time, current and field: motors still, five steps or more of ten seconds and two rows each up to hover or "
    "more, motors still again; payload on, away from steel"
)
ANY_ROUTE = (
    "load: tied down in the flight rig (restrained), with every prop exchanged and turned over (inverted-load), or "
    "from a hover-log"
)
AS_BEFORE = {
    "restrained": "load as before: tied down in the flight rig (restrained)",
    "inverted-load": "load as before: with every prop exchanged and turned over (inverted-load)",
    "hover-log": "load as before: from a hover-log",
}


def flown(conditions=CONDITIONS, amperes=(0, 8, 16, 24, 0)):
    rows = [[a, 9.1, round(24.4 - 0.23 * a, 3), 38.2] for a in amperes]
    return (
        f"{opening()}power_sensing: {{sensor_mv_per_a: 26.4}}\n"
        "compass: {interference_offset_ut_per_a: [0.0, 0.23, 0.0]}\nrecords:\n  interference_run:\n"
        "    - date: 2026-05-16\n      route: restrained\n      field_is: raw\n"
        "      in_force: {sensor_mv_per_a: 26.4}\n"
        + "".join(f"      {condition}\n" for condition in conditions.split(", "))
        + "      columns: [current_a, field_x_ut, field_y_ut, field_z_ut]\n"
        f"      rows: {rows}\n  hover:\n    - {{date: 2026-05-17, mean_current_a: 24}}\n"
    )


def test_the_run_does_not_reach_hover():
    text = flown(amperes=(0, 8, 16, 21, 0))
    found = answer(text, COVERAGE)
    assert found.message == "the interference run ends at 21.0 A, but hover draws 24.0 A"
    assert found.evidence == "5 steps of 2026-05-16 to 21.0 A; hover 24.0 A (hover of 2026-05-17)"
    assert found.do == f"repeat the run up to hover current or more: {STEPS}; {AS_BEFORE['restrained']}"
    assert found.mind == RESTRAINED
    assert marked(text, found.place) == "date: 2026-05-16"


@pytest.mark.parametrize(("route", "precaution"), PRECAUTION_OF_ROUTE.items())
def test_a_run_is_repeated_by_its_own_route(route, precaution):
    text = flown(amperes=(0, 8, 16, 21, 0)).replace("route: restrained", f"route: {route}")
    found = answer(text, COVERAGE)
    assert found.do == f"repeat the run up to hover current or more: {STEPS}; {AS_BEFORE[route]}"
    assert found.mind == precaution
    moved = answer(f"{text}logbook:\n  - {{date: 2026-05-18, kind: moved, part: battery-tray}}\n", COVERAGE)
    assert (moved.cause, moved.do, moved.mind) == ("stale", f"{STEPS}; {AS_BEFORE[route]}", precaution)


def test_currents_that_differ_in_the_last_digit_of_a_number_only():
    text = flown(amperes=(24, 24.000000000000004, 24.000000000000007, 24.00000000000001))
    told = expect(Unproven, answer(text, "interference/offset-sign"))
    assert told.message == "the run of 2026-05-16 does not tell what the current does"
    assert told.evidence == "all currents are equal: their effect cannot be told"
    assert marked(text, told.place) == "date: 2026-05-16"


@pytest.mark.parametrize(("now", "message"), [
    # 24 A were shown then; a setting twice as large shows half, and hover draws 24 A of those shown now.
    ("52.8", "the interference run ends at 12.0 A, but hover draws 24.0 A"),
    ("13.2", None),
])  # fmt: skip
def test_amperes_of_the_run_are_compared_as_they_would_be_shown_now(now, message):
    text = flown().replace("power_sensing: {sensor_mv_per_a: 26.4}", f"power_sensing: {{sensor_mv_per_a: {now}}}")
    told = answer(text, COVERAGE)
    if message:
        assert expect(Finding, told).message == message
    else:
        assert "of 2026-05-16 to 48.0 A;" in expect(Clear, told).evidence


def test_a_run_of_no_route_or_none_at_all_may_be_taken_by_any():
    found = answer(flown(amperes=(0, 8, 16, 21, 0)).replace("      route: restrained\n", ""), COVERAGE)
    assert found.do == f"repeat the run up to hover current or more: {STEPS}; {ANY_ROUTE}"
    assert found.mind == ANY_LOADED_RUN
    none = answer(flown().partition("records:")[0], COVERAGE)
    assert (none.cause, none.do, none.mind) == ("absent", f"{STEPS}; {ANY_ROUTE}", ANY_LOADED_RUN)


@pytest.mark.parametrize(("top", "kind"), [(21.5, Finding), (21.7, Clear)])
def test_nine_tenths_of_hover_are_enough(top, kind):
    assert isinstance(answer(flown(amperes=(0, 8, 16, top, 0)), COVERAGE), kind)


@pytest.mark.parametrize(("conditions", "mark", "message", "remedy"), [
    (CONDITIONS.replace("restraint: false", "restraint: true"),
     "true",
     "during the run what held the aircraft down attracts a magnet",
     "repeat the run with non-magnetic ties and weights"),
    (CONDITIONS.replace("nearby: false", "nearby: true"),
     "true",
     "during the run a bench, floor or vehicle of steel was within two metres",
     "repeat the run outdoors, away from steel"),
    (CONDITIONS.replace("payload_on: true", "payload_on: false"),
     "false",
     "during the run the payload was off",
     "repeat the run with the payload on"),
])
def test_conditions(conditions, mark, message, remedy):
    text = flown(conditions=conditions)
    found = answer(text, CONDITION)
    assert (marked(text, found.place), found.message, found.do) == (mark, message, remedy)


def test_conditions_nobody_recorded():
    told = answer(flown(conditions="payload_on: true"), CONDITION)
    assert told.message == "magnetic_restraint, steel_nearby of the interference run of 2026-05-16 are not recorded"
    assert told.do == (
        "say whether anything that held the aircraft down attracts a magnet; say whether a bench, floor or vehicle of "
        "steel was within two metres"
    )
    one = answer(flown(conditions="payload_on: true, steel_nearby: false"), CONDITION)
    assert one.message == "magnetic_restraint of the interference run of 2026-05-16 is not recorded"
    hover_log = flown(conditions="payload_on: true").replace("restrained", "hover-log")
    assert isinstance(answer(hover_log, CONDITION), Clear)


def test_nobody_needs_to_hover_first():
    """1400 g on four 10 in discs at sea level: 72 W by theory; 5.7 A at 75 % and 16.8 V, 24 A at 25 % and 12 V.

    P = T^1.5 / √(2ρA), T = 13.73 N, A = 0.2027 m², ρ = 1.225 kg/m³ (J. G. Leishman, chapter 2): 72.2 W.
    """
    def told(amperes):
        text = flown(amperes=amperes).partition("  hover:")[0].replace("quad-x}", "quad-x, takeoff_mass_g: 1400}")
        more = (
            "site: {elevation_m: 0, temperature_c: 15, station_pressure_hpa: 1013.25}\n"
            "every_rotor: {prop: {diameter_in: 10}, ducted: false}\npacks: [{cells: 4, chemistry: lipo}]\n"
        )
        return answer(text.replace("power_sensing", f"{more}power_sensing", 1), COVERAGE)

    found, open_, clear = told((0, 2, 4, 5, 0)), told((0, 4, 8, 12, 0)), told((0, 8, 16, 22, 0))
    assert isinstance(found, Finding)
    assert open_.message == "the interference run ends at 12.0 A, but hover draws 5.7 to 24.1 A"
    assert open_.do == "repeat the run up to 22 A, or measure thrust and current of one motor on a stand"
    assert clear == Clear("5 steps of 2026-05-16 to 22.0 A; hover 5.7 to 24.1 A (72 W ideal power over 0.25 to 0.75)")
