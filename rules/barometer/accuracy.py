"""Is the barometer on board as accurate as its maker says?"""

import math

from preflint.api import (
    ADVISORY,
    FIELD_CHECK,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    Unproven,
    need,
    rule,
)
from preflint.compute.decision import decide, t_factor, u_rectangular

from .pressure import INDICATION, pressure_of_the_place


@rule(
    "barometer/accuracy",
    each="aircraft",
    severity=ADVISORY,
    job=Job.PACK_IN,
    precaution=FIELD_CHECK,
    source="the maker's accuracy, as written in the manifest",
    tolerances=(INDICATION,),
)
def accuracy(aircraft: Aircraft, on: Context) -> Outcome:
    """Is the barometer on board as accurate as its maker says?

    One that is further off than its data sheet allows is blocked a little, pressed on, or grows old. Within the limit
    of indicated-pressure it flies; it is better known than not.

    Reasoning: error and uncertainty as for indicated-pressure, against `barometer.accuracy_hpa`. Found above it beyond
    the uncertainty (95 %), clear below by as much, otherwise too uncertain to tell.

    Fails:

        barometer: {accuracy_hpa: 1.0}
        records:
          barometer_check: [{date: 2026-05-20, indicated_hpa: 988.4, station_pressure_hpa: 986.4,
                             reference: {accuracy_hpa: 0.5}}]

    Passes: the same with

        records:
          barometer_check: [{date: 2026-05-20, indicated_hpa: 986.7, station_pressure_hpa: 986.4,
                             reference: {accuracy_hpa: 0.5}}]

    Not checked: as indicated-pressure.
    """
    if aircraft.relies_on("barometer") is not True:
        return NotApplicable("the aircraft does not rely on a barometer, or nobody says")
    fitted, check = aircraft.barometer, on.latest(aircraft.records.barometer_check)
    if not isinstance(fitted, Known) or not isinstance(fitted.value.accuracy_hpa, Known):
        return NotApplicable("the barometer's own accuracy is not recorded")
    if check is None or not on.speaks("barometer_check", check):
        return NotApplicable("no barometer check speaks: barometer/indicated-pressure asks for one")
    own, reference = fitted.value.accuracy_hpa, need(check.reference.accuracy_hpa)
    expected, reduction, words = on.once(pressure_of_the_place, check, aircraft)
    error = check.indicated_hpa.value - expected
    u = math.hypot(u_rectangular(reference.value), u_rectangular(reduction))
    evidence = (
        f"indicated {check.indicated_hpa.value:.1f} hPa, {words}: {error:+.1f} hPa ± {t_factor(math.inf) * u:.1f} hPa "
        f"(95 %); its maker says {own.value:g} hPa"
    )
    if decide(error, u, math.inf, on.limit(INDICATION)) == "found":
        return NotApplicable("said by barometer/indicated-pressure")
    decision = decide(error, u, math.inf, own.value)
    if decision == "clear":
        return Clear(evidence)
    related = (Related(own.place, "the maker's accuracy"),)
    if decision == "found":
        return Finding(
            place=check.indicated_hpa.place,
            message=f"the barometer is off by {abs(error):.1f} hPa, more than the {own.value:g} hPa of its maker",
            evidence=evidence,
            do="clear the sensor's hole; see that nothing presses on it; repeat the barometer check",
            related=related,
            record="barometer_check",
        )
    return Unproven(
        cause="uncertain",
        place=check.indicated_hpa.place,
        message=f"whether the barometer keeps to the {own.value:g} hPa of its maker is too uncertain to tell",
        do="repeat the barometer check beside a barometer at the place itself, good to 0.5 hPa or better",
        evidence=evidence,
        related=related,
        record="barometer_check",
    )
