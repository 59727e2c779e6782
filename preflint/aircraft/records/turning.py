"""Which way motors and nuts turn, and what holds them."""

from collections.abc import Mapping
from typing import Literal

from preflint.aircraft.dated import EACH_ROTOR, PROPS, Dated
from preflint.aircraft.declare import kind, like, says
from preflint.aircraft.field import Field, Known
from preflint.aircraft.rung import Rung
from preflint.aircraft.words import Position, Props, Turning
from preflint.frozen import dataclass
from preflint.precautions import DESK, FIRST_LOOK, PACK_UNPLUGGED, PROPS_REMOVED

LOOKED_AT = ("arms", "mounts", "wires", "pack", "bells", "props")


@kind(
    "Spin test", take="let each motor turn briefly and note its spin as seen from above",
    mind=PROPS_REMOVED, speaks_for="rotors", rung=Rung.BENCH_LOOK, minutes=5,
    asks=("props", "seen"),
)
class SpinTest(Dated):
    """Props removed: which way each motor turned."""

    props: Field[Props] = like(PROPS)
    seen: Mapping[str, Known[Turning]] = says(
        "Seen",
        "For each position the spin that was seen from above the aircraft; others stands for every position not named.",
        needed=True, examples=[{"front-left": "cw", "front-right": "ccw"}, {"front-left": "cw", "others": "ccw"}],
    )


@kind(
    "Output test", take="command each output by itself and note which motor turns",
    mind=PROPS_REMOVED, speaks_for="rotors", rung=Rung.BENCH_LOOK, minutes=5,
    asks=("props", "turned"),
)
class OutputTest(Dated):
    """Props removed: each output commanded on its own, and which motor turned."""

    props: Field[Props] = like(PROPS)
    turned: Mapping[str, Known[Position]] = says(
        "Turned",
        "For each position commanded, the position of the motor that turned; as-commanded where every output was "
        "commanded and each turned the motor at its own position.",
        short="as-commanded", needed=True, examples=[{"front-left": "front-left"}, "as-commanded"],
    )


@kind(
    "Nut test", take="hold the nut, turn the motor by hand, and note which way it turned, looking at the nut, and "
    "whether the nut runs on or off",
    mind=PACK_UNPLUGGED, speaks_for="rotors", rung=Rung.BENCH_LOOK, minutes=2,
    asks=("at", "motor_turned|nut_turned", "nut"),
    also={"oneOf": [{"required": ["motor_turned"]}, {"required": ["nut_turned"]}]},
)
class NutTest(Dated):
    """Pack unplugged: hold the nut and turn the motor, or hold the motor and turn the nut, and see whether the nut
    runs on or off. Exactly one of motor_turned and nut_turned.
    """

    at: Known[Position] = like(EACH_ROTOR)
    nut: Known[Literal["runs-on", "runs-off"]] = says(
        "Nut", "Whether the nut ran on (toward the prop) or off.",
        examples=["runs-on"],
    )
    motor_turned: Field[Turning] = says(
        "Motor turned", "Nut held: which way the motor was turned, looking at the nut.",
        do="nut held, looking at the nut: which way was the motor turned?", examples=["cw"],
    )
    nut_turned: Field[Turning] = says(
        "Nut turned", "Motor held: which way the nut was turned, looking at the nut.",
        do="motor held, looking at the nut: which way was the nut turned?", examples=["cw"],
    )


@kind(
    "Rig check", take="look at every prop again, its hand and its face, and name the rig",
    mind=PACK_UNPLUGGED, speaks_for="rotors", rung=Rung.BENCH_LOOK, minutes=2,
    asks=("rig",),
)
class RigCheck(Dated):
    """A look at every prop: in which rig the aircraft stands."""

    rig: Known[Literal["flight", "inverted-load"]] = says(
        "Rig", "flight, or inverted-load (every prop on a motor of the other spin and turned over).",
        examples=["flight"],
    )
    by: Field[str] = says(
        "By", "Who looked.", do="say who looked", mind=DESK, examples=["R. Ashdown"], unjudged="label",
    )


@kind(
    "Walk-round",
    take="walk round the aircraft and look at arms, mounts, wires, pack, bells and props",
    mind=FIRST_LOOK, speaks_for="aircraft", rung=Rung.BENCH_LOOK, minutes=5,
    asks=("looked_at", "damaged"),
)
class WalkRound(Dated):
    """Pack unplugged: a look at the whole aircraft, after a crash, a hard landing or a tip-over."""

    looked_at: tuple[Known[str], ...] = says(
        "Looked at", "What was looked at.",
        needed=True, one_of=LOOKED_AT, examples=[list(LOOKED_AT)],
    )
    damaged: Field[tuple[Known[str], ...]] = says(
        "Damaged", "What of it was found cracked, bent, loose, torn, swollen or warm; [] where nothing.",
        do="write damaged: what was found damaged, or damaged: []", on_paper=True, one_of=LOOKED_AT,
        examples=[[], ["arms"]],
    )


@kind(
    "Bell pull", take="pull each motor's bell along its shaft and note whether it moves",
    mind=PACK_UNPLUGGED, speaks_for="rotors", rung=Rung.BENCH_LOOK, minutes=1,
    asks=("at", "moved"),
)
class BellPull(Dated):
    """Pack unplugged: pull at the motor's bell along the shaft."""

    at: Known[Position] = like(EACH_ROTOR)
    moved: Known[bool] = says("Moved", "true where the bell moved along the shaft.", examples=[False])


@kind(
    "Prop balance", take="balance the prop with its hub and adapter",
    mind=PACK_UNPLUGGED, speaks_for="rotors", rung=Rung.METER, minutes=15,
    asks=("at", "residual_g_mm"),
)
class PropBalance(Dated):
    """What it took to balance one prop."""

    at: Known[Position] = says("Position", "Which rotor the prop belongs to.", examples=["rear-left"])
    residual_g_mm: Field[float] = says(
        "Residual unbalance", "What is left after the balancing, in g mm.",
        do="write what is left: tape weight times its distance from the axis that brings the prop to rest anywhere",
        least=0, most=100000, examples=[0.8],
    )


@dataclass(frozen=True)
class TurningRecords:
    """The records of which way things turn, and what holds them, each kind in the order written."""

    spin_test: tuple[SpinTest, ...]
    output_test: tuple[OutputTest, ...]
    nut_test: tuple[NutTest, ...]
    rig_check: tuple[RigCheck, ...]
    walk_round: tuple[WalkRound, ...]
    bell_pull: tuple[BellPull, ...]
    prop_balance: tuple[PropBalance, ...]
