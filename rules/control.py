"""Does the flight controller see and answer movements the right way round, and start evenly?"""

from preflint.api import (
    CAUTION,
    NO_GO,
    PROPS_REMOVED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    Open,
    Outcome,
    Place,
    Related,
    Rule,
    Tolerance,
    Unproven,
    need,
    records,
    rule,
    unproven,
)

from .control_answer import axis_of, missing_rotors, opposed, ought_to_speed_up, wrong_rotors

START_SPREAD = Tolerance(
    "start_throttle_spread",
    "% of throttle",
    3.0,
    "lower",
    "common practice, no source",
    "how far apart the throttle positions may be at which the motors begin to turn",
)
_SOURCE = "ISO 1151-1 (body axes); which rotors must answer follows from their places and spins"
_TILT_HOW = (
    "props removed, pack in, motors armed and just turning: tip the nose down, tip the right side down, "
    "turn the aircraft to the right; write a tilt_test with what is indicated and which rotors speed up each time"
)
_STICK_HOW = "props removed, motors just turning: move each stick and write a stick_check with which rotors speed up"
_REMOUNT = "set the way the flight controller is mounted to how it sits, or turn it to how it is set"
_AXES = {"pitch": "tip the nose down", "roll": "tip the right side down", "yaw": "turn to the right"}


@rule(
    "control/tilt-answer",
    each="aircraft",
    severity=NO_GO,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source=_SOURCE,
)
def tilt_answer(aircraft: Aircraft, on: Context) -> Outcome:
    """Tipped by hand, does the flight controller see it, and do the rotors on the low side speed up?

    A flight controller mounted or set turned, or outputs crossed, answers a tilt by tilting further: the
    aircraft turns over within a second of leaving the ground.

    Tipped nose down it must indicate nose down, and the rotors forward of the centre must speed up; right
    side down, those on the right. Turned to the right by hand it must turn back to the left: a rotor that
    spins cw from above turns the aircraft to the left (the air holds the rotor back), so the cw rotors speed
    up. Rotors on the axis do not matter.

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

    It does not check how strongly it answers.
    """
    test = on.freshest("tilt_test", aircraft.records.tilt_test, _TILT_HOW)
    wrong: list[tuple[Place, str, str]] = []
    for move in test.moves:
        if isinstance(move.indicated, Known) and move.indicated.value != move.did.value:
            wrong.append(
                (
                    move.indicated.place,
                    f"moved {_said(move.did.value)} it indicated {_said(move.indicated.value)}",
                    _REMOUNT,
                )
            )
        wrong += _wrong_answers(aircraft, move, opposed(move.did.value), f"moved {_said(move.did.value)}")
    if wrong:
        return _found(wrong, f"tilt test of {test.date.value}")
    _all_axes(
        test,
        {axis_of(m.did.value) for m in test.moves if isinstance(m.indicated, Known)},
        "indicated",
        _TILT_HOW,
    )
    for move in test.moves:
        if move.sped_up:
            _all_answered(aircraft, move, opposed(move.did.value), _TILT_HOW)
    answered = all(move.sped_up for move in test.moves)
    return Clear(
        f"tilt test of {test.date.value}: every movement was indicated as made"
        + (", and the right rotors answered" if answered else "")
    )


@rule(
    "control/stick-answer",
    each="aircraft",
    severity=NO_GO,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source=_SOURCE,
)
def stick_answer(aircraft: Aircraft, on: Context) -> Outcome:
    """Do the right rotors speed up when a stick is moved?

    A reversed stick flies the aircraft into the pilot. The stick for nose down must speed up the rotors
    behind the centre; right side down, those on the left; turn right, the ccw ones (the air holds a ccw rotor
    back, which turns the aircraft to the right).

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

    It does not check the throttle stick, nor how far the sticks go.
    """
    check = on.freshest(
        "stick_check", aircraft.records.stick_check, _STICK_HOW, covers=lambda c: bool(c.moves)
    )
    wrong: list[tuple[Place, str, str]] = []
    for move in check.moves:
        if isinstance(move.indicated, Known) and move.indicated.value != move.did.value:
            said, indicated = _said(move.did.value), _said(move.indicated.value)
            wrong.append(
                (
                    move.indicated.place,
                    f"stick {said}: {indicated} was indicated",
                    "reverse or swap that stick",
                )
            )
        wrong += _wrong_answers(aircraft, move, move.did.value, f"stick {_said(move.did.value)}")
    if wrong:
        return _found(wrong, f"stick check of {check.date.value}")
    _all_axes(
        check, {axis_of(m.did.value) for m in check.moves if m.sped_up}, "answered by rotors", _STICK_HOW
    )
    for move in check.moves:
        if move.sped_up:
            _all_answered(aircraft, move, move.did.value, _STICK_HOW)
    return Clear(f"stick check of {check.date.value}: the right rotors answered every stick")


