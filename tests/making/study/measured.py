"""Faults of what is measured: power, compass, interference, pressure, position, speeds."""

import copy

from making.study.fault import Case, Fault, Put, column, need, pack, record, record_times, times


def shown(factor: float, key: str) -> Put:
    """The display is wrong by this factor, in truth, and so is all that was read off it."""

    def put(case: Case) -> None:
        columns = {
            "v": [("voltage_comparison", "indicated_v"), ("sag_run", "voltage_v")],
            "a": [("current_comparison", "indicated_a"), ("interference_run", "current_a"), ("sag_run", "current_a"),
                  ("sag_run", "used_mah")],
        }[key]  # fmt: skip
        for kind, name in columns:
            for told in case.document["records"].get(kind, []):
                at = told["columns"].index(name)
                for row in told["rows"]:
                    row[at] = round(row[at] * factor, 2)
        single = {"v": ["mean_voltage_v"], "a": ["mean_current_a"]}[key]
        for told in case.document["records"].get("hover", []):
            for name in single:
                told[name] = round(told[name] * factor, 2)
        if key == "a":
            for told in case.document["records"].get("recharge", []):
                told["counted_mah"] = round(told["counted_mah"] * factor)

    return put


def cells(by: int) -> Put:
    return pack("cells", lambda case: max(1, case.sound.craft.cells + by))


def a_cell_too_few(case: Case) -> str:
    need(case.sound.craft.cells > 1)
    return str(cells(-1)(case))


def cell_read_into_sum(case: Case) -> str:
    read = case.latest("cell_voltages")
    read["pack_v"] = round(read["pack_v"] * 0.96, 2)
    return "S1"


def sags(factor: float) -> Put:
    """The voltage falls so many times as far from its first row."""

    def put(case: Case) -> str:
        rows, at = case.column("sag_run", "voltage_v")
        for row in rows[1:]:
            row[at] = round(max(0.5, rows[0][at] + factor * (row[at] - rows[0][at])), 2)
        return "S1"

    return put


def resists_twice(case: Case) -> str:
    need(len(case.document["records"].get("sag_run", [])) > 1)
    return str(sags(3)(case))


def hard_iron(case: Case) -> None:
    """Set by another aircraft's; the rotation tells."""
    need("compass_rotation" in case.document["records"])
    sensor = case.sound.sensor
    assert sensor
    by = 0.4 * sensor.horizontal_ut
    case.section("compass")["hard_iron_ut"] = [round(float(one) + by, 1) for one in sensor.hard_set]


def soft_iron(case: Case) -> None:
    need("compass_rotation" in case.document["records"])
    case.section("compass")["soft_iron"][0][0] = 1.6


def offset(factor: float) -> Put:
    """Set wrong; where the current turns the heading enough."""

    def put(case: Case) -> None:
        sensor, craft = case.sound.sensor, case.sound.craft
        need(sensor is not None)
        assert sensor
        across = (sensor.made[0] ** 2 + sensor.made[1] ** 2) ** 0.5 * craft.current_a(1.0)
        need(across * abs(1 - factor) > 0.35 * sensor.horizontal_ut)
        case.section("compass")["interference_offset_ut_per_a"] = [
            round(float(one) * factor, 4) for one in sensor.offset_set
        ]

    return put


def beside_steel(case: Case) -> None:
    """All that is read is 80 µT more along the nose."""
    run = case.latest("interference_run")
    name = run["columns"][-3]
    rows, at = case.column("interference_run", name)
    for row in rows:
        row[at] = round(row[at] + (800 if name.endswith("mgauss") else 80), 2)


def turned(by_deg: float) -> Put:
    return column("heading_check", "indicated_deg", lambda one: (one + by_deg) % 360)


def backwards(case: Case) -> None:
    rows, at = case.column("heading_check", "indicated_deg")
    for row in rows:
        row[at] = round(-row[at] % 360, 1)


