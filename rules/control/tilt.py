"""Does the flight controller see and answer movements the right way round?"""

from preflint.api import (
    NO_GO,
    PROPS_REMOVED,
    Aircraft,
    Clear,
    Context,
    Job,
    Known,
    Outcome,
    records,
    rule,
)

from .answer import SOURCE, axis_of, opposed
from .seen import all_answered, all_axes, all_in_one, all_wrong, answered

_TILT_HOW = (
    "tip the nose down, tip the right side down, turn to the right, motors armed and just turning; write what is "
    "indicated and which rotors speed up in a tilt_test"
)
_REMOUNT = "set the way the flight controller is mounted to how it sits, or turn it to how it is set"


@rule(
    "control/tilt-answer",
    each="aircraft",
    severity=NO_GO,
    needed_for_flight=True,
    shown_by=records.TiltTest,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source=SOURCE,
)
def tilt_answer(aircraft: Aircraft, on: Context) -> Outcome:
    """Tipped by hand, does the flight controller see it, and do the rotors on the low side speed up?

    A flight controller mounted or set turned, or outputs crossed, answers a tilt by tilting further: the
    aircraft turns over within a second of leaving the ground.

    Tipped nose down it must indicate nose down, and the rotors forward of the centre must speed up; right
    side down, those on the right. Turned to the right by hand it must turn back to the left: a rotor that
    spins cw from above turns the aircraft to the left (the air holds the rotor back), so the cw rotors speed
    up. Rotors on the axis do not matter, and those that sit nearer to it than 0.45 of the longest lever arm
    need not be seen to answer. A rotor that must speed up and was seen to slow down is as wrong as one on the
    other side that sped up.

    The rig does not enter: with the props removed motors and flight controller answer alike in both.

    Fails:

        records:
          tilt_test:
            - date: 2026-05-20
              props: removed
              moves: [{did: nose-down, indicated: nose-up}]

    Passes:

        records:
          tilt_test:
            - date: 2026-05-20
              props: removed
              moves:
                - {did: nose-down, indicated: nose-down, sped_up: [front-left, front-right]}
                - {did: right-down, indicated: right-down, sped_up: [front-right, rear-right]}
                - {did: turned-right, indicated: turned-right, sped_up: [front-left, rear-right]}

    It does not check how strongly it answers, nor tilted rotors.
    """
    return on.tested("tilt_test", aircraft.records.tilt_test, lambda test: _answered_in(test, on), _TILT_HOW)


def _answered_in(test: records.TiltTest, on: Context) -> Outcome:
    """What one tilt test shows by itself."""
    wrong = all_wrong(test.moves, opposed, "moved {}", "moved {} it indicated {}", _REMOUNT, on)
    if wrong:
        return all_in_one(wrong, f"tilt test of {test.date.value}")
    indicated = {axis_of(m.did.value) for m in test.moves if isinstance(m.indicated, Known)}
    all_axes(test, indicated, "indicated", _TILT_HOW)
    all_axes(test, {axis_of(m.did.value) for m in test.moves if answered(m)}, "answered by rotors", _TILT_HOW)
    for move in test.moves:
        if answered(move):
            all_answered(move, opposed(move.did.value), _TILT_HOW, on)
    return Clear(f"tilt test of {test.date.value}: every movement was indicated as made, and the right rotors answered")
