"""Do the right rotors answer each stick, and does the throttle stick work the right way round?"""

from collections.abc import Callable

from preflint.api import (
    NO_GO,
    PROPS_REMOVED,
    Aircraft,
    Clear,
    Context,
    Job,
    Open,
    Outcome,
    Unproven,
    records,
    rule,
)

from ..shared.wrong import Wrong
from .answer import SOURCE, axis_of, said
from .seen import REVERSE, all_answered, all_axes, all_in_one, all_wrong, answered

_STICK_HOW = "move each stick, motors just turning; write in a stick_check which rotors speed up"
_THROTTLE_HOW = (
    "raise the throttle a little from closed, motors just turning, and lower it; write which rotors speed up "
    "(throttle-up) and slow down (throttle-down) in a stick_check"
)


@rule(
    "control/stick-answer",
    each="aircraft",
    severity=NO_GO,
    needed_for_flight=True,
    shown_by=records.StickCheck,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source=SOURCE,
)
def stick_answer(aircraft: Aircraft, on: Context) -> Outcome:
    """Do the right rotors speed up when a stick is moved?

    A reversed stick flies the aircraft into the pilot. The stick for nose down must speed up the rotors
    behind the centre; right side down, those on the left; turn right, the ccw ones (the air holds a ccw rotor
    back, which turns the aircraft to the right). A rotor that must speed up and was seen to slow down is as
    wrong as one on the other side that sped up.

    Fails:

        records:
          stick_check:
            - date: 2026-05-20
              moves: [{did: nose-down, sped_up: [front-left, front-right]}]

    Passes:

        records:
          stick_check:
            - date: 2026-05-20
              props: removed
              moves:
                - {did: nose-down, sped_up: [rear-left, rear-right]}
                - {did: right-down, sped_up: [front-left, rear-left]}
                - {did: turned-right, sped_up: [front-right, rear-left]}

    It does not check the throttle stick (control/throttle-answer does), nor how far the sticks go.
    """
    return _tested(aircraft, on, _sticks_in, lambda axis: axis != "throttle", "movement of a stick", _STICK_HOW)


def _sticks_in(check: records.StickCheck, moves: list[records.StickMove], on: Context) -> Outcome:
    if wrong := _wrong(moves, on):
        return all_in_one(wrong, f"stick check of {check.date.value}")
    all_axes(check, {axis_of(m.did.value) for m in moves if answered(m)}, "answered by rotors", _STICK_HOW)
    for move in moves:
        if answered(move):
            all_answered(move, move.did.value, _STICK_HOW, on)
    return Clear(f"stick check of {check.date.value}: the right rotors answered every stick")


@rule(
    "control/throttle-answer",
    each="aircraft",
    severity=NO_GO,
    needed_for_flight=True,
    shown_by=records.StickCheck,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source="common practice, no source",
)
def throttle_answer(aircraft: Aircraft, on: Context) -> Outcome:
    """Does raising the throttle speed up every rotor, and lowering it slow every one down?

    With the throttle stick reversed, closed is full power: the aircraft leaves as it is armed, and the stick
    pulled back in fright makes it climb. A single rotor that slows down or stops as the throttle goes up has
    lost its step, or its output; lift-off tips the aircraft over that corner.

    Raised a little from where all motors just turn, the throttle must speed up every rotor and slow down none;
    lowered, the reverse. One of the two movements, answered by every rotor, is enough.

    Fails:

        records:
          stick_check:
            - date: 2026-05-20
              props: removed
              moves:
                - did: throttle-up
                  indicated: throttle-down
                  slowed_down: [front-left, front-right, rear-left, rear-right]

    Passes:

        records:
          stick_check:
            - date: 2026-05-20
              props: removed
              moves:
                - did: throttle-up
                  indicated: throttle-up
                  sped_up: [front-left, front-right, rear-left, rear-right]

    It does not check whether all begin to turn together (control/start-throttle-spread), nor the ends of the
    throttle's range.
    """
    wanted = "movement of the throttle stick"
    return _tested(aircraft, on, _throttle_in, lambda axis: axis == "throttle", wanted, _THROTTLE_HOW)


def _throttle_in(check: records.StickCheck, moves: list[records.StickMove], on: Context) -> Outcome:
    if wrong := _wrong(moves, on):
        return all_in_one(wrong, f"stick check of {check.date.value}")
    tried = [move for move in moves if answered(move)]
    if not tried:
        raise Open(
            Unproven(
                place=check.date.place,
                message="which rotors answered the throttle stick is not recorded",
                do=_THROTTLE_HOW,
                record="stick_check",
            )
        )
    for move in tried:
        all_answered(move, move.did.value, _THROTTLE_HOW, on)
    done = " and ".join(dict.fromkeys(said(move.did.value) for move in tried))
    return Clear(f"stick check of {check.date.value}: every rotor answered {done}")


def _tested(
    aircraft: Aircraft,
    on: Context,
    judge: Callable[[records.StickCheck, list[records.StickMove], Context], Outcome],
    wanted: Callable[[str], bool],
    what: str,
    how: str,
) -> Outcome:
    """What the stick check that speaks for these movements shows of them."""

    def moves(check: records.StickCheck) -> list[records.StickMove]:
        return [move for move in check.moves if wanted(axis_of(move.did.value))]

    checks = aircraft.records.stick_check
    past = on.so_far(checks)
    if past and not any(moves(check) for check in past):
        raise Open(Unproven(place=past[-1].date.place, message=f"no {what} is recorded", do=how, record="stick_check"))
    tried = [check for check in checks if moves(check)]
    return on.tested("stick_check", tried, lambda check: judge(check, moves(check), on), how)


def _wrong(moves: list[records.StickMove], on: Context) -> list[Wrong]:
    """All that the movements show to be wrong: the rotors ought to move the aircraft the way of the stick."""
    return all_wrong(moves, lambda did: did, "stick {}", "stick {}: {} was indicated", REVERSE, on)
