"""Volts, amperes and charge: true ones, those that the aircraft shows, and those that meters of its owner show."""

from dataclasses import dataclass

from making.sound.craft import Craft
from making.sound.writing import DAY, FLIGHT, Records, figures, shown

PACK = "S1"


@dataclass(frozen=True)
class Sensing:
    """Settings, and what is truly right: the owner set them by his own meters, which err within what they claim.

    What is shown: volts = true × volts_gain; amperes = true × amps_gain + amps_zero.
    """

    divider_ratio: float
    sensor_mv_per_a: float
    zero_mv: float
    full_scale_mv: float
    volts_gain: float
    amps_gain: float
    amps_zero: float
    meter_gain: float
    meter_percent: float
    clamp_gain: float
    clamp_percent: float
    clamp_zero: float
    clamp: str
    digit_v: float
    digit_a: float
    meter_digit_v: float
    clamp_digit_a: float

    def volts(self, craft: Craft, true: float) -> float:
        return shown(true * self.volts_gain + craft.rng.normal(0, 0.2 * self.digit_v), self.digit_v)

    def amperes(self, craft: Craft, true: float, digit: float | None = None) -> float:
        noisy = true * self.amps_gain + self.amps_zero + craft.rng.normal(0, 0.002 * true)
        return max(0.0, shown(noisy, digit or self.digit_a))

    @property
    def in_force(self) -> dict[str, object]:
        return {"sensor_mv_per_a": self.sensor_mv_per_a, "zero_mv": self.zero_mv}


def sensing(craft: Craft) -> Sensing:
    """A sensor as large as the aircraft needs, set by a multimeter and a clamp, or an inline meter for small ones."""
    inline = craft.current_a(1.0) < 15 or (craft.current_a(1.0) < 60 and craft.chance(0.3))
    meter_percent = float(craft.rng.choice([0.1, 0.2, 0.3, 0.5]))
    clamp_percent = float(craft.rng.choice([0.5, 1.0, 1.5] if inline else [1.0, 1.5, 2.0]))
    meter_gain = 1 + meter_percent / 100 * craft.flat(-1, 1)
    clamp_gain = 1 + clamp_percent / 100 * craft.flat(-1, 1)
    full_v = 4.2 * craft.cells
    zero_mv = float(craft.rng.choice([0, 50, 330, 500]))
    full_scale = 3300.0
    scale = figures((full_scale - zero_mv) / (craft.current_a(1.0) * craft.flat(1.25, 2.0)), 3)
    small = craft.hover_a < 5
    return Sensing(
        divider_ratio=figures(full_v / craft.flat(2.0, 2.9), 3),
        sensor_mv_per_a=scale,
        zero_mv=zero_mv,
        full_scale_mv=full_scale,
        volts_gain=meter_gain * (1 + craft.flat(-0.002, 0.002)),
        amps_gain=clamp_gain * (1 + craft.flat(-0.01, 0.01)),
        amps_zero=craft.flat(-0.01, 0.01) * craft.hover_a,
        meter_gain=meter_gain,
        meter_percent=meter_percent,
        clamp_gain=clamp_gain,
        clamp_percent=clamp_percent,
        clamp_zero=0.0 if inline else craft.flat(-0.15, 0.15),
        clamp="inline meter" if inline else "clamp meter",
        digit_v=0.01,
        digit_a=0.01 if small or craft.chance(0.3) else 0.1,
        meter_digit_v=0.01 if full_v > 6 and craft.chance(0.8) else 0.001,
        clamp_digit_a=0.01 if inline else float(craft.rng.choice([0.01, 0.1]) if craft.hover_a < 30 else 0.1),
    )


def settings(craft: Craft, said: Sensing) -> dict[str, object]:
    return {
        "divider_ratio": said.divider_ratio,
        **said.in_force,
        "input_full_scale_mv": said.full_scale_mv,
        "input_bits": 12,
    }


def throttles(craft: Craft, route: str) -> list[float]:
    """Steps up to somewhat beyond the hover, in whole per cent; tied down, up to 65 % or more."""
    top = min(craft.hover_throttle * craft.flat(1.02, 1.12), 1.0)
    top = max(top, craft.flat(0.65, 0.8)) if route == "restrained" else top
    return [round(part * top, 2) for part in (0.45, 0.65, 0.78, 0.9, 1.0)]


def records(craft: Craft, said: Sensing, route: str) -> Records:
    told: Records = {
        "voltage_comparison": [_volts_compared(craft, said)],
        "current_comparison": [_amperes_compared(craft, said, route)],
        "hover": [_hover(craft, said)],
    }
    if craft.chance(0.6):
        told["cell_voltages"] = [_cells(craft, said)]
    if craft.chance(0.7):
        told["sag_run"] = [_sag(craft, said, route)]
    if craft.chance(0.6):
        told["recharge"] = [_recharge(craft, said)]
    return told


def _meter(craft: Craft, said: Sensing, true: float) -> float:
    return shown(true * said.meter_gain, said.meter_digit_v)


def _volts_compared(craft: Craft, said: Sensing) -> dict[str, object]:
    """Three times as the pack empties, at rest."""
    true = [craft.cells * (volts + craft.flat(-0.02, 0.02)) for volts in (4.17, 3.95, 3.75)]
    return {
        "date": f"{DAY} 11:20",
        "pack": PACK,
        "in_force": {"divider_ratio": said.divider_ratio},
        "loaded": False,
        "reference": {
            "instrument": "bench multimeter", "accuracy_percent": said.meter_percent, "resolution_v": said.meter_digit_v,
        },
        "columns": ["indicated_v", "reference_v"],
        "rows": [[said.volts(craft, one), _meter(craft, said, one)] for one in true],
    }  # fmt: skip


def _amperes_compared(craft: Craft, said: Sensing, route: str) -> dict[str, object]:
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
        "date": f"{DAY} 13:30", "pack": PACK, "route": route, "in_force": said.in_force, "reference": reference,
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
        "takeoff_mass_g": craft.mass_g,
        "height_m": round(max(1.5, craft.prop_in * 0.0254 * craft.flat(2.5, 6)), 1),
        "wind_m_s": int(craft.rng.integers(0, 3)),
        "pack": PACK,
        "in_force": said.in_force,
    }


def _cells(craft: Craft, said: Sensing) -> dict[str, object]:
    true = [4.18 + craft.flat(-0.01, 0.01) for _ in range(craft.cells)]
    cell_digit = 0.01 if said.meter_digit_v == 0.01 else 0.001
    return {
        "date": f"{DAY} 11:30",
        "pack": PACK,
        "cells_v": [shown(one * said.meter_gain, cell_digit) for one in true],
        "pack_v": _meter(craft, said, sum(true)),
        "rested_min": 30,
        "full": True,
        "reference": {
            "instrument": "bench multimeter", "accuracy_percent": said.meter_percent, "resolution_v": cell_digit,
        },
    }  # fmt: skip


def _sag(craft: Craft, said: Sensing, route: str) -> dict[str, object]:
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
