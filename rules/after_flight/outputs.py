"""Did the motors work alike in the hover?"""

from __future__ import annotations

import math
from collections.abc import Sequence

from preflint.api import (
    AFTER_FLIGHT,
    CAUTION,
    DESK,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Open,
    Outcome,
    Place,
    Related,
    Tolerance,
    Unproven,
    name,
    records,
    rule,
)
from preflint.arrays import np
from preflint.compute.after_flight import mean_ratio, trim_thrusts
from preflint.compute.decision import Decision, decide, t_factor, u_rectangular

from ..mass.balance import BALANCED, balance, flat_places_mm, off
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
_POWER_WITHIN = 0.2  # of a place by outputs: thrust goes with them to a power of 1.6 to 2.4; common practice, no source
_ONE_LINE_MM = 10.0  # nearer than that to one line the rotors tell nothing across it
_READ_WITHIN = 1.0  # half-width of a mean output, in points; common practice, no source
_WORST_FIRST: tuple[Decision, ...] = ("found", "uncertain", "clear")
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
    if max(*cw, *ccw) <= 1:
        return _parts_of_one(look)
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
    if max(outputs) <= 1:
        return NotApplicable("the outputs may be parts of one: see output-split")
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


@rule(
    "after_flight/outputs-and-balance",
    each="aircraft",
    severity=CAUTION,
    job=Job.HOVER,
    precaution=AFTER_FLIGHT,
    source=_SOURCE,
    tolerances=(SPREAD, *BALANCED),
)
def outputs_and_balance(aircraft: Aircraft, on: Context) -> Outcome:
    """Do the outputs of a hover put the weight where the scales put it?

    The rotors on the side of the weight work harder. Where the scales say the nose is heavy and the tail works
    harder, a motor or a prop there gives less than it should, an output is that of another rotor, or the sign of a
    support was written wrong: then it is balanced the wrong way next time.

    Reasoning: thrust goes with the square of the output, so that Σ thrust · place / Σ thrust is where the weight
    acts by the outputs of the latest look that notes all of them; the latest `balance_point` tells where it acts.
    What lies between them, as thrust added at the end of the aircraft (see output-trim), is found above
    `output_trim_percent` by more than U, clear if with U it is not. U: each output to 1 point, supports and scales,
    and thrust with the output to any power from 1.6 to 2.4. Left and right are compared where the balance point
    tells both.

    Fails:

        aircraft: {name: Trial, layout: quad-x, arm_mm: 300}
        records:
          balance_point: [{date: 2026-05-16, columns: [forward_mm, mass_g], rows: [[200, 1125], [-200, 825]]}]
          after_flight_look:
            - {date: 2026-05-17, motors: {others: warm}, nuts_moved: [],
               output_percent: {front-left: 48, front-right: 48, rear-left: 55, rear-right: 55}}

    Passes: the same with

        records:
          balance_point: [{date: 2026-05-16, columns: [forward_mm, mass_g], rows: [[200, 825], [-200, 1125]]}]
          after_flight_look:
            - {date: 2026-05-17, motors: {others: warm}, nuts_moved: [],
               output_percent: {front-left: 48, front-right: 48, rear-left: 55, rear-right: 55}}

    It does not check which of the two is right, nor wind in the hover.
    """
    look = _latest(aircraft, on)
    if look is None:
        return NotApplicable(_ALONE)
    try:
        held = balance(on)
    except Open:
        return NotApplicable("no balance point speaks for it")
    outputs = np.array([look.output_percent[at].value for at in aircraft.positions])
    if not outputs.sum() > 0:
        return NotApplicable("the outputs noted are none of a hover")
    if outputs.max() <= 1:
        return NotApplicable("the outputs may be parts of one: see output-split")
    places, thrusts = flat_places_mm(aircraft), outputs**2
    acts, limit = thrusts @ places / thrusts.sum(), on.limit(SPREAD) / 100
    read = 2 * u_rectangular(_READ_WITHIN) / outputs.mean() / math.sqrt(len(outputs) / 2)
    judged: list[tuple[float, float, Decision]] = []
    for axis in (0, 1) if held.u[1] else (0,):
        spread = float(np.mean(places[:, axis] ** 2))
        if spread < _ONE_LINE_MM**2:
            continue
        per_mm = float(abs(places[:, axis]).max()) / spread  # added at the end, for each mm
        added = per_mm * float(abs(acts[axis] - held.centre[axis]))
        u = math.hypot(read, per_mm * held.u[axis], per_mm * u_rectangular(_POWER_WITHIN * abs(acts[axis])))
        judged.append((added, u, decide(added, u, math.inf, limit)))
    if not judged:
        return NotApplicable("all rotors stand in one line")
    words = f"by the outputs after {ran(look)} the weight acts {off(acts)}; {held.evidence}"
    decision = min((one for *_, one in judged), key=_WORST_FIRST.index)
    added, u, _ = max(one for one in judged if one[2] == decision)
    evidence = (
        f"{words}; what lies between adds {100 * added:.0f} ± {100 * t_factor(math.inf) * u:.0f} % of the mean thrust "
        f"at an end, at most {100 * limit:g} %"
    )
    if decision == "found":
        return Finding(
            place=_place(look),
            message=f"the outputs put the weight {off(acts)}, the scales {off(held.centre)}",
            evidence=evidence,
            do="look at the signs of the balance point, and which motor each output turns; then for a weak motor or a "
            "worn prop where the outputs are highest",
            related=(Related(held.record.place, "the balance point"),),
            mind=PACK_UNPLUGGED,
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


def _parts_of_one(look: records.AfterFlightLook) -> Unproven:
    return Unproven(
        cause="uncertain",
        place=_place(look),
        message="no output is more than 1 %: they may be parts of one",
        do="write output_percent in per cent of full: 58 for 0.58",
        mind=DESK,
        on_paper=True,
    )


def _too_near(look: records.AfterFlightLook, evidence: str) -> Unproven:
    return Unproven(
        cause="uncertain",
        place=_place(look),
        message="the outputs are too near the limit to tell",
        do="note the mean outputs of a longer steady hover",
        evidence=evidence,
        record=KIND,
    )
