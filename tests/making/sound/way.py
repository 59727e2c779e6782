"""Where it is to fly, how it comes back by itself, and what the link has to spare: drawn for themselves."""

import math
from typing import Any

import numpy as np

from making.sound.writing import shown


def way(seed: int, records: dict[str, Any], knows_home: bool) -> dict[str, dict[str, object]]:
    """The sections ``plan`` and ``return`` and the obstacle of the site; what range test and position check tell more.

    By free space, where ten times as far takes 20 dB more, 12.5 dB or more are left at the plan's end. Home only where
    it knows the way, and above all that stands there, by 24 m: 10 m, and whatever its height may be wrong by.
    """
    rng = np.random.default_rng((seed, 6))
    [test] = records["range_test"]
    test["reduced_by_db"] = int(rng.integers(25, 36))
    reach = int(test["distance_m"]) * 10 ** ((test["reduced_by_db"] - 12.5) / 20)
    far, high = math.floor(reach * rng.uniform(0.2, 1)), int(rng.integers(10, 110))
    plan: dict[str, object] = {"farthest_m": far, "height_m": high}
    obstacle = int(rng.integers(0, 40))
    does = str(rng.choice(["comes-home", "holds", "lands"])) if knows_home else "lands"
    home: dict[str, object] = {"on_link_loss": does}
    height = obstacle + int(rng.integers(24, 60))
    if does == "comes-home":
        home["height_m"] = height
    if rng.random() < 0.5:
        home |= {"fence_radius_m": far + 100, "fence_height_m": max(height, high) + 10}
    for check in records.get("position_check", []):
        check |= {
            "minutes_on": shown(rng.uniform(0.5, 20), 0.1), "satellites": int(rng.integers(8, 24)),
            "hdop": shown(rng.uniform(0.6, 1.3), 0.1), "columns": ["latitude_deg", "longitude_deg"],
            "rows": _wander(rng, check["shown_latitude_deg"], check["shown_longitude_deg"]),
        }  # fmt: skip
    return {"plan": plan, "return": home, "site": {"highest_obstacle_m": obstacle}}


def _wander(rng: np.random.Generator, latitude: float, longitude: float) -> list[list[float]]:
    """Six positions, each a metre or two about the one shown; a degree along a meridian has 111 km."""
    north, east = rng.normal(0, 1.5, (2, 6)) / 111_000
    shorter = math.cos(math.radians(latitude))
    return [[round(latitude + n, 5), round(longitude + e / shorter, 5)] for n, e in zip(north, east, strict=True)]
