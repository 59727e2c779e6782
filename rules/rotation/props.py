"""Does each prop push up, leading edge first; are all of them still in the inverted rig?"""

from collections import defaultdict

from preflint.api import (
    NO_GO,
    PACK_UNPLUGGED,
    RIG_CHANGE,
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
    arm_of,
    name,
    need,
    records,
    rule,
    what_happened,
)
from preflint.compute.handedness import PropState, prop_state

from .state import LOOK, RUNS, Rotor, all_inverted, names, state

_SHAPE = "derived: a screw turned end for end keeps its hand, and drives the way its hand and its turning say"


@rule(
    "rotation/prop-state",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=_SHAPE,
    needed_for_flight=True,
    shown_by=records.RigCheck,
)
def prop_state_rule(rotor: Rotor, on: Context) -> Outcome:
    """Each prop pushes up, leading edge first.

    A prop can sit on its motor in four ways. With the spin seen from above, the hand read with the
    domed side toward you, and the domed side up or down:

    * flight: hand as spin, domed side up. Pushes up, rounded edges first.
    * turned over: hand as spin, domed side down. Still pushes up, but weakly, trailing edge first.
    * wrong hand: other hand, domed side up. Pushes down, trailing edge first.
    * inverted load: other hand, domed side down. Pushes down with nearly its full thrust, rounded
      edges first. Meant for loaded runs on the bench only.

    Turning a prop over never reverses its thrust: a screw turned end for end has the same hand. At
    take-off the aircraft tips over toward the rotor that pushes weakly or down.

    Fails:

        rotors:
          - {at: front-left, spin: cw, prop: {hand: ccw, face: up}}

    Passes:

        rotors:
          - {at: front-left, spin: cw, prop: {hand: cw, face: up}}

    What is written under prop has no date: once the logbook has work on prop, nut, adapter or motor here, or a mishap,
    a rig_check after it is needed.

    Not checked: whether spin, hand and face are as written. Where every prop of the aircraft is in
    the inverted rig, rotation/inverted-rig says so once.
    """
    spin, hand, face = need(rotor.spin), need(rotor.prop.hand), need(rotor.prop.face)
    found = prop_state(spin.value, hand.value, face.value)
    if on.once(all_inverted, on.aircraft):
        return NotApplicable("said once by rotation/inverted-rig")
    prop = f"{hand.value} prop, domed side {face.value}"
    evidence = f"seen from above the motor turns {spin.value}; {prop}: {RUNS[found]}"
    at = name(rotor)
    if found == "flight":
        _looked_at_since_work(rotor, on)
        return Clear(evidence)
    message = {
        "turned-over": "is turned over: it lifts weakly",
        "wrong-hand": f"is the wrong hand for its {spin.value} motor: it pushes down",
        "inverted-load": "is in the inverted rig: it pushes down with nearly full thrust",
    }[found]
    place = face.place if found == "turned-over" else hand.place
    related = [Related(spin.place, f"the motor turns {spin.value}, seen from above")]
    if found == "inverted-load":
        related.append(Related(face.place, "the domed side points down"))
    remedy = _remedy(rotor, found, spin.value, hand.value, on)
    return Finding(
        place=place,
        message=f"the {hand.value} prop at {at} {message}",
        evidence=evidence,
        do=remedy,
        related=tuple(related),
    )


def _looked_at_since_work(rotor: Rotor, on: Context) -> None:
    """Ends the rule as unproven where work in the logbook may have changed the prop since it was looked at."""
    at, checks = name(rotor), on.aircraft.records.rig_check
    work = on.work_on("rig_check", at)
    if work is None:
        return
    if not on.so_far(checks):
        message = (
            "since this, the prop may sit otherwise than written, and no look at the props is recorded after it: "
            f"{what_happened(work)}"
        )
        related = (Related(work.place, what_happened(work)),)
        raise Open(Unproven(place=rotor.prop.place, message=message, do=LOOK, related=related, record="rig_check"))
    on.freshest("rig_check", checks, LOOK, at, says=lambda check: check.rig.value)