def pasted(kind: str) -> Put:
    """The same readings again, under a later date."""

    def put(case: Case) -> None:
        need(case.latest(kind).get("rows"))
        again = copy.deepcopy(case.latest(kind))
        again["date"] = "2026-05-19"
        case.document["records"][kind].append(again)

    return put


def old(kind: str) -> Put:
    """All of the kind are of two years ago."""

    def put(case: Case) -> None:
        need(case.latest(kind))
        for told in case.document["records"][kind]:
            told["date"] = "2024-05-16 11:20"

    return put


def elevation_in_feet(case: Case) -> None:
    site = case.section("site")
    need(site["elevation_m"] > 500 and "station_pressure_hpa" in site)
    site["elevation_m"] = round(site["elevation_m"] / 0.3048)


def position(by_deg: float) -> Put:
    def put(case: Case) -> None:
        check = case.latest("position_check")
        check["shown_latitude_deg"] = round(check["shown_latitude_deg"] + by_deg, 5)

    return put


def walks(case: Case) -> None:
    rows, at = case.column("position_check", "latitude_deg")
    for count, row in enumerate(rows):
        row[at] = round(row[at] + 0.0002 * (count % 2), 5)


def one_turns_slower(case: Case) -> None:
    speeds = case.latest("rotor_speeds")["rpm"]
    at = str(case.one()["at"])
    speeds[at] = round(speeds[at] * 0.8)


def another_kv(case: Case) -> str:
    """Where speeds were read: nothing else tells."""
    need("rotor_speeds" in case.document["records"])
    case.section("every_rotor", "motor")["kv_rpm_per_v"] *= 0.4
    return case.positions()[0]


def held_by_magnets(case: Case) -> None:
    """Nothing holds it in a hover."""
    need(case.latest("interference_run")["route"] != "hover-log")
    case.latest("interference_run")["magnetic_restraint"] = True


def not_fitted(case: Case) -> None:
    need(case.document["compass"] != "none")
    case.document["compass"] = "none"
    if "relies_on" in case.document["aircraft"]:
        relied = [one for one in case.document["aircraft"]["relies_on"] if one != "compass"]
        case.document["aircraft"]["relies_on"] = relied


UNKNOWN = "A correction written otherwise after its heading check"

