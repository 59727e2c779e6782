"""Which way each motor was seen to turn, and which rotor answered which output."""

from collections.abc import Callable, Iterable
from typing import TypeVar

from preflint.api import (
    ADVISORY,
    CAUTION,
    NO_GO,
    PACK_UNPLUGGED,
    PROPS_REMOVED,
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
    Unproven,
    name,
    need,
    records,
    rule,
    unproven,
)
from preflint.compute.handedness import pushes_up

from .rotation_state import Rotor, all_inverted, names

T = TypeVar("T", records.SpinTest, records.OutputTest)

_SPIN_TEST = "props removed: let each motor turn briefly, look from above the aircraft and write a spin_test"
_OUTPUT_TEST = "props removed: command one output at a time, see which motor turns and write an output_test"
_REVERSE = "swap any two of its three motor wires"


def _settled(kind: str, latest: T, tests: Iterable[T], at: str, says: Callable[[T], Known[str] | None]) -> None:
    """Ends the rule as order-open where another test of that day, in unknown order, says something else."""
    mine = says(latest)
    for other in tests:
        theirs = says(other)
        if mine is None or theirs is None or latest.date.value.after(other.date.value) is not None:
            continue
        if theirs.value != mine.value:
            raise Open(Unproven(
                "order-open", mine.place,
                f"two {kind}s of {latest.date.value.date} disagree about {at}, and which came first is not recorded",
                f"repeat it with the time of day: {_SPIN_TEST if kind == 'spin test' else _OUTPUT_TEST}",
                f"this one says {mine.value}, the other {theirs.value}",
                (Related(theirs.place, f"the other says {theirs.value}"),), PROPS_REMOVED,
            ))


@rule(
    "rotation/spin-seen", each="rotor", severity=NO_GO, job=Job.PROPS_OFF, precaution=PROPS_REMOVED,
    source="common practice, no source", needed_for_flight=True,
)
def spin_seen(rotor: Rotor, on: Context) -> Outcome:
    """Each motor was seen to turn the way that is written for it

    Prop, nut and yaw are all judged by the spin under rotors. A spin test that is newer than the
    last work on motor, controller and settings shows that it is so.

    Fails:

        rotors:
          - {at: front-left, spin: cw}
        records:
          spin_test: [{date: 2026-04-18, props: removed, seen: {front-left: ccw}}]

    Passes:

        rotors:
          - {at: front-left, spin: cw}
        records:
          spin_test: [{date: 2026-04-18, props: removed, seen: {front-left: cw}}]

    Not checked: which of the two is meant; rotation/expected-spin compares with the flight controller.
    """
    at, tests = name(rotor), on.aircraft.records.spin_test
    test = on.freshest("spin_test", tests, _SPIN_TEST, at, lambda t: at in t.seen, PROPS_REMOVED)
    _settled("spin test", test, tests, at, lambda t: t.seen.get(at))
    seen, spin = test.seen[at], need(rotor.spin)
    if seen.value == spin.value:
        return Clear(f"seen from above on {test.date.value}: {at} turns {seen.value}, as written")
    expected = on.aircraft.flight_controller.expects_spin.get(at)
    if expected is None:
        remedy = f"look again, props removed; if it turns {seen.value} and {spin.value} is meant, {_REVERSE}"
    elif expected.value == seen.value:
        remedy = f"look again, props removed; if it turns {seen.value}, as the flight controller expects, write spin: {seen.value} and look at its prop and nut"
    else:
        remedy = f"look again, props removed; if it turns {seen.value}, {_REVERSE}: the flight controller expects {expected.value}"
    return Finding(
        seen.place,
        f"the motor at {at} was seen to turn {seen.value}, but its spin is written as {spin.value}",
        f"spin test of {test.date.value}, seen from above: {seen.value}; under rotors: {spin.value}",
        remedy + "; then record a new spin test",
        (Related(spin.place, f"written as {spin.value}"),),
    )


@rule(
    "rotation/expected-spin", each="rotor", severity=NO_GO, job=Job.PROPS_OFF, precaution=PROPS_REMOVED,
    source="common practice, no source",
)
def expected_spin(rotor: Rotor, on: Context) -> Outcome:
    """Each motor turns the way the flight controller expects

    The flight controller corrects yaw by speeding up the rotors whose drag turns the aircraft the
    wanted way. A rotor that turns the other way than it was told answers every yaw correction the
    wrong way round; with all of them, the aircraft spins up without limit.

    Fails:

        rotors:
          - {at: front-left, spin: cw}
        flight_controller: {expects_spin: {front-left: ccw}}

    Passes:

        rotors:
          - {at: front-left, spin: cw}
        flight_controller: {expects_spin: {front-left: cw}}

    Not checked: whether the flight controller's settings are as written.
    """
    at, controller, spin = name(rotor), on.aircraft.flight_controller, need(rotor.spin)
    expected = controller.expects_spin.get(at)
    if expected is None:
        raise unproven(
            controller.place, f"which spin the flight controller expects at {at} is not recorded",
            f"read in the flight controller's settings which way it expects {at} to turn and write it under expects_spin",
        )
    if expected.value == spin.value:
        return Clear(f"{at} turns {spin.value} seen from above, as the flight controller expects")
    place, other, remedy = spin.place, expected.place, f"reverse the motor at {at} to {expected.value}: {_REVERSE}; then repeat the spin test"
    hand = rotor.prop.hand
    if isinstance(hand, Known) and pushes_up(spin.value, hand.value) != all_inverted(on.aircraft):
        # The prop was chosen for this motor as it turns, so the setting is the odd one out.
        place, other = expected.place, spin.place
        remedy = (
            f"motor and prop at {at} agree on {spin.value}: set the flight controller to expect {spin.value} there; if {expected.value} "
            f"is meant, reverse the motor ({_REVERSE}) and change prop and nut with it"
        )
    if all(_disagrees(each, on.aircraft) for each in on.aircraft.rotors):
        remedy += "; every rotor disagrees, so the flight controller may be set for the mirrored arrangement"
    return Finding(
        place,
        f"the flight controller expects {expected.value} at {at}, but the motor turns {spin.value}: it answers yaw the wrong way round",
        f"seen from above: motor {spin.value}, expected {expected.value}",
        remedy,
        (Related(other, f"expected {expected.value}" if other == expected.place else f"turns {spin.value}"),),
    )


