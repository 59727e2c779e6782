"""Which way each nut tightens, and which way it must."""

from dataclasses import replace
from typing import Literal

from preflint.api import Context, Known, NotApplicable, Related, Unproven, name, nut_points, what_happened
from preflint.api import rotor as rotors
from preflint.compute.handedness import (
    NutPoints,
    Turning,
    nut_must_tighten,
    spin_seen_at_nut,
    thread_from_tightens,
)
from preflint.frozen import dataclass

from .evidence import Evidence, anything_said, evidence_of, failed_test, nut_tests, stale_test
from .held import NOT_RECORDED, thing_of


@dataclass(frozen=True, slots=True)
class NutHand:
    """A nut on its shaft; ``pieces`` strongest first. All turnings but ``spin`` are seen at the nut."""

    thing: Literal["nut", "hub"]
    spin: Known[Turning]
    points: Known[NutPoints]
    points_written: bool
    own_thread: bool  # the motor's own; an adapter's where nobody says
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
    def shaft(self) -> tuple[Related, ...]:
        """What else the verdict rests on: its spin, and where its end points if that is written."""
        spin = Related(self.spin.place, f"the shaft spins {self.spin.value} seen from above")
        if not self.points_written:
            return (spin,)
        return spin, Related(self.points.place, f"the nut points {self.points.value}")

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
        return NotApplicable(NOT_RECORDED)
    if kind.value in ("nut", "threaded-hub"):
        return None
    if kind.value == "collet" and anything_said(rotor, on):
        return None
    return NotApplicable(f"held by {kind.value}: no nut that drag could turn is recorded")


def nut_hand_of(rotor: rotors.Rotor, on: Context) -> NutHand | None:
    """The nut of this rotor; None where there is none, or its spin or its hand is not known."""
    if no_nut(rotor, on) or not isinstance(rotor.spin, Known):
        return None
    points = nut_points(rotor)
    pieces = on.once(evidence_of, rotor, on)
    failed = failed_test(rotor, nut_must_tighten(rotor.spin.value, points.value), on)
    stale = "" if failed else stale_test(rotor, on)
    if failed and failed.tested and failed not in pieces[:1]:
        old = on.outdated("nut_test", failed.tested, name(rotor))
        since = f"; since then {what_happened(old.event)}" if old else ""
        failed_on = f"failed on {failed.tested.date.value}, and no nut test passed since{since}"
        pieces = (replace(failed, told_by=f"{failed_on}; {failed.told_by}"), *pieces)
    if not pieces:
        return None
    return NutHand(
        thing_of(rotor),
        rotor.spin,
        points,
        isinstance(rotor.nut_points, Known),
        isinstance(rotor.fixing.thread_on, Known) and rotor.fixing.thread_on.value == "motor",
        pieces,
        stale,
    )


def no_evidence(rotor: rotors.Rotor, spin: Turning, on: Context) -> Unproven:
    """The answer where nothing that still speaks tells the hand. A stale nut test ends the rule by itself.

    What stands in the manifest without a date was written before the work in the logbook, and no longer speaks.
    """
    thing, points, fixing = thing_of(rotor), nut_points(rotor), rotor.fixing
    how = hand_test(spin, points.value, thing)
    if on.once(nut_tests, rotor, on):
        at = name(rotor)
        on.freshest("nut_test", on.aircraft.records.nut_test, how, at, lambda test: test.at.value == at)
    if (work := on.work_on("nut_test", name(rotor))) and on.once(evidence_of, rotor, on):
        return Unproven(
            place=fixing.place,
            message=f"since this, the {thing} may be another one, and no nut test is recorded after it: "
            f"{what_happened(work)}",
            do=how,
            record="nut_test",
            related=(Related(work.place, what_happened(work)),),
        )
    if isinstance(fixing.bag_says, Known):
        return Unproven(
            place=fixing.bag_says.place,
            message=f"the bag says {fixing.bag_says.value}, but what that means is not recorded",
            do=how,
            evidence=f"it may be the way the {thing} screws on, or the motor it is meant for",
            record="nut_test",
        )
    evidence = ""
    if isinstance(fixing.thread_size, Known):
        evidence = f"thread_size {fixing.thread_size.value} is a size and says nothing about the hand"
    message = f"nothing recorded tells which way the {thing} tightens"
    return Unproven(place=fixing.place, message=message, do=how, evidence=evidence, record="nut_test")


def hand_test(spin: Turning, points: NutPoints, thing: str) -> str:
    """How to learn in two minutes whether the nut is of the right hand."""
    seen = spin_seen_at_nut(spin, points)
    return (
        f"hold the {thing} still with two fingers and turn the motor "
        f"{seen} looking at the {thing}, the way it spins; the {thing} must run on; write a nut_test with "
        "what it did"
    )


def fitting(hand: NutHand) -> str:
    """What to fit so that it tightens as it must."""
    thread = f"{thread_from_tightens(hand.must)}-hand thread"
    if hand.thing == "hub":
        return f"a motor shaft and hub with a {thread} (the hub tightens {hand.must} looking at it)"
    if hand.own_thread:
        return f"a motor whose shaft has a {thread} (its nut tightens {hand.must} looking at it)"
    return f"an adapter whose nut tightens {hand.must} looking at it ({thread})"
