"""The pack of the day, looked at where it sits in the aircraft, and its plug after soldering."""

from preflint.aircraft.dated import INSTRUMENT, PACK_LABEL, Dated, Reference
from preflint.aircraft.declare import kind, like, says
from preflint.aircraft.field import Field, Known
from preflint.aircraft.rung import Rung
from preflint.frozen import dataclass
from preflint.precautions import PACK_CHECK, PACK_UNPLUGGED


@kind(
    "Pack check",
    take=(
        "lay the pack on a flat table; strap it in and tug at it; look at its leads; push its plug home and tug at that"
    ),
    mind=PACK_CHECK, speaks_for="aircraft", rung=Rung.BENCH_LOOK, minutes=2,
    asks=("pack", "rocks_on_flat", "straps", "latched", "tug_moved", "plug_tug_moved", "leads_clear"),
)
class PackCheck(Dated):
    """One pack before the flights of a day: whole, held and plugged. It counts on its own day only."""

    pack: Known[str] = like(PACK_LABEL)
    rocks_on_flat: Field[bool] = says(
        "Rocks on a flat table",
        "true where the pack, laid on a flat table on one broad side and then on the other, rocks, or a side bulges. "
        "Of a hard case, or of round cells: true where the case bulges or a seam or the wrapping has opened.",
        do="lay the pack on a flat table, on one broad side and then on the other; say whether it rocks or bulges",
        examples=[False],
    )
    straps: Field[int] = says(
        "Straps", "How many straps or bands go round the pack; 0 where a latch or a tight pocket alone holds it.",
        do="count the straps that go round the pack", least=0, most=20, examples=[2],
    )
    latched: Field[bool] = says(
        "Latched",
        "true where all that holds the pack is shut: every strap pulled tight, every latch caught, the pack pushed "
        "home in its pocket.",
        do="look whether every strap is tight and every latch has caught", examples=[True],
    )
    tug_moved: Field[bool] = says(
        "Moved when tugged",
        "true where the pack moved when tugged forward, back, sideways and up, with three and a half times its weight.",
        do="tug at the pack forward, back, sideways and up, with some three times its weight; say whether it moved",
        examples=[False],
    )
    plug_tug_moved: Field[bool] = says(
        "Plug moved when tugged",
        "true where the plug, pushed home, crept or came apart when its two halves were tugged.",
        do="push the plug home and tug at its two halves; say whether it crept or came apart", mind=PACK_CHECK,
        examples=[False],
    )
    leads_clear: Field[bool] = says(
        "Leads clear",
        "true where no lead of the pack, balance lead included, reaches a prop, lies on an edge or is pinched.",
        do="look whether every lead, the balance lead too, keeps clear of props and edges and is not pinched",
        examples=[True],
    )
    cells_v: Field[tuple[float, ...]] = says(
        "Cells", "Voltage of each cell at rest, in V.",
        do="read every cell at the balance plug",
        count=(1, 30), least=0, most=5, examples=[[4.18, 4.18, 4.17, 4.18]],
    )
    temperature_c: Field[float] = says(
        "Pack temperature", "In degrees Celsius.",
        do="say how warm the pack is: a thermometer held to it, or to the place where it lay for two hours",
        least=-60, most=100, examples=[18],
    )
    reference: Reference = like(INSTRUMENT)


@kind(
    "Polarity check",
    take=(
        "with nothing plugged in, follow plus and minus from the pack's plug to the board with a meter, and measure "
        "between them for a short"
    ),
    mind=PACK_UNPLUGGED, speaks_for="aircraft", rung=Rung.METER, minutes=3,
    asks=("polarity_right", "shorted"),
)
class PolarityCheck(Dated):
    """Once after the power lead or a plug was soldered, before a pack is plugged in."""

    polarity_right: Field[bool] = says(
        "Polarity right",
        "true where plus of the plug leads to plus and minus to minus, measured with a meter; false where they are "
        "exchanged or one leads nowhere.",
        do="follow plus and minus from the plug to the board with a meter", examples=[True],
    )
    shorted: Field[bool] = says(
        "Shorted", "true where plus and minus show a lasting short; the beep of a capacitor that ends is none.",
        do="measure between plus and minus of the plug, and wait until a capacitor has charged", examples=[False],
    )


@dataclass(frozen=True)
class PackRecords:
    """The records of packs as they are flown, each kind in the order written."""

    pack_check: tuple[PackCheck, ...]
    polarity_check: tuple[PolarityCheck, ...]
