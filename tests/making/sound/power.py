"""Volts, amperes and charge: readings of what truly flows, by the aircraft and by meters of its owner."""

from dataclasses import replace
from typing import Any

from making.sound.craft import Craft
from making.sound.sensing import Sensing, throttles
from making.sound.writing import BEFORE, DAY, FLIGHT, Records, figures, shown

PACK = "S1"


def records(craft: Craft, said: Sensing, route: str, flown: bool) -> Records:
    days = [BEFORE, DAY] if craft.chance(0.2) else [DAY]
    told: Records = {
        "voltage_comparison": [_volts_compared(craft, said, day) for day in days],
        "current_comparison": [_amperes_compared(craft, said, route, day) for day in days],
    }
    if flown:
        told["hover"] = [_hover(craft, said)]
    # Rotors on one axis lift less together than on a stand.
    if craft.layout not in ("x8", "y6") and (not flown or craft.chance(0.2)):
        told["thrust_stand"] = [_stand(craft)]
    if craft.chance(0.6):
        told["cell_voltages"] = [_cells(craft, said)]
    if craft.chance(0.7):
        told["sag_run"] = [sag(craft, said, route)]
    if flown and craft.chance(0.6):
        told["recharge"] = [_recharge(craft, said)]
    told["pack_check"] = [_pack_check(craft, said)]
    return told


def _meter(craft: Craft, said: Sensing, true: float) -> float:
    return shown(true * said.meter_gain, said.meter_digit_v)


def _volts_compared(craft: Craft, said: Sensing, day: str) -> dict[str, object]:
    """Three times as the pack empties, at rest."""
    true = [craft.cells * (volts + craft.flat(-0.02, 0.02)) for volts in (craft.full_v - 0.03, 3.95, 3.75)]
    return {
        "date": f"{day} 11:20",
        "pack": PACK,
        "in_force": {"divider_ratio": said.divider_ratio},
        "loaded": False,
        "reference": {
            "instrument": "multimeter", "accuracy_percent": said.meter_percent, "resolution_v": said.meter_digit_v,
        },
        "columns": ["indicated_v", "reference_v"],
        "rows": [[said.volts(craft, one), _meter(craft, said, one)] for one in true],
    }  # fmt: skip


def compared_again(craft: Craft, said: Sensing) -> dict[str, object]:
    """As who is asked for more does it: with a meter that shows 0.01 A, its zero noted."""
    finer = replace(said, clamp_digit_a=0.01)
    return {**_amperes_compared(craft, finer, "restrained", DAY), "date": f"{DAY} 15:30"}


def _amperes_compared(craft: Craft, said: Sensing, route: str, day: str) -> dict[str, object]:
    rows = []
    for throttle in [0.0, *throttles(craft, route)]:
        true = craft.current_a(throttle) * (1 + craft.flat(-0.01, 0.01))
        clamped = shown(true * said.clamp_gain + said.clamp_zero, said.clamp_digit_a)
        rows.append([round(100 * throttle), said.amperes(craft, true), clamped])
    reference: dict[str, object] = {
        "instrument": said.clamp, "accuracy_percent": said.clamp_percent, "resolution_a": said.clamp_digit_a,
        "zero_a": shown(said.clamp_zero, said.clamp_digit_a),
    }  # fmt: skip
    return {
        "date": f"{day} 13:30", "pack": PACK, "route": route, "in_force": said.in_force, "reference": reference,
        "columns": ["throttle_percent", "indicated_a", "reference_a"], "rows": rows,
    }  # fmt: skip


def _hover(craft: Craft, said: Sensing) -> dict[str, object]:
    true = craft.hover_a * craft.flat(0.98, 1.02)
    return {
        "date": f"{FLIGHT} 09:40",
        "mean_current_a": said.amperes(craft, true),
        "mean_voltage_v": said.volts(craft, craft.hover_v * craft.flat(0.99, 1.04)),
        "throttle_percent": round(100 * craft.hover_throttle),
        "duration_s": int(craft.rng.integers(30, 120)),
        "takeoff_mass_g": figures(craft.mass_g * craft.flat(0.98, 1.02), 3),
        "height_m": round(max(1.5, craft.prop_in * 0.0254 * craft.flat(2.5, 6)), 1),
        "wind_m_s": int(craft.rng.integers(0, 3)),
        "pack": PACK,
        "in_force": said.in_force,
    }


def _stand(craft: Craft) -> dict[str, object]:
    """One motor, by a stand good to 2 %."""
    each, off = craft.full_a / len(craft.rotors), craft.flat(0.98, 1.02)
    rows = [
        [round(100 * part), figures(craft.max_thrust_g * off * part**2), shown(each * part**3, 0.01), craft.hover_v]
        for part in (0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 1.0)
    ]
    columns = ["throttle_percent", "thrust_g", "current_a", "voltage_v"]
    return {"date": "2026-04-25", "at": craft.rotors[0].at, "columns": columns, "rows": rows}


