"""Was a motor hot after the flight?"""

import math

from preflint.api import (
    AFTER_FLIGHT,
    NO_GO,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    Open,
    Outcome,
    Tolerance,
    Unproven,
    level_of,
    name,
    records,
    rotor,
    rule,
)
from preflint.compute.after_flight import above_median_k
from preflint.compute.decision import decide, t_factor, u_rectangular

from .look import AGAIN, AGAIN_MIND, KIND, judged, ran

HOTTER = Tolerance(
    "motor_hotter_k",
    "K",
    15.0,
    "lower",
    "common practice, no source",
    "how much warmer than the median of the motors that work alike one may be after a flight",
)
HOT = Tolerance(
    "motor_hot_c",
    "°C",
    80.0,
    "lower",
    "common practice, no source (magnets of the plainest grade are made for 80 °C, from memory)",
    "how hot a motor may be after a flight",
)
_READ_WITHIN_K = 2.0  # half-width of a reading at a motor's bell; common practice, no source
_DO = f"find why: bearing, screw in the windings, prop, wire or joint; put it right; {AGAIN}"


@rule(
    "after_flight/hot-motor",
    each="rotor",
    severity=NO_GO,
    job=Job.HOVER,
    precaution=AFTER_FLIGHT,
    source="inspection after the first flight, as FAA AC 90-89B asks for (from memory); a surface of bare metal of 65 "
    "to 70 °C burns within a second, ISO 13732-1 (from memory)",
    tolerances=(HOTTER, HOT),
)
def hot_motor(subject: rotor.Rotor, on: Context) -> Outcome:
    """Was a motor hot after the flight, or much warmer than the others?

    A motor that runs hot has a reason: a dry or bent bearing, a screw that touches its windings, a prop too large or
    on the wrong way, a bad joint that lets it run on two of three wires. The reason does not go away; the next flight
    ends with a motor that stops. So it stays on the ground until the reason is found and a later look shows no hot
    motor: after a run tied down, which no flight need precede. Work alone does not show that it helped.

    Reasoning: hot is what no finger stays on for a second. Of temperatures: found above `motor_hot_c`, or more than
    `motor_hotter_k` above the median of all motors that work alike (upper and lower rotors of one axis apart; three
    or more), itself among them, so that a nose that carries more makes no motor look sick. Readings are taken as good
    to 2 K each; the excess less U at 95 % must be above the limit to be found, with U within it to be clear.

    Fails:

        records:
          after_flight_look: [{date: 2026-05-17, motors: {front-left: hot, others: warm}, nuts_moved: []}]

    Passes: the same with

        records:
          after_flight_look: [{date: 2026-05-17, motors: {front-left: warm, others: warm}, nuts_moved: []}]

    It does not check how long the motors cooled before they were touched, nor what heats all of them alike below the
    limit.
    """
    at = name(subject)
    covering = [look for look in on.aircraft.records.after_flight_look if at in look.motors or at in look.motors_c]

    def judge(look: records.AfterFlightLook) -> Outcome:
        return _judge(look, at, on)

    return judged(on, at, covering, judge, _DO, AGAIN_MIND)


def _judge(look: records.AfterFlightLook, at: str, on: Context) -> Outcome:
    """What one look shows of this motor."""
    felt, read = look.motors.get(at), look.motors_c.get(at)
    if felt is not None and felt.value == "hot":
        return Finding(
            place=felt.place,
            message=f"the motor was hot after {ran(look)}",
            evidence="hot: no finger stays on it for a second",
            do=_DO,
        )
    if read is not None:
        return _by_reading(look, at, read, on)
    assert felt is not None
    return Clear(f"{felt.value} after {ran(look)}")


def _by_reading(look: records.AfterFlightLook, at: str, read: Known[float], on: Context) -> Outcome:
    alike = [one.value for other, one in look.motors_c.items() if level_of(other) == level_of(at)]
    u, most, k = u_rectangular(_READ_WITHIN_K), on.limit(HOT), t_factor(math.inf)
    told = [f"{read.value:g} ± {k * u:.0f} °C, at most {most:g} °C"]
    decisions = [decide(max(read.value, 0.0), u, math.inf, most)]
    message = f"the motor was at {read.value:g} °C after {ran(look)}"
    if len(alike) >= 3:
        more, u_more, limit = above_median_k(read.value, alike), u * math.sqrt(1 + 1 / len(alike)), on.limit(HOTTER)
        told.append(f"{more:+.0f} ± {k * u_more:.0f} K against the median of all alike, at most {limit:g} K more")
        decisions.append(decide(max(more, 0.0), u_more, math.inf, limit))
        if decisions[1] == "found":
            message = f"the motor was {more:.0f} K hotter than the others after {ran(look)}"
    evidence = "; ".join(told)
    if "found" in decisions:
        return Finding(place=read.place, message=message, evidence=evidence, do=_DO)
    if "uncertain" in decisions:
        raise Open(
            Unproven(
                cause="uncertain",
                place=read.place,
                message=f"the motor was warm after {ran(look)}: too near the limit to tell",
                do="feel it after the next flight: hot is what no finger stays on for a second",
                evidence=evidence,
                record=KIND,
            )
        )
    return Clear(f"{evidence}; after {ran(look)}")
