"""Did the motors work alike in the hover?"""

import math
from collections.abc import Sequence

from preflint.api import (
    AFTER_FLIGHT,
    CAUTION,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Place,
    Tolerance,
    Unproven,
    name,
    records,
    rule,
)
from preflint.compute.after_flight import mean_ratio, trim_thrusts
from preflint.compute.decision import decide, t_factor, u_rectangular

from ..shared.places import rotor_places
from .look import HOW, KIND, ran

SPLIT = Tolerance(
    "output_split_percent",
    "%",
    10.0,
    "lower",
    "common practice, no source",
    "by how much the mean outputs of the rotors of either spin may differ in a hover",
)
SPREAD = Tolerance(
    "output_trim_percent",
    "%",
    20.0,
    "lower",
    "common practice, no source",
    "how much of the mean thrust may be added at one end to keep the aircraft level",
)
_READ_WITHIN = 1.0  # half-width of a mean output, in points; common practice, no source
_SOURCE = "momentum theory, thrust goes with the square of the speed (Leishman, chapter 2); limit: common practice"
_ALONE = "no look after a flight notes the outputs of every rotor"


@rule(
    "after_flight/output-split",
    each="aircraft",
    severity=CAUTION,
    job=Job.HOVER,
    precaution=AFTER_FLIGHT,
    source=_SOURCE,
    tolerances=(SPLIT,),
)
def output_split(aircraft: Aircraft, on: Context) -> Outcome:
    """Do the rotors of either spin work alike in a hover?

    Where those that turn cw must work harder than those that turn ccw, something turns the aircraft: a motor tilted on
    its arm, a bent blade, a prop of another pitch. The flight controller hides it and spends its reserve on it; in a
    full-throttle climb it is used up, and the aircraft turns by itself.

    Reasoning: mean output of the cw rotors over that of the ccw rotors, of the latest look that notes all of them.
    Each mean is good to 1 point. Found if the ratio is further from 1 than `output_split_percent` by more than its U
    at 95 %, clear if with U it is not.

    Fails:

        records:
          after_flight_look:
            - {date: 2026-05-17, motors: {others: warm}, nuts_moved: [],
               output_percent: {front-left: 58, front-right: 46, rear-left: 46, rear-right: 58}}
        rotors: [{at: front-left, spin: cw}, {at: front-right, spin: ccw}, {at: rear-left, spin: ccw},
                 {at: rear-right, spin: cw}]

    Passes: the same with

        records:
          after_flight_look:
            - {date: 2026-05-17, motors: {others: warm}, nuts_moved: [],
               output_percent: {front-left: 52, front-right: 51, rear-left: 50, rear-right: 52}}

    It does not check which of them is to blame.
    """
    look = _latest(aircraft, on)
    if look is None:
        return NotApplicable(_ALONE)
    spins = {name(one): one.spin.value for one in aircraft.rotors if isinstance(one.spin, Known)}
    cw, ccw = ([look.output_percent[at].value for at, spin in spins.items() if spin == way] for way in ("cw", "ccw"))
    if len(spins) < len(aircraft.rotors) or not cw or not ccw:
        return NotApplicable("it is not told of every rotor which way it turns, or all turn alike")
    if not sum(cw) > 0 or not sum(ccw) > 0:
        return NotApplicable("the outputs noted are none of a hover")
    ratio, u = mean_ratio(cw, ccw, _READ_WITHIN)
    limit = on.limit(SPLIT)
    evidence = (
        f"cw {sum(cw) / len(cw):.1f} %, ccw {sum(ccw) / len(ccw):.1f} % after {ran(look)}: "
        f"{100 * (ratio - 1):+.1f} ± {100 * t_factor(math.inf) * u:.1f} %, at most {limit:g} % either way"
    )
    decision = decide(ratio - 1, u, math.inf, limit / 100)
    if decision == "found":
        harder, more = ("cw", ratio - 1) if ratio > 1 else ("ccw", 1 / ratio - 1)
        return Finding(
            place=_place(look),
            message=f"in a hover the rotors that turn {harder} work {100 * more:.0f} % harder than the others",
            evidence=evidence,
            do="look along each arm for a motor that is tilted; compare the props; put it right and look again",
        )
    return Clear(evidence) if decision == "clear" else _too_near(look, evidence)


