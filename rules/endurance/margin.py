"""Is the plan near the end of the charge?"""

from preflint.api import (
    CAUTION,
    DESK,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    need,
    rule,
)

from ..power.limits import AMPERES_COMPARED
from .charge import TELLS_MORE, of_pack
from .planned import tight_first

MARGIN = Tolerance(
    "endurance_margin_percent",
    "%",
    10.0,
    "higher",
    "common practice, no source",
    "how much of the charge down to the reserve flight and way home must leave",
)


@rule(
    "endurance/margin",
    each="aircraft",
    severity=CAUTION,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source; guard bands on both sides after JCGM 106:2012",
    tolerances=(MARGIN, *AMPERES_COMPARED),
)
def margin(aircraft: Aircraft, on: Context) -> Outcome:
    """Is something left over besides the reserve?

    A second approach, a gust, somebody on the landing place: a plan that ends at the reserve to the minute is flown
    into it.

    Reasoning: as endurance/reserve; flight and way home are to leave `endurance_margin_percent` of the charge down to
    the reserve: found if for certain (95 %) they do not, clear if for certain they do, otherwise too uncertain to tell.
    Not asked where endurance/reserve finds that the charge does not last.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4, capacity_mah: 6000}]
        plan: {farthest_m: 0, height_m: 30, descent_m_s: 1.5, flight_min: 22.5, reserve_percent: 0}
        records:
          hover: [{date: 2026-05-17, mean_current_a: 15.4}]
        logbook:
          - {date: 2026-05-18, kind: flown, minutes: 20, pack: A1, put_back_mah: 5950}

    Passes: the same with

        plan: {farthest_m: 0, height_m: 30, descent_m_s: 1.5, flight_min: 10, reserve_percent: 0}

    It does not check more than endurance/reserve does.
    """
    pack, of = next(tight_first(on))
    if of.whole - of.below > of.usable:
        return NotApplicable("the charge does not last to the reserve: see endurance/reserve")
    keeps, minutes = (1 - on.limit(MARGIN) / 100) * of.usable, need(aircraft.plan.flight_min)
    evidence = f"{of_pack(pack)}: {of.evidence}; {keeps:.0f} mAh with {on.limit(MARGIN):g} % left over"
    related = (Related(pack.place, of_pack(pack)),)
    if of.whole - of.below > keeps:
        return Finding(
            place=minutes.place,
            message=f"flight and way home leave {max(0.0, of.usable - of.whole):.0f} mAh above the reserve",
            evidence=evidence,
            do="turn home sooner, or know that there is no second approach",
            related=related,
            mind=DESK,
        )
    if of.whole + of.above > keeps:
        return Unproven(
            cause="uncertain",
            place=minutes.place,
            message=f"flight and way home leave about {max(0.0, of.usable - of.whole):.0f} mAh above the reserve",
            do="turn home sooner, or know that there may be no second approach",
            evidence=f"{evidence}; {TELLS_MORE}",
            related=related,
            mind=DESK,
        )
    return Clear(evidence)
