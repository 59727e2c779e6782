"""What happens when the link is lost?"""

from dataclasses import replace
from functools import partial

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
    Outcome,
    Tolerance,
    Unproven,
    need,
    records,
    rule,
)

from ..shared.wrong import Wrong, finding

STOP_TIME = Tolerance(
    "link_loss_stop_time",
    "s",
    2.0,
    "lower",
    "common practice, no source",
    "how long the motors may run on, on the ground, after the link is lost",
)
# Sooner than anybody sees and presses a button, or counts in a film; common practice, no source.
_NOBODY_TIMES_S = 0.1
RANGE_FLOOR = Tolerance(
    "range_test_floor",
    "m",
    10.0,
    "higher",
    "common practice, no source",
    "how far a range test must reach to tell anything; the maker of the transmitter asks for more",
)
_LOSS_HOW = (
    "tie the aircraft down, run the motors slowly and switch the transmitter off; time until the last motor rests; "
    "close the throttle and switch the transmitter on again; write a link_loss_test"
)
_RANGE_HOW = (
    "put the aircraft about 1 m above the ground; walk away with the transmitter, moving a stick; write a range_test "
    "with how far control is complete"
)


@rule(
    "failsafe/link-loss",
    each="aircraft",
    severity=NO_GO,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source="common practice, no source (loss-of-link test before flight)",
    needed_for_flight=True,
    shown_by=records.LinkLossTest,
    tolerances=(STOP_TIME,),
)
def link_loss(aircraft: Aircraft, on: Context) -> Outcome:
    """Do the motors stop when the link is lost, and stay stopped when it comes back?

    A receiver that holds its last outputs, or is set to a running throttle, keeps the props turning with
    nobody in command: into a person, or away over the hedge. A motor that starts again by itself when the
    link returns meets the hand that was reaching for the aircraft.

    On the ground every output must stop within the limit in seconds, and none may start again by itself. A time
    below 0.1 s is not one that somebody took: unproven. What the aircraft does in the air on loss of link is another
    setting, and a local matter. Only a test made with the props removed shows that all is well; one that failed has
    failed, whatever was fitted.

    Fails:

        records:
          link_loss_test: [{date: 2026-05-20, props: removed, outputs_stopped: false}]

    Passes:

        records:
          link_loss_test: [{date: 2026-05-20, props: removed, outputs_stopped: true, seconds_to_stop: 0.8,
                            restarted_on_regain: false}]

    It does not check what the aircraft does in the air when the link is lost.
    """
    return on.tested("link_loss_test", aircraft.records.link_loss_test, lambda test: _stopped_in(test, on), _LOSS_HOW)


def _stopped_in(test: records.LinkLossTest, on: Context) -> Outcome:
    """What one link-loss test shows by itself."""
    limit = on.limit(STOP_TIME)
    fitted = isinstance(test.props, Known) and test.props.value == "fitted"
    if wrong := _wrong(test, limit):
        also = "; the props were fitted" if fitted else ""
        evidence = (
            f"link-loss test of {test.date.value}; outputs are to stop within {limit:g} s and to stay stopped{also}"
        )
        return finding(wrong, evidence, then=f"then repeat the test{' with props removed' if fitted else ''}")
    need(test.outputs_stopped)
    seconds = need(test.seconds_to_stop)
    need(test.restarted_on_regain)
    need(test.props)
    if fitted:
        return Unproven(
            place=need(test.props).place,
            message=f"the link-loss test of {test.date.value} was made with the props fitted",
            do=f"repeat it with props removed: {_LOSS_HOW}",
            record="link_loss_test",
        )
    if seconds.value < _NOBODY_TIMES_S:
        return Unproven(
            cause="uncertain",
            place=seconds.place,
            message=f"the motors are said to rest {seconds.value:g} s after the link was lost: nobody times that",
            do=f"time it: {_LOSS_HOW}",
        )
    return Clear(f"every output stopped {seconds.value:g} s after loss of link and stayed stopped; at most {limit:g} s")


def _wrong(test: records.LinkLossTest, limit: float) -> list[Wrong]:
    """All that the test shows to be wrong. ``limit``: s that the outputs may take to stop."""
    wrong = []
    stopped, seconds, restarted = test.outputs_stopped, test.seconds_to_stop, test.restarted_on_regain
    if isinstance(stopped, Known) and not stopped.value:
        wrong.append(
            Wrong(
                stopped.place,
                "not every output stopped when the link was lost",
                "set the receiver, or the flight controller, to stop every output on loss of link",
            )
        )
    if isinstance(seconds, Known) and seconds.value > limit:
        wrong.append(
            Wrong(
                seconds.place,
                f"the motors ran on for {seconds.value:g} s after the link was lost",
                f"let loss of link stop the outputs sooner: within {limit:g} s on the ground",
            )
        )
    if isinstance(restarted, Known) and restarted.value:
        wrong.append(
            Wrong(
                restarted.place,
                "a motor started again by itself when the link came back",
                "set the flight controller to need arming again after loss of link",
            )
        )
    return wrong


