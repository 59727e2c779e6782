"""What the props look like close by."""

from typing import Literal

from preflint.aircraft.dated import EACH_ROTOR, Dated
from preflint.aircraft.declare import kind, like, says
from preflint.aircraft.field import Known
from preflint.aircraft.rung import Rung
from preflint.aircraft.words import Position
from preflint.frozen import dataclass
from preflint.precautions import PACK_UNPLUGGED


@kind(
    "Prop look",
    take="look along the edges of every blade, bend each a little, and look where it meets the hub",
    mind=PACK_UNPLUGGED, speaks_for="rotors", rung=Rung.BENCH_LOOK, minutes=1,
    asks=("at", "found"),
)
class PropLook(Dated):
    """Pack unplugged: a close look at one prop, edge, tip and root."""

    at: Known[Position] = like(EACH_ROTOR)
    found: Known[Literal["nothing", "nick", "crack", "bent", "root-mark", "loose-blade-bolt"]] = says(
        "Found",
        "The worst of what was found: nothing; nick (a notch in an edge that has no crack in it); crack; bent (a blade "
        "or tip out of its shape); root-mark (a white or dark line where the blade meets the hub); loose-blade-bolt "
        "(of a folding prop).",
        examples=["nothing"],
    )


@dataclass(frozen=True)
class PropRecords:
    """The looks at props, in the order written."""

    prop_look: tuple[PropLook, ...]
