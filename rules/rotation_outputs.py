"""Which rotor answered which output, and were the motors run with the props removed?"""

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
    NotApplicable,
    Open,
    Outcome,
    Related,
    name,
    records,
    rule,
    unproven,
)

from .rotation_state import WIRES, Rotor, settled

_OUTPUT_TEST = "props removed: command one output at a time, see which motor turns and write an output_test"


@rule(
    "rotation/output-order",
    each="rotor",
    severity=NO_GO,
    job=Job.PROPS_OFF,
    precaution=WIRES,
    source="common practice, no source",
    needed_for_flight=True,
)
def output_order(rotor: Rotor, on: Context) -> Outcome:
    """Each output drives the rotor it should.

    When one side sinks the flight controller speeds up the rotors there. If the output for one place
    drives another rotor, the correction makes the error larger, and the aircraft flips over at its
    first lift-off. Spins and props can all be right meanwhile. Two outputs that drive each other's rotor
    are said once, at the first of the two.

    Fails:

        records:
          output_test:
            - {date: 2026-04-18, props: removed, turned: {front-left: front-right, front-right: front-left}}

    Passes:

        records:
          output_test:
            - {date: 2026-04-18, props: removed, turned: {front-left: front-left, front-right: front-right}}

    Not checked: that the flight controller knows which way it is mounted; that takes a tilt test.
    """
    at = name(rotor)
    test = _latest(at, on)
    drives = test.turned[at]
    if drives.value == at:
        return Clear(f"output test of {test.date.value}: the output for {at} turned {at}")
    other, back = drives.value, test.turned.get(drives.value)
    again = "; then repeat the output test for every output, props removed"
    commanded = f"output test of {test.date.value}: commanded {at}, {other} turned"
    if back is not None and back.value == at:
        if _said_at(other, test, on) and other in on.aircraft.positions[: on.aircraft.positions.index(at)]:
            return NotApplicable(f"said once with {other}: the two are exchanged")
        return Finding(
            drives.place,
            f"the outputs for {at} and {other} are exchanged: the aircraft would flip at its first lift-off",
            f"{commanded}; commanded {other}, {at} turned",
            f"exchange the signal wires of {at} and {other} at the flight controller{again}",
            (
                Related(back.place, f"the output for {other} drives {at}"),
                Related(on.aircraft.rotor(other).place, f"{other}, the other of the two"),
            ),
        )
    wanted = [output for output, turned in test.turned.items() if turned.value == at]
    source = f", now on the output for {wanted[0]}," if wanted else ""
    return Finding(
        drives.place,
        f"the output for {at} drives {other}: the aircraft would flip at its first lift-off",
        commanded,
        f"put the signal wire of {at}{source} on the output for {at}, "
        f"and that of {other} on the output for {other}{again}",
        (Related(back.place, f"the output for {other} drives {back.value}"),) if back is not None else (),
    )


def _said_at(at: str, test: records.OutputTest, on: Context) -> bool:
    """Whether the same test still speaks for that rotor too."""
    try:
        return _latest(at, on) is test
    except Open:
        return False


def _latest(at: str, on: Context) -> records.OutputTest:
    """The test that still speaks for a rotor. Ends the rule as unproven where there is none."""
    tests = on.aircraft.records.output_test
    test = on.freshest(
        "output_test", tests, _OUTPUT_TEST, at, lambda t: at in t.turned, PROPS_REMOVED, says=lambda t: None
    )  # what several of one day say is settled next
    settled("output test", test, tests, at, lambda t: t.turned.get(at), _OUTPUT_TEST)
    return test


@rule(
    "rotation/props-removed",
    each="aircraft",
    severity=CAUTION,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source="common practice, no source",
)
def props_removed(aircraft: Aircraft, on: Context) -> Outcome:
    """Spin and output tests were made with the props removed.

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
    spins = [("spin test", test, frozenset(test.seen)) for test in aircraft.records.spin_test]
    outputs = [("output test", test, frozenset(test.turned)) for test in aircraft.records.output_test]
    speaking: list[tuple[str, records.SpinTest | records.OutputTest]] = []
    for tests in (spins, outputs):
        done = [item for item in tests if item[1].date.value.date <= on.judged_on]
        for kind, test, covered in done:
            later = {at for _, other, seen in done if other.date.value.after(test.date.value) for at in seen}
            if not covered <= later:
                speaking.append((kind, test))
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
    for kind, test in speaking:
        if not isinstance(test.props, Known):
            raise unproven(
                test.date.place,
                f"whether the props were removed in the {kind} of {test.date.value} is not recorded",
                f"write props: removed, or props: fitted, in the {kind}",
            )
    return Clear(
        f"props removed in the {' and the '.join(f'{kind} of {test.date.value}' for kind, test in speaking)}"
    )


RULES = (output_order, props_removed)
