"""The Earth's field and what iron and current on board make of it, as the compass reads it."""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from pygeomag import GeoMag  # type: ignore[import-untyped]

from making.earth import remembering
from making.sound.craft import Craft
from making.sound.sensing import Sensing, throttles
from making.sound.writing import BEFORE, DAY, FLIGHT, Records, shown

Array = npt.NDArray[np.float64]
_MODEL = GeoMag()


@dataclass(frozen=True)
class Compass:
    """True corrections, and those installed, nearly right: corrected = soft·(raw + hard + offset·amperes shown)."""

    horizontal_ut: float
    down_ut: float
    declination_deg: float
    hard: Array
    soft: Array
    made: Array  # µT of raw field for each true ampere
    hard_set: Array
    soft_set: Array
    offset_set: Array
    noise_ut: float
    digit_ut: float

    def earth(self, heading_deg: float) -> Array:
        """In body axes, level, at a true heading."""
        angle = math.radians(heading_deg - self.declination_deg)
        return np.array([self.horizontal_ut * math.cos(angle), -self.horizontal_ut * math.sin(angle), self.down_ut])

    def raw(self, body: Array, amperes: float) -> Array:
        return np.asarray(np.linalg.solve(self.soft, body) - self.hard + self.made * amperes)

    def heading(self, raw: Array, amperes: float) -> float:
        """What the aircraft indicates from true north."""
        corrected = self.soft_set @ (raw + self.hard_set + self.offset_set * amperes)
        return math.degrees(math.atan2(-corrected[1], corrected[0])) + self.declination_deg


def compass(craft: Craft, said: Sensing) -> Compass | None:
    """None where the field lies too flat for a compass to be relied on."""
    model = _MODEL.calculate(glat=craft.latitude, glon=craft.longitude, alt=craft.elevation_m / 1000, time=2026.37)
    if model.h < 14000:
        return None
    rng, horizontal = craft.rng, model.h / 1000
    hard = rng.normal(0, 12, 3)
    soft = np.eye(3) + rng.normal(0, 0.03, (3, 3)) if craft.chance(0.6) else np.eye(3)
    soft = (soft + soft.T) / 2
    way = rng.normal(0, 1, 3)
    # At full throttle up to half of the horizontal field, of which the offset takes all but a fortieth: 1.4°.
    made = way / np.linalg.norm(way) * craft.flat(0.02, 0.5) * horizontal / craft.current_a(1.0)
    off = rng.normal(0, 1, 3)
    left = off / np.linalg.norm(off) * craft.flat(0, 0.025) * horizontal / craft.current_a(1.0)
    return Compass(
        horizontal, model.z / 1000, model.d, hard, soft, made,
        hard_set=np.round(hard + rng.normal(0, 0.004 * horizontal, 3), 1),
        soft_set=np.round(soft + (rng.normal(0, 0.003, (3, 3)) if (soft != np.eye(3)).any() else 0), 3),
        offset_set=np.round((left - made) / said.amps_gain, 4 if craft.hover_a > 2 else 3),
        noise_ut=craft.flat(0.03, 0.3),
        digit_ut=float(rng.choice([0.01, 0.1])),
    )  # fmt: skip


def settings(sensor: Compass) -> dict[str, object]:
    return {
        "interference_offset_ut_per_a": sensor.offset_set.tolist(),
        "hard_iron_ut": sensor.hard_set.tolist(),
        "soft_iron": sensor.soft_set.tolist(),
    }


def records(craft: Craft, said: Sensing, sensor: Compass, route: str) -> tuple[Records, dict[str, str]]:
    """The records, and the log of the rotation where there is one."""
    days = [BEFORE, DAY] if craft.chance(0.3) else [DAY]
    told: Records = {
        "interference_run": [_run(craft, said, sensor, route, day) for day in days],
        "heading_check": [_headings(craft, sensor)],
    }
    if not craft.chance(0.7):
        return told, {}
    told["compass_rotation"] = [
        {"date": f"{DAY} 12:10", "field_is": "raw", "in_force": {"hard_iron_ut": sensor.hard_set.tolist()},
         "file": "logs/rotation.csv"}
    ]  # fmt: skip
    return told, {"logs/rotation.csv": _rotation(craft, sensor)}


def _seen(craft: Craft, sensor: Compass, field: Array, per_ut: float) -> list[float]:
    """A line of the logger, the mean of eight readings."""
    noisy = field + craft.rng.normal(0, sensor.noise_ut / math.sqrt(8), 3)
    return [shown(float(one) * per_ut, sensor.digit_ut * per_ut) for one in noisy]


