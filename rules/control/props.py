"""Were the tests of tilt, sticks and link made with the props removed?"""

from preflint.api import CAUTION, PROPS_REMOVED, Aircraft, Context, Job, Known, Outcome, records, rule

from ..shared.props_off import judge_props


@rule(
    "control/props-removed",
    each="aircraft",
    severity=CAUTION,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source="common practice, no source",
)
def props_removed(aircraft: Aircraft, on: Context) -> Outcome:
    """Tilt, stick, link-loss and cut-off tests were made with the props removed.

    An armed aircraft that is tipped by hand speeds up its rotors at the hand that holds it, and a reversed
    throttle stick starts them at full power. What such a test showed stands; the way it was made is what is
    found. In the inverted rig it is worse: attitude stabilisation acts reversed there, so a tilted aircraft
    with props on is driven further over. A later test of the same movements with the props removed settles it.

    Fails:

        records:
          stick_check: [{date: 2026-05-20, props: fitted, arms_at_raised_throttle: false}]

    Passes:

        records:
          stick_check: [{date: 2026-05-20, props: removed, arms_at_raised_throttle: false}]

    It does not check spin and output tests: rotation/props-removed does.
    """
    tested = aircraft.records
    return judge_props(
        {
            "tilt test": [(test, {m.did.value for m in test.moves}) for test in on.so_far(tested.tilt_test)],
            "stick check": [(check, _tried(check)) for check in on.so_far(tested.stick_check)],
            "link-loss test": [(test, {"link"}) for test in on.so_far(tested.link_loss_test)],
            "cut-off test": [(test, {"cut-off"}) for test in on.so_far(tested.cut_off_test)],
        },
        "movements",
    )


def _tried(check: records.StickCheck) -> set[str]:
    """What a stick check tried: the movements, the start of turning, arming."""
    done = {move.did.value for move in check.moves}
    if check.start_throttle_percent:
        done.add("start")
    if isinstance(check.arms_at_raised_throttle, Known):
        done.add("arming")
    return done
