"""Does the fence leave room for the flight that is planned, and for coming home?"""

from preflint.api import (
    CAUTION,
    SETTINGS,
    Absent,
    Aircraft,
    Clear,
    Context,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Unproven,
    rule,
)

from ..shared.wrong import Wrong, finding
from .does import not_home


@rule(
    "return/fence",
    each="aircraft",
    severity=CAUTION,
    job=Job.PACK_IN,
    precaution=SETTINGS,
    source="common practice, no source (a bound within the plan ends the flight by surprise)",
)
def fence(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the fence leave room for the planned flight and for the height at which it comes home?

    At its fence the flight controller takes over: it stops, turns round or lands, whatever the sticks say. A fence
    inside the planned flight does that in the middle of it. One below the return height is met by an aircraft that
    climbs in order to come home: one setting works against the other, and which one wins is found out in the air.

    Reasoning: `return.fence_radius_m` against `plan.farthest_m`; `return.fence_height_m` against `plan.height_m` and,
    where it comes home, `return.height_m`; all in m from the take-off place. Settings are exact: found where the fence
    is the smaller number.

    Fails:

        aircraft: {name: Lapwing, layout: quad-x, relies_on: [compass, barometer, satellite]}
        plan: {farthest_m: 300, height_m: 30}
        return: {on_link_loss: comes-home, height_m: 45, fence_radius_m: 200, fence_height_m: 40}

    Passes: the same with

        return: {on_link_loss: comes-home, height_m: 45, fence_radius_m: 400, fence_height_m: 60}

    It does not check what the aircraft does at its fence, nor that a fence keeps it from people or from a road.
    """
    radius, top = aircraft.home.fence_radius_m, aircraft.home.fence_height_m
    if isinstance(radius, Absent) and isinstance(top, Absent):
        return NotApplicable("no fence is set")
    plan = aircraft.plan
    return_height = aircraft.home.height_m if not_home(aircraft) is None else None
    bounds = (
        (radius, plan.farthest_m, "the plan reaches {:g} m, and the fence ends at {:g} m"),
        (top, plan.height_m, "the plan goes up to {:g} m, and the fence ends at {:g} m"),
        (top, return_height, "it comes home at {:g} m, and the fence ends at {:g} m"),
    )
    compared = [
        (fence, other, words)
        for fence, other, words in bounds
        if isinstance(fence, Known) and isinstance(other, Known)
    ]
    short = [(fence, other.value, words) for fence, other, words in compared if fence.value < other.value]
    if short:
        enough = {id(fence): max(value for one, value, _ in short if one is fence) for fence, _, _ in short}
        wrong = [
            Wrong(
                fence.place,
                words.format(value, fence.value),
                f"set its {'radius' if fence is radius else 'height'} to {enough[id(fence)]:g} m or more",
            )
            for fence, value, words in short
        ]
        return finding(wrong, "at its fence the flight controller takes over", then="or plan within the fence")
    if not compared:
        return Unproven(
            place=plan.place,
            message="whether the fence leaves room is not known: no plan is recorded",
            do="write in plan how far and how high you will fly at most",
            on_paper=True,
        )
    return Clear("; ".join(words.format(other.value, fence.value) for fence, other, words in compared))
