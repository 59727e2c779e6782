"""The whole aircraft, written down."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from making.sound import field, frame, lived, power, sensing, turning
from making.sound.craft import GAS, GRAVITY, Craft, draw
from making.sound.way import way
from making.sound.writing import DAY, FLIGHT, Records, figures, listed, shown, write

# Up to which current at full throttle which gauge.
GAUGES = ((10, 22), (25, 18), (60, 14), (150, 10), (240, 8))


@dataclass(frozen=True)
class Sound:
    """What is true, and what the owner wrote: the document, section by section, and its text."""

    craft: Craft
    said: sensing.Sensing
    sensor: field.Compass | None
    document: dict[str, Any]
    files: dict[str, str]

    @property
    def text(self) -> str:
        return write(self.document)


def sound(seed: int) -> Sound:
    craft = draw(seed)
    said = sensing.sensing(craft)
    sensor = field.compass(craft, said) if craft.mass_g > 150 and craft.chance(0.75) else None
    barometer, satellite = craft.chance(0.7), craft.mass_g > 150 and craft.chance(0.5)
    fixing, kind = frame.fixings(craft)
    logbook = frame.work(craft)
    # One in eight has never flown, and is loaded on the ground.
    flown = craft.layout in ("x8", "y6") or craft.chance(7 / 8)
    turns_over = kind not in ("clip", "threaded-hub")
    routes = ["restrained", "inverted-load" if turns_over else "restrained", "hover-log" if flown else "restrained"]
    route = str(craft.rng.choice(routes, p=[0.6, 0.15, 0.25]))
    records: Records = frame.records(craft, kind, logbook, route) | power.records(craft, said, route, flown)
    files: dict[str, str] = {}
    if sensor:
        of_field, files = field.records(craft, said, sensor, route)
        records |= of_field
    if barometer:
        records["barometer_check"] = [_pressure(craft)]
    if satellite:
        records["position_check"] = [_position(craft)]
    of_way = way(seed, records, satellite and sensor is not None)
    fitted = {"compass": sensor, "barometer": barometer, "satellite": satellite}
    about: dict[str, object] = {"name": f"Sound-{seed}", "owner": "N. Rowe", "layout": craft.layout,
                                "arm_mm": craft.arm_mm, "takeoff_mass_g": craft.mass_g}  # fmt: skip
    if craft.chance(0.8):
        about["relies_on"] = [one for one, is_there in fitted.items() if is_there]
    sections: dict[str, object] = {
        "aircraft": about,
        "site": _site(craft) | of_way["site"],
        "every_rotor": (every_rotor := frame.every_rotor(craft, fixing)),
        "flight_controller": {"expects_spin": {rotor.at: rotor.spin for rotor in craft.rotors}},
        "packs": [_pack(craft)] + ([{**_pack(craft), "label": "S2"}] if craft.chance(0.3) else []),
        "regulator": _regulator(craft),
        "power_sensing": sensing.settings(said),
        "compass": field.settings(sensor) if sensor else "none",
        "barometer": {"accuracy_hpa": 1.0} if barometer else "none",
        "satellite_receiver": {"accuracy_m": 3} if satellite else "none",
        "return": of_way["return"],
    }
    warned = power.warned(craft)
    sections |= {"battery_warnings": warned["battery_warnings"], "plan": of_way["plan"] | _within(warned, of_way)}
    mishap = any(entry["kind"] == "hard-landing" for entry in logbook)
    records |= turning.records(craft, every_rotor, mishap, flown, seed)
    since: list[dict[str, object]] = [
        {"date": f"{FLIGHT} 09:40", "kind": "flown", "note": "hover"},
        {"date": f"{FLIGHT} 16:00", "kind": "settings-changed", "part": "flight-controller", "touches": [],
         "note": "another name on the screen"},
        {"date": f"{FLIGHT} 15:00", "kind": "flown"},
    ]  # fmt: skip
    logbook += [entry for entry in since if craft.chance(0.6) and (flown or entry["kind"] != "flown")]
    if craft.chance(0.5):
        records["balance_point"] = [frame.balanced(craft)]
    document = sections | {"rotors": frame.rotors(craft, kind), "records": records, "logbook": logbook}
    lived.add(document, craft, said, sensor, flown, seed)
    return Sound(craft, said, sensor, document, files)


def _within(warned: Mapping[str, Any], of_way: Mapping[str, Any]) -> dict[str, Any]:
    """The plan that the charge bears, no farther out than the link reaches."""
    plan = warned.get("plan", {})
    return {**plan, "farthest_m": min(plan["farthest_m"], of_way["plan"]["farthest_m"])} if plan else {}


def asked_again(one: Sound) -> str:
    """The manifest after its owner did what a doubt about run or comparison asks for, on the same aircraft."""
    again: Records = {"current_comparison": [power.compared_again(one.craft, one.said)]}
    if one.sensor:
        again["interference_run"] = field.runs_again(one.craft, one.said, one.sensor)
    text = one.text
    for kind, entries in again.items():
        text = text.replace(f"  {kind}:\n", f"  {kind}:\n{listed(entries, '    ')}")
    return text


def _pack(craft: Craft) -> dict[str, object]:
    return {
        "label": power.PACK, "chemistry": craft.chemistry, "cells": craft.cells, "capacity_mah": craft.capacity_mah,
        "mass_g": figures(craft.mass_g * craft.flat(0.2, 0.35), 3),
        "rated_c": round(1000 * craft.full_a / craft.capacity_mah * craft.flat(1.3, 2.5)) + 1,
        # Some 25 A/mm² at full throttle, as usual; in silicone.
        "lead": {"gauge_awg": next((awg for most, awg in GAUGES if craft.full_a < most), 4), "insulation_c": 200,
                 "one_way_length_mm": round(craft.flat(40, 80) if craft.mass_g < 500 else craft.flat(80, 180))},
        "connector_continuous_a": min(figures(craft.full_a * craft.flat(1.1, 2), 2), 1000.0),
    }  # fmt: skip


def _regulator(craft: Craft) -> dict[str, object] | str:
    """Of five volts, or none where all runs on one cell."""
    if craft.cells == 1:
        return "none"
    amperes = 3 if craft.mass_g < 500 else 8
    return {
        "continuous_a": amperes, "load_a": round(amperes * craft.flat(0.1, 0.6), 2),
        "least_v": 5.5, "most_v": round(craft.cells * craft.full_v * craft.flat(1.05, 1.5), 1),
    }  # fmt: skip


def _site(craft: Craft) -> dict[str, object]:
    """With a barometer's pressure, or one of a weather report, reduced with the temperature measured."""
    site: dict[str, object] = {
        "latitude_deg": craft.latitude, "longitude_deg": craft.longitude, "elevation_m": craft.elevation_m,
        "temperature_c": craft.temperature_c,
    }  # fmt: skip
    if craft.chance(0.6):
        site["station_pressure_hpa"] = shown(craft.pressure_hpa, 0.1)
    elif craft.chance(0.6):
        site["sea_level_pressure_hpa"] = _reduced(craft)
    return site


