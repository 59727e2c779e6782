"""The field of an interference run with no current: the Earth's, as the aircraft stood."""

from __future__ import annotations

from math import atan2, degrees, hypot, sqrt

from preflint.api import Absent, Context, Known, NotApplicable, Place, need, records
from preflint.arrays import np
from preflint.compute.least_squares import Array
from preflint.frozen import dataclass

from .earth import soft_iron_matrix
from .log import plausible_steps
from .run import told


@dataclass(frozen=True, slots=True, eq=False)
class StillField:
    """The field of the run at no current, (3,) in µT: ``still`` as logged, ``shown`` with hard and soft iron
    corrected; ``soft`` (3, 3) is the matrix that did so.
    """

    hard: Known[tuple[float, ...]]
    kind: str
    still: Array
    shown: Array
    soft: Array
    u_ut: float

    @property
    def in_words(self) -> str:
        return f"[{', '.join(f'{value:.1f}' for value in self.still)}]"

    @property
    def strength_ut(self) -> float:
        return float(np.linalg.norm(self.shown))

    @property
    def dip_deg(self) -> float:
        return degrees(atan2(self.shown[2], hypot(self.shown[0], self.shown[1])))

    @property
    def per_turn(self) -> Array:
        """What the field logged changes by for each radian that the aircraft turns to the right, level, (3,) in µT."""
        forward, right, _ = self.shown
        return np.linalg.solve(self.soft, np.array([right, -forward, 0.0]))


@dataclass(frozen=True, slots=True)
class NoIron:
    """Which hard-iron correction is not recorded, so that the Earth's field is not known from the log."""

    why: NotApplicable
    place: Place
    do: str


def still_field(on: Context, record: records.InterferenceRun) -> StillField | NoIron:
    """Ends the rule as unproven where the run tells nothing."""
    return on.once(_still_field, on, record)


def _still_field(on: Context, record: records.InterferenceRun) -> StillField | NoIron:
    steps = plausible_steps(on, record)
    line, _ = on.once(told, record, steps)
    least = float(steps.current[steps.least])
    still = steps.field[steps.least] - line.slope * least
    compass = on.aircraft.compass.value if isinstance(on.aircraft.compass, Known) else None
    hard = compass.hard_iron_ut if compass else None
    if compass is None or not isinstance(hard, Known):
        why = NotApplicable("no hard-iron correction is recorded to add to the field of the run")
        how = "write compass.hard_iron_ut as the flight controller has it, [0, 0, 0] where it has none"
        return NoIron(why, on.aircraft.compass.place, how)
    added, kind, soft = np.array(hard.value), need(record.field_is).value, np.eye(3)
    if kind == "compensated":
        then = record.in_force.hard_iron_ut
        if isinstance(then, Absent):
            why = NotApplicable("whether the compensated log holds a hard-iron correction is not recorded")
            return NoIron(why, record.place, "write in_force.hard_iron_ut of the run, [0, 0, 0] where it had none")
        shown = still + added - np.array(then.value)
    else:
        soft = soft_iron_matrix(compass.soft_iron)
        shown = soft @ (still + added)
    longest = sqrt(max(0.0, float(np.linalg.eigvalsh(line.slope_covariance)[-1])))
    return StillField(hard, kind, still, shown, soft, hypot(longest * least, steps.digit / sqrt(12)))
