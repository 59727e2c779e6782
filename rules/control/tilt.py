"""Does the flight controller see and answer movements the right way round?"""

from preflint.api import (
    CAUTION,
    NO_GO,
    PROPS_REMOVED,
    Aircraft,
    Clear,
    Context,
    Job,
    Known,
    Open,
    Outcome,
    rule,
)

from ..shared.props_off import judge_props
from .answer import (
    Wrong,
    all_answered,
    answered,
    axis_of,
    finding,
    opposed,
    said,
    wrong_answers,
    wrong_indication,
)
from .sticks import SOURCE, all_axes, tried

_TILT_HOW = (
    "props removed, pack in, motors armed and just turning: tip the nose down, tip the right side down, "
    "turn the aircraft to the right; write a tilt_test with what is indicated and which rotors speed up each time"
)
_REMOUNT = "set the way the flight controller is mounted to how it sits, or turn it to how it is set"


@rule(
    "control/tilt-answer",
    each="aircraft",
    severity=NO_GO,
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
    test = on.freshest("tilt_test", aircraft.records.tilt_test, _TILT_HOW)
    wrong: list[Wrong] = []
    still_open: list[Open] = []
    for move in test.moves:
        moved = f"moved {said(move.did.value)}"
        wrong += wrong_indication(move, f"{moved} it indicated {{}}", _REMOUNT)
        try:
            wrong += wrong_answers(aircraft, move, opposed(move.did.value), moved)
        except Open as end:
            still_open.append(end)
    if wrong:
        return finding(wrong, f"tilt test of {test.date.value}")
    if still_open:
        raise still_open[0]
    indicated = {axis_of(m.did.value) for m in test.moves if isinstance(m.indicated, Known)}
    all_axes(test, indicated, "indicated", _TILT_HOW)
    all_axes(test, {axis_of(m.did.value) for m in test.moves if answered(m)}, "answered by rotors", _TILT_HOW)
    for move in test.moves:
        if answered(move):
            all_answered(aircraft, move, opposed(move.did.value), _TILT_HOW)
    return Clear(f"tilt test of {test.date.value}: every movement was indicated as made, and the right rotors answered")


@rule(
    "control/props-removed",
    each="aircraft",
    severity=CAUTION,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source="common practice, no source",
)
def props_removed(aircraft: Aircraft, on: Context) -> Outcome:
    """Tilt, stick and link-loss tests were made with the props removed.

    An armed aircraft that is tipped by hand speeds up its rotors at the hand that holds it, and a reversed
    throttle stick starts them at full power. What such a test showed stands; the way it was made is what is
    found. In the inverted rig it is worse: attitude stabilisation acts reversed there, so a tilted aircraft
    with props on is driven further over. A later test of the same movements with the props removed settles it.

    Fails:

        records:
          stick_check: [{date: 2026-05-20, props: fitted, arms_at_raised_throttle: false}]

    Passes:

        records:
          stick_check: [{date: 2026-05-20, props: removed, arms_at_raised_throttle: false}]

    It does not check spin and output tests: rotation/props-removed does.
    """
    tested = aircraft.records
    return judge_props(
        {
            "tilt test": [(test, {m.did.value for m in test.moves}) for test in tested.tilt_test],
            "stick check": [(check, tried(check)) for check in tested.stick_check],
            "link-loss test": [(test, {"link"}) for test in tested.link_loss_test],
        },
        "movements",
        on,
    )
