"""Which way things turn: spin, nut, thread, prop.

Every view is converted here and nowhere else. Three viewpoints occur:

* *from above*: looking down on the aircraft (spin, yaw);
* *at the nut*: looking at the nut, along the shaft, from the free end of the thread;
* *at the domed side*: looking at the domed side of a prop (its hand).

``cw`` is clockwise and ``ccw`` counter-clockwise for the viewer named.
"""

import re
from typing import Literal

Turning = Literal["cw", "ccw"]
NutPoints = Literal["up", "down"]
Face = Literal["up", "down"]
ThreadHand = Literal["left", "right"]
NutRan = Literal["runs-on", "runs-off"]
BagMeans = Literal["screwing", "motor"]
PropState = Literal["flight", "inverted-load", "turned-over", "wrong-hand"]

# LH as a word of its own, or straight after the pitch as in "M16x1LH-6G"; never inside another word.
_LEFT_HAND_MARK = re.compile(r"(?<![A-Za-z])LH(?![A-Za-z0-9])", re.IGNORECASE)


def opposite(turning: Turning) -> Turning:
    """The other way round, for the same viewer."""
    return "ccw" if turning == "cw" else "cw"


def seen_from_other_side(turning: Turning) -> Turning:
    """What a viewer at the other end of the same axis calls this turning."""
    return "ccw" if turning == "cw" else "cw"


def spin_seen_at_nut(spin_from_above: Turning, nut_points: NutPoints) -> Turning:
    """The shaft's spin as seen looking at the nut.

    A nut that points up is looked at from above; one that points down is looked at from below,
    where every turning is the other way round.
    """
    return spin_from_above if nut_points == "up" else seen_from_other_side(spin_from_above)


def nut_must_tighten(spin_from_above: Turning, nut_points: NutPoints) -> Turning:
    """The way the nut must tighten, seen looking at it, so that the drag of the prop keeps it on.

    Drag holds the prop and its nut back, so relative to the shaft they are turned against the spin.
    Source: Michigan Administrative Code R 408.10115(1), a wheel held by a spindle nut: the thread runs
    opposite to the rotation of the spindle, so that the nut tightens as the spindle revolves.
    Active braking reverses that torque; coasting hardly brings any.
    """
    return opposite(spin_seen_at_nut(spin_from_above, nut_points))


def tightens_from_nut_test(
    *, motor_turned: Turning | None = None, nut_turned: Turning | None = None, ran: NutRan
) -> Turning:
    """The way a nut tightens, seen looking at it, from a test by hand.

    ``motor_turned``: the nut was held and the motor turned. ``nut_turned``: the motor was held and the
    nut turned. Both are seen looking at the nut. ``ran`` says whether the nut went on or came off.

    Raises ValueError unless exactly one of the two turnings is given.
    """
    if motor_turned is not None and nut_turned is None:
        nut_relative_to_shaft = opposite(motor_turned)
    elif nut_turned is not None and motor_turned is None:
        nut_relative_to_shaft = nut_turned
    else:
        raise ValueError("a nut test needs exactly one of motor_turned and nut_turned")
    return nut_relative_to_shaft if ran == "runs-on" else opposite(nut_relative_to_shaft)


def tightens_from_thread(hand: ThreadHand) -> Turning:
    """The way a nut on this thread tightens, seen looking at it: right-hand clockwise, left-hand not.

    Source: a right-hand thread recedes from the viewer when turned clockwise (ASME B1.1, ISO 5408).
    """
    return "cw" if hand == "right" else "ccw"


def thread_from_tightens(tightens: Turning) -> ThreadHand:
    """The hand of the thread whose nut tightens this way, seen looking at the nut."""
    return "right" if tightens == "cw" else "left"


def tightens_from_bag(says: Turning, means: BagMeans) -> Turning:
    """The way the nut tightens, seen looking at it, from a label on the bag and what the label means.

    ``screwing``: the label names the way the nut is screwed on. ``motor``: it names the turning of the
    shaft it is meant for, seen looking at the nut, and the nut tightens the other way.
    """
    return says if means == "screwing" else opposite(says)


def designation_says_left_hand(thread_size: str) -> bool:
    """Whether a thread designation carries the explicit mark LH.

    Left-hand threads add LH to the designation (``1/4-20 UNC-3A-LH``, ``M16x1LH-6G``). False means that
    nothing was said: sizes are written without a hand on bags of either hand.
    Source: ASME B1.1 and ISO 965-1 designations, as given in NAVEDTRA 14345, Machinery Repairman.
    """
    return _LEFT_HAND_MARK.search(thread_size) is not None


def leading_edge_first(spin_from_above: Turning, hand: Turning, face: Face) -> bool:
    """Whether the rounded edges lead, for a prop of this hand whose domed side points up or down."""
    spin_at_domed_side = spin_from_above if face == "up" else seen_from_other_side(spin_from_above)
    return spin_at_domed_side == hand


def pushes_up(spin_from_above: Turning, hand: Turning) -> bool:
    """Whether the prop drives air down and so pushes the aircraft up.

    The face does not enter: a screw turned end for end has the same hand.
    """
    return spin_from_above == hand


def prop_state(spin_from_above: Turning, hand: Turning, face: Face) -> PropState:
    """Which of the four ways of running a prop this is.

    =============  ===========  ==================  =====================================
    state          pushes       leading edge first  what happened
    =============  ===========  ==================  =====================================
    flight         up           yes                 as meant
    inverted-load  down         yes                 other hand, turned over: a bench load
    turned-over    up, weakly   no                  own hand, domed side down
    wrong-hand     down         no                  other hand, domed side up
    =============  ===========  ==================  =====================================
    """
    if pushes_up(spin_from_above, hand):
        return "flight" if face == "up" else "turned-over"
    return "wrong-hand" if face == "up" else "inverted-load"


def yaw_reaction_sign(spin_from_above: Turning) -> Literal[-1, 1]:
    """Sign of the torque on the airframe about the down axis (body axes of ISO 1151: turning right is +1).

    The air holds the rotor back, so a rotor that spins cw from above turns the aircraft to the left.
    """
    return -1 if spin_from_above == "cw" else 1
