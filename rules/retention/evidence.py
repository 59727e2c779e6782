"""Which way each nut tightens, on what evidence, and which way it must."""

from dataclasses import dataclass
from typing import Literal

from preflint.api import (
    Context,
    Known,
    NotApplicable,
    Place,
    Unproven,
    name,
    nut_points,
    records,
    what_happened,
)
from preflint.api import rotor as rotors
from preflint.compute.handedness import (
    NutPoints,
    Turning,
    designation_says_left_hand,
    nut_must_tighten,
    spin_seen_at_nut,
    thread_from_tightens,
    tightens_from_bag,
    tightens_from_nut_test,
    tightens_from_thread,
)


@dataclass(frozen=True, slots=True)
class Evidence:
    """One thing that tells which way a nut tightens, seen looking at it; ``told_by`` in words."""

    tightens: Turning
    place: Place
    told_by: str


@dataclass(frozen=True, slots=True)
class NutHand:
    """A nut on its shaft; ``pieces`` strongest first. All turnings but ``spin`` are seen at the nut."""

    thing: Literal["nut", "hub"]
    spin: Known[Turning]
    points: Known[NutPoints]
    points_written: bool
    pieces: tuple[Evidence, ...]
    stale: str  # a sentence on the nut test that no longer speaks, or nothing

    @property
    def tightens(self) -> Turning:
        """As the strongest evidence says."""
        return self.pieces[0].tightens

    @property
    def must(self) -> Turning:
        """The way that the drag of the prop keeps it on."""
        return nut_must_tighten(self.spin.value, self.points.value)

    @property
    def is_right(self) -> bool:
        """Whether the drag of the prop keeps it on."""
        return self.tightens == self.must

    @property
    def reasoning(self) -> str:
        """From the evidence and the spin to the verdict, each with its view."""
        seen = spin_seen_at_nut(self.spin.value, self.points.value)
        taken = "as recorded" if self.points_written else "as usual at this position"
        return (
            f"{self.pieces[0].told_by}, so the {self.thing} tightens {self.tightens} looking at "
            f"it{self.stale}; the shaft spins {self.spin.value} seen from above; its free end points "
            f"{self.points.value} ({taken}), so it spins {seen} looking at the {self.thing}; drag turns "
            f"the {self.thing} {self.must} on the shaft, which "
            f"{'tightens' if self.is_right else 'loosens'} it"
        )


def no_nut(rotor: rotors.Rotor, on: Context) -> NotApplicable | None:
    """Why the hand of a nut is no question here; None where a nut, or a hub that is one, holds the prop.

    A collet may be closed by a nut or by screws: it counts where anything about a nut's hand was recorded.
    """
    kind = rotor.fixing.kind
    if not isinstance(kind, Known):
        return NotApplicable("how the prop is held is not recorded: retention/nut-hand asks for it")
    if kind.value in ("nut", "threaded-hub"):
        return None
    if kind.value == "collet" and _something_said(rotor, on):
        return None
    return NotApplicable(f"held by {kind.value}: no nut that drag could turn is recorded")


def _something_said(rotor: rotors.Rotor, on: Context) -> bool:
    fixing = rotor.fixing
    said = (fixing.nut_tightens, fixing.thread_hand, fixing.bag_says)
    return any(isinstance(field, Known) for field in said) or bool(_tests(rotor, on))


def nut_hand_of(rotor: rotors.Rotor, on: Context) -> NutHand | None:
    """The nut of this rotor; None where there is none, or its spin or its hand is not known."""
    if no_nut(rotor, on) or not isinstance(rotor.spin, Known):
        return None
    pieces = evidence_of(rotor, on)
    if not pieces:
        return None
    return NutHand(
        thing_of(rotor),
        rotor.spin,
        nut_points(rotor),
        isinstance(rotor.nut_points, Known),
        pieces,
        _stale(rotor, on),
    )


def evidence_of(rotor: rotors.Rotor, on: Context) -> tuple[Evidence, ...]:
    """All that tells which way the nut tightens, strongest first, spin known or not."""
    return (*_fresh_tests(rotor, on), *_standing(rotor.fixing))


def thing_of(rotor: rotors.Rotor) -> Literal["nut", "hub"]:
    """What is screwed on: of a threaded hub the hub itself is the nut."""
    kind = rotor.fixing.kind
    return "hub" if isinstance(kind, Known) and kind.value == "threaded-hub" else "nut"