@rule(
    "after_flight/output-trim",
    each="aircraft",
    severity=CAUTION,
    job=Job.HOVER,
    precaution=AFTER_FLIGHT,
    source=_SOURCE,
    tolerances=(SPREAD,),
)
def output_trim(aircraft: Aircraft, on: Context) -> Outcome:
    """Does one end of the aircraft carry much more than the other?

    In a hover the thrusts balance about the centre of mass. Where one end works much harder, the pack or the payload
    sits too far that way, or a motor there gives less than it should; it has the least reserve when a gust lifts the
    other end.

    Reasoning: thrust goes with the square of the output. A plane through the thrusts over the rotors' places gives
    what is added at the front and at the right, as a share of the mean thrust. A centre of mass 18.67 mm ahead of the
    middle of rotors 180 mm ahead and behind adds 10.4 % in front, where the outputs are then 1.11 times those behind;
    25 % more output in front means 22 % more thrust. Found above `output_trim_percent` by more than U (each mean is
    good to 1 point), clear if with U it is not.

    Fails:

        records:
          after_flight_look:
            - {date: 2026-05-17, motors: {others: warm}, nuts_moved: [],
               output_percent: {front-left: 62, front-right: 62, rear-left: 45, rear-right: 45}}

    Passes: the same with

        records:
          after_flight_look:
            - {date: 2026-05-17, motors: {others: warm}, nuts_moved: [],
               output_percent: {front-left: 54, front-right: 53, rear-left: 50, rear-right: 50}}

    It does not check whether the weight or a motor is to blame.
    """
    look = _latest(aircraft, on)
    if look is None:
        return NotApplicable(_ALONE)
    outputs = [look.output_percent[at].value for at in aircraft.positions]
    if not sum(outputs) > 0:
        return NotApplicable("the outputs noted are none of a hover")
    places = list(rotor_places(aircraft).values())
    parts = trim_thrusts(outputs, [place[0] for place in places], [place[1] for place in places])
    # Thrust goes with the square of the output: twice its relative uncertainty, less as more rotors share an end.
    mean = sum(outputs) / len(outputs)
    u = 2 * u_rectangular(_READ_WITHIN) / mean / math.sqrt(len(outputs) / 2)
    limit = on.limit(SPREAD)
    ends = [(max(part, default=0.0), part) for part in parts]
    most, part = max(ends)
    axis = 0 if part is parts[0] else 1
    end = _end([place[axis] for place in places], part, ("right", "left") if axis else ("front", "rear"))
    evidence = (
        f"outputs {', '.join(f'{output:g}' for output in outputs)} % after {ran(look)}: the {end} adds "
        f"{100 * most:.0f} ± {100 * t_factor(math.inf) * u:.0f} % of the mean thrust, at most {limit:g} %"
    )
    decision = decide(most, u, math.inf, limit / 100)
    if decision == "found":
        return Finding(
            place=_place(look),
            message=f"the {end} must lift {100 * most:.0f} % more than the mean to stay level in a hover",
            evidence=evidence,
            do=f"move pack or payload away from the {end}; if it stays, look for a weak motor or prop there",
        )
    return Clear(evidence) if decision == "clear" else _too_near(look, evidence)


def _end(places: Sequence[float], part: tuple[float, ...], words: tuple[str, str]) -> str:
    """The end at which most is added, by the rotors' places along one axis."""
    ahead = places[part.index(max(part))] >= sum(places) / len(places)
    return words[0] if ahead else words[1]


def _latest(aircraft: Aircraft, on: Context) -> records.AfterFlightLook | None:
    """The latest look that notes the output of every rotor and still speaks; None where none notes them."""
    covering = [
        look for look in aircraft.records.after_flight_look if set(aircraft.positions) <= set(look.output_percent)
    ]
    if not on.so_far(covering):
        return None
    return on.freshest(KIND, covering, HOW, mind=AFTER_FLIGHT, says=lambda look: None)


def _place(look: records.AfterFlightLook) -> Place:
    return next(iter(look.output_percent.values())).place


def _too_near(look: records.AfterFlightLook, evidence: str) -> Unproven:
    return Unproven(
        cause="uncertain",
        place=_place(look),
        message="the outputs are too near the limit to tell",
        do="note the mean outputs of a longer steady hover",
        evidence=evidence,
        record=KIND,
    )
