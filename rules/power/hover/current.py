"""Hover: does it draw what the current comparison, and what the thrust stand, read for the same throttle or lift?"""

from __future__ import annotations

import math

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
    HOVER_LOG,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    NotFitted,
    Open,
    Outcome,
    Place,
    Related,
    Tolerance,
    Unproven,
    need,
    records,
    rule,
    together,
)
from preflint.arrays import np
from preflint.compute.decision import Decision, decide, t_factor, u_rectangular
from preflint.compute.rows import distinct
from preflint.frozen import dataclass

from ...shared.loaded_run import again, compare_again
from ..draw import as_installed_a
from ..lift import latest_hover
from ..limits import AMMETER_FLOOR, AMMETER_ZERO, AMMETER_ZERO_MOST
from ..meter import instrument, must_be_a_zero, zero_of

HOVER_THROTTLE = Tolerance(
    "hover_throttle_percent",
    "%",
    50.0,
    "lower",
    "common practice, no source",
    "by how much hover current and that of the comparison at the same throttle may exceed one another",
)
HOW = "log throttle and current over the same seconds of a steady hover"
_CONTRADICTED = (
    f"{HOW} again; if it stays, look for another pack or props than in the comparison; look at the sensor's plug and "
    "wires; compare again"
)
_BRACKET = 2.0  # throttles further apart than this factor tell little of what lies between them
_BETWEEN = 0.05  # half-width, relative, of a power law between two readings; common practice, no source
_THROTTLE_WITHIN_PERCENT = 0.5  # half-width of a mean throttle