def hand_test(spin: Turning, points: NutPoints, thing: str) -> str:
    """How to learn in two minutes whether the nut is of the right hand."""
    seen = spin_seen_at_nut(spin, points)
    return (
        f"two-minute hand test, pack unplugged: hold the {thing} still with two fingers and turn the motor "
        f"{seen} looking at the {thing}, the way it spins; the {thing} must run on; write a nut_test with "
        "what it did"
    )


def no_evidence(rotor: rotors.Rotor, spin: Turning, on: Context) -> Unproven:
    """The answer where nothing that still speaks tells the hand. A stale nut test ends the rule by itself."""
    thing, points, fixing = thing_of(rotor), nut_points(rotor), rotor.fixing
    how = hand_test(spin, points.value, thing)
    if _tests(rotor, on):
        at = name(rotor)
        on.freshest("nut_test", on.aircraft.records.nut_test, how, at, lambda test: test.at.value == at)
    if isinstance(fixing.bag_says, Known):
        return Unproven(
            place=fixing.bag_says.place,
            message=f"the bag says {fixing.bag_says.value}, but whether that is the way the {thing} screws on or "
            "the motor it is meant for is not recorded",
            do=how,
        )
    evidence = ""
    if isinstance(fixing.thread_size, Known):
        evidence = f"thread_size {fixing.thread_size.value} is a size and says nothing about the hand"
    message = f"nothing recorded tells which way the {thing} tightens"
    return Unproven(place=fixing.place, message=message, do=how, evidence=evidence)


def open_test_disagrees(rotor: rotors.Rotor, hand: NutHand, on: Context) -> bool:
    """Whether the latest nut test says otherwise, and may or may not be older than work of its day."""
    tests = _tests(rotor, on)
    old = on.outdated("nut_test", tests[-1], name(rotor)) if tests else None
    return old is not None and old.cause == "order-open" and _of_test(tests[-1]).tightens != hand.tightens


def _tests(rotor: rotors.Rotor, on: Context) -> list[records.NutTest]:
    """All nut tests of this rotor up to the day judged at, oldest first."""
    here = [test for test in on.aircraft.records.nut_test if test.at.value == name(rotor)]
    past = [test for test in here if test.date.value.date <= on.judged_on]
    return sorted(past, key=lambda test: test.date.value.latest)


def _fresh_tests(rotor: rotors.Rotor, on: Context) -> list[Evidence]:
    """The latest nut test that still speaks, then the one before it and any that may be the later of two.

    Two tests in a row that agree settle an older one that did not.
    """
    fresh = [t for t in _tests(rotor, on) if on.outdated("nut_test", t, name(rotor)) is None]
    return [
        _of_test(test)
        for back, test in enumerate(reversed(fresh))
        if back < 2 or fresh[-1].date.value.after(test.date.value) is None
    ]


def _of_test(test: records.NutTest) -> Evidence:
    motor = test.motor_turned.value if isinstance(test.motor_turned, Known) else None
    nut = test.nut_turned.value if isinstance(test.nut_turned, Known) else None
    done = f"nut held, motor turned {motor}" if motor else f"motor held, nut turned {nut}"
    ran = "ran on" if test.nut.value == "runs-on" else "ran off"
    tightens = tightens_from_nut_test(motor_turned=motor, nut_turned=nut, ran=test.nut.value)
    return Evidence(tightens, test.nut.place, f"nut test of {test.date.value} ({done}: it {ran})")


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


def _stale(rotor: rotors.Rotor, on: Context) -> str:
    tests = _tests(rotor, on)
    old = on.outdated("nut_test", tests[-1], name(rotor)) if tests else None
    if old is None:
        return ""
    return f" (the nut test of {tests[-1].date.value} does not count: {what_happened(old.event)})"


def fitting(turning: Turning, thing: Literal["nut", "hub"]) -> str:
    """What to fit so that it tightens that way."""
    thread = f"{thread_from_tightens(turning)}-hand thread"
    if thing == "hub":
        return f"a motor shaft and hub with a {thread} (the hub tightens {turning} looking at it)"
    return f"an adapter whose nut tightens {turning} looking at it ({thread})"