@rule(
    "control/start-throttle-spread",
    each="aircraft",
    severity=CAUTION,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source="common practice, no source",
    tolerances=(START_SPREAD,),
)
def start_throttle_spread(aircraft: Aircraft, on: Context) -> Outcome:
    """Do all motors begin to turn at nearly the same throttle?

    Controllers that learnt different throttle ranges give different thrust for the same command; at low
    throttle one rotor may stand still while its neighbours lift.

    Fails:

        records:
          stick_check:
            - date: 2026-05-20
              start_throttle_percent: {front-left: 5, front-right: 5, rear-left: 9, rear-right: 5}

    Passes:

        records:
          stick_check:
            - date: 2026-05-20
              start_throttle_percent: {front-left: 5, front-right: 5, rear-left: 6, rear-right: 5}

    It does not check the top of the throttle range.
    """
    how = "props removed: raise the throttle slowly and write a stick_check with the per cent where each motor starts"
    check = on.freshest(
        "stick_check", aircraft.records.stick_check, how, covers=lambda c: bool(c.start_throttle_percent)
    )
    starts = check.start_throttle_percent
    missing = [at for at in aircraft.positions if at not in starts]
    ordered = sorted((at for at in aircraft.positions if at in starts), key=lambda at: starts[at].value)
    if not ordered:
        raise unproven(check.date.place, "no motor's start is recorded", how)
    low, high = ordered[0], ordered[-1]
    spread, limit = starts[high].value - starts[low].value, on.limit(START_SPREAD)
    first, last = f"{starts[low].value:g} % at {low}", f"{starts[high].value:g} % at {high}"
    evidence = f"from {first} to {last}; at most {limit:g} % apart"
    if spread > limit:
        return Finding(
            starts[high].place,
            f"the motors begin to turn {spread:g} % of throttle apart: {low} first, {high} last",
            evidence,
            "let every speed controller learn the throttle range again, all in one way, then check again",
            (Related(starts[low].place, f"{low} begins at {starts[low].value:g} %"),),
        )
    if missing:
        raise unproven(
            check.date.place, f"where it begins to turn is not recorded for {', '.join(missing)}", how
        )
    return Clear(evidence)


@rule(
    "control/arms-at-raised-throttle",
    each="aircraft",
    severity=NO_GO,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source="common practice, no source",
)
def arms_at_raised_throttle(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the aircraft refuse to arm while the throttle is raised?

    One that arms with the throttle raised jumps at the person who has just plugged in the pack.

    Fails:

        records:
          stick_check: [{date: 2026-05-20, props: removed, arms_at_raised_throttle: true}]

    Passes:

        records:
          stick_check: [{date: 2026-05-20, props: removed, arms_at_raised_throttle: false}]

    It does not check any other condition for arming.
    """
    how = "props removed: try to arm with the throttle raised, and write in a stick_check whether it armed"
    check = on.freshest(
        "stick_check",
        aircraft.records.stick_check,
        how,
        covers=lambda c: isinstance(c.arms_at_raised_throttle, Known),
    )
    arms = need(check.arms_at_raised_throttle)
    if not arms.value:
        return Clear(f"it refused to arm with the throttle raised on {check.date.value}")
    return Finding(
        arms.place,
        "the aircraft arms with the throttle raised",
        f"stick check of {check.date.value}",
        "set the flight controller to refuse arming unless the throttle is closed, then try again with "
        "props removed",
    )


def _wrong_answers(
    aircraft: Aircraft, move: records.Move, wanted: str, after: str
) -> list[tuple[Place, str, str]]:
    rotors = wrong_rotors(aircraft, move, wanted)
    if not rotors:
        return []
    must, _ = ought_to_speed_up(aircraft, wanted)
    ought = ", ".join(at for at in aircraft.positions if at in must)
    words = f"{after}, {', '.join(at for _, at in rotors)} sped up; {ought} ought to"
    remedy = (
        "check the layout that is set, the order of the outputs, and the direction of that axis, "
        "with props removed"
    )
    return [(rotors[0][0], words, remedy)]


def _found(wrong: list[tuple[Place, str, str]], evidence: str) -> Finding:
    return Finding(
        wrong[0][0],
        "; ".join(words for _, words, _ in wrong),
        evidence + "; right and left as seen from above, nose forward",
        "; ".join(dict.fromkeys(remedy for _, _, remedy in wrong)) + "; then repeat the test",
        tuple(Related(place, words) for place, words, _ in wrong[1:]),
    )


def _all_axes(test: records.Dated, seen: set[str], what: str, how: str) -> None:
    """Ends the rule as unproven where an axis was not tried."""
    missing = [words for axis, words in _AXES.items() if axis not in seen]
    if missing:
        raise unproven(test.date.place, f"no movement was recorded as {what} for: {', '.join(missing)}", how)


def _all_answered(aircraft: Aircraft, move: records.Move, wanted: str, how: str) -> None:
    """Ends the rule as unproven where a rotor that must answer was not seen to."""
    missing = missing_rotors(aircraft, move, wanted)
    if missing:
        said = _said(move.did.value)
        message = f"{said}: {', '.join(missing)} ought to have sped up and is not recorded"
        raise Open(Unproven("uncertain", move.place, message, how))


def _said(attitude: str) -> str:
    return attitude.replace("-", " ")


RULES: tuple[Rule, ...] = (tilt_answer, stick_answer, start_throttle_spread, arms_at_raised_throttle)
FIGURES = ()
