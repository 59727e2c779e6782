"""Was the pack hot after the flight?"""

import math

from preflint.api import (
    AFTER_FLIGHT,
    CAUTION,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Tolerance,
    Unproven,
    records,
    rule,
)
from preflint.compute.decision import decide, t_factor, u_rectangular

from .look import KIND, ran

PACK_HOT = Tolerance(
    "pack_hot_c",
    "°C",
    60.0,
    "lower",
    "common practice, no source (makers give 60 °C as the most in discharge, from memory)",
    "how hot a pack may be after a flight",
)
_READ_WITHIN_K = 2.0  # half-width of a reading at the pack's side; common practice, no source
_DO = "let it cool outdoors before it is charged; fly shorter or with less load, or with a larger pack"


@rule(
    "after_flight/hot-pack",
    each="aircraft",
    severity=CAUTION,
    job=Job.HOVER,
    precaution=AFTER_FLIGHT,
    source="common practice, no source",
    tolerances=(PACK_HOT,),
)
def hot_pack(aircraft: Aircraft, on: Context) -> Outcome:
    """Was a pack hot after the flight?

    A pack that comes back hot gives more than it can: it ages fast, swells, and gives less on the next flight. Found
    above `pack_hot_c` by more than the reading's U (2 K each way). Judged by the latest look that notes it.

    Fails:

        records:
          after_flight_look: [{date: 2026-05-17, motors: {others: warm}, nuts_moved: [], pack_c: 68}]

    Passes: the same with

        records:
          after_flight_look: [{date: 2026-05-17, motors: {others: warm}, nuts_moved: [], pack_c: 44}]

    It does not check the inside of the pack, which is hotter than its side.
    """
    looks = on.so_far(aircraft.records.after_flight_look)
    told = [(look, look.pack_c) for look in looks if isinstance(look.pack_c, Known)]
    if not told:
        return NotApplicable("no look after a flight notes the pack's temperature")
    look, read = told[-1]
    u, limit = u_rectangular(_READ_WITHIN_K), on.limit(PACK_HOT)
    evidence = f"{_of(look)}{read.value:g} ± {t_factor(math.inf) * u:.0f} °C after {ran(look)}, at most {limit:g} °C"
    decision = decide(max(read.value, 0.0), u, math.inf, limit)
    if decision == "found":
        message = f"the pack was at {read.value:g} °C after {ran(look)}"
        return Finding(place=read.place, message=message, evidence=evidence, do=_DO)
    if decision == "uncertain":
        return Unproven(
            cause="uncertain",
            place=read.place,
            message=f"the pack was at {read.value:g} °C: too near the limit to tell",
            do="read its temperature after the next flight, too",
            evidence=evidence,
            record=KIND,
        )
    return Clear(evidence)


def _of(look: records.AfterFlightLook) -> str:
    return f"pack {look.pack.value}: " if isinstance(look.pack, Known) else ""
