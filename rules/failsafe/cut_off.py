"""Does the cut-off stop the motors?"""

from preflint.api import (
    NO_GO,
    PROPS_REMOVED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Outcome,
    Unproven,
    need,
    records,
    rule,
)

_HOW = (
    "tie the aircraft down, run the motors slowly, use the cut-off and raise the throttle a little; write a "
    "cut_off_test with whether every motor stopped and stayed stopped"
)


@rule(
    "failsafe/cut-off",
    each="aircraft",
    severity=NO_GO,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source="common practice, no source (the means to stop the motors is tried before flight)",
    needed_for_flight=True,
    shown_by=records.CutOffTest,
)
def cut_off(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the cut-off stop every motor, and keep it stopped?

    The cut-off is the switch, or the position of the sticks, that stops the motors whatever else is set. It is what
    ends a tip-over, a fly-away at head height, a prop that has caught a sleeve. One that is set to another switch, or
    that is ignored while the throttle is up, is found out in that second; so it is tried with the props removed.

    Fails:

        records:
          cut_off_test: [{date: 2026-05-20, props: removed, motors_stopped: false}]

    Passes:

        records:
          cut_off_test: [{date: 2026-05-20, props: removed, motors_stopped: true}]

    It does not check that the pilot finds the switch without looking, nor what loss of the link does
    (failsafe/link-loss).
    """
    return on.tested("cut_off_test", aircraft.records.cut_off_test, _stopped, _HOW)


def _stopped(test: records.CutOffTest) -> Outcome:
    """What one cut-off test shows by itself."""
    stopped = need(test.motors_stopped)
    if not stopped.value:
        return Finding(
            place=stopped.place,
            message="the cut-off did not stop every motor, or did not keep it stopped",
            evidence=f"cut-off test of {test.date.value}",
            do="set the cut-off to stop every output whatever the throttle, then repeat the test",
        )
    props = need(test.props)
    if props.value == "fitted":
        return Unproven(
            place=props.place,
            message=f"the cut-off test of {test.date.value} was made with the props fitted",
            do=f"repeat it with props removed: {_HOW}",
            record="cut_off_test",
        )
    return Clear(f"the cut-off stopped every motor on {test.date.value}")
