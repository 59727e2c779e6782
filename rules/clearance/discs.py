"""Can blades of two rotors meet?"""

from preflint.api import (
    NO_GO,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    need,
    rule,
)

from .geometry import Pair, is_one_plane, pairs

DISC_HEIGHT = Tolerance(
    "disc_height_percent",
    "%",
    10.0,
    "higher",
    "common practice, no source; blades that lift bend up by a few per cent of their length",
    "how far apart in height overlapping discs must be, of the larger radius",
)


@rule(
    "clearance/discs",
    each="aircraft",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="derived: geometry of two circles",
    tolerances=(DISC_HEIGHT,),
)
def discs(aircraft: Aircraft, on: Context) -> Outcome:
    """Do the discs of two rotors keep clear of each other?

    Blades that meet break, and pieces fly. It happens where props are changed for larger ones, or arms for shorter.

    Gap = distance of the two shafts seen from above, less both radii, in mm: from `place_mm`, else from `arm_mm` and
    the layout; from `prop.diameter_in`. Places and diameters are within 1 %; found where the gap is below zero by more
    than its U at 95 %. In between, a `tip_gap_mm` above zero at both rotors tells that it was turned by hand and is
    clear. A 16 in prop is 406 mm across: on places 360 mm apart two of them meet.

    Discs that overlap on purpose, at different heights, are no fault: `place_mm` tells the heights, and they are
    `disc_height_percent` of the larger radius apart or more. A rotor above its arm and one below (`nut_points`, or the
    -upper and -lower of coaxial arms) count as apart. The two rotors of one axis, and rotors in ducts, are not asked.

    Fails:

        aircraft: {name: Trial, layout: custom}
        every_rotor: {prop: {diameter_in: 16}}
        rotors:
          - {at: fore-port, place_mm: [180, -240, 0]}
          - {at: fore-starboard, place_mm: [180, 240, 0]}
          - {at: aft-port, place_mm: [-180, -240, 0]}
          - {at: aft-starboard, place_mm: [-180, 240, 0]}

    Passes: the same with

        every_rotor: {prop: {diameter_in: 13}}

    It does not check arms that bend or fold, nor motors that stand tilted.
    """
    if len(aircraft.rotors) < 2:
        return NotApplicable("there is only one prop")
    every = on.once(pairs, aircraft)
    if not every:
        return NotApplicable("no two open discs stand beside each other")
    near = [(pair, _decision(pair, on)) for pair in every]
    met = [pair for pair, decision in near if decision == "found"]
    if met:
        return _found(met)
    for pair, decision in near:
        if decision == "uncertain":
            return _open(pair, on)
    pair = every[0]
    height = "" if pair.gap_mm > 0 else ", at different heights"
    return Clear(f"nearest: {pair.in_words()}{height}")


def _decision(pair: Pair, on: Context) -> str:
    """Found where blades meet."""
    if pair.gap_mm >= pair.reach_mm:
        return "clear"
    if pair.height_mm is None or pair.height_mm >= on.limit(DISC_HEIGHT) / 100 * pair.radius_mm:
        return "clear"
    if pair.gap_mm < -pair.reach_mm:
        return "found" if is_one_plane(pair) else "uncertain"
    tried = [one.tip_gap_mm for one in (pair.one, pair.other)]
    return "clear" if all(isinstance(gap, Known) and gap.value > 0 for gap in tried) else "uncertain"


def _found(met: list[Pair]) -> Finding:
    worst = met[0]
    others = [Related(pair.place, f"{pair.names} overlap by {-pair.gap_mm:.0f} mm") for pair in met[1:]]
    return Finding(
        place=worst.place,
        message=f"the blades of {worst.names} can meet: discs overlap by {-worst.gap_mm:.0f} mm",
        evidence="; ".join(pair.in_words() for pair in met[:3]),
        do="fit props that clear each other, or longer arms; look at the blades for marks; measure arms again",
        related=(Related(need(worst.one.prop.diameter_in).place, "the prop's diameter"), *others),
    )


def _open(pair: Pair, on: Context) -> Unproven:
    if pair.gap_mm < -pair.reach_mm:
        height = on.limit(DISC_HEIGHT) / 100 * pair.radius_mm
        message = f"{pair.names} overlap, {pair.height_mm:.0f} mm apart in height, less than {height:.0f} mm"
        how = f"set one of the two rotors higher until the discs are {height:.0f} mm apart; measure place_mm again"
    else:
        message = f"whether the blades of {pair.names} clear each other cannot be told"
        how = "turn both props by hand, tip to tip; measure the least gap at each rotor and write tip_gap_mm"
    return Unproven(cause="uncertain", place=pair.place, message=message, do=how, evidence=pair.in_words())
