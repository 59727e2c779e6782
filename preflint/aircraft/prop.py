"""A prop, and the way it is held."""

from typing import Literal

from preflint.aircraft.declare import group, says
from preflint.aircraft.field import Field
from preflint.aircraft.words import Turning
from preflint.places import Place
from preflint.precautions import DESK


@group("Prop", examples=[{"hand": "cw", "face": "up", "diameter_in": 14, "pitch_in": 4.8}])
class Prop:
    """One prop."""

    place: Place
    make: Field[str] = says("Make", "Maker and type.", do="read it off the hub", examples=["Heron 14x4.8"])
    batch: Field[str] = says("Batch", "Batch or lot.", do="read it off the bag", mind=DESK, examples=["2025-11"])
    hand: Field[Turning] = says(
        "Hand", "Which way the prop turns with its rounded (leading) edges first, domed side toward you.",
        do="hold the prop with its domed side toward you: it is cw if the rounded edges lead when it turns clockwise",
        examples=["cw"],
    )
    face: Field[Literal["up", "down"]] = says(
        "Face", "Which way the domed side of the mounted prop points.",
        do="look at the mounted prop: does its domed side point up or down?", examples=["up"],
    )
    diameter_in: Field[float] = says(
        "Diameter", "In inches.",
        do="read it off the prop", least=0.5, most=80, examples=[14],
    )
    pitch_in: Field[float] = says(
        "Pitch", "In inches.",
        do="read it off the prop", least=0.1, most=80, examples=[4.8],
    )
    blades: Field[int] = says("Blades", "Number of blades.", do="count the blades", least=1, most=12, examples=[2])
    mass_g: Field[float] = says(
        "Mass", "Mass of one prop, in g.",
        do="weigh it", least=0.05, most=5000, examples=[21],
    )
    bore_mm: Field[float] = says(
        "Bore", "Diameter of the hole in the hub, in mm.",
        do="measure the hole in the hub with calipers", least=0.3, most=100, examples=[6.0],
    )
    hub: Field[Literal["plain", "stepped", "folding"]] = says(
        "Hub", "plain (the same both sides), stepped (on one side) or folding.",
        do="look at the hub: same both sides, stepped on one side, or folding", examples=["plain"],
    )
    life_h: Field[float] = says(
        "Life", "Hours after which the maker has the prop replaced. Left out, none is set.",
        do="read the maker's life of the prop", mind=DESK, above=0, most=100000, examples=[100],
    )


@group("Fixing", examples=[{"kind": "nut", "nut_tightens": "ccw"}], minutes=5)
class Fixing:
    """How the prop is held on the motor. Of a threaded hub the hub itself is the nut."""

    place: Place
    kind: Field[Literal["nut", "collet", "set-screw", "screws", "clip", "threaded-hub"]] = says(
        "Kind", "What holds the prop.",
        do="look at what holds the prop: nut, collet, set-screw, screws, clip or threaded-hub", examples=["nut"],
    )
    nut_tightens: Field[Turning] = says(
        "Nut tightens", "Which way the nut is turned to tighten it, looking at the nut.",
        do="look at the nut: which way do you turn it to tighten it?", examples=["ccw"],
    )
    thread_hand: Field[Literal["left", "right"]] = says(
        "Thread hand", "Left-hand or right-hand thread.",
        do="look at the bare thread held upright: it rises to the side of its hand", examples=["left"],
    )
    thread_on: Field[Literal["motor", "adapter"]] = says(
        "Thread on", "What the nut's thread is cut on: the motor's own shaft, or an adapter. Left out: an adapter.",
        do="look whether the nut runs on the motor's own shaft or on an adapter", examples=["motor"],
    )
    thread_size: Field[str] = says(
        "Thread size", "Size of the thread. It says nothing about the hand unless LH is written out.",
        do="read it off the adapter's bag", mind=DESK, longest=40, examples=["M6", "M6 LH"],
    )
    nut_kind: Field[Literal["plain", "locknut-new", "locknut-reused"]] = says(
        "Kind of nut", "A plain nut, or a locknut and whether it has been used before.",
        do="look at the nut: plain, or a locknut, and whether it has been used before", examples=["plain"],
    )
    bag_says: Field[Turning] = says(
        "Bag says", "The turning printed on the adapter's bag.",
        do="read the turning printed on the adapter's bag", mind=DESK, examples=["cw"],
    )
    bag_means: Field[Literal["screwing", "motor"]] = says(
        "Bag means",
        "What that turning means: screwing (the way the nut screws on) or motor (the motor it is meant for). "
        "Leave it out where you do not know. It needs bag_says, here or in every_rotor.",
        do="find out whether the bag's turning is the way the nut screws on, or the motor it is meant for", mind=DESK,
        examples=["screwing"],
    )
    thread_past_locknut: Field[bool] = says(
        "Thread past the locknut", "true where thread shows past the tightened locknut.",
        do="look whether thread shows past the tightened locknut", examples=[True],
    )
    prop_slips: Field[bool] = says(
        "Prop slips", "true where the prop can be turned by hand with the nut tight and the motor held.",
        do="hold the motor, nut tight, and try to turn the prop by hand", examples=[False],
    )
    grips_mm: Field[float] = says(
        "Grips", "Shaft diameter that the collet or adapter is made for, in mm.",
        do="read the shaft size that the collet or adapter is made for", least=0.3, most=50, examples=[5.0],
    )
    shaft_flat: Field[bool] = says(
        "Flat on the shaft", "true where the set-screw sits on a flat of the shaft.",
        do="look whether the set-screw sits on a flat of the shaft", examples=[True],
    )
    latched: Field[bool] = says(
        "Latched", "true where every clip is latched.",
        do="look and pull: is every clip latched?", examples=[True],
    )
    seat_mm: Field[float] = says(
        "Seat", "Diameter that the prop's hole sits on, in mm.",
        do="measure the diameter that the prop's hole sits on", least=0.3, most=100, examples=[6.0],
    )
    centring_ring: Field[Literal["fitted", "missing", "not-needed"]] = says(
        "Centring ring", "Whether a ring fills the gap between the hub's hole and the seat.",
        do="look whether a ring fills the gap between the hub's hole and the seat", examples=["fitted"],
    )
