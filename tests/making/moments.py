"""Moments of rotors in the body axes of ISO 1151, forward, right, down; an oracle: nothing of the product is used."""

from collections.abc import Sequence

Vector = tuple[float, float, float]

# The axis and sign of the moment that brings the attitude about.
ATTITUDES = {
    "nose-down": (1, -1),
    "nose-up": (1, 1),
    "right-down": (0, 1),
    "left-down": (0, -1),
    "turned-right": (2, 1),
    "turned-left": (2, -1),
}
AGAINST = {
    "nose-down": "nose-up",
    "nose-up": "nose-down",
    "right-down": "left-down",
    "left-down": "right-down",
    "turned-right": "turned-left",
    "turned-left": "turned-right",
}


def cross(a: Sequence[float], b: Sequence[float]) -> Vector:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def moment(place: Sequence[float], spin: str) -> Vector:
    """Of one rotor that gains thrust: about x (right side down), y (nose up), z (nose right)."""
    lift = cross(place, (0.0, 0.0, -1.0))
    # Clockwise from above, the blade that points forward moves to the right; the air pushes it back to the left.
    blade_goes = (0.0, 1.0 if spin == "cw" else -1.0, 0.0)
    drag = cross((1.0, 0.0, 0.0), tuple(-part for part in blade_goes))
    return lift[0] + drag[0], lift[1] + drag[1], lift[2] + drag[2]
