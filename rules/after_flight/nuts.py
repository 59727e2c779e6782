"""Had a nut moved after the flight?"""

from preflint.api import (
    AFTER_FLIGHT,
    NO_GO,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    Outcome,
    Precaution,
    name,
    need,
    records,
    rotor,
    rule,
)

from .look import AGAIN, AGAIN_MIND, judged, ran

_DO = (
    "hold the nut, turn the motor by hand and write a nut_test; fit a nut of the right hand that locks; mark it with a "
    f"line of paint; {AGAIN}"
)
_MIND = Precaution(
    *AGAIN_MIND.sentences,
    "A nut that runs off flies, and the prop after it: nobody in the plane of the props or above it.",
    job=AGAIN_MIND.job,
)


@rule(
    "after_flight/nut-moved",
    each="rotor",
    severity=NO_GO,
    job=Job.HOVER,
    precaution=AFTER_FLIGHT,
    source="inspection after the first flight, as FAA AC 90-89B asks for (from memory)",
)
def nut_moved(subject: rotor.Rotor, on: Context) -> Outcome:
    """Had a nut moved or come loose after the flight?

    A nut that moves in one flight is off in the next: it is of the wrong hand, its locking ring is worn, or the prop
    creeps under it. Tightening it puts the aircraft back to where it was before that flight. So it stays on the ground
    until the reason is found and a later look shows that the nut stayed where it was, after a run tied down: with
    everyone behind the barrier, since a nut that runs off flies, and the prop after it.

    Fails:

        records:
          after_flight_look: [{date: 2026-05-17, motors: {others: warm}, nuts_moved: [rear-left]}]

    Passes: the same with

        records:
          after_flight_look: [{date: 2026-05-17, motors: {others: warm}, nuts_moved: []}]

    It does not check of which hand the nut is: retention/nut-hand does.
    """
    at = name(subject)
    covering = [look for look in on.aircraft.records.after_flight_look if isinstance(look.nuts_moved, Known)]

    def judge(look: records.AfterFlightLook) -> Outcome:
        return _judge(look, at)

    return judged(on, at, covering, judge, _DO, _MIND)


def _judge(look: records.AfterFlightLook, at: str) -> Outcome:
    """What one look shows of this nut."""
    moved = next((one for one in need(look.nuts_moved).value if one.value == at), None)
    if moved is None:
        return Clear(f"the nut had not moved after {ran(look)}")
    return Finding(
        place=moved.place,
        message=f"the nut had moved after {ran(look)}",
        evidence="a nut that moves in one flight is off in the next",
        do=_DO,
    )
