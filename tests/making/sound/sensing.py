"""How the aircraft shows volts and amperes, and what its owner's meters make of them."""

from dataclasses import dataclass

from making.sound.craft import Craft
from making.sound.writing import figures, shown


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
    full_v = craft.full_v * craft.cells
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


def settings(said: Sensing) -> dict[str, object]:
    return {
        "divider_ratio": said.divider_ratio,
        **said.in_force,
        "input_full_scale_mv": said.full_scale_mv,
        "input_bits": 12,
    }


def throttles(craft: Craft, route: str) -> list[float]:
    """Steps up to somewhat beyond the hover, in whole per cent; tied down, up to 65 % or more."""
    top = min(craft.hover_throttle * craft.flat(1.02, 1.12), 1.0)
    top = max(top, craft.flat(0.65, 0.8)) if route != "hover-log" else top
    return [round(part * top, 2) for part in (0.45, 0.65, 0.78, 0.9, 1.0)]
