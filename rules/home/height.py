"""Does it come home above everything that stands in the way?"""

import math

from preflint.api import (
    NO_GO,
    SETTINGS,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    fitted,
    rule,
)

from .clearance import DRIFT, above
from .does import not_home

CLEARANCE = Tolerance(
    "return_clearance",
    "m",
    10.0,
    "higher",
    "common practice, no source (it also bears how well a tree's height is guessed)",
    "by how much it must come home above the highest obstacle",
)


@rule(
    "return/height",
    each="aircraft",
    severity=NO_GO,
    job=Job.PACK_IN,
    precaution=SETTINGS,
    source="derived; ISO 2533:1975 for metres per hPa; the clearance is common practice, no source",
    needed_for_flight=True,
    shown_by=fitted.Home,
    tolerances=(CLEARANCE, DRIFT),
)
def height(aircraft: Aircraft, on: Context) -> Outcome:
    """Does it come home above the highest obstacle?

    An aircraft that comes home by itself flies a straight line at the height that is set. It sees no tree, no mast and
    no hill. Height by barometer moves with the weather and with the warmth of the sensor while it flies.

    Reasoning: `return.height_m` less `site.highest_obstacle_m`, both above the take-off place in m, is what is left.
    The height may be wrong by `return_pressure_drift` times 100/(ρ·g), 8.3 m/hPa at sea level and more in thin air; by
    13 m where flight does not rely on a barometer. Found where even the better end leaves less than
    `return_clearance`, clear where the worse end leaves it, else too uncertain to tell.

    Fails:

        aircraft: {name: Lapwing, layout: quad-x, relies_on: [compass, barometer, satellite]}
        site: {highest_obstacle_m: 28}
        return: {on_link_loss: comes-home, height_m: 25}

    Passes: the same with

        return: {on_link_loss: comes-home, height_m: 45}

    It does not check what stands beyond what was looked at, nor how high flight is allowed there.
    """
    why_not = not_home(aircraft)
    if isinstance(why_not, Unproven):
        return why_not
    if why_not:
        return NotApplicable(why_not)
    clearance = on.limit(CLEARANCE)
    found = on.once(above, aircraft, on.limit(DRIFT))
    set_to, highest = found.height.value, found.obstacle.value
    evidence = (
        f"{set_to:g} m less {highest:g} m leaves {found.metres:g} m ± {found.within_m:.1f} m ({found.by}); "
        f"{clearance:g} m at least"
    )
    if found.metres - found.within_m >= clearance:
        return Clear(evidence)
    enough = math.ceil(highest + clearance + found.within_m)
    related = (Related(found.obstacle.place, "the highest obstacle"),)
    do = f"set the return height to {enough} m or more, or fly where nothing stands so high; write it under return"
    if found.metres + found.within_m < clearance:
        words = "only {:g} m above" if found.metres >= 0 else "{:g} m below the top of"
        return Finding(
            place=found.height.place,
            message=f"it comes home {words.format(abs(found.metres))} the highest obstacle",
            evidence=evidence,
            do=do,
            related=related,
        )
    return Unproven(
        cause="uncertain",
        place=found.height.place,
        message=f"whether it comes home {clearance:g} m above the highest obstacle is too uncertain to tell",
        do=do,
        evidence=evidence,
        related=related,
    )
