"""What flights leave behind, the weather of the day judged at, and what a careful owner writes besides.

Drawn with a generator of its own, last, so that all else of a seed stays as it was drawn.
"""

import hashlib
import math
from dataclasses import replace
from typing import Any

import numpy as np

from making.sound import power
from making.sound.craft import Craft
from making.sound.field import Compass
from making.sound.sensing import Sensing
from making.sound.writing import BEFORE, DAY, FLIGHT, figures

JUDGED = "2026-05-21"


def add(document: dict[str, Any], craft: Craft, said: Sensing, sensor: Compass | None, flown: bool, seed: int) -> None:
    """Writes it into the document of a sound aircraft."""
    rng = np.random.default_rng((seed, 7))
    own, records = replace(craft, rng=rng), document["records"]
    warm_c = round(max(14.0, craft.temperature_c))
    if rng.random() < 0.8:
        _weather(document, own)
    if rng.random() < 0.7:
        document["papers"] = _papers(rng)
    _warned(document, rng)
    if rng.random() < 0.5:
        records["polarity_check"] = [{"date": "2026-05-10", "polarity_right": True, "shorted": False}]
    if rng.random() < 0.6:
        sha = hashlib.sha256(str(document["aircraft"]).encode()).hexdigest()[:16]
        # One of digits alone would be read as a number.
        records["saved_settings"] = [{"date": at, "sha256": f"a{sha}"} for at in (f"{DAY} 17:00", f"{FLIGHT} 08:20")]
    if flown and rng.random() < 0.9:
        records["after_flight_look"] = [_looked(own, warm_c)]
    for run in records.get("sag_run", []):
        run["temperature_c"] = warm_c
    if "sag_run" in records and rng.random() < 0.4:
        # As long before, the pack was a little younger.
        earlier = power.sag(replace(own, resistance_ohm=craft.resistance_ohm * 0.95), said, "restrained")
        records["sag_run"].insert(0, {**earlier, "date": f"{BEFORE} 13:40", "temperature_c": warm_c})
    for read in records.get("cell_voltages", []):
        read |= {"temperature_c": warm_c, "rested_min": 60}
    if rng.random() < 0.3:
        document["every_rotor"]["prop"]["life_h"], document["every_rotor"]["motor"]["life_h"] = 50, 300
    if rng.random() < 0.6:
        _kept_book(document, own)
    if sensor and rng.random() < 0.5:
        document["compass"]["noise_ut"] = figures(math.hypot(sensor.noise_ut, sensor.digit_ut / math.sqrt(12)), 2)
    if rng.random() < 0.2:
        # Ten seconds of full throttle are within it; no wire of the size usual here burns before.
        document["packs"][0]["fuse_a"] = math.ceil(1.2 * craft.current_a(1.0))
    if document["every_rotor"]["esc"]["spin_set_by"] == "setting" and rng.random() < 0.4:
        document["deferred_defects"] = [
            {"rule": "rotation/spin-by-setting", "until": "2026-06-12", "by": "N. Rowe", "because": "no iron at hand"}
        ]


def _weather(document: dict[str, Any], craft: Craft) -> None:
    """A dry day of little wind, for which the aircraft has plenty to spare."""
    wind = round(craft.flat(0.5, 5), 1)
    if "wind_m_s" in (plan := document.get("plan", {})):
        # It was made for the wind of the day, which grows with height by a power below this one.
        aloft = max(1.0, (float(plan["height_m"]) / 10) ** 0.4)
        wind = min(wind, math.floor(10 * float(plan["wind_m_s"]) / aloft) / 10)
    gust = round(wind * craft.flat(1.3, 1.7), 1)
    # The site's own temperature no longer tells that of an earlier day.
    for check in document["records"].get("barometer_check", []):
        if "sea_level_pressure_hpa" in check and check.get("reduced_by") != "standard-atmosphere":
            check["temperature_c"] = round(craft.temperature_c)
    document["site"]["days"] = [{
        "date": JUDGED, "wind_m_s": wind, "gust_m_s": gust, "temperature_c": round(craft.temperature_c),
        "relative_humidity_percent": round(craft.flat(35, 70)), "rain": "none", "fog": False, "source": "forecast",
    }]  # fmt: skip
    most = math.ceil(2.5 * wind) + 2
    strongest = math.ceil(2.5 * gust) + 3
    document["limits_of_aircraft"] = {
        "wind_m_s": most, "gust_m_s": strongest, "airspeed_m_s": strongest + 8,
        "least_c": max(-60, round(craft.temperature_c) - 8), "most_c": min(60, round(craft.temperature_c) + 12),
        "rain": "none",
    }  # fmt: skip


def _papers(rng: np.random.Generator) -> dict[str, object]:
    papers: dict[str, object] = {
        "registration_until": f"2027-0{rng.integers(1, 10)}-28", "competence_until": "2030-01-31",
        "insurance_until": f"2026-{rng.integers(10, 13)}-30", "label_on_aircraft": True,
    }  # fmt: skip
    return {key: value for key, value in papers.items() if rng.random() < 0.8}


def _warned(document: dict[str, Any], rng: np.random.Generator) -> None:
    """Tried, and some land by themselves a little below."""
    first = document["battery_warnings"][0]
    if rng.random() < 0.5:
        document["battery_warnings"].append({**first, "at_cell_v": round(first["at_cell_v"] - 0.2, 2), "does": "lands"})
    if rng.random() < 0.8:
        document["records"]["warning_test"] = [{"date": f"{DAY} 11:25", "watches": first["watches"], "sounded": True}]


def _looked(craft: Craft, warm_c: int) -> dict[str, object]:
    """Rotors that work alike are alike warm; the outputs of the hover, within half a point."""
    look: dict[str, object] = {"date": f"{FLIGHT} 09:50", "minutes": 4}
    if craft.chance(0.5):
        rise = craft.flat(8, 25)
        look["motors_c"] = {one.at: round(warm_c + rise + craft.flat(-2, 2)) for one in craft.rotors}
    else:
        look["motors"] = {"others": "warm"}
    look["nuts_moved"] = []
    if craft.chance(0.7):
        mean = 100 * craft.hover_throttle
        look["output_percent"] = {one.at: round(mean + craft.flat(-0.5, 0.5)) for one in craft.rotors}
    return look | {"pack": power.PACK, "pack_c": round(warm_c + craft.flat(3, 15))}


def _kept_book(document: dict[str, Any], craft: Craft) -> None:
    """Minutes, pack and charge of each flight; after each the pack was charged full."""
    hours = craft.capacity_mah / 1000 / craft.hover_a
    for entry in document.get("logbook", []):
        if entry["kind"] == "flown":
            part = craft.flat(0.2, 0.6)
            entry |= {
                "minutes": round(60 * hours * part, 1), "pack": power.PACK,
                "put_back_mah": round(craft.capacity_mah * part * craft.flat(0.98, 1.02)),
            }  # fmt: skip