def _cells(craft: Craft, said: Sensing) -> dict[str, object]:
    true = [craft.full_v - 0.02 + craft.flat(-0.01, 0.01) for _ in range(craft.cells)]
    cell_digit = 0.01 if said.meter_digit_v == 0.01 else 0.001
    return {
        "date": f"{DAY} 11:30",
        "pack": PACK,
        "cells_v": [shown(one * said.meter_gain, cell_digit) for one in true],
        "pack_v": _meter(craft, said, sum(true)),
        "rested_min": 30,
        "full": True,
        "reference": {
            "instrument": "multimeter", "accuracy_percent": said.meter_percent, "resolution_v": cell_digit,
        },
    }  # fmt: skip


def _pack_check(craft: Craft, said: Sensing) -> dict[str, object]:
    """On the morning that it is judged at: nothing is drawn for it, so that all else of a seed stays as it was."""
    digit = 0.01 if said.meter_digit_v == 0.01 else 0.001
    true = [craft.full_v - 0.02 - 0.004 * (cell % 2) for cell in range(craft.cells)]
    return {
        "date": "2026-05-21 08:30", "pack": PACK, "rocks_on_flat": False,
        "straps": 0 if craft.mass_g < 250 else 1 if craft.mass_g < 1000 else 2, "latched": True, "tug_moved": False,
        "plug_tug_moved": False, "leads_clear": True, "cells_v": [shown(one * said.meter_gain, digit) for one in true],
        "temperature_c": max(14.0, craft.temperature_c),
        "reference": {"instrument": "multimeter", "accuracy_percent": said.meter_percent, "resolution_v": digit},
    }  # fmt: skip


def sag(craft: Craft, said: Sensing, route: str) -> dict[str, object]:
    """Steps up and down again, ten seconds each. A third of the resistance answers within 15 s (common practice)."""
    up = [craft.current_a(throttle) for throttle in [0.0, *throttles(craft, route)[1:]]]
    used, slow_v, rows = 0.0, 0.0, []
    start = craft.capacity_mah * craft.flat(0.02, 0.2)
    fast, slow = craft.resistance_ohm * 0.75, craft.resistance_ohm * 0.25
    for true in [*up, *up[-2::-1]]:
        used += true * 10 / 3.6
        slow_v += (true * slow - slow_v) * 0.5
        volts = craft.open_v(start + used) - true * fast - slow_v
        rows.append([said.amperes(craft, true), said.volts(craft, volts), round(used * said.amps_gain)])
    return {
        "date": f"{DAY} 13:40", "pack": PACK, "route": route, "dwell_s": 10,
        "columns": ["current_a", "voltage_v", "used_mah"], "rows": rows,
    }  # fmt: skip


def _recharge(craft: Craft, said: Sensing) -> dict[str, object]:
    """A flight down to a quarter or so. The zero counts all the time."""
    true = craft.capacity_mah * craft.flat(0.6, 0.8)
    counted = true * (said.amps_gain + said.amps_zero / craft.hover_a)
    return {
        "date": f"{FLIGHT} 15:30",
        "pack": PACK,
        "counted_mah": round(counted),
        "put_back_mah": round(true * (1 + craft.flat(-0.01, 0.01))),
        "full_before": True,
        "in_force": said.in_force,
        "reference": {"instrument": "charger", "accuracy_percent": 1.0},
    }


def warned(craft: Craft) -> dict[str, Any]:
    """Warnings by volts and by charge, and a flight of half a pack that comes home on less than a tenth of one.

    Drawn last, apart from all else, so that everything else stays as it was drawn. Where a cell is when it warns:
    common practice, no source.
    """
    hours = craft.capacity_mah / 1000 / craft.hover_a
    airspeed = craft.flat(7, 14)
    wind = airspeed * craft.flat(0, 0.5)
    height, descent = craft.flat(5, 30), craft.flat(2, 3)
    seconds = 0.09 * 3600 * hours - height / descent
    by_volts: dict[str, object] = {
        "watches": str(craft.rng.choice(["pack-voltage", "lowest-cell"])),
        "at_cell_v": 3.3 if craft.chemistry == "li-ion" else 3.6, "does": "tells",
    }  # fmt: skip
    by_charge = {"watches": "charge-used", "at_used_mah": figures(0.6 * craft.capacity_mah, 2), "does": "tells"}
    told: dict[str, object] = {"battery_warnings": [by_volts, by_charge] if craft.chance(0.5) else [by_volts]}
    if craft.chance(0.7):
        told["plan"] = {
            "farthest_m": round(max(0.0, seconds) * (0.85 * airspeed - wind)), "height_m": round(height),
            "airspeed_m_s": round(airspeed, 1), "descent_m_s": round(descent, 1), "wind_m_s": round(wind, 1),
            "flight_min": round(0.4 * 60 * hours, 1), "reserve_percent": 20,
        }  # fmt: skip
    return told
