"""What holds the prop besides a nut, and what centres it: collet, set-screw, clips, hole and ring."""

from preflint.api import (
    CAUTION,
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
    Tolerance,
    need,
    rule,
)
from preflint.api import rotor as rotors

from .nuts import PRACTICE, held_by

COLLET = Tolerance(
    "collet_mismatch_mm",
    "mm",
    0.1,
    "lower",
    PRACTICE,
    "largest difference between the shaft and the size that its collet or adapter is made for",
)
BORE_SLACK = Tolerance(
    "bore_slack_mm",
    "mm",
    0.1,
    "lower",
    PRACTICE,
    "largest gap between the hub's hole and the seat, across the diameter",
)


@rule(
    "retention/collet-size",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    needed_for_flight=True,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
    tolerances=(COLLET,),
)
def collet_size(rotor: rotors.Rotor, on: Context) -> Outcome:
    """The collet or adapter is made for this shaft.

    A collet closes by a few tenths of a millimetre. One that is made for a thicker shaft never grips,
    however tight; one made for a thinner shaft does not seat. Shafts of 3 mm and 3.17 mm (1/8 in) are
    easily mixed up.

    Fails:

        rotors:
          - {at: front-left, motor: {shaft_mm: 3.0}, fixing: {kind: collet, grips_mm: 3.17}}

    Passes:

        rotors:
          - {at: front-left, motor: {shaft_mm: 3.17}, fixing: {kind: collet, grips_mm: 3.17}}

    Not checked: dirt or oil in the collet.
    """
    if not isinstance(rotor.fixing.grips_mm, Known):
        other = held_by(rotor, "collet", "set-screw")
        if other:
            return other
    grips, shaft = need(rotor.fixing.grips_mm), need(rotor.motor.shaft_mm)
    off = round(grips.value - shaft.value, 6)
    sizes = f"grips_mm {grips.value:g}, shaft_mm {shaft.value:g}: difference {off:+g} mm"
    if abs(off) <= on.limit(COLLET):
        return Clear(sizes)
    return Finding(
        place=grips.place,
        message=f"the collet or adapter is made for a shaft of {grips.value:g} mm, but the shaft measures "
        f"{shaft.value:g} mm",
        evidence=f"{sizes}, more than {on.limit(COLLET):g} mm",
        do=f"fit a collet or adapter made for a shaft of {shaft.value:g} mm",
        related=(Related(shaft.place, f"the shaft measures {shaft.value:g} mm"),),
    )


@rule(
    "retention/set-screw-flat",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    needed_for_flight=True,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
)
def set_screw_flat(rotor: rotors.Rotor, on: Context) -> Outcome:
    """The set-screw sits on a flat of the shaft.

    On a round shaft a set-screw touches one point and slides, round or along, under the reversing torque of
    throttle changes. On a flat it has to shear something first.

    Fails:

        rotors:
          - {at: front-left, fixing: {kind: set-screw, shaft_flat: false}}

    Passes:

        rotors:
          - {at: front-left, fixing: {kind: set-screw, shaft_flat: true}}

    Not checked: thread locker, and how tight the screw is.
    """
    other = held_by(rotor, "set-screw")
    if other:
        return other
    flat = need(rotor.fixing.shaft_flat)
    if flat.value:
        return Clear("the set-screw sits on a flat of the shaft")
    return Finding(
        place=flat.place,
        message="the set-screw does not sit on a flat of the shaft and can slide",
        evidence="kind set-screw, shaft_flat false",
        do="grind a flat on the shaft where the screw sits (eye protection; keep grit and heat out of the "
        "motor), or fit an adapter that grips all round",
    )


@rule(
    "retention/clip-latched",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    needed_for_flight=True,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
)
def clip_latched(rotor: rotors.Rotor, on: Context) -> Outcome:
    """Every clip of the prop is latched.

    A clip-on prop stays in place by its latches alone. One that only looks latched lets go at the first
    burst of thrust. Look, then pull.

    Fails:

        rotors:
          - {at: front-left, fixing: {kind: clip, latched: false}}

    Passes:

        rotors:
          - {at: front-left, fixing: {kind: clip, latched: true}}

    Not checked: worn latches.
    """
    other = held_by(rotor, "clip")
    if other:
        return other
    latched = need(rotor.fixing.latched)
    if latched.value:
        return Clear("every clip is latched")
    return Finding(
        place=latched.place,
        message="a clip of the prop is not latched: nothing else holds the prop",
        evidence="kind clip, latched false",
        do="press the prop home until every clip latches, pull at it, and replace a prop or mount whose "
        "clips do not hold",
    )


