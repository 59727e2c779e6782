"""Do recharge and current comparison agree about the display?"""

import math
from collections.abc import Iterator

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
    HOVER_LOG,
    Absent,
    Aircraft,
    Clear,
    Context,
    Figure,
    Finding,
    Job,
    NotApplicable,
    Open,
    Outcome,
    Unproven,
    figure,
    rule,
    together,
)
from preflint.compute.decision import normalised_error, t_factor
from preflint.frozen import dataclass

from ...shared.loaded_run import again
from ..draw import hover_current_a
from ..hover.shown import of_display
from ..limits import AMPERES_COMPARED
from .counted import RECHARGE, Counted, recharged

# At which they contradict each other. U holds 95 %, so two that are right are above 1 in up to 5 of 100
# aircraft: too many for a caution. At 99 % they are in one of 100 (JCGM 106:2012: the guard follows from the risk).
_CONTRADICT = 0.99


@figure("recharge-agreement")
def agreement_figures(on: Context) -> Iterator[Figure]:
    """Eₙ of the error of the charge counted and that of the current compared (case: recharge)."""
    both = on.once(_both, on)
    if not isinstance(both, NotApplicable):
        yield Figure("normalised_error", "recharge", both.e_n, None, "1", None, both.counted.record.place)


@dataclass(frozen=True, slots=True)
class _Both:
    """The error of the display by the recharge, and by the current comparison, where that is compared."""

    counted: Counted
    compared_error: float
    compared_expanded: float
    compared_at: float

    @property
    def e_n(self) -> float:
        """At most 1: they agree."""
        expanded = t_factor(math.inf) * self.counted.u
        return normalised_error(self.counted.error, expanded, self.compared_error, self.compared_expanded)


def _both(on: Context) -> _Both | NotApplicable:
    try:
        counted = recharged(on)
    except Open:
        return NotApplicable("the recharge tells no error: see recharge")
    if isinstance(counted, NotApplicable):
        return counted
    compared = of_display(on, "a")
    if compared is None or counted.ratio != 1 or isinstance(counted.record.in_force.sensor_mv_per_a, Absent):
        return NotApplicable("no current comparison speaks for the settings installed: see current-scale")
    try:
        at = hover_current_a(on)[0]
    except Open:
        at = float(compared.reference.max())
    judged = compared.judge(at, on.limit(RECHARGE) / 100)
    return _Both(counted, judged.error, judged.expanded, judged.at)


@rule(
    "power_sensing/recharge-agrees",
    each="aircraft",
    severity=CAUTION,
    job=Job.LOAD,
    precaution=ANY_LOADED_RUN,
    source="normalised error after ISO 13528",
    tolerances=(RECHARGE, *AMPERES_COMPARED),
)
def recharge_agrees(aircraft: Aircraft, on: Context) -> Outcome:
    """Do the recharge and the current comparison say the same of the display?

    Both measure one scale, by two ways that share no instrument. Where they contradict each other one of them
    is wrong, and a setting corrected by the wrong one counts wrong from then on.

    Reasoning: errors of indication, of the charge over the flight (as in recharge) and of the current at hover,
    else at the highest reading (as in current-scale). Eₙ = difference / √(U₁² + U₂²), U at 95 %. Two that are right
    are above 1 in up to 5 of 100 aircraft, and above 2.576 / 1.960 = 1.31 in up to one; in fewer, since what a meter
    may err by ends at its limit. Clear up to 1, found above 1.31, in between too uncertain to tell. Where either is
    missing, stale or of other settings than those installed, or of settings that nobody wrote down, it is not asked
    here.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4, capacity_mah: 5000}]
        power_sensing: {sensor_mv_per_a: 26.4, zero_mv: 512}
        records:
          recharge:
            - {date: 2026-04-18, pack: A1, counted_mah: 3870, put_back_mah: 4300, full_before: true,
               in_force: {sensor_mv_per_a: 26.4}, reference: {instrument: charger, accuracy_percent: 1.0}}
          current_comparison:
            - date: 2026-04-17
              in_force: {sensor_mv_per_a: 26.4, zero_mv: 512}
              reference: {instrument: clamp meter, accuracy_percent: 1.5, resolution_a: 0.1}
              columns: [throttle_percent, indicated_a, reference_a]
              rows: [[0, 0.1, 0.0], [35, 8.8, 9.0], [55, 20.9, 21.4]]

    Passes: the same with

        records:
          recharge:
            - {date: 2026-04-18, pack: A1, counted_mah: 4210, put_back_mah: 4300, full_before: true,
               in_force: {sensor_mv_per_a: 26.4}, reference: {instrument: charger, accuracy_percent: 1.0}}

    Not checked: which of the two is wrong.
    """
    both = on.once(_both, on)
    if isinstance(both, NotApplicable):
        return both
    counted = both.counted.record.counted_mah
    compared = (
        f"{'under' if both.compared_error < 0 else 'over'}-reads by {100 * abs(both.compared_error):.1f} % ± "
        f"{100 * both.compared_expanded:.1f} % at {both.compared_at:.1f} A"
    )
    evidence = (
        f"{both.counted.evidence}: {both.counted.in_words}; by the current comparison the display {compared}; "
        f"normalised error {both.e_n:.2f}, at most 1"
    )
    if both.e_n <= 1:
        return Clear(evidence)
    message = f"by the recharge, charge is {both.counted.in_words}; by the current comparison the display {compared}"
    remedy = (
        "compare the current again, with the motors still too, since a wrong zero adds up over a flight; recharge "
        "again with another charger or an inline meter; correct no setting before the two agree, "
        "whatever else asks for it"
    )
    precaution = together(again(on.latest(aircraft.records.current_comparison)), HOVER_LOG)
    if both.e_n <= t_factor(math.inf, _CONTRADICT) / t_factor(math.inf):
        return Unproven(
            cause="uncertain",
            place=counted.place,
            message=f"{message}: too uncertain to tell whether they agree",
            do=remedy,
            evidence=evidence,
            mind=precaution,
            record="current_comparison",
        )
    return Finding(
        place=counted.place,
        message=f"{message}: one of them is wrong",
        evidence=evidence,
        do=remedy,
        mind=precaution,
        record="current_comparison",
    )
