"""Does the barometer on board indicate the pressure of the place?"""

from preflint.api import (
    FIELD_CHECK,
    NO_GO,
    Absent,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Open,
    Outcome,
    Unproven,
    need,
    records,
    rule,
)
from preflint.compute.decision import decide, u_rectangular

from .pressure import INDICATION, in_feet, pressure_of_the_place, temperature_then

_HOW = (
    "read the pressure on the display beside a barometer or the weather report; write both in a barometer_check"
)


@rule(
    "barometer/indicated-pressure",
    each="aircraft",
    severity=NO_GO,
    job=Job.PACK_IN,
    precaution=FIELD_CHECK,
    source="ISO 2533:1975 (standard atmosphere)",
    needed_for_flight=True,
    shown_by=records.BarometerCheck,
    tolerances=(INDICATION,),
)
def indicated_pressure(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the barometer indicate the pressure of the place?

    An aircraft that holds its height by a barometer that is blocked, unpowered or wrong climbs away or sinks.
    A whole error that stays the same only shifts the height; one of several hPa says that the sensor cannot
    be believed.

    The pressure of the place is recorded (`station_pressure_hpa`), or worked out from the pressure at sea
    level and the site's `elevation_m`: by the standard atmosphere where the record says
    `reduced_by: standard-atmosphere`, as reports for flying are; by `temperature_c`, of the check or the site,
    where it says `temperature`, with the air below known within 5 K; by the middle of both, and as uncertain,
    where it does not say. Without a temperature, air that is 20 K unlike the standard changes the step in
    proportion. With the accuracy of the reference as one standard uncertainty of a/√3, the 95 % bounds decide.

    Fails:

        records:
          barometer_check: [{date: 2026-05-20, indicated_hpa: 978.1, station_pressure_hpa: 986.4,
                             reference: {accuracy_hpa: 0.5}}]

    Passes:

        records:
          barometer_check: [{date: 2026-05-20, indicated_hpa: 987.0, station_pressure_hpa: 986.4,
                             reference: {accuracy_hpa: 0.5}}]

    It does not check whether wind or prop wash disturbs the sensor in flight, nor whether light falls on it.
    """
    if not _relied_on(aircraft):
        return NotApplicable("the aircraft does not rely on a barometer")
    return on.tested("barometer_check", aircraft.records.barometer_check, lambda check: _indicated(check, on), _HOW)


def _indicated(check: records.BarometerCheck, on: Context) -> Outcome:
    """What one barometer check shows by itself."""
    accuracy = need(check.reference.accuracy_hpa)
    expected, reduction, words = on.once(pressure_of_the_place, check, on.aircraft)
    limit, indicated = on.limit(INDICATION), check.indicated_hpa
    error = indicated.value - expected
    # The two parts have known bounds, not scatter: they add in squares as rectangular ones.
    uncertainty = (u_rectangular(accuracy.value) ** 2 + u_rectangular(reduction) ** 2) ** 0.5
    decision = decide(error, uncertainty, float("inf"), limit)
    evidence = (
        f"indicated {indicated.value:.1f} hPa, {words}: {error:+.1f} hPa ± {1.96 * uncertainty:.1f} hPa (95 %); "
        f"at most {limit:g} hPa, about {limit * 8.32:.0f} m of height"
    )
    if decision == "clear":
        return Clear(evidence)
    if decision == "found":
        way = "more" if error > 0 else "less"
        feet = in_feet(check, on.aircraft, limit)
        first = "write elevation_m in metres: its number fits in feet; else " if feet else ""
        return Finding(
            place=indicated.place,
            message=f"the barometer indicates {abs(error):.1f} hPa {way} than the pressure of the place",
            evidence=evidence,
            do=f"{first}clear the sensor's hole; see that nothing presses on it; if it stays wrong replace it; check "
            "again",
        )
    open_how = reduction > 0 and isinstance(check.reduced_by, Absent)
    said = "say how the report was reduced, in reduced_by; or " if open_how else ""
    if reduction > 0 and not open_how and isinstance(temperature_then(check, on.aircraft.site), Absent):
        said = "write temperature_c of the air then into the barometer check; or "
    return Unproven(
        cause="uncertain",
        place=indicated.place,
        message="the barometer check cannot tell whether the pressure is within the limit",
        do=f"{said}read the pressure at the place itself, with a barometer good to 0.5 hPa or better",
        record="barometer_check",
        evidence=evidence,
    )


def _relied_on(aircraft: Aircraft) -> bool:
    """Ends the rule as unproven where nobody says."""
    relies = aircraft.relies_on("barometer")
    if isinstance(relies, Absent):
        raise Open(
            Unproven(
                place=relies.place,
                message="whether the aircraft has a barometer is not recorded",
                do=relies.do,
                on_paper=relies.on_paper,
            )
        )
    return relies
