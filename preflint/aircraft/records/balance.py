"""Where the weight acts."""

from preflint.aircraft.dated import Dated
from preflint.aircraft.declare import columns, kind
from preflint.aircraft.field import Field
from preflint.aircraft.rung import Rung
from preflint.frozen import dataclass
from preflint.load.tables.table import Table
from preflint.precautions import PACK_UNPLUGGED


@kind(
    "Balance point",
    take=(
        "stand the aircraft, ready to fly, level on two or three kitchen scales; for each note what it shows and how "
        "far forward and right of the centre of the rotors it supports"
    ),
    mind=PACK_UNPLUGGED, speaks_for="aircraft", rung=Rung.METER, minutes=5,
    asks=("table",),
)
class BalancePoint(Dated):
    """What scales show under the aircraft. Columns forward_mm, right_mm and mass_g, from the centre of the rotors.

    Without right_mm it is taken as balanced between left and right.
    """

    table: Field[Table] = columns("forward_mm", "right_mm?", "mass_g", rows=3)


@dataclass(frozen=True)
class BalanceRecords:
    """The records of where the weight acts, in the order written."""

    balance_point: tuple[BalancePoint, ...]
