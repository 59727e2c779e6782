"""Have props and motors flown longer than their makers say?"""

from preflint.api import (
    CAUTION,
    PACK_UNPLUGGED,
    Absent,
    Clear,
    Context,
    Field,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Related,
    Unproven,
    rule,
)
from preflint.api import rotor as rotors

from .flown import Part, flown_with

_SOURCE = "the maker's life, as written in the manifest"


@rule(
    "props/hours",
    each="rotor",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=_SOURCE,
)
def hours(rotor: rotors.Rotor, on: Context) -> Outcome:
    """Has the prop flown no longer than its maker says?

    Blades are bent at every turn, and tire. Where the maker gives a life (`prop.life_h`), the minutes of all flights
    since the prop was fitted are counted: `flown` entries of the logbook after the last `fitted` or `replaced` of a
    prop there. A flight without `minutes`, or of the day of the fitting without times of day, makes the sum a least
    one. Without a life from the maker there is none by default: props last from one flight to hundreds.

    Fails:

        every_rotor: {prop: {life_h: 10}}
        logbook:
          - {date: 2026-03-01, kind: fitted, part: prop, at: all}
          - {date: 2026-04-01, kind: flown, minutes: 400}
          - {date: 2026-04-02, kind: flown, minutes: 300}

    Passes: the same with

        every_rotor: {prop: {life_h: 20}}

    Not checked: flights that nobody wrote down, and what a prop looks like.
    """
    return _of_part(rotor, "prop", rotor.prop.life_h, on)


@rule(
    "props/motor-hours",
    each="rotor",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=_SOURCE,
)
def motor_hours(rotor: rotors.Rotor, on: Context) -> Outcome:
    """Has the motor flown no longer than its maker says?

    Bearings wear, and a bell comes off where one breaks. Reasoning as of hours, by `motor.life_h` and the last
    `fitted` or `replaced` of a motor there.

    Fails:

        every_rotor: {motor: {life_h: 10}}
        logbook:
          - {date: 2026-03-01, kind: fitted, part: motor, at: all}
          - {date: 2026-04-01, kind: flown, minutes: 400}
          - {date: 2026-04-02, kind: flown, minutes: 300}

    Passes: the same with

        every_rotor: {motor: {life_h: 20}}

    Not checked: as of hours; how the bearings sound.
    """
    return _of_part(rotor, "motor", rotor.motor.life_h, on)


def _of_part(rotor: rotors.Rotor, part: Part, life: Field[float], on: Context) -> Outcome:
    if isinstance(life, Absent):
        return NotApplicable(f"the {part}'s maker sets no life, or nobody wrote it")
    flown = flown_with(rotor, part, on)
    words = f"the {part} has flown {flown.in_words()}"
    evidence, related = f"{words}; its maker's life is {life.value:g} h", (Related(life.place, "the maker's life"),)
    if flown.minutes > 60 * life.value:
        return Finding(
            place=flown.since.place if flown.since else life.place,
            message=f"the {part} has flown {flown.minutes / 60:.1f} h, its maker gives it {life.value:g} h",
            evidence=evidence,
            do=f"replace the {part}, write it in the logbook, and do what the new one asks for",
            related=related if flown.since else (),
        )
    if flown.whole:
        return Clear(evidence)
    if flown.since is None:
        message, how = (
            f"since when the {part} is fitted is not in the logbook",
            f"write the day it was fitted: kind: fitted, part: {part}, at: its position, or all",
        )
    else:
        message, how = f"{words}: not every flight tells its minutes", "write minutes in each entry flown since then"
        if any(entry.date.value.after(flown.since.date.value) is None for entry in flown.untold):
            how = f"{how}, and the time of day where one is of the day of the fitting"
    return Unproven(place=life.place, message=message, do=how, evidence=evidence, on_paper=True)
