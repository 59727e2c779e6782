"""Could the props that ran in the inverted rig be turned over at all?"""

from dataclasses import replace

from preflint.api import (
    CAUTION,
    HOVER_LOG,
    PACK_UNPLUGGED,
    RESTRAINED,
    Absent,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Open,
    Outcome,
    Related,
    name,
    need,
    not_recorded,
    rule,
    together,
)

from .runs import inverted_runs
from .state import Rotor, state


@rule(
    "rotation/invertible",
    each="rotor",
    severity=CAUTION,
    job=Job.LOAD,
    precaution=together(RESTRAINED, HOVER_LOG),
    source="common practice, no source",
)
def invertible(rotor: Rotor, on: Context) -> Outcome:
    """Props that ran in the inverted rig can be turned over.

    A hub that is stepped on one side sits crooked when it is turned over; a folding prop folds the
    wrong way under load; a clip or a threaded hub takes the prop one way round only. Whatever was run
    as an inverted load with such props did not draw the flight current, so comparisons and
    interference runs by that route do not vouch for flight, and the props were not held as meant.

    Fails:

        rotors:
          - {at: front-left, spin: cw, prop: {hand: cw, face: up, hub: folding}}
        records:
          current_comparison:
            - date: 2026-04-18 14:00
              route: inverted-load
              columns: [indicated_a, reference_a]
              rows: [[0.1, 0.0], [20.9, 21.4]]

    Passes: the same with

        rotors:
          - {at: front-left, spin: cw, prop: {hand: cw, face: up, hub: plain}, fixing: {kind: nut}}

    Not checked: whether the props of that day were the props of today.
    """
    at, runs = name(rotor), on.once(inverted_runs, on.aircraft)
    now = on.once(state, rotor) == "inverted-load"
    if not runs and not now:
        return NotApplicable("nothing was run in the inverted rig")
    hub, kind = rotor.prop.hub, rotor.fixing.kind
    if isinstance(hub, Known) and hub.value != "plain":
        place, what = hub.place, f"{hub.value} hub"
    elif isinstance(kind, Known) and kind.value in ("clip", "threaded-hub"):
        place, what = kind.place, "clip fixing" if kind.value == "clip" else "threaded hub"
    else:
        for unseen in (hub, kind):
            if isinstance(unseen, Absent):
                # A look at the aircraft settles it: none of the hazards of a loaded run.
                raise Open(replace(not_recorded(unseen), mind=PACK_UNPLUGGED))
        return Clear(f"{need(hub).value} hub held by {need(kind).value}: it can be turned over")
    ran = [f"{record} of {run.date.value}" for record, run in runs]
    return Finding(
        place=place,
        message=f"the prop at {at} cannot be turned over ({what})",
        evidence="a load in the inverted rig does not stand for flight; "
        + (f"taken in it: {', '.join(ran)}" if ran else "the prop is in it now"),
        do="repeat every loaded run restrained in the flight rig, or take the readings from a hover log",
        related=tuple(Related(need(run.route).place, f"the {record} by the inverted rig") for record, run in runs),
    )
