"""The currents that ratings are held against, with how well they are known."""

import math
from typing import Literal

from preflint.api import HOVER_LOG, THRUST_STAND, Context, Tolerance, fitted, need, together
from preflint.compute.decision import t_factor, u_rectangular
from preflint.frozen import dataclass

from ..power.draw import full_current_a
from ..power.hover_bounds import hover_bounds_a

# Of a full-throttle draw, either way: another pack, other air, a table of another motor; and of the display at hover.
# Common practice, no source.
DRAW_WITHIN = 0.1
_HOVER_WITHIN = 0.05

LEARN_HOVER = together(THRUST_STAND, HOVER_LOG)

STEADY_SHARE = Tolerance(
    "steady_share_percent",
    "%",
    80.0,
    "lower",
    "common practice, no source; from memory FAA AC 43.13-1B, 11-35 has it for a load that stays",
    "how much of a continuous rating the hover may take",
)

Decision = Literal["found", "clear", "uncertain"]


@dataclass(frozen=True, slots=True)
class Load:
    """Amperes from ``least`` to ``most`` at 95 %, and in words what they are."""

    least: float
    most: float
    words: str
    open: bool = False  # nobody measured it: it lies between bounds

    def against(self, rating_a: float) -> Decision:
        """Whether it is more than a rating, no more, or too near to tell."""
        if self.least > rating_a:
            return "found"
        return "clear" if self.most <= rating_a else "uncertain"

    def part(self, of: int) -> "Load":
        """What each of so many alike carries."""
        return Load(self.least / of, self.most / of, self.words, self.open)


def full_throttle(draw_a: float, what: str = "full throttle") -> Load:
    """A draw at full throttle as it is written."""
    within = t_factor(math.inf) * u_rectangular(DRAW_WITHIN)
    return Load(draw_a * (1 - within), draw_a * (1 + within), f"{what} {draw_a:.0f} A ± {100 * within:.0f} %")


def all_at_full(on: Context) -> Load:
    """Of all motors together. Ends the rule as unproven where one is missing."""
    return full_throttle(full_current_a(on.aircraft))


def hovering(on: Context) -> Load:
    """Of all rotors together: by hover, thrust stand, or bounds of physics. Ends the rule as unproven without them."""
    least, most, whence = hover_bounds_a(on)
    span = f"{least:.1f} A" if least == most else f"{least:.1f} to {most:.1f} A"
    words = f"hover {span} ({whence})"
    return Load(least * (1 - _HOVER_WITHIN), most * (1 + _HOVER_WITHIN), words, open=least < most)


def how_to_tell(load: Load) -> str:
    """What settles a hover that is too near a rating; ``LEARN_HOVER`` is its precaution where it is open."""
    if load.open:
        return "log a steady hover, or measure thrust and current of one motor on a thrust stand"
    return "fit the next higher rating, or take mass off"


def label_of(pack: fitted.Pack) -> str:
    """How a pack is named in a sentence. Ends the rule as unproven where it has no label."""
    return f"pack {need(pack.label).value}"
