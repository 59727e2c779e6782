"""The look after a flight: which of them tells, how it is asked for, and how one that failed is put right."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from preflint.api import (
    AFTER_FLIGHT,
    PACK_UNPLUGGED,
    RESTRAINED,
    Context,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Precaution,
    records,
    together,
)

from ..shared.flights import flights

KIND = "after_flight_look"
HOW = "after the next flight unplug the pack; feel every motor and nut; write an after_flight_look"
AGAIN = "run a minute tied down in the flight rig (restrained); write an after_flight_look with after: tied-down"
# The reason is found with the pack unplugged, before anything runs.
AGAIN_MIND = Precaution(*together(PACK_UNPLUGGED, RESTRAINED).sentences, job=Job.MECHANICAL)


def judged(
    on: Context,
    at: str,
    covering: Sequence[records.AfterFlightLook],
    judge: Callable[[records.AfterFlightLook], Outcome],
    do: str,
    mind: Precaution,
) -> Outcome:
    """As the last look that failed says, else the latest that tells of this rotor; not asked before the first flight.

    What is to be done where it failed stays ``do`` whatever was done since: only a later look shows that it helped,
    and nothing runs before the reason is found.
    """
    failed = on.failed(KIND, covering, judge, at)
    if failed is not None:
        return replace(failed, do=do, mind=mind)
    if not on.so_far(covering) and not on.so_far(flights(on.aircraft)):
        return NotApplicable("it has not flown yet")
    return judge(on.freshest(KIND, covering, HOW, at, mind=AFTER_FLIGHT, says=lambda look: None))


def ran(look: records.AfterFlightLook) -> str:
    """After what the look was, in words."""
    run = "a run tied down" if isinstance(look.after, Known) and look.after.value == "tied-down" else "the flight"
    long = f" of {look.minutes.value:g} min" if isinstance(look.minutes, Known) else ""
    return f"{run}{long} on {look.date.value}"
