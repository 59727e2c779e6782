"""How fast the rotors turn, how well they are balanced, what was seen of the props, and what shows gravity."""

import math

import numpy as np

from making.sound.craft import GAS, GRAVITY, Craft
from making.sound.writing import DAY, FLIGHT, Records, figures

_THRUST_COEFFICIENT = 0.105  # T/(ρ·n²·D⁴), static, of ordinary props: UIUC propeller data, from memory 0.09 to 0.12
_LOADED = 0.72  # speed over kv, volts and throttle; common practice, no source


def hover_rpm(craft: Craft) -> float:
    density = craft.pressure_hpa * 100 / (GAS * (craft.temperature_c + 273.15))
    each_n = craft.mass_g / 1000 * GRAVITY / len(craft.rotors)
    return 60 * math.sqrt(each_n / (_THRUST_COEFFICIENT * density * (craft.prop_in * 0.0254) ** 4))


def kv_rpm_per_v(craft: Craft) -> float:
    """Of a motor that turns the prop as fast at the throttle of the hover."""
    return figures(hover_rpm(craft) / (_LOADED * craft.hover_v * craft.hover_throttle), 3)


def records(craft: Craft, every_rotor: dict[str, dict[str, float]], mishap: bool, flown: bool, seed: int) -> Records:
    """After a mishap every prop is looked at close by; the rest some owners do. With a generator of its own."""
    rng, told, rpm = np.random.default_rng(seed + 1_000_000), Records(), hover_rpm(craft)
    if mishap or rng.random() < 0.4:
        told["prop_look"] = [{"date": f"{DAY} 09:35", "at": "all", "found": "nothing"}]
    if flown and rng.random() < 0.5:
        told["rotor_speeds"] = [{
            "date": f"{FLIGHT} 09:40", "throttle_percent": round(100 * craft.hover_throttle),
            "voltage_v": round(craft.hover_v, 1),
            "rpm": {one.at: round(float(rpm * rng.uniform(0.985, 1.015))) for one in craft.rotors},
        }]  # fmt: skip
    if rng.random() < 0.5:
        turning = every_rotor["prop"]["mass_g"] + 0.6 * every_rotor["motor"]["mass_g"]
        told["prop_balance"] = [
            {"date": f"{DAY} 09:40", "at": one.at,
             "residual_g_mm": figures(float(rng.uniform(1, 8)) * turning / (2 * math.pi * rpm / 60), 2)}
            for one in craft.rotors
        ]  # fmt: skip
    if rng.random() < 0.5:
        told["six_positions"] = [_rested(rng)]
    return told


def _rested(rng: np.random.Generator) -> dict[str, object]:
    """On sides that are plumb to some degrees only, just calibrated."""
    sides = np.vstack([np.eye(3), -np.eye(3)]) + rng.normal(0, 0.04, (6, 3))
    shown = GRAVITY * sides / np.linalg.norm(sides, axis=1)[:, None] * rng.uniform(0.99, 1.01, 3)
    shown += rng.uniform(-0.05, 0.05, 3) + rng.normal(0, 0.01, shown.shape)
    return {
        "date": f"{DAY} 11:50", "columns": ["accel_x_m_s2", "accel_y_m_s2", "accel_z_m_s2"],
        "rows": [[round(float(value), 2) for value in row] for row in shown],
    }  # fmt: skip
