"""Which rotor answered which output, and were the motors run with the props removed?"""

from contextlib import suppress

from preflint.api import (
    CAUTION,
    NO_GO,
    PROPS_REMOVED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Open,
    Outcome,
    Related,
    name,
    records,
    rule,
)

from ..shared.props_off import judge_props
from .exchange import consequence
from .state import WIRES, Rotor

_OUTPUT_TEST = "command one output at a time, see which motor turns and write an output_test"


@rule(
    "rotation/output-order",
    each="rotor",
    severity=NO_GO,
    job=Job.PROPS_OFF,
    precaution=WIRES,
    source="common practice, no source",
    needed_for_flight=True,
    shown_by=records.OutputTest,
)
def output_order(rotor: Rotor, on: Context) -> Outcome:
    """Each output drives the rotor it should.

    When one side sinks the flight controller speeds up the rotors there. If the output for one place
    drives another rotor, the correction makes the error larger, and most aircraft flip over at their
    first lift-off. Spins and props can all be right meanwhile. Two outputs that drive each other's rotor
    are said once, at the first of the two.

    What would happen is worked out: the moments of the rotors (from places and spins) times the shares that
    the flight controller commands (least squares for thrust, roll, pitch and yaw) times the exchange. Where
    a mode of that product that tilts the aircraft has an eigenvalue of 0.05 or less, a tilt is answered by
    tilting further, or not at all: it flips. The upper and the lower rotor of one arm exchanged leave roll and
    pitch as they are and take from yaw alone: an x8 keeps half of it, a y6 a third. It is a no-go all the same.

    Fails:

        records:
          output_test:
            - {date: 2026-04-18, props: removed, turned: {front-left: front-right, front-right: front-left}}

    Passes:

        records:
          output_test:
            - {date: 2026-04-18, props: removed, turned: as-commanded}

    Not checked: that the flight controller knows which way it is mounted; that takes a tilt test.
    """
    at = name(rotor)
    told = on.once(_told, at, on)
    if isinstance(told, Finding) and (other := _said_before(at, told, on)):
        return NotApplicable(f"said once with {other}: the two are exchanged")
    return told


def _told(at: str, on: Context) -> Outcome:
    """What the test that failed, or else the one that still speaks, shows of a rotor."""
    tests = [test for test in on.aircraft.records.output_test if at in test.turned]
    return on.tested(
        "output_test",
        tests,
        lambda test: _driven(at, test, on),
        _OUTPUT_TEST,
        at,
        PROPS_REMOVED,
        says=lambda test: test.turned[at].value,
    )


def _said_before(at: str, told: Finding, on: Context) -> str | None:
    """The rotor whose finding says already that its output and this one's drive each other's rotor."""
    for other in on.aircraft.positions[: on.aircraft.positions.index(at)]:
        with suppress(Open):
            before = on.once(_told, other, on)
            if isinstance(before, Finding) and _points_at(before, told) and _points_at(told, before):
                return other
    return None


def _points_at(one: Finding, other: Finding) -> bool:
    return any(related.place == other.place for related in one.related)


def _driven(at: str, test: records.OutputTest, on: Context) -> Outcome:
    """What one output test shows of a rotor by itself."""
    drives = test.turned[at]
    if drives.value == at:
        return Clear(f"output test of {test.date.value}: the output for {at} turned {at}")
    other, back = drives.value, test.turned.get(drives.value)
    again = "; then repeat the output test for every output"
    ring = _ring(at, test)
    happens, numbers = _happens(ring, test, on.aircraft)
    commanded = f"output test of {test.date.value}: commanded {at}, {other} turned"
    if back is not None and back.value == at:
        return Finding(
            place=drives.place,
            message=f"the outputs for {at} and {other} are exchanged: {happens}",
            evidence=f"{commanded}; commanded {other}, {at} turned{numbers}",
            do=f"exchange its signal wire at the flight controller with that of {other}{again}",
            related=(
                Related(back.place, f"the output for {other} drives {at}"),
                Related(on.aircraft.rotor(other).place, f"{other}, the other of the two"),
            ),
        )
    wanted = [output for output, turned in test.turned.items() if turned.value == at]
    source = f"from the output for {wanted[0]} " if wanted else ""
    what = f"a correction meant for {at} would reach {other}" if not ring else happens
    return Finding(
        place=drives.place,
        message=f"the output for {at} drives {other}: {what}",
        evidence=commanded + numbers,
        do=f"move its signal wire {source}to its own output, and that of {other} to its own{again}",
        related=(Related(back.place, f"the output for {other} drives {back.value}"),) if back is not None else (),
    )


def _ring(at: str, test: records.OutputTest) -> dict[str, str]:
    """The outputs that drive each other's rotors, from this one round to it again; empty where they do not close."""
    ring: dict[str, str] = {}
    output = at
    while output in test.turned and output not in ring:
        ring[output] = test.turned[output].value
        output = ring[output]
    return ring if output == at else {}


def _happens(ring: dict[str, str], test: records.OutputTest, aircraft: Aircraft) -> tuple[str, str]:
    """What these outputs do by themselves, and the numbers; with all others that are wrong too, where there are any."""
    if not ring:
        return "", ""
    happens, numbers = consequence(aircraft, ring)
    numbers = numbers and f"; {numbers}"
    turned = {output: drives.value for output, drives in test.turned.items()}
    wrong = {output: rotor for output, rotor in turned.items() if output != rotor}
    if set(wrong) > set(ring) and set(wrong) == set(wrong.values()):
        _, together = consequence(aircraft, wrong)
        numbers += f"; with all {len(wrong)} outputs that are wrong: {together}" if together else ""
    return happens, numbers


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

    Not checked: tilt, stick and link-loss tests; control/props-removed looks at them.
    """
    tested = aircraft.records
    return judge_props(
        {
            "spin test": [(test, test.seen) for test in on.so_far(tested.spin_test)],
            "output test": [(test, test.turned) for test in on.so_far(tested.output_test)],
        },
        "rotors",
    )
