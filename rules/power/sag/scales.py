"""How sure the resistance of a sag run is: by its rows, and by both scales of the display."""

import math

from preflint.api import Context
from preflint.compute.decision import effective_dof

from ..hover.shown import of_display
from .fit import Sag


def u_resistance(on: Context, sag: Sag) -> tuple[float, float] | None:
    """Standard uncertainty in Ω and its degrees of freedom.

    With the errors that the comparisons found, which are not taken off. None without a row to spare, or where a
    scale was not compared since the display last changed.
    """
    displays = [of_display(on, "v"), of_display(on, "a")]
    gains = [display.judging.gain for display in displays if display is not None]
    if sag.covariance is None or len(gains) < len(displays):
        return None
    parts = [(math.sqrt(float(sag.covariance[1, 1])), sag.dof)]
    for gain in gains:
        parts += [(sag.ohm * (gain.value - 1), math.inf), (sag.ohm * gain.u, gain.dof)]
    return math.hypot(*(part for part, _ in parts)), effective_dof(parts)