@rule(
    "retention/centring-ring",
    each="rotor",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
)
def centring_ring(rotor: rotors.Rotor, on: Context) -> Outcome:
    """The centring ring is there where the hub needs one.

    Props come with a hole larger than most shafts and a set of rings that fill the gap. Without its ring
    the prop sits off centre: it shakes the aircraft, and the shaking loosens what holds it.

    Fails:

        rotors:
          - {at: front-left, fixing: {kind: nut, centring_ring: missing}}

    Passes:

        rotors:
          - {at: front-left, fixing: {kind: nut, centring_ring: fitted}}

    Not checked: whether the ring is of the right size.
    """
    ring = rotor.fixing.centring_ring
    if not isinstance(ring, Known):
        return NotApplicable("no word on a ring: retention/bore-fit judges the hole against its seat")
    if ring.value != "missing":
        return Clear(f"centring_ring {ring.value}")
    return Finding(
        place=ring.place,
        message="the ring that centres the prop on its seat is missing",
        evidence="centring_ring missing",
        do="fit the ring that fills the gap between the hub's hole and the seat",
    )


@rule(
    "retention/bore-fit",
    each="rotor",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
    tolerances=(BORE_SLACK,),
)
def bore_fit(rotor: rotors.Rotor, on: Context) -> Outcome:
    """The hole of the hub fits its seat: 0 ≤ bore_mm − seat_mm ≤ bore_slack_mm.

    A hole wider than its seat lets the prop sit off centre; half the gap is the eccentricity, so 0.2 mm put
    a prop of 20 g out of balance by up to 2 g·mm. A hole narrower than its seat leaves the hub standing
    proud or cracked. A fitted ring fills the gap, so that only a hole too narrow is judged then.

    Fails:

        rotors:
          - {at: front-left, prop: {bore_mm: 6.35}, fixing: {kind: nut, seat_mm: 6.0}}

    Passes:

        rotors:
          - {at: front-left, prop: {bore_mm: 6.05}, fixing: {kind: nut, seat_mm: 6.0}}

    Not checked: the ring's own fit.
    """
    other = held_by(rotor, "nut", "collet", "set-screw")
    if other:
        return other
    ring = rotor.fixing.centring_ring
    if isinstance(ring, Known) and ring.value == "missing":
        return NotApplicable("said by retention/centring-ring")
    bore, seat = need(rotor.prop.bore_mm), need(rotor.fixing.seat_mm)
    slack = round(bore.value - seat.value, 6)
    sizes = f"bore_mm {bore.value:g} less seat_mm {seat.value:g}: {slack:+g} mm"
    related = (Related(seat.place, f"the seat measures {seat.value:g} mm"),)
    if slack < 0:
        return Finding(
            place=bore.place,
            message=f"the hub's hole of {bore.value:g} mm is narrower than its seat of {seat.value:g} mm: the hub "
            "cannot sit down",
            evidence=sizes,
            do=f"fit a prop whose hole fits a seat of {seat.value:g} mm; do not force a hub on or drill it by hand",
            related=related,
        )
    if isinstance(ring, Known) and ring.value == "fitted":
        return Clear(f"{sizes}, filled by a centring ring")
    if slack <= on.limit(BORE_SLACK):
        return Clear(f"{sizes}, at most {on.limit(BORE_SLACK):g} mm")
    return Finding(
        place=bore.place,
        message=f"the hub's hole of {bore.value:g} mm has {slack:g} mm of play on its seat of {seat.value:g} mm: "
        "the prop sits off centre",
        evidence=f"{sizes}, more than {on.limit(BORE_SLACK):g} mm",
        do=f"fit a centring ring of {bore.value:g} mm outside and {seat.value:g} mm inside, or a prop with a "
        f"hole of {seat.value:g} mm",
        related=related,
    )
