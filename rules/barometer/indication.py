"""Does the barometer on board indicate the pressure of the place?"""

from preflint.api import (
    NO_GO,
    PACK_IN_PROPS_OFF,
    Absent,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Open,
    Outcome,
    Tolerance,
    Unproven,
    need,
    records,
    rule,
)
from preflint.compute.atmosphere import station_pressure_hpa
from preflint.compute.decision import decide, u_rectangular

INDICATION = Tolerance(
    "barometer_indication",
    "hPa",
    3.0,
    "lower",
    "derived: about 25 m of height near sea level (ISO 2533: 8.4 m per hPa at 15 °C)",
    "how far the indicated pressure may be from the pressure of the place",
)
# How far the air may be from the standard's 15 °C: what a reduction from sea level can be wrong by.
_UNLIKE_STANDARD = 20.0 / 288.15
_HOW = (
    "read the pressure on the aircraft's display beside a barometer or the weather report, "
    "and write both in a barometer_check"
)


@rule(
    "barometer/indicated-pressure",
    each="aircraft",
    severity=NO_GO,
    job=Job.COMPASS,
    precaution=PACK_IN_PROPS_OFF,
    source="ISO 2533:1975 (standard atmosphere)",
    needed_for_flight=True,
    tolerances=(INDICATION,),
)
def indicated_pressure(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the barometer indicate the pressure of the place?

    An aircraft that holds its height by a barometer that is blocked, unpowered or wrong climbs away or sinks.
    A whole error that stays the same only shifts the height; one of several hPa says that the sensor cannot
    be believed.

    The pressure of the place is recorded (`station_pressure_hpa`), or worked out from the pressure at sea
    level and the site's `elevation_m` by the standard atmosphere. Air that is 20 K unlike the standard
    changes that step in proportion. With the accuracy of the reference as one standard uncertainty of a/√3,
    the 95 % bounds decide.

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
    if not relies:
        return NotApplicable("the aircraft does not rely on a barometer")
    check = on.freshest("barometer_check", aircraft.records.barometer_check, _HOW)
    accuracy = need(check.reference.accuracy_hpa)
    expected, reduction, words = pressure_of_the_place(check, aircraft)
    limit, indicated = on.limit(INDICATION), check.indicated_hpa
    error = indicated.value - expected
    # The two parts have known bounds, not scatter: they add in squares as rectangular ones.
    uncertainty = (u_rectangular(accuracy.value) ** 2 + u_rectangular(reduction) ** 2) ** 0.5
    decision = decide(error, uncertainty, float("inf"), limit)
    evidence = (
        f"indicated {indicated.value:.1f} hPa, {words}: {error:+.1f} hPa ± {1.96 * uncertainty:.1f} hPa (95 "
        "%); "
        f"at most {limit:g} hPa, about {limit * 8.4:.0f} m of height"
    )
    if decision == "clear":
        return Clear(evidence)
    if decision == "found":
        way = "more" if error > 0 else "less"
        return Finding(
            place=indicated.place,
            message=f"the barometer indicates {abs(error):.1f} hPa {way} than the pressure of the place",
            evidence=evidence,
            do="clear the sensor's hole and see that nothing presses on it; if it stays wrong replace it; then "
            "check again",
        )
    return Unproven(
        cause="uncertain",
        place=indicated.place,
        message="the barometer check cannot tell: the indicated pressure may be within the limit or beyond it",
        do="read the pressure at the place itself, with a barometer good to 0.5 hPa or better",
        evidence=evidence,
    )


def pressure_of_the_place(check: records.BarometerCheck, aircraft: Aircraft) -> tuple[float, float, str]:
    """The pressure of the place, what its reduction may be wrong by (both hPa), and words for it."""
    if isinstance(check.station_pressure_hpa, Known):
        value = check.station_pressure_hpa.value
        return value, 0.0, f"the place {value:.1f} hPa"
    if isinstance(check.sea_level_pressure_hpa, Absent):
        need(check.station_pressure_hpa)
    reported = need(check.sea_level_pressure_hpa).value
    elevation = need(aircraft.site.elevation_m).value
    value = station_pressure_hpa(reported, elevation)
    bound = abs(reported - value) * _UNLIKE_STANDARD
    return value, bound, f"{reported:.1f} hPa at sea level, so {value:.1f} hPa at {elevation:g} m"
