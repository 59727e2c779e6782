"""Does the plug between pack and aircraft carry what flows through it?"""

from contextlib import suppress

from preflint.api import (
    ADVISORY,
    CAUTION,
    NO_GO,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Open,
    Outcome,
    Tolerance,
    Unproven,
    fitted,
    need,
    rule,
)

from .loads import LEARN_HOVER, STEADY_SHARE, all_at_full, hovering, how_to_tell

PLUG_SHORT = Tolerance(
    "plug_short_times",
    "1",
    3.0,
    "lower",
    "common practice, no source; at three times the current it heats nine times as fast",
    "how many times its continuous rating a plug may carry at full throttle",
)
_HOW = "fit a plug with a higher continuous rating on pack and aircraft, new ones on both sides"


@rule(
    "power_train/plug",
    each="pack",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="makers' ratings; common practice, no source",
    tolerances=(PLUG_SHORT,),
)
def plug(pack: fitted.Pack, on: Context) -> Outcome:
    """Does the plug carry the hover?

    A plug that is too small gets so hot that it unsolders itself, and then all rotors stop at once.

    Hover current (within 5 %) against `connector_continuous_a`: more than the rating, for the whole flight, is found.
    So is full throttle (all motors, U = 11 %) above `plug_short_times` of it.

    Fails:

        aircraft: {name: Trial, layout: quad-x, takeoff_mass_g: 4000}
        every_rotor: {motor: {full_throttle_draw_a: 21}}
        rotors: [{at: front-left}, {at: front-right}, {at: rear-left}, {at: rear-right}]
        packs: [{label: A1, chemistry: lipo, cells: 4, connector_continuous_a: 30}]
        records:
          hover: [{date: 2026-05-17, mean_current_a: 36, mean_voltage_v: 15.2, takeoff_mass_g: 4000}]

    Passes: the same with

        packs: [{label: A1, chemistry: lipo, cells: 4, connector_continuous_a: 90}]

    It does not check wear, soldering, nor packs flown side by side: they are one entry, with their ratings added.
    """
    rating, times = need(pack.connector_continuous_a), on.limit(PLUG_SHORT)
    with suppress(Open):
        full = all_at_full(on)
        if full.against(times * rating.value) == "found":
            return Finding(
                place=rating.place,
                message=f"full throttle draws over {times:g} times what the plug is rated for",
                evidence=f"{full.words}; the plug's continuous rating {rating.value:g} A",
                do=_HOW,
            )
    load = hovering(on)
    evidence = f"{load.words}; the plug's continuous rating {rating.value:g} A"
    decision = load.against(rating.value)
    if decision == "found":
        return Finding(
            place=rating.place,
            message=f"hover takes {load.least:.0f} A or more; the plug carries {rating.value:g} A",
            evidence=evidence,
            do=_HOW,
        )
    if decision == "uncertain":
        return Unproven(
            cause="uncertain",
            place=rating.place,
            message="whether the plug carries the hover cannot be told",
            do=how_to_tell(load),
            evidence=evidence,
            mind=LEARN_HOVER if load.open else None,
        )
    full = all_at_full(on)
    return Clear(f"{evidence}; {full.words}")


@rule(
    "power_train/plug-margin",
    each="pack",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="makers' ratings; FAA AC 43.13-1B, 11-35 (80 % of a rating for a load that stays), from memory",
    tolerances=(STEADY_SHARE,),
)
def plug_margin(pack: fitted.Pack, on: Context) -> Outcome:
    """Has the plug room to spare at hover?

    The hover lasts the whole flight and warms a plug through. Gusts, climbs and worn contacts come on top.

    Hover current (within 5 %) against `steady_share_percent` of `connector_continuous_a`.

    Fails:

        aircraft: {name: Trial, layout: quad-x, takeoff_mass_g: 2000}
        packs: [{label: A1, chemistry: lipo, cells: 4, connector_continuous_a: 17}]
        records:
          hover: [{date: 2026-05-17, mean_current_a: 15.4, mean_voltage_v: 15.2, takeoff_mass_g: 2000}]

    Passes: the same with

        packs: [{label: A1, chemistry: lipo, cells: 4, connector_continuous_a: 60}]

    It does not check full throttle, which plug-full tells, wear, soldering, nor the lead behind it.
    """
    rating, share, steady = need(pack.connector_continuous_a), on.limit(STEADY_SHARE), hovering(on)
    evidence = f"{steady.words}; {share:g} % of the plug's continuous rating of {rating.value:g} A"
    decision = steady.against(rating.value * share / 100)
    if decision == "clear":
        return Clear(evidence)
    if steady.against(rating.value) == "found":
        return NotApplicable("hover alone is more than the plug carries: see power_train/plug")
    if decision == "found":
        return Finding(
            place=rating.place,
            message=f"hover takes {steady.least:.0f} A or more of the {rating.value:g} A that the plug carries",
            evidence=evidence,
            do="feel the plug after each flight, pack unplugged; fit a larger one on pack and aircraft",
        )
    return Unproven(
        cause="uncertain",
        place=rating.place,
        message=f"whether hover stays below {share:g} % of the plug's rating cannot be told",
        do="feel the plug after a flight, pack unplugged; if it is hot, fit one with a higher rating",
        evidence=evidence,
    )


@rule(
    "power_train/plug-full",
    each="pack",
    severity=ADVISORY,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="makers' ratings",
    tolerances=(PLUG_SHORT,),
)
def plug_full(pack: fitted.Pack, on: Context) -> Outcome:
    """Is the plug rated for full throttle?

    Many an aircraft flies with a plug that is rated for less than a table says of full throttle, since full throttle is
    short and a pack sags. Such a plug warms with every one of them: it is for the pilot to know.

    Full throttle of all motors (U = 11 %) against `connector_continuous_a`; above `plug_short_times` of it plug tells.

    Fails:

        every_rotor: {motor: {full_throttle_draw_a: 28}}
        rotors: [{at: front-left}, {at: front-right}, {at: rear-left}, {at: rear-right}]
        packs: [{label: A1, connector_continuous_a: 60}]

    Passes: the same with

        packs: [{label: A1, connector_continuous_a: 150}]

    It does not check how long a pilot holds it, wear, nor soldering.
    """
    rating, full = need(pack.connector_continuous_a), all_at_full(on)
    evidence = f"{full.words}; the plug's continuous rating {rating.value:g} A"
    decision = full.against(rating.value)
    if decision == "clear":
        return Clear(evidence)
    if full.against(on.limit(PLUG_SHORT) * rating.value) == "found":
        return NotApplicable("full throttle is far more than the plug carries: see power_train/plug")
    if decision == "found":
        return Finding(
            place=rating.place,
            message="full throttle is more than the plug is rated for",
            evidence=evidence,
            do="keep full throttle to seconds; feel the plug after each flight; fit a larger one when it is next "
            "soldered",
        )
    return Unproven(
        cause="uncertain",
        place=rating.place,
        message="full throttle is too near the plug's rating to tell",
        do="feel the plug after a flight, pack unplugged; if it is hot, fit one with a higher rating",
        evidence=evidence,
    )
