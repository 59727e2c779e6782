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
    NotApplicable,
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

LATEST_START = Tolerance(
    "start_throttle_most",
    "% of throttle",
    25.0,
    "lower",
    "common practice, no source",
    "at which throttle every motor must have begun to turn",
)
_HOW = "raise the throttle slowly and write a stick_check with the per cent where each motor starts"


@rule(
    "control/start-throttle",
    each="aircraft",
    severity=NO_GO,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source="common practice, no source",
    tolerances=(LATEST_START,),
)
def start_throttle(aircraft: Aircraft, on: Context) -> Outcome:
    """Does every motor begin to turn low in the range of the throttle?

    Below the throttle at which it begins a motor stands still, while the flight controller takes it for pulling. In a
    descent, or where one side is commanded down to hold the attitude, it stops, and the aircraft tips over; what is
    left of the range comes all at once. It is a no-go: motors that all begin late agree with each other, and nothing
    else tells it. Most begin below 10 %; above ``start_throttle_most`` the speed controller has learnt another range,
    or does not drive its motor.

    Fails:

        records:
          stick_check:
            - date: 2026-05-20
              start_throttle_percent: {front-left: 90, front-right: 90, rear-left: 90, rear-right: 90}

    Passes:

        records:
          stick_check:
            - date: 2026-05-20
              start_throttle_percent: {front-left: 5, front-right: 5, rear-left: 6, rear-right: 5}

    It does not check that the motors are alike: see start-throttle-spread.
    """
    tried = _tried(aircraft)
    if not tried:
        return NotApplicable("where the motors begin to turn is not recorded: control/start-throttle-spread asks")
    return on.tested("stick_check", tried, lambda check: _late(check, on), _HOW)


def _late(check: records.StickCheck, on: Context) -> Outcome:
    starts, limit = check.start_throttle_percent, on.limit(LATEST_START)
    known = _begun(check, on.aircraft)
    late = [at for at in known if starts[at].value > limit]
    latest = max(known, key=lambda at: starts[at].value)
    evidence = f"the last to begin is {latest} at {starts[latest].value:g} %; at most {limit:g} %"
    if not late:
        _all_recorded(check, on.aircraft)
        return Clear(evidence)
    whose = "every motor begins" if len(late) == len(on.aircraft.positions) else f"the motor at {latest} begins"
    if 1 < len(late) < len(on.aircraft.positions):
        whose = f"the motors at {', '.join(late)} begin"
    return Finding(
        place=starts[latest].place,
        message=f"{whose} to turn only at {min(starts[at].value for at in late):g} % of throttle"
        f"{' or more' if len(late) > 1 else ''}",
        evidence=evidence,
        do="let every speed controller learn the throttle range again, all in one way, and look at the range that the "
        "flight controller sends; then check again",
        related=tuple(
            Related(starts[at].place, f"{at} begins at {starts[at].value:g} %") for at in late if at != latest
        ),
    )


def _tried(aircraft: Aircraft) -> list[records.StickCheck]:
    """The stick checks in which somebody looked where motors begin to turn."""
    return [check for check in aircraft.records.stick_check if check.start_throttle_percent]


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

    It does not check the top of the throttle range, and not that the motors begin low in it: see start-throttle.
    """
    return on.tested("stick_check", _tried(aircraft), lambda check: _spread(check, on), _HOW)


def _spread(check: records.StickCheck, on: Context) -> Outcome:
    aircraft, starts = on.aircraft, check.start_throttle_percent
    ordered = sorted(_begun(check, aircraft), key=lambda at: starts[at].value)
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
    _all_recorded(check, aircraft)
    return Clear(evidence)


def _begun(check: records.StickCheck, aircraft: Aircraft) -> list[str]:
    """The rotors of which it is recorded, at least one."""
    return [at for at in aircraft.positions if at in check.start_throttle_percent]


def _all_recorded(check: records.StickCheck, aircraft: Aircraft) -> None:
    """Ends the rule as unproven where a motor was left out."""
    if missing := [at for at in aircraft.positions if at not in check.start_throttle_percent]:
        message = f"where it begins to turn is not recorded for {', '.join(missing)}"
        raise Open(Unproven(place=check.date.place, message=message, do=_HOW, record="stick_check"))


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
    how = "try to arm with the throttle raised, and write in a stick_check whether it armed"
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
        do="set the flight controller to refuse arming unless the throttle is closed, then try again",
    )
