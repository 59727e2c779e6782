"""Do the motors start together, and never by surprise?"""

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
    Open,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    need,
    records,
    rule,
)

START_SPREAD = Tolerance(
    "start_throttle_spread",
    "% of throttle",
    3.0,
    "lower",
    "common practice, no source",
    "how far apart the throttle positions may be at which the motors begin to turn",
)


@rule(
    "control/start-throttle-spread",
    each="aircraft",
    severity=CAUTION,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source="common practice, no source",
    tolerances=(START_SPREAD,),
)
def start_throttle_spread(aircraft: Aircraft, on: Context) -> Outcome:
    """Do all motors begin to turn at nearly the same throttle?

    Controllers that learnt different throttle ranges give different thrust for the same command; at low
    throttle one rotor may stand still while its neighbours lift.

    Fails:

        records:
          stick_check:
            - date: 2026-05-20
              start_throttle_percent: {front-left: 5, front-right: 5, rear-left: 9, rear-right: 5}

    Passes:

        records:
          stick_check:
            - date: 2026-05-20
              start_throttle_percent: {front-left: 5, front-right: 5, rear-left: 6, rear-right: 5}

    It does not check the top of the throttle range.
    """
    how = "props removed: raise the throttle slowly and write a stick_check with the per cent where each motor starts"
    tried = [check for check in aircraft.records.stick_check if check.start_throttle_percent]
    return on.tested("stick_check", tried, lambda check: _spread(check, how, on), how)


def _spread(check: records.StickCheck, how: str, on: Context) -> Outcome:
    aircraft, starts = on.aircraft, check.start_throttle_percent
    missing = [at for at in aircraft.positions if at not in starts]
    ordered = sorted((at for at in aircraft.positions if at in starts), key=lambda at: starts[at].value)
    if not ordered:
        raise Open(
            Unproven(place=check.date.place, message="no motor's start is recorded", do=how, record="stick_check")
        )
    low, high = ordered[0], ordered[-1]
    spread, limit = round(starts[high].value - starts[low].value, 9), on.limit(START_SPREAD)
    first, last = f"{starts[low].value:g} % at {low}", f"{starts[high].value:g} % at {high}"
    evidence = f"from {first} to {last}; at most {limit:g} % apart"
    if spread > limit:
        return Finding(
            place=starts[high].place,
            message=f"the motors begin to turn {spread:g} % of throttle apart: {low} first, {high} last",
            evidence=evidence,
            do="let every speed controller learn the throttle range again, all in one way, then check again",
            related=(Related(starts[low].place, f"{low} begins at {starts[low].value:g} %"),),
        )
    if missing:
        raise Open(
            Unproven(
                place=check.date.place,
                message=f"where it begins to turn is not recorded for {', '.join(missing)}",
                do=how,
                record="stick_check",
            )
        )
    return Clear(evidence)


@rule(
    "control/arms-at-raised-throttle",
    each="aircraft",
    severity=NO_GO,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source="common practice, no source",
)
def arms_at_raised_throttle(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the aircraft refuse to arm while the throttle is raised?

    One that arms with the throttle raised jumps at the person who has just plugged in the pack.

    Fails:

        records:
          stick_check: [{date: 2026-05-20, props: removed, arms_at_raised_throttle: true}]

    Passes:

        records:
          stick_check: [{date: 2026-05-20, props: removed, arms_at_raised_throttle: false}]

    It does not check any other condition for arming.
    """
    how = "props removed: try to arm with the throttle raised, and write in a stick_check whether it armed"
    tried = [check for check in aircraft.records.stick_check if isinstance(check.arms_at_raised_throttle, Known)]
    return on.tested("stick_check", tried, _arms, how, says=lambda check: need(check.arms_at_raised_throttle).value)


def _arms(check: records.StickCheck) -> Outcome:
    arms = need(check.arms_at_raised_throttle)
    if not arms.value:
        return Clear(f"it refused to arm with the throttle raised on {check.date.value}")
    return Finding(
        place=arms.place,
        message="the aircraft arms with the throttle raised",
        evidence=f"stick check of {check.date.value}",
        do="set the flight controller to refuse arming unless the throttle is closed, then try again "
        "with props removed",
    )