@rule(
    "failsafe/range-test",
    each="aircraft",
    severity=CAUTION,
    job=Job.PROPS_OFF,
    precaution=PROPS_REMOVED,
    source="common practice, no source (range test on the ground)",
    tolerances=(RANGE_FLOOR,),
)
def range_test(aircraft: Aircraft, on: Context) -> Outcome:
    """Did control hold in the range test?

    A bent antenna, a bad plug or a noisy regulator shortens the link long before it breaks it. A walk with
    the transmitter, at reduced power where it offers that, shows it on the ground.

    A test nearer than ``range_test_floor``, or than the maker of the transmitter asks for (``maker_asks_m``), tells
    nothing, since a link without an antenna holds at arm's length. One that failed stays failed until a later one
    holds at least as far, at the floor at least, and at reduced power where the failed one was at that.

    Fails:

        records:
          range_test: [{date: 2026-05-20, distance_m: 18, reduced_power: true, control_held: false}]

    Passes:

        records:
          range_test: [{date: 2026-05-20, distance_m: 40, reduced_power: true, control_held: true}]

    It does not check that the link reaches as far as is planned (failsafe/link-reach).
    """
    tests, floor = aircraft.records.range_test, on.limit(RANGE_FLOOR)
    for lost in sorted(tests, key=lambda test: test.date.value.latest, reverse=True):
        if isinstance(lost.control_held, Known) and not lost.control_held.value:
            far = max(floor, _distance_m(lost))
            if standing := on.failed("range_test", tests, partial(_makes_up_for, lost=lost, far_m=far)):
                return _again(standing, lost, far)
    return _held_in(on.freshest("range_test", tests, _RANGE_HOW), floor)


def _makes_up_for(test: records.RangeTest, lost: records.RangeTest, far_m: float) -> Outcome:
    """What a test says of one that failed: that it failed, that it holds by now, or nothing."""
    if test is lost:
        return _held_in(test, 0.0)
    held = isinstance(test.control_held, Known) and test.control_held.value
    if held and _distance_m(test) >= far_m and (_at_reduced(test) or not _at_reduced(lost)):
        return Clear("held as far")
    return NotApplicable("nearer, at more power, or not held itself")


def _again(standing: Finding, lost: records.RangeTest, far_m: float) -> Finding:
    """With how far a test must hold for the failed one to be made up for."""
    power = " at reduced power" if _at_reduced(lost) else ""
    return replace(standing, do=f"{standing.do}, to {far_m:g} m or farther{power}")


def _held_in(test: records.RangeTest, floor_m: float) -> Outcome:
    """What one range test shows by itself."""
    held = need(test.control_held)
    at = f" at {test.distance_m.value:g} m" if isinstance(test.distance_m, Known) else ""
    power = ", at reduced power" if _at_reduced(test) else ""
    if not held.value:
        return Finding(
            place=held.place,
            message=f"control did not hold{at} in the range test",
            evidence=f"range test of {test.date.value}{at}{power}",
            do="look at the antennas and their plugs; lay the antennas away from carbon and power leads; then "
            "repeat the range test",
        )
    distance = need(test.distance_m)
    asked = test.maker_asks_m
    if isinstance(asked, Known) and distance.value < asked.value:
        return Unproven(
            cause="uncertain",
            place=distance.place,
            message=f"control held{at}, nearer than the maker of the transmitter asks for",
            do=f"repeat the range test to {asked.value:g} m or farther",
            evidence=f"range test of {test.date.value}{at}{power}; the maker asks for {asked.value:g} m",
            record="range_test",
        )
    if distance.value < floor_m:
        return Unproven(
            cause="uncertain",
            place=distance.place,
            message=f"control held{at}, which is too near to tell anything",
            do=f"repeat the range test as far as the maker of the transmitter asks for, {floor_m:g} m at least",
            evidence=f"range test of {test.date.value}{at}{power}; nearer than {floor_m:g} m any link holds",
        )
    return Clear(f"control held{at}{power} on {test.date.value}")


def _distance_m(test: records.RangeTest) -> float:
    return test.distance_m.value if isinstance(test.distance_m, Known) else 0.0


def _at_reduced(test: records.RangeTest) -> bool:
    return isinstance(test.reduced_power, Known) and test.reduced_power.value