def _remedy(rotor: Rotor, found: PropState, spin: str, hand: str, on: Context) -> str:
    at = name(rotor)
    if found == "turned-over":
        return "turn the prop over, domed side up"
    expected = on.aircraft.flight_controller.expects_spin.get(at)
    if expected is not None and expected.value == hand:
        leave = "leave this prop as it is" if found == "wrong-hand" else "turn this prop over, domed side up"
        return (
            f"reverse the motor to {hand}, as the flight controller expects "
            f"(swap any two of its three wires), and {leave}"
        )
    spare = [
        other
        for other in on.aircraft.rotors
        if on.once(state, other) in ("wrong-hand", "inverted-load")
        and isinstance(other.prop.hand, Known)
        and other.prop.hand.value == spin
    ]
    where = f"; a {spin} prop sits on a {hand} motor at {names(spare)}" if spare else ""
    return f"fit a {spin} prop, domed side up{where}"


@rule(
    "rotation/inverted-rig",
    each="aircraft",
    severity=NO_GO,
    job=Job.FLIGHT_RIG,
    precaution=RIG_CHANGE,
    source=_SHAPE,
)
def inverted_rig(aircraft: Aircraft, on: Context) -> Outcome:
    """The props are not all in the inverted rig any more.

    For loaded runs on the bench every prop is put on a motor of the other spin and turned over, so
    that it runs leading edge first and pushes the aircraft onto the bench with nearly its full thrust.
    Flown like this the aircraft is driven into the ground. Everything looks tidy in this rig: all
    props differ from flight in the same way, so it is said once and not rotor by rotor.

    Fails:

        every_rotor:
          prop: {face: down}
        rotors:
          - {at: front-left, spin: cw, prop: {hand: ccw}}
          - {at: front-right, spin: ccw, prop: {hand: cw}}
          - {at: rear-left, spin: ccw, prop: {hand: cw}}
          - {at: rear-right, spin: cw, prop: {hand: ccw}}

    Passes:

        every_rotor:
          prop: {face: up}
        rotors:
          - {at: front-left, spin: cw, prop: {hand: cw}}
          - {at: front-right, spin: ccw, prop: {hand: ccw}}
          - {at: rear-left, spin: ccw, prop: {hand: ccw}}
          - {at: rear-right, spin: cw, prop: {hand: cw}}

    Not checked: single props left over from the rig, which are for rotation/prop-state.
    """
    for rotor in aircraft.rotors:
        found = on.once(state, rotor)
        if found is not None and found != "inverted-load":
            return Clear(f"{name(rotor)} is not in the inverted rig: its prop {RUNS[found]}")
    for rotor in aircraft.rotors:
        need(rotor.spin), need(rotor.prop.hand), need(rotor.prop.face)
    places = {need(rotor.prop.face).place: name(rotor) for rotor in reversed(aircraft.rotors)}
    first = need(aircraft.rotors[0].prop.face).place
    related = [Related(place, f"{at} alike") for place, at in reversed(places.items()) if place != first]
    cw = [rotor for rotor in aircraft.rotors if need(rotor.spin).value == "cw"]
    ccw = [rotor for rotor in aircraft.rotors if need(rotor.spin).value == "ccw"]
    return Finding(
        place=first,
        message="all props are still in the inverted rig: they push down with nearly full thrust",
        evidence=f"each of the {len(aircraft.rotors)} props is on a motor of the other hand, domed side down: "
        f"{RUNS['inverted-load']}",
        do=_back_to_flight(aircraft, cw, ccw),
        related=tuple(related),
    )


def _back_to_flight(aircraft: Aircraft, cw: list[Rotor], ccw: list[Rotor]) -> str:
    targets = [f"the {hand} props on {names(rotors)}" for hand, rotors in (("cw", cw), ("ccw", ccw)) if rotors]
    short = ""
    if aircraft.about.layout.value in ("quad-x", "quad-plus") and _neighbours_alternate(aircraft):
        short = ": each moves one place"
    elif aircraft.about.layout.value in ("x8", "y6") and _arms_alternate(aircraft):
        short = ": upper and lower of each arm change places"
    return f"move every prop back to a motor of its own hand and turn it domed side up{short}; {', '.join(targets)}"


def _neighbours_alternate(aircraft: Aircraft) -> bool:
    first, second = ("front-left", "rear-right") if aircraft.about.layout.value == "quad-x" else ("front", "rear")
    pair = {need(aircraft.rotor(at).spin).value for at in (first, second)}
    others = {need(rotor.spin).value for rotor in aircraft.rotors if name(rotor) not in (first, second)}
    return len(pair) == 1 and len(others) == 1 and pair != others


def _arms_alternate(aircraft: Aircraft) -> bool:
    spins: dict[str, set[str]] = defaultdict(set)
    for rotor in aircraft.rotors:
        spins[arm_of(name(rotor))].add(need(rotor.spin).value)
    return all(len(of_arm) == 2 for of_arm in spins.values())
