"""Was the rig looked at after the last run in the inverted rig?"""

from preflint.api import (
    NO_GO,
    RIG_CHANGE,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    Unproven,
    records,
    rule,
)

from .runs import LoadedRun, maybe_inverted
from .state import LOOK, all_inverted


@rule(
    "rotation/rig-check",
    each="aircraft",
    severity=NO_GO,
    job=Job.FLIGHT_RIG,
    precaution=RIG_CHANGE,
    source="common practice, no source",
    needed_for_flight=True,
    shown_by=records.RigCheck,
)
def rig_check(aircraft: Aircraft, on: Context) -> Outcome:
    """The rig was looked at after the last run in the inverted rig.

    After a run in the inverted rig every prop has to go back. What is written under rotors may be
    older than that, so one dated look at all props, later than the last such run, is asked for. On
    one day without times the order is open and is not assumed in the aircraft's favour.

    Fails:

        records:
          rig_check: [{date: 2026-05-20 09:10, rig: inverted-load}]

    Passes:

        records:
          current_comparison:
            - date: 2026-04-18 14:00
              route: inverted-load
              columns: [indicated_a, reference_a]
              rows: [[0.1, 0.0], [20.9, 21.4]]
          rig_check: [{date: 2026-05-20 09:10, rig: flight}]

    Not checked: what the person who looked saw. A current comparison, interference run or sag run
    that does not say its route counts as one that may have been inverted.
    """
    checks = aircraft.records.rig_check
    if failed := on.failed("rig_check", checks, _still_flight):
        return NotApplicable("said once by rotation/inverted-rig") if on.once(all_inverted, aircraft) else failed
    runs = on.once(maybe_inverted, aircraft)
    if not runs:
        return NotApplicable("no record was taken in the inverted rig")
    if on.latest(checks) is None:
        kind, run = runs[-1]
        message = f"no rig check is recorded after the {kind} of {run.date.value}"
        return Unproven(
            place=aircraft.records.place, message=message, do=LOOK, related=_why(kind, run), record="rig_check"
        )
    check = on.freshest("rig_check", checks, LOOK, says=lambda c: c.rig.value)
    # The last look saw the flight rig, so any look that is known to be later than a run will do.
    looks = on.so_far(checks)
    unseen = [(kind, run) for kind, run in reversed(runs) if not any(c.date.value.after(run.date.value) for c in looks)]
    for kind, run in unseen:
        if check.date.value.after(run.date.value) is False:
            message = f"the rig check of {check.date.value} is older than the {kind} of {run.date.value}"
            return Unproven(
                cause="stale",
                place=check.date.place,
                message=message,
                do=LOOK,
                related=_why(kind, run),
                record="rig_check",
            )
    if unseen:
        kind, run = unseen[0]
        message = f"which came first on {check.date.value.date}, the rig check or the {kind}, is not recorded"
        how = f"write the time of day in both; if the rig check came first: {LOOK}"
        return Unproven(cause="order-open", place=check.date.place, message=message, do=how, related=_why(kind, run))
    kind, run = runs[-1]
    return Clear(
        f"rig check of {check.date.value}: flight; the last run that was or may have been inverted "
        f"is the {kind} of {run.date.value}"
    )


def _still_flight(look: records.RigCheck) -> Outcome:
    """What one look shows by itself."""
    if look.rig.value == "flight":
        return Clear(f"rig check of {look.date.value}: flight")
    return Finding(
        place=look.rig.place,
        message="at the last look the aircraft was in the inverted rig",
        evidence=f"the rig check of {look.date.value} says inverted-load, and no later one says flight",
        do="move every prop back to a motor of its own hand, turn it domed side up, look at each one again "
        "and add a rig_check with rig: flight",
    )


def _why(kind: str, run: LoadedRun) -> tuple[Related, ...]:
    if isinstance(run.route, Known):
        return (Related(run.route.place, f"the {kind} of {run.date.value} was taken in the inverted rig"),)
    return (Related(run.place, f"the {kind} of {run.date.value} does not say its route: it may have been inverted"),)