def runs_again(craft: Craft, said: Sensing, sensor: Compass) -> list[dict[str, object]]:
    """As who is asked for more does it: two runs, the nose turned by 90° in between, with more steps nearly to full."""
    way = craft.flat(0, 360)
    more = [0.3, 0.5, 0.6, 0.7, 0.75, 0.8, 0.85, 0.9]
    return [
        {**_run(craft, said, sensor, "restrained", DAY, way + turned, more), "date": f"{DAY} {hour}:00"}
        for hour, turned in ((16, 0.0), (17, 90.0))
    ]


def _run(craft: Craft, said: Sensing, sensor: Compass, route: str, day: str,
         way: float | None = None, parts: list[float] | None = None) -> dict[str, object]:  # fmt: skip
    body = sensor.earth(craft.flat(0, 360) if way is None else way)
    compensated, gauss = craft.chance(0.2), craft.chance(0.2)
    per_ut, unit = (10.0, "mgauss") if gauss else (1.0, "ut")
    rows: list[list[float]] = []
    steps = [0.0, *(parts or throttles(craft, route)), 0.0]
    for i, throttle in enumerate(steps):
        for second in (0, 5):
            true = craft.current_a(throttle) * (1 + craft.flat(-0.01, 0.01))
            shows = said.amperes(craft, true)
            added = sensor.hard_set + sensor.offset_set * shows if compensated else 0.0
            seen = _seen(craft, sensor, sensor.raw(body, true) + added, per_ut)
            rows.append([10 * i + second, round(100 * throttle), shows, *seen])
    in_force: dict[str, object] = {"sensor_mv_per_a": said.sensor_mv_per_a}
    if compensated:
        in_force["interference_offset_ut_per_a"] = sensor.offset_set.tolist()
        in_force["hard_iron_ut"] = sensor.hard_set.tolist()
    return {
        "date": f"{day} 14:00", "route": route, "field_is": "compensated" if compensated else "raw",
        "in_force": in_force,
        "magnetic_restraint": False, "steel_nearby": False, "payload_on": True,
        "columns": ["time_s", "throttle_percent", "current_a", *(f"field_{axis}_{unit}" for axis in "xyz")],
        "rows": rows,
    }  # fmt: skip


def _headings(craft: Craft, sensor: Compass) -> dict[str, object]:
    """Eight headings along a map line, each pointed by eye."""
    accuracy = float(craft.rng.choice([1.0, 2.0]))
    line = accuracy * craft.flat(-1, 1)
    digit = float(craft.rng.choice([0.1, 1.0]))
    rows = []
    for true in range(0, 360, 45):
        stands = true + line + craft.flat(-1, 1)
        shows = sensor.heading(sensor.raw(sensor.earth(stands), craft.idle_a), craft.idle_a)
        rows.append([true, shown(shows % 360, digit) % 360])
    return {
        "date": f"{FLIGHT} 09:10",
        "reference": {"instrument": "map line", "accuracy_deg": accuracy},
        "columns": ["true_deg", "indicated_deg"],
        "rows": rows,
    }


def _rotation(craft: Craft, sensor: Compass) -> str:
    """Each side down in turn and a full turn on it, by hand; neighbours share some of their noise."""
    each = int(craft.rng.choice([8, 24, 40]))
    strength = math.hypot(sensor.horizontal_ut, sensor.down_ut)
    sides = [sign * axis for axis in np.eye(3) for sign in (-1.0, 1.0)]
    field = []
    for down in sides:
        across = np.roll(down, 1)
        third = np.cross(down, across)
        for angle in np.linspace(0, 2 * np.pi, each, endpoint=False):
            flat = math.cos(angle) * across + math.sin(angle) * third
            wobble = craft.rng.normal(0, 0.12, 3)
            way = sensor.horizontal_ut * flat + sensor.down_ut * down
            way = way / strength + wobble
            field.append(sensor.raw(strength * way / np.linalg.norm(way), craft.idle_a))
    noisy = np.array(field) + remembering(craft.rng, len(field), 0.5, sensor.noise_ut)
    lines = (",".join(f"{shown(float(one), sensor.digit_ut):g}" for one in row) for row in noisy)
    return "\n".join(["field_x_ut,field_y_ut,field_z_ut", *lines]) + "\n"
