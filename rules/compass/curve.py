"""From the headings checked to every heading: the error of a compass round the circle."""

from __future__ import annotations

from math import hypot

from preflint.arrays import np
from preflint.compute.least_squares import Array
from preflint.frozen import dataclass

from .checks import Checked
from .left_over import every_heading

_WORST_CONDITION = 10.0  # headings round the circle, with gaps of 140° at most, stay well below


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """The error with the motors still, at the headings checked and then on every heading, all (n,).

    ``headings`` are indicated ones; ``field``: the horizontal field there over the Earth's. ``residual``: largest
    difference of check and curve; ``second``: amplitude of two cycles a turn, where the check shows it.
    """

    headings: Array
    errors: Array
    field: Array
    residual: float
    second: float


def curve_of(check: Checked) -> Curve:
    """Least squares of a constant (the mounting), one cycle a turn (hard iron) and two (soft iron).

    Over the indicated heading θ, a field v fixed to the aircraft (forward, right) makes exactly one cycle:
    H·sin δ = -(v_f·sin θ + v_r·cos θ), and the field shown is H' = H·cos δ + v_f·cos θ - v_r·sin θ, which is
    H·(cos δ - d(sin δ)/dθ).
    """
    shown = np.array(check.true_deg) + np.array(check.errors_deg)
    two = check.shows_soft_iron

    def terms(headings: Array) -> Array:
        angle = np.radians(headings)
        parts = [np.ones(angle.size), np.cos(angle), np.sin(angle)]
        return np.column_stack(parts + ([np.cos(2 * angle), np.sin(2 * angle)] if two else []))

    errors = np.array(check.errors_deg)
    design = terms(shown)
    found = np.zeros(design.shape[1])
    found[0] = errors.mean()  # all that is told by headings that do not go round the circle
    if np.linalg.cond(design) < _WORST_CONDITION:
        found = np.linalg.lstsq(design, errors, rcond=None)[0]
    headings = np.concatenate([shown, every_heading()])
    angle, (b, c) = np.radians(headings), np.radians(found[1:3])
    once = b * np.cos(angle) + c * np.sin(angle)
    return Curve(
        headings,
        np.concatenate([errors, terms(every_heading()) @ found]),
        np.cos(once) + b * np.sin(angle) - c * np.cos(angle),
        float(np.max(np.abs(design @ found - errors))),
        float(hypot(*found[3:])) if two else 0.0,
    )
