"""Named layouts: which positions they have, the angle of each arm from the nose, and how coaxial rotors are named."""

from math import cos, radians, sin
from typing import Literal

Level = Literal["upper", "lower"]
_LEVELS: tuple[Level, ...] = ("upper", "lower")

MOST_ROTORS = 64
"""So many may a manifest list."""

# Degrees clockwise from the nose, seen from above. Arms are of one length.
_QUAD_X = {"front-left": -45.0, "front-right": 45.0, "rear-left": -135.0, "rear-right": 135.0}
_Y = {"front-left": -60.0, "front-right": 60.0, "rear": 180.0}

_SINGLE = {
    "quad-x": _QUAD_X,
    "quad-plus": {"front": 0.0, "right": 90.0, "rear": 180.0, "left": -90.0},
    "hexa-x": {
        "front-left": -30.0,
        "front-right": 30.0,
        "left": -90.0,
        "right": 90.0,
        "rear-left": -150.0,
        "rear-right": 150.0,
    },
    "hexa-plus": {
        "front": 0.0,
        "front-left": -60.0,
        "front-right": 60.0,
        "rear-left": -120.0,
        "rear-right": 120.0,
        "rear": 180.0,
    },
    "octo-x": {
        "front-right": 22.5,
        "right-front": 67.5,
        "right-rear": 112.5,
        "rear-right": 157.5,
        "rear-left": -157.5,
        "left-rear": -112.5,
        "left-front": -67.5,
        "front-left": -22.5,
    },
    "octo-plus": {
        "front": 0.0,
        "front-right": 45.0,
        "right": 90.0,
        "rear-right": 135.0,
        "rear": 180.0,
        "rear-left": -135.0,
        "left": -90.0,
        "front-left": -45.0,
    },
}
_COAXIAL = {"x8": _QUAD_X, "y6": _Y}

ANGLES: dict[str, dict[str, float]] = _SINGLE | {
    layout: {f"{arm}-{level}": angle for arm, angle in arms.items() for level in _LEVELS}
    for layout, arms in _COAXIAL.items()
}

NAMES = (*ANGLES, "custom")


def positions(layout: str) -> tuple[str, ...]:
    """The position names of a named layout in walk-round order; empty for ``custom``."""
    return tuple(ANGLES.get(layout, ()))


def level_of(position: str) -> Level | None:
    """Above or below its arm, by its name (``rear-upper``), whatever the layout; None for a rotor alone on its arm."""
    return next((level for level in _LEVELS if position.endswith(f"-{level}")), None)


def arm_of(position: str) -> str:
    """The arm that carries the rotor: ``rear`` of ``rear-upper``; the position itself where it is alone there."""
    level = level_of(position)
    return position.removesuffix(f"-{level}") if level else position


def unit_place(layout: str, position: str) -> tuple[float, float, float]:
    """Forward, right, down of a rotor in arm lengths (a coaxial pair shares one place here)."""
    angle = radians(ANGLES[layout][position])
    return cos(angle), sin(angle), 0.0
