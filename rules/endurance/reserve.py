"""Does the charge last for flight and way home?"""

from collections.abc import Iterator

from preflint.api import (
    DESK,
    NO_GO,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Figure,
    Finding,
    Job,
    Known,
    Outcome,
    Related,
    Unproven,
    figure,
    need,
    rule,
)
from preflint.compute.energy import endurance_min

from ..power.limits import AMPERES_COMPARED
from .charge import TELLS_MORE, hover, of_pack
from .planned import Need, capacity_of, tight_first

_ROUNDED = 0.5  # min


@figure("endurance")
def endurance_figures(on: Context) -> Iterator[Figure]:
    """Minutes of hover from full down to the reserve of the plan, else to empty, on each pack."""
    told = on.aircraft.plan.reserve_percent
    reserve = told.value if isinstance(told, Known) else 0.0
    current, _ = hover(on)
    for pack in on.aircraft.packs:
        gives = capacity_of(pack, on)
        if gives is None:
            continue
        charge = gives.middle
        minutes = endurance_min(charge.value / 1000, reserve / 100, current.value)
        u = minutes * ((charge.u / charge.value) ** 2 + (current.u / current.value) ** 2) ** 0.5
        label = pack.label.value if isinstance(pack.label, Known) else None
        yield Figure("endurance_min", f"to-{reserve:g}-percent", minutes, u, "min", label, gives.place)


@rule(
    "endurance/reserve",
    each="aircraft",
    severity=NO_GO,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="14 CFR 107.49(d) (enough power for the intended time); guard bands on both sides after JCGM 106:2012",
    tolerances=AMPERES_COMPARED,
)
def reserve(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the charge last for the planned flight and the way home, with the reserve left?

    Added payload, an old pack, wind on the way back: each takes minutes that nobody sees until the volts fall.

    Reasoning: `flight_min` and the way home (endurance/way-home; then `height_m` at `descent_m_s`) at hover current
    take so many mAh; the pack gives its charge less `reserve_percent`. Hover current goes to the take-off mass by
    mass^1.5, and is taken to hold within 5 % from day to day (from a thrust stand within 15 %), beside what the
    current scale leaves open. The charge is, by evidence: what was put back after the latest flight to the warning
    (`to_warning`), and at most as much again as leaves 30 % there; else the most that was put back, up to the label;
    else 80 to 100 % of the label. Found if even the most that the pack can give is less than the least needed (95 %),
    clear if the least it gives is enough for the most, otherwise too uncertain to tell. The tightest pack is told.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4, capacity_mah: 6000}]
        plan: {farthest_m: 300, height_m: 30, airspeed_m_s: 10, descent_m_s: 1.5, wind_m_s: 6, flight_min: 20,
               reserve_percent: 20}
        records:
          hover: [{date: 2026-05-17, mean_current_a: 15.4}]

    Passes: the same with

        plan: {farthest_m: 300, height_m: 30, airspeed_m_s: 10, descent_m_s: 1.5, wind_m_s: 6, flight_min: 11,
               reserve_percent: 20}

    It does not check a cold pack, a climb, flying faster than what takes about the power of hover, nor whether the
    pack is full at take-off.
    """
    pack, need_ = next(tight_first(on))
    minutes = need(aircraft.plan.flight_min)
    evidence = f"{of_pack(pack)}: {need_.evidence}"
    related = (Related(pack.place, of_pack(pack)),)
    if need_.whole - need_.below > need_.usable:
        return Finding(
            place=minutes.place,
            message=f"flight and way home take {need_.whole:.0f} mAh; {of_pack(pack)} gives {need_.usable:.0f} down "
            "to the reserve",
            evidence=evidence,
            do=f"turn home {_sooner(need_, minutes.value)}, carry less, or fly a larger pack",
            related=related,
            mind=DESK,
        )
    if need_.whole + need_.above > need_.usable:
        return Unproven(
            cause="uncertain",
            place=minutes.place,
            message=f"flight and way home take {need_.whole:.0f} mAh of the {need_.usable:.0f} that {of_pack(pack)} "
            "gives: too near to tell",
            do=f"turn home {_sooner(need_, minutes.value)}, or carry less",
            evidence=f"{evidence}; {TELLS_MORE}",
            related=related,
            mind=DESK,
        )
    return Clear(f"{need_.whole:.0f} mAh and {need_.above:.0f} more at the most; {evidence}")


def _sooner(of: Need, planned_min: float) -> str:
    """After how many minutes it is clear, in words."""
    spare = (of.usable - of.above - of.home) / of.flight * planned_min
    minutes = int(spare / _ROUNDED) * _ROUNDED
    return f"after {minutes:g} min" if minutes > 0 else "sooner and from nearer"
