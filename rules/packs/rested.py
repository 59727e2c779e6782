"""Had the cells come to rest when they were read?"""

from preflint.api import (
    ADVISORY,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Tolerance,
    fitted,
    need,
    rule,
)
from preflint.compute.pack import cold_factor

from ..power.packs.cells import perhaps_of

REST = Tolerance(
    "cells_rest_min",
    "min",
    10.0,
    "higher",
    "common practice, no source",
    "how long a pack must have rested before its cells are read, where it is not cold",
)
_COLD_C, _ICE_C = 10.0, 0.0  # below the first cells settle slower; without a temperature the second is taken


@rule(
    "packs/rested",
    each="pack",
    severity=ADVISORY,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source (cells settle after load and after charging)",
    tolerances=(REST,),
)
def rested(pack: fitted.Pack, on: Context) -> Outcome:
    """Had the pack rested long enough when its cells were read?

    Right after load the cells read low, right after charging high, and a weak one further from the others than it is.
    What is judged of them then is judged of readings that were still moving.

    Reasoning: `rested_min` of the latest cell_voltages of this pack against ``cells_rest_min``. Below 10 °C
    (`temperature_c`) cells settle slower: the limit is taken times the bound of packs/cold, 3.8 at 5 °C, 6.1 at 0 °C.
    Where no temperature is recorded, a rest that is enough at 0 °C is enough.

    Fails:

        packs: [{label: A1}]
        records:
          cell_voltages: [{date: 2026-05-16, pack: A1, cells_v: [3.85, 3.85], rested_min: 2, temperature_c: 18}]

    Passes: the same with

        records:
          cell_voltages: [{date: 2026-05-16, pack: A1, cells_v: [3.85, 3.85], rested_min: 30, temperature_c: 18}]

    It does not check what the pack did before it rested.
    """
    latest = on.latest(perhaps_of(pack, on))
    if latest is None:
        return NotApplicable("no cells of this pack are recorded")
    rest, limit = need(latest.rested_min), on.limit(REST)
    at_ice = limit * cold_factor(_ICE_C)
    if isinstance(latest.temperature_c, Known) or rest.value < at_ice:
        if rest.value < limit:  # too short however warm it was
            return _too_soon(rest, f"at least {limit:g} min")
        celsius = need(latest.temperature_c).value
        enough = limit * cold_factor(celsius) if celsius < _COLD_C else limit
        if rest.value < enough:
            return _too_soon(rest, f"at {celsius:g} °C at least {enough:.0f} min")
        return Clear(f"rested {rest.value:g} min at {celsius:g} °C; at least {enough:.0f} min")
    return Clear(f"rested {rest.value:g} min; at least {at_ice:.0f} min, even at {_ICE_C:g} °C")


def _too_soon(rest: Known[float], least: str) -> Finding:
    return Finding(
        place=rest.place,
        message=f"the cells were read after {rest.value:g} minutes of rest: they were still settling",
        evidence=f"{least}",
        do="let the pack rest for an hour, where it is warm, and read every cell again",
        again=True,
        record="cell_voltages",
    )
