"""Which way each motor was seen to turn, which way the flight controller expects, and what sets it."""

from typing import Literal

from preflint.api import (
    ADVISORY,
    NO_GO,
    PROPS_REMOVED,
    SETTINGS,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    Open,
    Outcome,
    Related,
    Unproven,
    name,
    need,
    records,
    rule,
)
from preflint.compute.handedness import pushes_up

from .state import WIRES, Rotor, all_inverted, names

_SPIN_TEST = "let each motor turn briefly, look from above the aircraft and write a spin_test"
_REVERSE = "swap any two of its three motor wires"


@rule(
    "rotation/spin-seen",
    each="rotor",
    severity=NO_GO,
    job=Job.PROPS_OFF,
    precaution=WIRES,
    source="common practice, no source",
    needed_for_flight=True,
    shown_by=records.SpinTest,
)
def spin_seen(rotor: Rotor, on: Context) -> Outcome:
    """Each motor was seen to turn the way that is written for it.

    Prop, nut and yaw are all judged by the spin under rotors. A spin test that is newer than the
    last work on motor, controller and settings shows that it is so.

    Fails:

        rotors:
          - {at: front-left, spin: cw}
        records:
          spin_test: [{date: 2026-04-18, props: removed, seen: {front-left: ccw}}]

    Passes: the same with

        records:
          spin_test: [{date: 2026-04-18, props: removed, seen: {front-left: cw, rear-right: cw, others: ccw}}]

    `others` stands for every rotor not named. What was seen is written as a direction, never as "the same as under
    rotors": a spin corrected later would then change what an old record says was seen.

    Not checked: which of the two is meant; rotation/expected-spin compares with the flight controller.
    """
    at, spin = name(rotor), need(rotor.spin)
    tests = [test for test in on.aircraft.records.spin_test if at in test.seen]
    return on.tested(
        "spin_test",
        tests,
        lambda test: _seen_in(test, at, spin, on),
        _SPIN_TEST,
        at,
        PROPS_REMOVED,
        says=lambda test: test.seen[at].value,
    )


def _seen_in(test: records.SpinTest, at: str, spin: Known[Literal["cw", "ccw"]], on: Context) -> Outcome:
    """What one spin test shows of a rotor by itself."""
    seen = test.seen[at]
    if seen.value == spin.value:
        return Clear(f"seen from above on {test.date.value}: {at} turns {seen.value}, as written")
    expected = on.aircraft.flight_controller.expects_spin.get(at)
    if expected is None:
        remedy = f"look again; if it turns {seen.value} and {spin.value} is meant, {_REVERSE}"
    elif expected.value == seen.value:
        remedy = (
            f"look again; if it turns {seen.value}, as the flight controller expects, "
            f"write spin: {seen.value} and look at its prop and nut"
        )
    else:
        remedy = (
            f"look again; if it turns {seen.value}, {_REVERSE}: the flight controller expects "
            f"{expected.value}"
        )
    return Finding(
        place=seen.place,
        message=f"the motor at {at} was seen to turn {seen.value}, but its spin is written as {spin.value}",
        evidence=f"spin test of {test.date.value}, seen from above: {seen.value}; under rotors: {spin.value}",
        do=remedy + "; then record a new spin test",
        related=(Related(spin.place, f"written as {spin.value}"),),
    )


@rule(
    "rotation/expected-spin",
    each="rotor",
    severity=NO_GO,
    job=Job.PROPS_OFF,
    precaution=WIRES,
    source="common practice, no source",
)
def expected_spin(rotor: Rotor, on: Context) -> Outcome:
    """Each motor turns the way the flight controller expects.

    The flight controller corrects yaw by speeding up the rotors whose drag turns the aircraft the
    wanted way. A rotor that turns the other way than it was told answers every yaw correction the
    wrong way round; with all of them, the aircraft spins up without limit.

    Fails:

        rotors:
          - {at: front-left, spin: cw}
        flight_controller: {expects_spin: {front-left: ccw}}

    Passes: the same with

        flight_controller: {expects_spin: {front-left: cw}}

    Not checked: whether the flight controller's settings are as written.
    """
    at, controller, spin = name(rotor), on.aircraft.flight_controller, need(rotor.spin)
    expected = controller.expects_spin.get(at)
    if expected is None:
        raise Open(
            Unproven(
                place=controller.place,
                message=f"which spin the flight controller expects at {at} is not recorded",
                do="read in the flight controller's settings which way it expects the motor to turn and write it "
                "under expects_spin",
                mind=SETTINGS,
            )
        )
    if expected.value == spin.value:
        return Clear(f"{at} turns {spin.value} seen from above, as the flight controller expects")
    place, other = spin.place, Related(expected.place, f"expected {expected.value}")
    remedy = f"reverse the motor to {expected.value}: {_REVERSE}; then repeat the spin test"
    hand = rotor.prop.hand
    if isinstance(hand, Known) and pushes_up(spin.value, hand.value) != on.once(all_inverted, on.aircraft):
        # The prop was chosen for this motor as it turns, so the setting is the odd one out.
        place, other = expected.place, Related(spin.place, f"turns {spin.value}")
        remedy = (
            f"set the flight controller to expect {spin.value}, as motor and prop agree; "
            f"if {expected.value} is meant, reverse the motor ({_REVERSE}) and change prop and nut with it"
        )
    if all(_disagrees(each, on.aircraft) for each in on.aircraft.rotors):
        remedy += "; every rotor disagrees, so the flight controller may be set for the mirrored arrangement"
    return Finding(
        place=place,
        message=f"the flight controller expects {expected.value} at {at}, but the motor turns {spin.value}",
        evidence=f"it answers yaw the wrong way round; seen from above: motor {spin.value}, expected {expected.value}",
        do=remedy,
        related=(other,),
    )


def _disagrees(rotor: Rotor, aircraft: Aircraft) -> bool:
    expected = aircraft.flight_controller.expects_spin.get(name(rotor))
    return isinstance(rotor.spin, Known) and expected is not None and expected.value != rotor.spin.value


@rule(
    "rotation/spin-by-setting",
    each="aircraft",
    severity=ADVISORY,
    job=Job.PROPS_OFF,
    precaution=WIRES,
    source="common practice, no source",
)
def spin_by_setting(aircraft: Aircraft, on: Context) -> Outcome:
    """No motor's spin hangs on a setting of its controller.

    Where a motor was reversed by a setting and not by its wires, a reset, new firmware or a new
    controller turns it back, and nothing looks different until it runs.

    Fails:

        every_rotor:
          esc: {spin_set_by: setting}

    Passes:

        every_rotor:
          esc: {spin_set_by: wires}

    Not checked: the setting itself.
    """
    known = [(rotor, rotor.esc.spin_set_by) for rotor in aircraft.rotors if isinstance(rotor.esc.spin_set_by, Known)]
    by_setting = [(rotor, how) for rotor, how in known if how.value == "setting"]
    if by_setting:
        where = names(rotor for rotor, _ in by_setting)
        first = by_setting[0][1].place
        places = dict.fromkeys(how.place for _, how in by_setting)
        return Finding(
            place=first,
            message=f"the spin at {where} is set by a setting of the speed controller, which a reset loses",
            evidence="spin_set_by: setting",
            do="look at the spin again after every reset, new firmware or new controller; "
            "or set the spin by swapping two motor wires instead",
            related=tuple(Related(place, "set by a setting too") for place in places if place != first),
        )
    for rotor in aircraft.rotors:
        need(rotor.esc.spin_set_by)
    return Clear("every motor's spin is set by the order of its wires")