def _disagrees(rotor: Rotor, aircraft: Aircraft) -> bool:
    expected = aircraft.flight_controller.expects_spin.get(name(rotor))
    return isinstance(rotor.spin, Known) and expected is not None and expected.value != rotor.spin.value


@rule(
    "rotation/output-order", each="rotor", severity=NO_GO, job=Job.PROPS_OFF, precaution=PROPS_REMOVED,
    source="common practice, no source", needed_for_flight=True,
)
def output_order(rotor: Rotor, on: Context) -> Outcome:
    """Each output drives the rotor it should

    When one side sinks the flight controller speeds up the rotors there. If the output for one place
    drives another rotor, the correction makes the error larger, and the aircraft flips over at its
    first lift-off. Spins and props can all be right meanwhile.

    Fails:

        records:
          output_test: [{date: 2026-04-18, props: removed, turned: {front-left: front-right, front-right: front-left}}]

    Passes:

        records:
          output_test: [{date: 2026-04-18, props: removed, turned: {front-left: front-left, front-right: front-right}}]

    Not checked: that the flight controller knows which way it is mounted; that takes a tilt test.
    """
    at, tests = name(rotor), on.aircraft.records.output_test
    test = on.freshest("output_test", tests, _OUTPUT_TEST, at, lambda t: at in t.turned, PROPS_REMOVED)
    _settled("output test", test, tests, at, lambda t: t.turned.get(at))
    drives = test.turned[at]
    if drives.value == at:
        return Clear(f"output test of {test.date.value}: the output for {at} turned {at}")
    other, back = drives.value, test.turned.get(drives.value)
    wanted = [output for output, turned in test.turned.items() if turned.value == at]
    related = [Related(back.place, f"the output for {other} drives {back.value}")] if back is not None else []
    if back is not None and back.value == at:
        remedy = f"exchange the signal wires of {at} and {other} at the flight controller"
    else:
        source = f", now on the output for {wanted[0]}," if wanted else ""
        remedy = f"put the signal wire of {at}{source} on the output for {at}, and that of {other} on the output for {other}"
    return Finding(
        drives.place,
        f"the output for {at} drives {other}: the aircraft would flip at its first lift-off",
        f"output test of {test.date.value}: commanded {at}, {other} turned",
        remedy + "; then repeat the output test for every output, props removed",
        tuple(related),
    )


@rule(
    "rotation/props-removed", each="aircraft", severity=CAUTION, job=Job.PROPS_OFF, precaution=PROPS_REMOVED,
    source="common practice, no source",
)
def props_removed(aircraft: Aircraft, on: Context) -> Outcome:
    """Spin and output tests were made with the props removed

    Motors are first run by somebody who does not yet know which one will start, or which way. With
    props on, that is how fingers are lost, and the aircraft can climb off the bench. A later test of
    the same rotors with the props removed settles it.

    Fails:

        records:
          spin_test: [{date: 2026-04-18, props: fitted, seen: {front-left: cw}}]

    Passes:

        records:
          spin_test: [{date: 2026-04-18, props: removed, seen: {front-left: cw}}]

    Not checked: other tests that run motors; their own topics look at them.
    """
    spins = [("spin test", t, frozenset(t.seen)) for t in aircraft.records.spin_test]
    outputs = [("output test", t, frozenset(t.turned)) for t in aircraft.records.output_test]
    speaking = [
        (kind, test) for tests in (spins, outputs) for kind, test, covered in tests
        if not covered <= {at for _, later, at_later in tests if later.date.value.after(test.date.value) for at in at_later}
    ]
    if not speaking:
        return NotApplicable("no spin or output test is recorded")
    for kind, test in speaking:
        if isinstance(test.props, Known) and test.props.value == "fitted":
            return Finding(
                test.props.place,
                f"the {kind} of {test.date.value} was made with the props fitted",
                "props: fitted, and no later test of the same rotors with the props removed",
                f"remove the props, repeat the {kind} and record it with props: removed",
            )
    for _, test in speaking:
        need(test.props)
    return Clear(f"props removed in the {' and the '.join(f'{kind} of {test.date.value}' for kind, test in speaking)}")


@rule(
    "rotation/spin-by-setting", each="aircraft", severity=ADVISORY, job=Job.RECORD, precaution=PACK_UNPLUGGED,
    source="common practice, no source",
)
def spin_by_setting(aircraft: Aircraft, on: Context) -> Outcome:
    """No motor's spin hangs on a setting of its controller

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
            first,
            f"the spin at {where} is set by a setting of the speed controller, which a reset loses",
            "spin_set_by: setting",
            "look at the spin again, props removed, after every reset, firmware change or change of controller; or swap two motor wires instead",
            tuple(Related(place, "set by a setting too") for place in places if place != first),
            PROPS_REMOVED,
        )
    for rotor in aircraft.rotors:
        need(rotor.esc.spin_set_by)
    return Clear("every motor's spin is set by the order of its wires")


RULES = (spin_seen, expected_spin, output_order, props_removed, spin_by_setting)
