"""Does the regulator feed flight controller and receiver to the last minute?"""

from preflint.api import (
    CAUTION,
    NO_GO,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    NotFitted,
    Open,
    Outcome,
    Related,
    Unproven,
    need,
    rule,
)

from ..power.draw import pack_window_v
from .loads import STEADY_SHARE, label_of


@rule(
    "power_train/regulator-rating",
    each="aircraft",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="makers' ratings",
)
def regulator(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the regulator carry its load, down to a half-empty pack?

    Where it gives in, flight controller and receiver start anew in the air.

    `load_a` against `continuous_a`; and `least_v` against the middle between empty and full of each pack (LiPo 3.6 V a
    cell), below which every flight goes.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 2}]
        regulator: {continuous_a: 3, load_a: 3.4, least_v: 6}

    Passes: the same with

        regulator: {continuous_a: 5, load_a: 3.4, least_v: 6}

    It does not check what the load takes for an instant, how hot the regulator gets, nor ripple.
    """
    made = aircraft.regulator
    if isinstance(made, NotFitted):
        return NotApplicable("no regulator is fitted")
    fed = need(made).value
    load, rating = need(fed.load_a), need(fed.continuous_a)
    if load.value > rating.value:
        return Finding(
            place=rating.place,
            message=f"the regulator gives {rating.value:g} A; what hangs on it takes {load.value:g} A",
            evidence=f"load {load.value:g} A of {rating.value:g} A",
            do="fit a regulator with a higher continuous rating, or hang less on it",
            related=(Related(load.place, "its load"),),
        )
    least, windows = need(fed.least_v), _windows(aircraft)
    for label, empty, full in windows:
        half = (empty + full) / 2
        if half < least.value:
            return Finding(
                place=least.place,
                message=f"the regulator needs {least.value:g} V; {label} has {half:.1f} V half empty",
                evidence=f"{label} lives between {empty:.1f} and {full:.1f} V",
                do="fit a regulator that needs less input, or a pack of more cells that all parts bear",
            )
    return Clear(_evidence(load.value, rating.value, least.value, windows))


@rule(
    "power_train/regulator-margin",
    each="aircraft",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="FAA AC 43.13-1B, 11-35 (80 % of a rating for a load that stays), from memory",
    tolerances=(STEADY_SHARE,),
)
def regulator_margin(aircraft: Aircraft, on: Context) -> Outcome:
    """Has the regulator room to spare, down to an empty pack?

    A load that takes all of a rating leaves nothing for a servo that jams or a warm day, and a pack that sags in a
    climb at the end of the flight comes to its lowest voltage.

    `load_a` against `steady_share_percent` of `continuous_a`, and `least_v` against the lowest voltage of each pack
    (LiPo 3.0 V a cell).

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 2}]
        regulator: {continuous_a: 3, load_a: 2.8, least_v: 5}

    Passes: the same with

        regulator: {continuous_a: 5, load_a: 2.8, least_v: 5}

    It does not check what the load takes for an instant.
    """
    made, share = aircraft.regulator, on.limit(STEADY_SHARE)
    if isinstance(made, NotFitted):
        return NotApplicable("no regulator is fitted")
    fed = need(made).value
    load, rating = need(fed.load_a), need(fed.continuous_a)
    percent = 100 * load.value / rating.value
    if share < percent <= 100:
        return Finding(
            place=rating.place,
            message=f"the regulator's load takes {percent:.0f} % of its rating, over {share:g} %",
            evidence=f"load {load.value:g} A of {rating.value:g} A",
            do="fit a regulator with a higher continuous rating, or hang less on it",
            related=(Related(load.place, "its load"),),
        )
    least, windows = need(fed.least_v), _windows(aircraft)
    for label, empty, full in windows:
        if empty < least.value <= (empty + full) / 2:
            return Finding(
                place=least.place,
                message=f"the regulator needs {least.value:g} V; {label} falls to {empty:.1f} V when empty",
                evidence=f"{label} lives between {empty:.1f} and {full:.1f} V",
                do=f"land before {label} is at {least.value:g} V under load, or fit a regulator that needs less",
            )
    return Clear(_evidence(load.value, rating.value, least.value, windows))


def _windows(aircraft: Aircraft) -> list[tuple[str, float, float]]:
    """How each pack is named, and its volts when empty and full. Ends the rule as unproven where there is none."""
    if not aircraft.packs:
        raise Open(Unproven(place=aircraft.place, message="no pack is recorded", do="write the packs", on_paper=True))
    return [(label_of(pack), *pack_window_v(pack)) for pack in aircraft.packs]


def _evidence(load_a: float, rating_a: float, least_v: float, windows: list[tuple[str, float, float]]) -> str:
    label, empty, _ = min(windows, key=lambda one: one[1])
    return f"load {load_a:g} A of {rating_a:g} A; needs {least_v:g} V, {label} has {empty:.1f} V when empty"
