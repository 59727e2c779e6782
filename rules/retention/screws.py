"""What holds the motor in its arm: its screws."""

import re

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
    Open,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    need,
    rule,
)
from preflint.api import rotor as rotors

from .held import PRACTICE

ENGAGEMENT = Tolerance(
    "screw_engagement_diameters",
    "screw diameters",
    1.0,
    "higher",
    PRACTICE,
    "least length of thread that a motor screw must have in the motor",
)
REACH = Tolerance(
    "screw_reach_mm",
    "mm",
    0.5,
    "higher",
    PRACTICE,
    "least length of thread by which a motor screw holds at all: one turn of an M3 thread",
)
_NOT_MEASURED = "the screws are not measured: retention/motor-screw-too-long asks for it"
_METRIC = re.compile(r"M\s?(\d+(?:\.\d+)?)(?![\d.])")


@rule(
    "retention/motor-screw-too-long",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
)
def motor_screw_too_long(rotor: rotors.Rotor, on: Context) -> Outcome:
    """No motor screw reaches the windings: length_mm − plate_mm ≤ hole_depth_mm.

    What a screw has below its head and does not need for the plate goes into the motor. Beyond the threaded
    hole are the windings: the screw cuts their lacquer, and the motor shorts to the frame or burns, often
    only when hot.

    Fails:

        rotors:
          - {at: front-left, motor: {screws: {size: M3, length_mm: 8, plate_mm: 2, hole_depth_mm: 4}}}

    Passes:

        rotors:
          - {at: front-left, motor: {screws: {size: M3, length_mm: 6, plate_mm: 2, hole_depth_mm: 4}}}

    Not checked: screws of several lengths; write the longest. A winding already scratched needs a look and
    a meter.
    """
    screws = rotor.motor.screws
    length, plate, depth = need(screws.length_mm), need(screws.plate_mm), need(screws.hole_depth_mm)
    reach = round(length.value - plate.value, 6)
    sizes = (
        f"length_mm {length.value:g} less plate_mm {plate.value:g}: {reach:g} mm go into a hole of {depth.value:g} mm"
    )
    if reach <= depth.value:
        return Clear(sizes)
    return Finding(
        place=length.place,
        message=f"the motor screws reach {reach - depth.value:g} mm beyond their holes, towards the windings",
        evidence=sizes,
        do=f"fit screws of at most {plate.value + depth.value:g} mm below the head; before the next run look "
        "whether a winding was touched, and measure that none has contact with the motor's body",
        related=(
            Related(plate.place, f"the plate takes {plate.value:g} mm"),
            Related(depth.place, f"the hole is {depth.value:g} mm deep"),
        ),
    )


@rule(
    "retention/motor-screw-too-short",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
    tolerances=(REACH,),
)
def motor_screw_too_short(rotor: rotors.Rotor, on: Context) -> Outcome:
    """Every motor screw reaches into the motor: length_mm − plate_mm ≥ screw_reach_mm.

    A screw that ends in the plate holds nothing, and the motor leaves its arm at the first throttle, with its prop
    turning. It is a no-go: what has too little thread may hold for a while (motor-screw-engagement, a caution), what
    has none does not.

    Fails:

        rotors:
          - {at: front-left, motor: {screws: {size: M3, length_mm: 4, plate_mm: 4, hole_depth_mm: 4}}}

    Passes:

        rotors:
          - {at: front-left, motor: {screws: {size: M3, length_mm: 7, plate_mm: 4, hole_depth_mm: 4}}}

    Not checked: screws of several lengths; write the longest, and look at the others.
    """
    screws = rotor.motor.screws
    if not isinstance(screws.length_mm, Known) or not isinstance(screws.plate_mm, Known):
        return NotApplicable(_NOT_MEASURED)
    length, plate, least = screws.length_mm, screws.plate_mm, on.limit(REACH)
    reach = round(length.value - plate.value, 6)
    sizes = f"length_mm {length.value:g} less plate_mm {plate.value:g}: {reach:g} mm"
    if reach >= least:
        return Clear(f"{sizes}, at least {least:g} mm")
    return Finding(
        place=length.place,
        message=f"the motor screws do not hold the motor: {length.value:g} mm long, in a plate of {plate.value:g} mm",
        evidence=f"{sizes}, less than {least:g} mm",
        do=f"measure plate and screws again, and fit screws that reach into the motor by their own diameter: for M3 of "
        f"{plate.value + 3:g} mm below the head{_but_no_longer(screws, plate.value)}",
        related=(Related(plate.place, f"the plate takes {plate.value:g} mm"),),
    )


@rule(
    "retention/motor-screw-engagement",
    each="rotor",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
    tolerances=(ENGAGEMENT, REACH),
)
def motor_screw_engagement(rotor: rotors.Rotor, on: Context) -> Outcome:
    """The motor screws hold by enough thread: length_mm − plate_mm of at least one screw diameter.

    With less than about one diameter in the motor's light alloy the thread strips before the screw is
    tight, and vibration pulls the motor off its arm.

    Fails:

        rotors:
          - {at: front-left, motor: {screws: {size: M3, length_mm: 5, plate_mm: 3, hole_depth_mm: 4}}}

    Passes:

        rotors:
          - {at: front-left, motor: {screws: {size: M3, length_mm: 6, plate_mm: 3, hole_depth_mm: 4}}}

    Not checked: thread locker, tightness, a thread already stripped. The size is read as a metric one, such
    as M3.
    """
    screws = rotor.motor.screws
    if not isinstance(screws.length_mm, Known) or not isinstance(screws.plate_mm, Known):
        return NotApplicable(_NOT_MEASURED)
    length, plate = screws.length_mm, screws.plate_mm
    reach = round(length.value - plate.value, 6)
    if reach < on.limit(REACH):
        return NotApplicable("said by retention/motor-screw-too-short")
    size = need(screws.size)
    metric = _METRIC.match(size.value.strip())
    if metric is None:
        how = "measure the thread and write it as a metric size, such as M3"
        raise Open(Unproven(place=size.place, message=f"the screw size {size.value} is no metric one", do=how))
    diameter = float(metric.group(1))
    wanted = round(on.limit(ENGAGEMENT) * diameter, 6)
    sizes = f"length_mm {length.value:g} less plate_mm {plate.value:g}: {reach:g} mm of thread in the motor"
    if reach >= wanted:
        return Clear(f"{sizes}, at least {wanted:g} mm")
    return Finding(
        place=length.place,
        message=f"the motor screws have {reach:g} mm of thread in the motor, less than {wanted:g} mm",
        evidence=f"{sizes}; {size.value} needs {on.limit(ENGAGEMENT):g} × {diameter:g} mm",
        do=f"fit screws of at least {wanted + plate.value:g} mm below the head{_but_no_longer(screws, plate.value)}",
        related=(Related(plate.place, f"the plate takes {plate.value:g} mm"),),
    )


def _but_no_longer(screws: rotors.MotorScrews, plate_mm: float) -> str:
    if isinstance(screws.hole_depth_mm, Known):
        most = plate_mm + screws.hole_depth_mm.value
        return f" and at most {most:g} mm, so that they do not reach the windings"
    return "; measure first how deep the holes are, so that they do not reach the windings"
