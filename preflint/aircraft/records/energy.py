"""Whether what warns of an empty pack was heard."""

from preflint.aircraft.dated import Dated
from preflint.aircraft.declare import kind, says
from preflint.aircraft.field import Field, Known
from preflint.aircraft.rung import Rung
from preflint.aircraft.warning import Watched
from preflint.frozen import dataclass
from preflint.precautions import DESK, PACK_IN_PROPS_OFF


@kind(
    "Warning test",
    take="motors still: set the warning to just above what the display shows, hear or see it, and set it back",
    mind=PACK_IN_PROPS_OFF, speaks_for="aircraft", rung=Rung.METER, minutes=3,
    asks=("watches", "sounded"),
)
class WarningTest(Dated):
    """Whether a battery warning came, so that the pilot noticed it."""

    watches: Field[Watched] = says(
        "Watches", "What the warning that was tried watches, as under battery_warnings.",
        do="say which warning it was", mind=DESK, on_paper=True, examples=["pack-voltage"],
    )
    sounded: Known[bool] = says(
        "Sounded", "true where it was heard, felt or seen without looking for it.",
        do="say whether it was noticed", mind=DESK, examples=[True],
    )
    sounded_at_v: Field[float] = says(
        "Sounded at",
        "Where the pack was run down to the warning as it is set: what the display showed when it came, in V.",
        do="read the display when it comes", mind=PACK_IN_PROPS_OFF, above=0, most=200, examples=[20.9],
    )


@dataclass(frozen=True)
class EnergyRecords:
    """The records of what warns of an empty pack, in the order written."""

    warning_test: tuple[WarningTest, ...]
