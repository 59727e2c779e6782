"""Does each speed controller carry what its motor draws?"""

from preflint.api import (
    ADVISORY,
    CAUTION,
    DESK,
    NO_GO,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    Unproven,
    need,
    rotor,
    rule,
)

from .loads import LEARN_HOVER, STEADY_SHARE, full_throttle, hovering, how_to_tell


@rule(
    "power_train/controller",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="makers' ratings",
)
def controller(one: rotor.Rotor, on: Context) -> Outcome:
    """Does the controller carry full throttle for seconds?

    A controller that is asked for more than it carries burns through, usually in the first full throttle, and the rotor
    stops. Its transistors heat within a second, so that full throttle counts though it is short.

    `motor.full_throttle_draw_a` against `esc.short_a`, else against `esc.continuous_a`. The draw is known within 10 %
    either way (U = 11 %: another pack, other air, a table of another motor): found where it is above the rating by more
    than that, clear where it is below by as much, otherwise too near to tell.

    Fails:

        rotors: [{at: front-left, motor: {full_throttle_draw_a: 34}, esc: {continuous_a: 20}}]

    Passes: the same with

        rotors: [{at: front-left, motor: {full_throttle_draw_a: 34}, esc: {continuous_a: 30, short_a: 45, short_s: 10}}]

    It does not check how the controller is cooled, nor what one label promises more than another.
    """
    draw, label = need(one.motor.full_throttle_draw_a), need(one.esc.continuous_a)
    short = one.esc.short_a
    rating = short if isinstance(short, Known) and short.value > label.value else label
    load = full_throttle(draw.value)
    called = "short rating" if rating is short else "continuous rating"
    evidence = f"{load.words}; {called} {rating.value:g} A: {100 * draw.value / rating.value:.0f} %"
    decision = load.against(rating.value)
    if decision == "clear":
        return Clear(evidence)
    related = (Related(draw.place, f"full throttle draws {draw.value:g} A"),)
    if decision == "found":
        return Finding(
            place=rating.place,
            message=f"the controller carries {rating.value:g} A; full throttle draws {draw.value:g} A",
            evidence=evidence,
            do="fit a controller that carries full throttle, or a smaller prop; where its maker gives a short-time "
            "rating, write short_a and short_s",
            related=related,
        )
    return Unproven(
        cause="uncertain",
        place=rating.place,
        message=f"full throttle draws {draw.value:g} A, too near the {rating.value:g} A of the controller to tell",
        do="read the controller's short-time rating in its data sheet; write short_a and short_s",
        evidence=evidence,
        related=related,
        mind=DESK,
    )


@rule(
    "power_train/controller-short",
    each="rotor",
    severity=ADVISORY,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="makers' ratings",
)
def controller_short(one: rotor.Rotor, on: Context) -> Outcome:
    """Is full throttle above what the controller carries for long?

    Such an aircraft flies, as long as full throttle stays short: it is for the pilot to know for how long.

    Found where `motor.full_throttle_draw_a` is above `esc.continuous_a` by more than its U of 11 %, and `esc.short_a`
    is recorded. Whether that suffices is told by controller.

    Fails:

        rotors: [{at: front-left, motor: {full_throttle_draw_a: 34}, esc: {continuous_a: 30, short_a: 45, short_s: 10}}]

    Passes: the same with

        rotors: [{at: front-left, motor: {full_throttle_draw_a: 34}, esc: {continuous_a: 40, short_a: 50, short_s: 10}}]

    It does not check how long a pilot holds it.
    """
    if not isinstance(one.esc.short_a, Known):
        return NotApplicable("no short-time rating is recorded")
    draw, label = need(one.motor.full_throttle_draw_a), need(one.esc.continuous_a)
    load, seconds = full_throttle(draw.value), need(one.esc.short_s)
    evidence = f"{load.words}; continuous rating {label.value:g} A, {one.esc.short_a.value:g} A for {seconds.value:g} s"
    if load.against(label.value) != "found":
        return Clear(evidence)
    return Finding(
        place=seconds.place,
        message=f"full throttle for no more than {seconds.value:g} s: it draws more than the controller's rating",
        evidence=evidence,
        do=f"brief the pilot: full throttle for {seconds.value:g} s at most, then let it cool",
        related=(Related(label.place, f"continuously {label.value:g} A"),),
        mind=DESK,
    )


@rule(
    "power_train/controller-steady",
    each="rotor",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="FAA AC 43.13-1B, 11-35 (80 % of a rating for a load that stays), from memory",
    tolerances=(STEADY_SHARE,),
)
def controller_steady(one: rotor.Rotor, on: Context) -> Outcome:
    """Does the controller carry the hover with room to spare?

    The hover lasts the whole flight and warms a controller through. Gusts, climbs and a warm day come on top.

    Hover current over the number of rotors, against `steady_share_percent` of `esc.continuous_a`. The hover current is
    that of the hover record or the thrust stand at the take-off mass, within 5 %; where neither is recorded, between
    ideal power over 0.75 and over 0.25. Found where the least of that is above, clear where the most is not.

    Fails:

        aircraft: {name: Trial, layout: quad-x, takeoff_mass_g: 2000}
        every_rotor: {esc: {continuous_a: 5}}
        rotors: [{at: front-left}, {at: front-right}, {at: rear-left}, {at: rear-right}]
        records:
          hover: [{date: 2026-05-17, mean_current_a: 18.4, mean_voltage_v: 15.2, takeoff_mass_g: 2000}]

    Passes: the same with

        every_rotor: {esc: {continuous_a: 20}}

    It does not check that the lower rotor of a coaxial pair draws more than the upper one, nor how any is cooled.
    """
    rating, load = need(one.esc.continuous_a), hovering(on).part(len(on.aircraft.rotors))
    share = on.limit(STEADY_SHARE)
    allowed = rating.value * share / 100
    evidence = (
        f"{load.words}: {load.least:.1f} to {load.most:.1f} A each; {share:g} % of {rating.value:g} A: {allowed:.1f} A"
    )
    decision = load.against(allowed)
    if decision == "clear":
        return Clear(evidence)
    if decision == "found":
        return Finding(
            place=rating.place,
            message=f"hover takes {load.least:.1f} A or more of the controller's {rating.value:g} A",
            evidence=evidence,
            do=f"fit controllers of which the hover takes {share:g} % or less, or take mass off",
        )
    return Unproven(
        cause="uncertain",
        place=rating.place,
        message=f"whether hover stays below {share:g} % of the controller's rating cannot be told",
        do=how_to_tell(load),
        evidence=evidence,
        mind=LEARN_HOVER if load.open else None,
    )