@rule(
    "power_sensing/hover-throttle",
    each="aircraft",
    severity=CAUTION,
    job=Job.LOAD,
    precaution=ANY_LOADED_RUN,
    source="common practice, no source",
    tolerances=(HOVER_THROTTLE, AMMETER_FLOOR, AMMETER_ZERO, AMMETER_ZERO_MOST),
)
def hover_throttle(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the hover draw what the current comparison reads at that throttle?

    Throttle, air and pack settle what a drive draws, in the air as in the rig. Where the two records contradict
    each other, one is of other props, another pack or other seconds, or the sensor reads otherwise than it did;
    and what the current comparison vouches for is no longer what flies.

    Reasoning: the latest hover's mean current, as the settings installed show it, against the meter's current
    at the same throttle: by a power law between the readings next to it (within 5 %) where they are no more
    than a factor of 2 apart, else from the nearest reading, current going with throttle to the power of 1 to 3.
    Current goes with about the square of the pack voltage, which the comparison does not note (14 % more volts,
    30 % more current), and throttle may be read at the stick or at the motors: hence a limit as wide as
    ``hover_throttle_percent`` for the larger over the smaller. Meter, reading and throttle (within 0.5 %) enter
    at 95 %: found if the excess less U is above the limit, clear if with U it is not, else too uncertain to tell.
    Asked only of packs with one number of cells; not where either record is missing.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        records:
          current_comparison:
            - date: 2026-05-16
              route: restrained
              in_force: {sensor_mv_per_a: 26.4, zero_mv: 512}
              reference: {instrument: clamp meter, accuracy_percent: 1.5, resolution_a: 0.1}
              columns: [throttle_percent, indicated_a, reference_a]
              rows: [[0, 0.1, 0.0], [35, 8.8, 9.0], [55, 20.9, 21.4]]
          hover:
            - {date: 2026-05-17, mean_current_a: 60, throttle_percent: 50}

    Passes: the same with

        records:
          hover:
            - {date: 2026-05-17, mean_current_a: 18.2, throttle_percent: 50}

    Not checked: whether both throttles mean the same, and the pack voltage of the comparison.
    """
    if isinstance(aircraft.power_sensing, NotFitted):
        return NotApplicable("no power sensing is fitted")
    if not on.so_far(aircraft.records.hover):
        return NotApplicable("no hover is recorded")
    if not on.so_far(aircraft.records.current_comparison):
        return NotApplicable("no current comparison is recorded: see current-scale")
    hover = latest_hover(on)
    current, throttle = need(hover.mean_current_a), need(hover.throttle_percent)
    record = _comparison(on)
    if not _same_cells(aircraft, hover, record):
        return NotApplicable("hover and current comparison were made with different numbers of cells")
    both = _Both(hover, as_installed_a(aircraft, hover), throttle, record, _at_throttle(record, throttle))
    limit, u_relative = on.limit(HOVER_THROTTLE) / 100, both.u_relative(on.limit(AMMETER_FLOOR), on.limit(AMMETER_ZERO))
    reach = t_factor(math.inf) * both.ratio * u_relative
    evidence = both.in_words(reach, limit)
    related = (Related(both.there.place, "the nearest reading of the comparison"),)
    decision = both.decision(u_relative, limit)
    if decision == "found":
        return Finding(
            place=current.place,
            message=f"the hover drew {both.shown:.1f} A at {throttle.value:g} % throttle, where the current comparison "
            f"reads {both.there.current:.1f} A",
            evidence=evidence,
            do=_CONTRADICTED,
            related=related,
            mind=together(PACK_UNPLUGGED, again(record), HOVER_LOG),
        )
    if decision == "uncertain":
        return Unproven(
            cause="uncertain",
            place=current.place,
            message=f"hover over comparison {both.ratio:.2f} ± {reach:.2f} at {throttle.value:g} % throttle: too "
            "near the limit to tell",
            do=f"take readings of display and meter just below and above {throttle.value:g} % throttle",
            evidence=evidence,
            related=related,
            mind=again(record),
            record="current_comparison",
        )
    return Clear(evidence)


def _comparison(on: Context) -> records.CurrentComparison:
    taken = on.aircraft.records.current_comparison
    before = on.latest(taken)
    record = on.freshest("current_comparison", taken, compare_again(before), mind=again(before))
    must_be_a_zero(on, record)
    return record


@dataclass(frozen=True, slots=True)
class _There:
    """The comparison's current at a throttle; ``within`` is the relative half-width that comes of reading there."""

    current: float
    within: float
    in_words: str
    place: Place


@dataclass(frozen=True, slots=True)
class _Both:
    """The hover, with its current as the settings installed show it, beside the comparison at its throttle."""

    hover: records.Hover
    shown: float
    throttle: Known[float]
    record: records.CurrentComparison
    there: _There

    @property
    def ratio(self) -> float:
        """What the hover draws of what the comparison reads."""
        return self.shown / self.there.current

    def u_relative(self, floor: float, zero_within: float) -> float:
        """Of the comparison's current, by a meter no better than said. Ends the rule where its accuracy is missing."""
        current = self.there.current
        digit = need(self.record.table).value.last_digit("reference_a")
        meter = instrument(self.record.reference, "a", digit, floor, zero_within)
        u = math.hypot(
            u_rectangular(meter.accuracy_percent / 100 * current),
            u_rectangular(meter.accuracy_absolute),
            meter.resolution / math.sqrt(12),
            u_rectangular(current * self.there.within),
            u_rectangular(current * 2 * _THROTTLE_WITHIN_PERCENT / self.throttle.value),  # current ∝ throttle²
        )
        return u / current

    def decision(self, u_relative: float, limit: float) -> Decision:
        """Of the excess of the larger over the smaller."""
        apart = max(self.ratio, 1 / self.ratio)
        return decide(apart - 1, apart * u_relative, math.inf, limit)

    def in_words(self, reach: float, limit: float) -> str:
        """For the evidence."""
        at = f"{self.throttle.value:g} %"
        return (
            f"hover of {self.hover.date.value}: {self.shown:.1f} A at {at} throttle; comparison of "
            f"{self.record.date.value}: {self.there.in_words}, so {self.there.current:.1f} A at {at}; the hover draws "
            f"{self.ratio:.2f} ± {reach:.2f} of it, plausible from {1 / (1 + limit):.2f} to {1 + limit:.2f}"
        )


def _at_throttle(record: records.CurrentComparison, throttle: Known[float]) -> _There:
    """What the meter reads at that throttle. Ends the rule as unproven where the readings do not tell."""
    table = need(record.table).value
    if "throttle_percent" not in table.columns:
        message = f"the readings of {record.date.value} note no throttle"
        how = f"note throttle_percent with each reading; {compare_again(record)}"
        raise Open(
            Unproven(place=record.place, message=message, do=how, mind=again(record), record="current_comparison")
        )
    percent = table.column("throttle_percent")
    reference = table.column("reference_a") - (zero_of(record.reference, "a") or 0.0)
    driven = (percent > 0) & (reference > 0)
    if throttle.value <= 0 or not np.any(driven):
        if throttle.value <= 0:
            raise Open(
                Unproven(
                    place=throttle.place,
                    message="the hover is recorded at no throttle",
                    do=HOW,
                    mind=HOVER_LOG,
                    record="hover",
                )
            )
        message = f"no reading of {record.date.value} is at a throttle above zero that draws current"
        raise Open(
            Unproven(
                place=record.place,
                message=message,
                do=compare_again(record),
                mind=again(record),
                record="current_comparison",
            )
        )
    levels = distinct(percent[driven])
    means = np.array([float(np.mean(reference[driven & (percent == level)])) for level in levels])
    i = int(np.argmin(np.abs(np.log(levels / throttle.value))))
    nearest, current = float(levels[i]), float(means[i])
    place = table.row_place(int(np.flatnonzero(driven & (percent == nearest))[0]))
    one = f"{current:.1f} A at {nearest:g} %"
    if nearest == throttle.value:
        return _There(current, 0.0, one, place)
    j = i + 1 if nearest < throttle.value else i - 1
    if 0 <= j < levels.size and max(levels[j] / nearest, nearest / levels[j]) <= _BRACKET:
        power = math.log(means[j] / current) / math.log(levels[j] / nearest)
        between = current * float((throttle.value / nearest) ** power)
        return _There(between, _BETWEEN, f"{one} and {means[j]:.1f} A at {levels[j]:g} %", place)
    ratio = throttle.value / nearest
    return _There(current * ratio**2, abs(ratio - 1 / ratio) / 2, f"{one} next to it", place)


def _same_cells(aircraft: Aircraft, hover: records.Hover, record: records.CurrentComparison) -> bool:
    """Whether both were made with the same number of cells. Ends the rule as unproven where nobody says."""
    if isinstance(hover.pack, Known) and isinstance(record.pack, Known) and hover.pack.value == record.pack.value:
        return True
    cells = [
        {
            pack.cells.value if isinstance(pack.cells, Known) else None
            for pack in aircraft.packs
            if not isinstance(label, Known) or not isinstance(pack.label, Known) or pack.label.value == label.value
        }
        for label in (hover.pack, record.pack)
    ]
    if any(None in one or len(one) != 1 for one in cells):
        message = "whether hover and current comparison had as many cells is not recorded"
        how = "write the label of the pack in both records, and the cells of each pack"
        raise Open(Unproven(place=hover.place, message=message, do=how, on_paper=True))
    return cells[0] == cells[1]