FAULTS = [
    Fault("volts shown 4 % high", ("power_sensing/voltage-scale",), shown(1.04, "v")),
    Fault("volts shown 4 % low", ("power_sensing/voltage-scale",), shown(0.96, "v")),
    Fault("the divider set anew since", ("power_sensing/voltage-scale",),
          times(1.05, "power_sensing", "divider_ratio")),
    Fault("amperes shown 15 % high", ("power_sensing/current-scale",), shown(1.15, "a")),
    Fault("amperes shown 15 % low", ("power_sensing/current-scale",), shown(0.85, "a")),
    Fault("the current scale set anew since", ("power_sensing/current-scale",),
          times(1.2, "power_sensing", "sensor_mv_per_a")),
    Fault("an input too small", ("power_sensing/input-range",), times(0.4, "power_sensing", "input_full_scale_mv")),
    Fault("throttle of a record in amperes", ("power_sensing/throttle",),
          column("current_comparison", "throttle_percent", lambda one: one * 30)),
    Fault("a cell too few written", ("power_sensing/cell-count", "power_sensing/cell-sum", "packs/cells"),
          a_cell_too_few),
    Fault("a cell too many written", ("power_sensing/cell-count", "power_sensing/cell-sum", "packs/cells"), cells(1)),
    Fault("cells that do not add up", ("power_sensing/cell-sum",), cell_read_into_sum),
    Fault("charge counted a fifth low", ("power_sensing/recharge", "power_sensing/recharge-agrees"),
          record_times("recharge", "counted_mah", 0.8)),
    Fault("charge put back in Ah", ("power_sensing/recharge-unit", "power_sensing/recharge"),
          record_times("recharge", "put_back_mah", 0.001)),
    Fault("a hover on a third of the power", ("power_sensing/hover-power", "power_sensing/hover-efficiency"),
          record_times("hover", "mean_current_a", 0.3)),
    Fault("a hover of three times the current", ("power_sensing/hover-throttle", "power_sensing/hover-efficiency"),
          record_times("hover", "mean_current_a", 3)),
    Fault("a hover at half the mass", ("power_sensing/hover-mass",), record_times("hover", "takeoff_mass_g", 0.5)),
    Fault("a hover at the volts of another pack", ("power_sensing/hover-volts", "power_sensing/hover-power"),
          record_times("hover", "mean_voltage_v", 1.5)),
    Fault("a pack that sags twenty times as far", ("power_sensing/sag", "power_sensing/sag-volts", "packs/resistance"),
          sags(20)),
    Fault("a pack that resists three times what it did", ("packs/resistance", "power_sensing/sag"), resists_twice),
    Fault("hard iron of another aircraft", ("compass/hard-iron", "compass/total-deviation"), hard_iron, UNKNOWN),
    Fault("soft iron of another aircraft", ("compass/soft-iron", "compass/hard-iron"), soft_iron, UNKNOWN),
    Fault("an offset of the wrong sign", ("interference/offset-sign", "interference/heading-error"), offset(-1)),
    Fault("an offset left out", ("interference/heading-error", "interference/heading-error-aim"), offset(0)),
    Fault("an offset three times too large", ("interference/heading-error",), offset(3)),
    Fault("magnetic hold-downs", ("interference/run-conditions",),
          held_by_magnets),
    Fault("a run over steel", ("interference/run-conditions",), record("interference_run", "steel_nearby", True)),
    Fault("a run without the payload", ("interference/run-conditions",),
          record("interference_run", "payload_on", False)),
    Fault("a run beside steel, not seen", ("interference/run-field",), beside_steel),
    Fault("a compass turned by a quarter", ("compass/heading-check",), turned(90)),
    Fault("a compass turned by 25°", ("compass/heading-check",), turned(25)),
    Fault("a compass that runs backwards", ("compass/heading-check",), backwards),
    Fault("a barometer 8 hPa off", ("barometer/indicated-pressure",),
          lambda case: _indicated(case)),
    Fault("the site's height in feet", ("barometer/site-pressure",), elevation_in_feet),
    Fault("a position 200 m off", ("position/where",), position(0.0018)),
    Fault("another hemisphere", ("position/where",), lambda case: _hemisphere(case)),
    Fault("a position of four satellites", ("position/satellites",), record("position_check", "satellites", 4)),
    Fault("a position that walks", ("position/spread",), walks),
    Fault("one rotor turns slower", ("rotors/speed-split",), one_turns_slower),
    Fault("a motor of half the kv written", ("rotors/speed-possible",), another_kv),
    Fault("acceleration at half of gravity", ("inertial/scale",),
          column("six_positions", "accel_z_m_s2", lambda one: one / 2)),
    Fault("an accelerometer that leans", ("inertial/level",),
          column("six_positions", "accel_x_m_s2", lambda one: one + 0.9)),
    Fault("volts of two years ago", ("power_sensing/voltage-scale", "freshness/age"), old("voltage_comparison")),
    Fault("headings of two years ago", ("compass/heading-check", "freshness/age"), old("heading_check")),
    Fault("amperes pasted under a new date", ("freshness/copied-readings",), pasted("current_comparison")),
    Fault("interference pasted under a new date", ("freshness/copied-readings",), pasted("interference_run")),
    Fault("readings of a compass that is not fitted", ("papers/none-fitted",), not_fitted),
]  # fmt: skip


def _indicated(case: Case) -> None:
    check = case.latest("barometer_check")
    check["indicated_hpa"] = round(check["indicated_hpa"] + 8, 1)


def _hemisphere(case: Case) -> None:
    check = case.latest("position_check")
    check["shown_latitude_deg"] = -check["shown_latitude_deg"]
