"""What changed at the compass between two interference runs with nothing done in between."""

from __future__ import annotations

import math
from collections.abc import Iterator

from preflint.api import (
    PACK_UNPLUGGED,
    Context,
    Figure,
    NotFitted,
    Open,
    Related,
    Unproven,
    figure,
    records,
)
from preflint.arrays import np
from preflint.compute.decision import effective_dof, expanded_radius_3d, normalised_error, u_rectangular
from preflint.compute.least_squares import Array
from preflint.frozen import dataclass

from ..power.limits import CURRENT_SCALE
from ..shared.successive import ANEW, last_two
from .run import Run, fitted, latest_run, must_be_alive

_ANOTHER_UNIT = 4.0  # times the field of the other run: more than another place makes; common practice, no source


@dataclass(frozen=True, slots=True, eq=False)
class Change:
    """What the current makes in the later run less that in the earlier, µT for each ampere shown now.

    ``radius`` is that of the ball around ``made`` (3,) that holds the true change with 95 %; ``covariance`` (3, 3).
    """

    earlier: Run
    later: Run
    made: Array
    covariance: Array
    dof: float
    radius: float

    @property
    def size(self) -> float:
        return float(np.linalg.norm(self.made))

    @property
    def normalised(self) -> float:
        """Eₙ of the two runs: at most 1 and they agree."""
        return normalised_error(self.size, self.radius, 0.0, 0.0)


def last_two_runs(on: Context) -> tuple[records.InterferenceRun, records.InterferenceRun] | str:
    """Earlier first; or why they cannot be compared."""
    return last_two(on, "interference_run", on.aircraft.records.interference_run)


def changed(on: Context, before: records.InterferenceRun) -> Change:
    """The run that still speaks against the one before. Ends the rule as unproven where one of them tells nothing."""
    return on.once(_change, on, before)


def _change(on: Context, before: records.InterferenceRun) -> Change:
    later, earlier = on.once(fitted, on, latest_run(on)), on.once(fitted, on, before)
    for run in (earlier, later):
        must_be_alive(run)
    _one_unit(earlier, later)
    scale = u_rectangular(ANEW * on.limit(CURRENT_SCALE) / 100)  # of each run's amperes, by which their effect differs
    parts = [(run.covariance, run.dof) for run in (earlier, later)]
    parts += [(scale**2 * np.outer(run.needed_offset, run.needed_offset), math.inf) for run in (earlier, later)]
    covariance = sum((part for part, _ in parts), np.zeros((3, 3)))
    dof = effective_dof((_longest(part), dof) for part, dof in parts)
    radius = expanded_radius_3d(covariance, dof)
    return Change(earlier, later, earlier.needed_offset - later.needed_offset, covariance, dof, radius)


def _longest(covariance: Array) -> float:
    """Standard uncertainty along the longest axis."""
    return float(np.sqrt(max(0.0, np.linalg.eigvalsh(covariance)[-1])))


def _one_unit(earlier: Run, later: Run) -> None:
    fields = [run.steps.least_field_ut for run in (earlier, later)]
    if max(fields) > _ANOTHER_UNIT * min(fields):
        message = (
            f"at the least current: {fields[0]:.3g} µT in the run of {earlier.record.date.value}, {fields[1]:.3g} µT "
            f"in that of {later.record.date.value}"
        )
        how = "look in the logger's settings in what unit it logged each, and name the columns _ut or _mgauss by that"
        related = (Related(earlier.record.place, f"the run of {earlier.record.date.value}"),)
        raise Open(
            Unproven(
                cause="uncertain",
                place=later.record.place,
                message=message,
                do=how,
                evidence="",
                related=related,
                mind=PACK_UNPLUGGED,
            )
        )


@figure("interference-change")
def change_figures(on: Context) -> Iterator[Figure]:
    """How far the later of the two latest runs is from the earlier one, nothing having been done in between.

    The normalised error is the length of the change over the radius of the ball, drawn around the longest axis
    of the covariance of the change, that holds the true change with 95 % (2.80·√λ_max where it is
    taken as exact, JCGM 102:2011 Table 1, and wider by the F-distribution where not): Eₙ of ISO 13528 for a
    vector. One ball and not three axes, of which one in seven would stray by luck.
    """
    if isinstance(on.aircraft.compass, NotFitted):
        return
    pair = last_two_runs(on)
    if isinstance(pair, str):
        return
    found = changed(on, pair[0])
    place = found.later.record.place
    yield Figure("normalised_error", "interference", found.normalised, None, "1", None, place)
    for axis, case in enumerate("xyz"):
        u = float(np.sqrt(found.covariance[axis, axis]))
        yield Figure("interference_change_ut_per_a", case, float(found.made[axis]), u, "µT/A", None, place, found.dof)