def _reduced(craft: Craft) -> float:
    """To sea level, of a column that warms by 6.5 K/km, more or less."""
    mean_k = craft.temperature_c + 273.15 + 0.00325 * craft.elevation_m + craft.rng.normal(0, 2)
    return shown(craft.pressure_hpa * math.exp(GRAVITY * craft.elevation_m / GAS / mean_k), 0.1)


def _for_flying(craft: Craft) -> float:
    """To sea level by the standard atmosphere, as an altimeter is set. Source: ISO 2533, equations for the pressure."""
    power = 0.190263
    share = (craft.pressure_hpa / 1013.25) ** power + 0.0065 * craft.elevation_m / 288.15
    return float(1013.25 * share ** (1 / power))


def _pressure(craft: Craft) -> dict[str, object]:
    """Beside a barometer, or by a report: one for flying anywhere, one of the weather where the air below is little."""
    indicated = shown(craft.pressure_hpa + craft.flat(-1, 1), 0.1)
    off = craft.flat(-0.5, 0.5)
    read: dict[str, object] = {"station_pressure_hpa": shown(craft.pressure_hpa + off, 0.1)}
    by = str(craft.rng.choice(["barometer", "flying", "weather"]))
    if by == "flying":
        read = {"sea_level_pressure_hpa": round(_for_flying(craft) + off), "reduced_by": "standard-atmosphere"}
    elif by == "weather" and craft.elevation_m < 400:
        read = {"sea_level_pressure_hpa": _reduced(craft)}
        if craft.elevation_m > 120:
            read["reduced_by"] = "temperature"
    return {
        "date": f"{FLIGHT} 09:15", "indicated_hpa": indicated, **read,
        "reference": {"instrument": "barometer", "accuracy_hpa": 0.5},
    }  # fmt: skip


def _position(craft: Craft) -> dict[str, object]:
    """A place near the site by the map, and the receiver's few metres."""
    place = craft.latitude + 0.00121, craft.longitude - 0.00034
    north, east = craft.rng.normal(0, 3, 2) / 111_000  # degrees for metres along a meridian
    return {
        "date": f"{DAY} 15:20",
        "shown_latitude_deg": round(place[0] + north, 5),
        "shown_longitude_deg": round(place[1] + east / math.cos(math.radians(place[0])), 5),
        "place_latitude_deg": round(place[0], 5),
        "place_longitude_deg": round(place[1], 5),
        "reference": {"instrument": "map", "accuracy_m": 5},
    }
