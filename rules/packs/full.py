"""Is the pack of the day charged?"""

import math

from preflint.api import (
    CAUTION,
    PACK_CHECK,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Tolerance,
    Unproven,
    fitted,
    need,
    rule,
)
from preflint.compute.decision import t_factor

from ..power.draw import CELL_WINDOW_V
from ..power.limits import VOLTMETER_FLOOR
from ..power.packs.cells import meter_of, u_of_the_highest
from .day import cells_of, checks_of

NOT_FULL = Tolerance(
    "not_full_below_mv",
    "mV",
    200.0,
    "lower",
    "common practice, no source; a lipo cell has about 85 % of its charge there",
    "how far below full the highest cell of the pack of the day may be (life: 350 mV, where it rests when full)",
)
_LIFE_MORE_MV = 150.0  # a full life cell comes to rest at 3.35 to 3.40 V, not at the 3.65 V that it is charged to
_CHARGE_IT = "charge it full; read the cells again and write another pack_check"


@rule(
    "packs/full",
    each="pack",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source (a pack is charged before it is flown)",
    tolerances=(NOT_FULL, VOLTMETER_FLOOR),
)
def full(pack: fitted.Pack, on: Context) -> Outcome:
    """Is the pack of the day charged?

    A pack at its storage charge looks like a full one, and flies as long as half of one. Flight time, timers and
    warnings of charge used count from full: with it they come when the pack is empty.

    Reasoning: the highest of `cells_v` in the latest pack_check of this pack, on its own day, against the voltage of a
    full cell (4.20 V, lipo-hv 4.35 V, life 3.65 V) less `not_full_below_mv`; 150 mV more of life, which falls to 3.35 V
    by itself. Found where it is below by more than U of the meter at 95 %, clear where it is above by as much.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        records:
          pack_check: [{date: 2026-05-21, pack: A1, cells_v: [3.82, 3.82, 3.82, 3.82],
                        reference: {accuracy_percent: 0.5}}]

    Passes: the same with

        records:
          pack_check: [{date: 2026-05-21, pack: A1, cells_v: [4.17, 4.17, 4.17, 4.16],
                        reference: {accuracy_percent: 0.5}}]

    It does not check a pack that was flown since its cells were read.
    """
    check = on.latest(check for check in checks_of(pack, on) if isinstance(check.cells_v, Known))
    if check is None or not on.speaks("pack_check", check):
        return NotApplicable("no cells of this day are recorded, which packs/cells asks for")
    cells, chemistry = need(check.cells_v), need(pack.chemistry).value
    highest, full_v = max(cells.value), CELL_WINDOW_V[chemistry][1]
    least = full_v - (on.limit(NOT_FULL) + (_LIFE_MORE_MV if chemistry == "life" else 0.0)) / 1000
    u = u_of_the_highest(meter_of(cells_of(check), on.limit(VOLTMETER_FLOOR)), cells.value)
    expanded = t_factor(math.inf) * u
    evidence = (
        f"the highest cell {highest:.2f} ± {expanded:.3f} V (95 %) on {check.date.value}; at least {least:.2f} V, and "
        f"{full_v:.2f} V when full"
    )
    if highest - expanded >= least:
        return Clear(evidence)
    if highest + expanded < least:
        return Finding(
            place=cells.place,
            message=f"the pack is not full: {highest:.2f} V a cell",
            evidence=evidence,
            do=_CHARGE_IT,
            record="pack_check",
        )
    return Unproven(
        cause="uncertain",
        place=cells.place,
        message=f"the pack has {highest:.2f} V a cell: too near {least:.2f} V to tell whether it was charged",
        do=_CHARGE_IT,
        evidence=evidence,
        mind=PACK_CHECK,
        record="pack_check",
    )
