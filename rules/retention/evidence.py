"""All that tells which way each nut tightens."""

from preflint.api import (
    Clear,
    Context,
    Finding,
    Known,
    Outcome,
    Place,
    last_failure,
    name,
    records,
    what_happened,
)
from preflint.api import rotor as rotors
from preflint.compute.handedness import (
    Turning,
    designation_says_left_hand,
    tightens_from_bag,
    tightens_from_nut_test,
    tightens_from_thread,
)
from preflint.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Evidence:
    """One thing that tells which way a nut tightens, seen looking at it; ``told_by`` in words."""

    tightens: Turning
    place: Place
    told_by: str
    tested: records.NutTest | None = None  # None where it stands in the manifest without a date


def evidence_of(rotor: rotors.Rotor, on: Context) -> tuple[Evidence, ...]:
    """All that tells which way the nut tightens, strongest first, spin known or not."""
    return (*_fresh_tests(rotor, on), *_standing(rotor.fixing))


def anything_said(rotor: rotors.Rotor, on: Context) -> bool:
    """Whether anything about the hand of a nut was recorded, be it known to speak or not."""
    fixing = rotor.fixing
    said = (fixing.nut_tightens, fixing.thread_hand, fixing.bag_says)
    return any(isinstance(field, Known) for field in said) or bool(on.once(nut_tests, rotor, on))


def nut_tests(rotor: rotors.Rotor, on: Context) -> tuple[records.NutTest, ...]:
    """All nut tests of this rotor up to the day judged at, oldest first."""
    return on.so_far(test for test in on.aircraft.records.nut_test if test.at.value == name(rotor))


def _fresh_tests(rotor: rotors.Rotor, on: Context) -> list[Evidence]:
    """The latest nut test that still speaks, then the one before it and any that may be the later of two.

    Two tests in a row that agree settle an older one that did not.
    """
    fresh = [t for t in on.once(nut_tests, rotor, on) if on.speaks("nut_test", t, name(rotor))]
    return [
        _of_test(test)
        for back, test in enumerate(reversed(fresh))
        if back < 2 or fresh[-1].date.value.after(test.date.value) is None
    ]


def failed_test(rotor: rotors.Rotor, must: Turning, on: Context) -> Evidence | None:
    """The last nut test that showed the wrong hand, where no later one showed the right one; else None."""

    def judge(test: records.NutTest) -> Outcome:
        told = _of_test(test)
        return Clear("") if told.tightens == must else Finding(place=told.place, message="", evidence="", do="")

    tests = [test for test in on.aircraft.records.nut_test if test.at.value == name(rotor)]
    failure = last_failure(tests, judge, on.judged_on)
    return _of_test(failure[0]) if failure else None


def _of_test(test: records.NutTest) -> Evidence:
    motor = test.motor_turned.value if isinstance(test.motor_turned, Known) else None
    nut = test.nut_turned.value if isinstance(test.nut_turned, Known) else None
    done = f"nut held, motor turned {motor}" if motor else f"motor held, nut turned {nut}"
    ran = "ran on" if test.nut.value == "runs-on" else "ran off"
    tightens = tightens_from_nut_test(motor_turned=motor, nut_turned=nut, ran=test.nut.value)
    return Evidence(tightens, test.nut.place, f"nut test of {test.date.value} ({done}: it {ran})", test)


def _standing(fixing: rotors.Fixing) -> list[Evidence]:
    """What the manifest says without a date, strongest first."""
    found = []
    if isinstance(fixing.nut_tightens, Known):
        tightens = fixing.nut_tightens
        found.append(Evidence(tightens.value, tightens.place, f"nut_tightens {tightens.value}"))
    if isinstance(fixing.thread_hand, Known):
        hand = fixing.thread_hand
        found.append(Evidence(tightens_from_thread(hand.value), hand.place, f"thread_hand {hand.value}"))
    if isinstance(fixing.thread_size, Known) and designation_says_left_hand(fixing.thread_size.value):
        size = fixing.thread_size
        told_by = f"thread_size {size.value}, LH for left-hand"
        found.append(Evidence(tightens_from_thread("left"), size.place, told_by))
    if isinstance(fixing.bag_says, Known) and isinstance(fixing.bag_means, Known):
        says, means = fixing.bag_says, fixing.bag_means.value
        meant = "the way it screws on" if means == "screwing" else "the motor it is meant for"
        told_by = f"bag says {says.value}, meaning {meant}"
        found.append(Evidence(tightens_from_bag(says.value, means), says.place, told_by))
    return found


def stale_test(rotor: rotors.Rotor, on: Context) -> str:
    """A sentence on the latest nut test where it does not speak any more, else nothing."""
    tests = on.once(nut_tests, rotor, on)
    old = on.outdated("nut_test", tests[-1], name(rotor)) if tests else None
    if tests and old is None and (aged := on.too_old("nut_test", tests[-1])):
        return f" ({aged})"
    return f" (the nut test of {tests[-1].date.value} does not count: {what_happened(old.event)})" if old else ""
