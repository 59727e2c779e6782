"""What centres the prop on its seat: the hole of its hub, and a ring."""

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

from .held import PRACTICE, held_by

BORE_SLACK = Tolerance(
    "bore_slack_mm",
    "mm",
    0.1,
    "lower",
    PRACTICE,
    "largest gap between the hub's hole and the seat, across the diameter",
)
BORE_TIGHT = Tolerance(
    "bore_tight_mm",
    "mm",
    0.1,
    "lower",
    PRACTICE,
    "how much narrower than its seat the hub's hole may measure and still go on; a caliper tells no less inside a hole",
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
    "retention/hub-seated",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
    tolerances=(BORE_TIGHT,),
)
def hub_seated(rotor: rotors.Rotor, on: Context) -> Outcome:
    """The hub goes down on its seat: seat_mm − bore_mm ≤ bore_tight_mm.

    A hub whose hole is narrower than its seat stands on the edge of it. What is tightened presses on a hub that is
    askew or cracked, the thread ends early, and the prop comes off under load. It is a no-go, since nothing that holds
    the prop can be right then; a difference that a caliper may not tell is a caution of bore-fit.

    Fails:

        rotors:
          - {at: front-left, prop: {bore_mm: 5.0}, fixing: {kind: nut, seat_mm: 6.0}}

    Passes:

        rotors:
          - {at: front-left, prop: {bore_mm: 6.05}, fixing: {kind: nut, seat_mm: 6.0}}

    Not checked: a hole that is wide enough and sits on something else.
    """
    other = held_by(rotor, "nut", "collet", "set-screw", "screws")
    if other:
        return other
    bore, seat = rotor.prop.bore_mm, rotor.fixing.seat_mm
    if not isinstance(bore, Known) or not isinstance(seat, Known):
        by_screws = held_by(rotor, "nut", "collet", "set-screw")  # these centre it: hole and seat need no measuring
        return by_screws or NotApplicable("hole or seat is not measured: retention/bore-fit asks for it")
    slack, limit = round(bore.value - seat.value, 6), on.limit(BORE_TIGHT)
    sizes = f"bore_mm {bore.value:g} less seat_mm {seat.value:g}: {slack:+g} mm"
    if slack >= -limit:
        return Clear(f"{sizes}, at most {limit:g} mm narrower")
    return Finding(
        place=bore.place,
        message=f"the hub's hole of {bore.value:g} mm is narrower than its seat of {seat.value:g} mm: the hub "
        "cannot sit down",
        evidence=f"{sizes}, more than {limit:g} mm narrower",
        do=f"measure both again; {_fit(seat.value)}",
        related=(Related(seat.place, f"the seat measures {seat.value:g} mm"),),
    )


def _fit(seat_mm: float) -> str:
    return f"fit a prop whose hole fits a seat of {seat_mm:g} mm; do not force a hub on or drill it by hand"


@rule(
    "retention/bore-fit",
    each="rotor",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
    tolerances=(BORE_SLACK, BORE_TIGHT),
)
def bore_fit(rotor: rotors.Rotor, on: Context) -> Outcome:
    """The hole of the hub fits its seat: 0 ≤ bore_mm − seat_mm ≤ bore_slack_mm.

    A hole wider than its seat lets the prop sit off centre; half the gap is the eccentricity, so 0.2 mm put
    a prop of 20 g out of balance by up to 2 g·mm. A hole narrower than its seat leaves the hub standing
    proud (by more than ``bore_tight_mm`` see hub-seated). A fitted ring fills the gap, so that only a hole too
    narrow is judged then.

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
    if slack < -on.limit(BORE_TIGHT):
        return NotApplicable("said by retention/hub-seated")
    if slack < 0:
        return Finding(
            place=bore.place,
            message=f"the hub's hole of {bore.value:g} mm measures narrower than its seat of {seat.value:g} mm: the "
            "hub may not sit down",
            evidence=sizes,
            do=f"look whether the hub sits down all round; if not, {_fit(seat.value)}",
            related=related,
        )
    if isinstance(ring, Known) and ring.value == "fitted":
        return Clear(f"{sizes}, filled by a centring ring")
    if slack <= on.limit(BORE_SLACK):
        return Clear(f"{sizes}, at most {on.limit(BORE_SLACK):g} mm")
    return Finding(
        place=bore.place,
        message=f"the prop sits off centre: its hub has {slack:g} mm of play on its seat",
        evidence=f"{sizes}, more than {on.limit(BORE_SLACK):g} mm",
        do=f"fit a centring ring of {bore.value:g} mm outside and {seat.value:g} mm inside, or a prop with a "
        f"hole of {seat.value:g} mm",
        related=related,
    )
