"""Does the charge left at the warning bring the aircraft home?"""

import math

from preflint.api import (
    CAUTION,
    SETTINGS,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Related,
    Unproven,
    fitted,
    rule,
)
from preflint.compute.decision import u_rectangular
from preflint.compute.energy import charge_mah

from ..endurance.charge import TELLS_MORE, capacity, hover
from ..endurance.planned import K, way_home
from ..power.lift import Uncertain
from ..power.limits import AMPERES_COMPARED
from .set import BY_VOLTS, in_words, name_of, no_pack, number, warnings_of


@rule(
    "warnings/charge-left",
    each="aircraft",
    severity=CAUTION,
    job=Job.PACK_IN,
    precaution=SETTINGS,
    source="derived: charge used at the warning against the way home; guard bands after JCGM 106:2012",
    tolerances=AMPERES_COMPARED,
)
def charge_left(aircraft: Aircraft, on: Context) -> Outcome:
    """Is there enough left at the first warning to come home from the farthest place?

    A warning far out is of use only if what is left then takes the aircraft back.

    Reasoning: what the pack gives (as endurance/reserve has it) less what is used at the earliest warning of charge
    (`at_used_mah`) or time (`at_min` at hover current), against what the way home takes (endurance/way-home). Found if
    what is left is too little for certain (95 %), clear if it is enough for certain, otherwise too uncertain to tell.
    Volts alone do not tell the charge: a cell's curve is flat in the middle. The tightest pack is told.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4, capacity_mah: 6000}]
        battery_warnings: [{watches: charge-used, at_used_mah: 5900, does: tells}]
        plan: {farthest_m: 300, height_m: 30, airspeed_m_s: 10, descent_m_s: 1.5, wind_m_s: 6}
        records:
          hover: [{date: 2026-05-17, mean_current_a: 15.4}]

    Passes: the same with

        battery_warnings: [{watches: charge-used, at_used_mah: 4000, does: tells}]

    It does not check where a warning of volts leaves the charge, nor whether the pack was full at take-off.
    """
    told = warnings_of(aircraft)
    if isinstance(told, NotApplicable):
        return told
    way = on.once(way_home, aircraft)
    if math.isinf(way.seconds):
        return NotApplicable("the plan has no way home: see endurance/way-home")
    counting = [one for one in told if one.watches.value not in BY_VOLTS]
    if not counting:
        return Unproven(
            place=told[0].place,
            message="how much charge is left at a warning of volts is not known",
            do="set a warning of charge used as well, and write its at_used_mah",
        )
    if not aircraft.packs:
        raise no_pack(aircraft)
    current, whence = hover(on)
    home = charge_mah(current.value, way.seconds)
    tightest: tuple[float, Uncertain, fitted.Pack, fitted.BatteryWarning] | None = None
    for pack in aircraft.packs:
        gives = capacity(pack, on).middle
        used, first = min(((_used(one, current), one) for one in counting), key=lambda one: one[0].value)
        left = Uncertain(gives.value - used.value, math.hypot(gives.u, used.u))
        if tightest is None or left.value < tightest[0]:
            tightest = (left.value, left, pack, first)
    assert tightest is not None
    _, left, pack, first = tightest
    by_time = charge_mah(current.value, u_rectangular(_spread(way.most, way.seconds)))
    u_home = math.hypot(home * current.u / current.value, by_time)
    reach = K * math.hypot(left.u, u_home)
    gives_words = capacity(pack, on)
    leaves = f"leaves {left.value:.0f} mAh of" if left.value > 0 else "comes after all is used of"
    evidence = (
        f"{in_words(first)} {leaves} {gives_words.least:.0f} to {gives_words.most:.0f} "
        f"({gives_words.words}); {way.words}, at {current.value:.1f} A ({whence}) {home:.0f} mAh; ± {reach:.0f} mAh "
        "(95 %)"
    )
    related = (Related(pack.place, name_of(pack)),)
    message = f"{max(0.0, left.value):.0f} mAh are left in {name_of(pack)} at the warning; the way home takes "
    message += f"{home:.0f}"
    how = "set the warning to come earlier, or plan to stay nearer"
    if left.value + reach < home:
        return Finding(place=number(first).place, message=message, evidence=evidence, do=how, related=related)
    if left.value - reach < home:
        return Unproven(
            cause="uncertain", place=number(first).place, message=f"{message}: too near to tell",
            do=how, evidence=f"{evidence}; {TELLS_MORE}", related=related,
        )  # fmt: skip
    return Clear(evidence)


def _used(warning: fitted.BatteryWarning, current: Uncertain) -> Uncertain:
    """mAh used when it comes."""
    at = number(warning).value
    if warning.watches.value == "charge-used":
        return Uncertain(at, 0.0)
    used = charge_mah(current.value, 60 * at)
    return Uncertain(used, used * current.u / current.value)


def _spread(most: float, seconds: float) -> float:
    """Half-width of the time home; of one without a bound all that there is."""
    return most - seconds if math.isfinite(most) else 10 * seconds
