"""Does an aircraft that turns in its ties explain what follows the current? And two runs that tell it apart.

Thrust turns a tied aircraft by some degrees to the side, and back when it ends. The field measured then changes by
H·φ across the horizontal field, without any vertical part, in step with the current. Interference stays with the
aircraft; the change of a turn follows the nose. So two runs on different headings tell them apart.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import degrees, inf, radians

from preflint.arrays import np
from preflint.compute.decision import effective_dof, expanded_radius_2d, t_factor
from preflint.compute.least_squares import Array
from preflint.frozen import dataclass

# More than ties that hold an aircraft let it turn unseen; common practice, no source.
MOST_TURN_DEG = 15.0
# Standard uncertainties of where the horizontal field lies, with a hard iron that leaves the compass as good as is
# aimed at, and of how level the aircraft stands; common practice, no source.
_U_ROUND, U_LEAN = radians(5.0), radians(2.5)


@dataclass(frozen=True, slots=True, eq=False)
class Logged:
    """What the current makes by one run: ``made`` (3,) in µT for each ampere, its ``covariance`` (3, 3) of ``dof``.

    ``per_turn`` (3,): what the field changes by for each radian of a turn, in µT; ``top_a``: the highest current.
    """

    made: Array
    covariance: Array
    dof: float
    per_turn: Array
    top_a: float

    @property
    def turn_deg(self) -> float:
        """The turn at the highest current that comes nearest to it."""
        return degrees(float(self.made @ self.per_turn / (self.per_turn @ self.per_turn)) * self.top_a)


def is_explained(run: Logged) -> bool:
    """Whether a turn of at most MOST_TURN_DEG makes all of it, at 95 %.

    What lies off the line of a turn is compared with its uncertainty: that of the run, and of the line itself.
    """
    if abs(run.turn_deg) > MOST_TURN_DEG:
        return False
    off = _off_line(run.per_turn)
    beside, size = off @ run.made, float(np.linalg.norm(run.made))
    of_line = np.diag([size * _U_ROUND, size * U_LEAN]) ** 2
    of_run = off @ run.covariance @ off.T
    way = beside / max(float(np.linalg.norm(beside)), 1e-300)
    dof = effective_dof([(float(way @ of_run @ way) ** 0.5, run.dof), (float(way @ of_line @ way) ** 0.5, inf)])
    apart = float(beside @ np.linalg.pinv(of_run + of_line) @ beside)
    return apart <= expanded_radius_2d(np.eye(2), dof) ** 2


def _off_line(per_turn: Array) -> Array:
    """The two directions off the line of a turn, (2, 3): along the horizontal field and down."""
    level = np.array([-per_turn[1], per_turn[0], 0.0])
    return np.array([level / np.linalg.norm(level), [0.0, 0.0, 1.0]])


@dataclass(frozen=True, slots=True, eq=False)
class Apart:
    """Interference told apart from turns: ``made`` (3,), its ``covariance`` (3, 3) of ``dof``, and each run's turn at
    its highest current, in degrees with standard uncertainties. ``agree``: whether one interference and a turn of at
    most MOST_TURN_DEG in each make all runs, at 95 %. ``by_a_turn``: whether a turn alone explains one of them.
    """

    made: Array
    covariance: Array
    dof: float
    turns_deg: tuple[tuple[float, float], ...]
    agree: bool
    by_a_turn: bool


def told_apart(runs: Sequence[Logged]) -> Apart:
    """Joint least squares: made = interference + turn for each ampere · per_turn, one interference for all runs.

    The uncertainty of a run is that of its slope and, times its turn, that of the line of the turn.
    """
    turns: Array = np.zeros(len(runs))
    for _ in range(3):  # the weights hang on the turns
        variances = []
        for run, turn in zip(runs, turns, strict=True):
            off = _off_line(run.per_turn)
            of_line = np.diag([_U_ROUND, U_LEAN]) * abs(turn) * np.linalg.norm(run.per_turn)
            variances.append(run.covariance + off.T @ of_line**2 @ off + 1e-18 * np.eye(3))
        designs = [
            np.column_stack([np.eye(3), np.outer(run.per_turn, row)])
            for run, row in zip(runs, np.eye(len(runs)), strict=True)
        ]
        weights = [np.linalg.inv(variance) for variance in variances]
        covariance = np.linalg.inv(np.sum([a.T @ w @ a for a, w in zip(designs, weights, strict=True)], axis=0))
        gains = [covariance @ a.T @ w for a, w in zip(designs, weights, strict=True)]
        found: Array = np.sum([gain @ run.made for gain, run in zip(gains, runs, strict=True)], axis=0)
        turns = found[3:]
    parts = [gain[:3] @ variance @ gain[:3].T for gain, variance in zip(gains, variances, strict=True)]
    dof = effective_dof(
        (float(np.linalg.eigvalsh(part)[-1]) ** 0.5, run.dof) for part, run in zip(parts, runs, strict=True)
    )
    rest = [run.made - a @ found for run, a in zip(runs, designs, strict=True)]
    chi_square = sum(float(one @ w @ one) for one, w in zip(rest, weights, strict=True))
    spare = 2 * len(runs) - 3
    each = tuple(
        (degrees(turn * run.top_a), degrees(float(covariance[3 + i, 3 + i]) ** 0.5 * run.top_a))
        for i, (turn, run) in enumerate(zip(turns, runs, strict=True))
    )
    agree = chi_square <= spare * t_factor(dof) ** 2 and all(abs(turn) <= MOST_TURN_DEG for turn, _ in each)
    return Apart(np.asarray(found[:3]), covariance[:3, :3], dof, each, agree, any(map(is_explained, runs)))
