"""What holds the motor: its screws in the arm, and its bell on the shaft."""

import re

from preflint.api import (
    ADVISORY,
    CAUTION,
    NO_GO,
    PACK_UNPLUGGED,
    Aircraft,
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
    name,
    need,
    records,
    rule,
    what_happened,
)
from preflint.api import rotor as rotors

from .nuts import PRACTICE

ENGAGEMENT = Tolerance(
    "screw_engagement_diameters",
    "screw diameters",
    1.0,
    "higher",
    PRACTICE,
    "least length of thread that a motor screw must have in the motor",
)
_METRIC = re.compile(r"M\s?(\d+(?:\.\d+)?)(?![\d.])")
_PULL = (
    "pack unplugged: hold the arm and pull each bell along its shaft, away from the arm; write a "
    "bell_pull for each with what it did"
)


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
    "retention/motor-screw-engagement",
    each="rotor",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
    tolerances=(ENGAGEMENT,),
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
        return NotApplicable("the screws are not measured: retention/motor-screw-too-long asks for it")
    length, plate, size = screws.length_mm, screws.plate_mm, need(screws.size)
    metric = _METRIC.match(size.value.strip())
    if metric is None:
        how = "measure the thread and write it as a metric size, such as M3"
        raise Open(Unproven(place=size.place, message=f"the screw size {size.value} is no metric one", do=how))
    diameter, reach = float(metric.group(1)), round(length.value - plate.value, 6)
    wanted = round(on.limit(ENGAGEMENT) * diameter, 6)
    sizes = f"length_mm {length.value:g} less plate_mm {plate.value:g}: {reach:g} mm of thread in the motor"
    if reach >= wanted:
        return Clear(f"{sizes}, at least {wanted:g} mm")
    return Finding(
        place=length.place,
        message=f"the motor screws have {max(reach, 0):g} mm of thread in the motor, less than {wanted:g} mm",
        evidence=f"{sizes}; {size.value} needs {on.limit(ENGAGEMENT):g} × {diameter:g} mm",
        do=f"fit screws of at least {wanted + plate.value:g} mm below the head{_but_no_longer(screws, plate.value)}",
        related=(Related(plate.place, f"the plate takes {plate.value:g} mm"),),
    )


def _but_no_longer(screws: rotors.MotorScrews, plate_mm: float) -> str:
    if isinstance(screws.hole_depth_mm, Known):
        most = plate_mm + screws.hole_depth_mm.value
        return f" and at most {most:g} mm, so that they do not reach the windings"
    return "; measure first how deep the holes are, so that they do not reach the windings"


@rule(
    "retention/bell-pull",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
)
def bell_pull(rotor: rotors.Rotor, on: Context) -> Outcome:
    """The bell of the motor stays on its shaft.

    The prop hangs on the bell, and the bell on a clip or a small screw at the other end of the shaft. Where
    that is missing or loose, thrust lifts the bell off, or lets it rub. A bell that moved counts until its
    motor was fitted anew or a later pull found it firm.

    Fails:

        records:
          bell_pull: [{date: 2026-04-18, at: front-left, moved: true}]

    Passes:

        records:
          bell_pull: [{date: 2026-04-18, at: front-left, moved: false}]

    Not checked: play of the bearings across the shaft. Pulls that nobody made are asked for once for the
    aircraft, by retention/bells-pulled.
    """
    pull = _latest_pull(rotor, on)
    if pull is None:
        return NotApplicable("not pulled: retention/bells-pulled asks for it")
    old = on.outdated("bell_pull", pull, name(rotor))
    if not pull.moved.value:
        return Clear(f"bell pull of {pull.date.value}: firm") if old is None else _asked()
    if _fitted_since(rotor, pull, on):
        return _asked()
    return Finding(
        place=pull.moved.place,
        message=f"the bell moved along the shaft when it was pulled on {pull.date.value}",
        evidence="bell_pull moved true",
        do="refit the clip or screw that holds the shaft in the motor, or replace the motor; then pull again "
        "and record it",
    )


def _asked() -> NotApplicable:
    return NotApplicable("the bell pull no longer speaks: retention/bells-pulled asks for another")


def _fitted_since(rotor: rotors.Rotor, pull: records.BellPull, on: Context) -> bool:
    """Whether another motor came here after the pull, so that what moved is gone."""
    return any(
        entry.kind.value in ("fitted", "replaced")
        and isinstance(entry.part, Known)
        and entry.part.value == "motor"
        and isinstance(entry.at, Known)
        and entry.at.value == name(rotor)
        and entry.date.value.after(pull.date.value) is True
        and entry.date.value.date <= on.judged_on
        for entry in on.aircraft.logbook
    )


def _latest_pull(rotor: rotors.Rotor, on: Context) -> records.BellPull | None:
    """The latest pull here; of several whose order is open, one that moved the bell."""
    here = [pull for pull in on.aircraft.records.bell_pull if pull.at.value == name(rotor)]
    mine = [pull for pull in here if pull.date.value.date <= on.judged_on]
    if not mine:
        return None
    latest = max(mine, key=lambda pull: pull.date.value.latest)
    open_order = [pull for pull in mine if latest.date.value.after(pull.date.value) is None]
    return next((pull for pull in open_order if pull.moved.value), latest)


@rule(
    "retention/bells-pulled",
    each="aircraft",
    severity=ADVISORY,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
)
def bells_pulled(aircraft: Aircraft, on: Context) -> Outcome:
    """Every motor's bell was pulled since it was last worked on.

    Asks once for the aircraft what retention/bell-pull judges motor by motor, so that an owner who never
    pulled a bell is told so in one line. It finds nothing by itself: a bell that nobody pulled is unproven.

    Fails:

        records:
          bell_pull: []

    Passes:

        every_rotor: {motor: {shaft_mm: 5.0}}
        records:
          bell_pull:
            - {date: 2026-04-18, at: front-left, moved: false}
            - {date: 2026-04-18, at: front-right, moved: false}
            - {date: 2026-04-18, at: rear-left, moved: false}
            - {date: 2026-04-18, at: rear-right, moved: false}

    Not checked: how hard it was pulled.
    """
    never, stale = [], []
    for rotor in aircraft.rotors:
        pull = _latest_pull(rotor, on)
        if pull is None:
            never.append(name(rotor))
        elif old := on.outdated("bell_pull", pull, name(rotor)):
            stale.append((name(rotor), pull, old))
    if not never and not stale:
        return Clear("every motor's bell was pulled since it was last worked on")
    message = f"no bell pull is recorded of {', '.join(never)}" if never else ""
    if stale:
        message += "; " if message else ""
        message += f"older than work done since: the bell pull of {', '.join(at for at, _, _ in stale)}"
    return Unproven(
        cause="absent" if never else stale[0][2].cause,
        place=aircraft.records.place if never else stale[0][1].place,
        message=message,
        do=_PULL,
        related=tuple(Related(old.event.place, f"{at}: {what_happened(old.event)}") for at, _, old in stale),
    )
