"""Was the pack charged since it last flew?"""

import math

from preflint.api import (
    CAUTION,
    DESK,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Unproven,
    fitted,
    logbook,
    need,
    rule,
)
from preflint.compute.energy import charge_mah

from ..power.limits import AMPERES_COMPARED
from .charge import capacity, flights, hover, of_pack
from .planned import K


@rule(
    "endurance/charged",
    each="pack",
    severity=CAUTION,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="derived: what hover takes in the minutes flown, against what the pack gives",
    tolerances=AMPERES_COMPARED,
)
def charged(pack: fitted.Pack, on: Context) -> Outcome:
    """Does the logbook leave enough in the pack for another flight?

    A pack that is put back among the full ones looks like them. The second flight on one charge ends where the first
    one left it.

    Reasoning: asked where the logbook tells what was put back (`put_back_mah`) after at least one flight on this pack,
    so that a flight without it was not followed by charging. The minutes of these flights at hover current are taken
    off what the pack gives (as endurance/reserve has it). Found if what is left is less than the last flight took, for
    certain (95 %); unproven where minutes are missing, or it is too near to tell.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4, capacity_mah: 6000}]
        records:
          hover: [{date: 2026-05-17, mean_current_a: 15.4}]
        logbook:
          - {date: 2026-05-18, kind: flown, minutes: 12, pack: A1, put_back_mah: 3050}
          - {date: 2026-05-19, kind: flown, minutes: 17, pack: A1}

    Passes: the same with

        logbook:
          - {date: 2026-05-18, kind: flown, minutes: 12, pack: A1, put_back_mah: 3050}
          - {date: 2026-05-19, kind: flown, minutes: 17, pack: A1, put_back_mah: 4300}

    It does not check a pack that was discharged otherwise, and none whose charging nobody writes down.
    """
    flown = flights(pack, on)
    if not any(isinstance(entry.put_back_mah, Known) for entry in flown):
        return NotApplicable("nobody writes down what is put back into this pack")
    since = flown[_after_full(flown) :]
    if not since:
        return Clear(f"charged after the flight of {flown[-1].date.value}")
    minutes = [need(entry.minutes).value for entry in since]
    (current, whence), gives = hover(on), capacity(pack, on)
    took, last = (charge_mah(current.value, 60 * some) for some in (sum(minutes), minutes[-1]))
    left, wanted = gives.middle.value - took, last
    u = math.hypot(gives.middle.u, (took + wanted) * current.u / current.value)
    evidence = (
        f"{sum(minutes):g} min at {current.value:.1f} A ({whence}) since it was last full: {took:.0f} mAh of "
        f"{gives.least:.0f} to {gives.most:.0f} ({gives.words}); the last flight took {last:.0f} mAh"
    )
    message = f"{of_pack(pack)} has flown {sum(minutes):g} min since it was last charged: {took:.0f} mAh"
    how = "charge it full; if it was, write put_back_mah at its last flight"
    if left + K * u < wanted:
        return Finding(place=since[-1].place, message=message, evidence=evidence, do=how, mind=DESK)
    if left - K * u < wanted:
        return Unproven(cause="uncertain", place=since[-1].place, message=message, do=how, evidence=evidence, mind=DESK)
    return Clear(evidence)


def _after_full(flown: tuple[logbook.LogEntry, ...]) -> int:
    """How many of the flights, first to last, lie before the pack was last charged."""
    return max((i + 1 for i, entry in enumerate(flown) if isinstance(entry.put_back_mah, Known)), default=0)
