"""Will ice build up on the props?"""

from preflint.api import (
    DESK,
    NO_GO,
    PACK_UNPLUGGED,
    Absent,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    Open,
    Outcome,
    Place,
    Related,
    Tolerance,
    need,
    not_recorded,
    rule,
)
from preflint.compute.atmosphere import dew_point_c

from .today import no_weather, today

ICING_C = Tolerance(
    "icing_below_c",
    "°C",
    2.0,
    "higher",
    "common practice, no source",
    "the air temperature up to which damp air may freeze onto a prop",
)
ICING_SPREAD = Tolerance(
    "icing_spread_k",
    "K",
    2.0,
    "higher",
    "common practice, no source",
    "how far the temperature must be above the dew point for air to count as dry",
)


@rule(
    "day/icing",
    each="aircraft",
    severity=NO_GO,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="dew point: WMO-No. 8 (Magnus formula); the two limits: common practice, no source",
    tolerances=(ICING_C, ICING_SPREAD),
)
def icing(aircraft: Aircraft, on: Context) -> Outcome:
    """Is it cold and damp enough for ice on the props?

    A small prop collects ice within a minute or two: thrust falls, the current rises, and the blades shed it one by
    one, which shakes the aircraft. Nobody sees it from the ground.

    Found where the air has `icing_below_c` or less and is damp: rain, snow or fog, or its temperature is within
    `icing_spread_k` of the dew point. The dew point is that of the Magnus formula, from temperature and relative
    humidity. Air cools by about 1 °C in 100 m of height, for which the limit of 2 °C leaves room up to 120 m or so.

    Fails:

        site: {days: [{date: 2026-05-21, temperature_c: 1, relative_humidity_percent: 95, rain: none, fog: false}]}

    Passes:

        site: {days: [{date: 2026-05-21, temperature_c: 1, relative_humidity_percent: 70, rain: none, fog: false}]}

    It does not check a flight into cloud well above the ground, nor frost that lies on the props already.
    """
    day = today(on)
    if day is None:
        return no_weather(on)
    celsius, limit = need(day.temperature_c), on.limit(ICING_C)
    if celsius.value > limit:
        return Clear(f"{celsius.value:g} °C; ice is feared at {limit:g} °C or less")
    rain, fog = day.rain, day.fog
    if isinstance(rain, Known) and rain.value != "none":
        return _found(celsius, "rain or snow falls", f"rain: {rain.value}", rain.place, limit)
    if isinstance(fog, Known) and fog.value:
        return _found(celsius, "there is fog or cloud", "fog: true", fog.place, limit)
    humidity = need(day.relative_humidity_percent)
    dew_c = dew_point_c(celsius.value, humidity.value)
    spread, least = celsius.value - dew_c, on.limit(ICING_SPREAD)
    evidence = f"dew point {dew_c:.1f} °C at {humidity.value:g} % humidity, {spread:.1f} K below the air"
    if spread <= least:
        return _found(celsius, "the air is damp", f"{evidence}; dry above {least:g} K", humidity.place, limit)
    if isinstance(rain, Absent):
        raise Open(not_recorded(rain))
    return Clear(f"{celsius.value:g} °C and dry: {evidence}")


def _found(celsius: Known[float], wet: str, evidence: str, place: Place, limit_c: float) -> Finding:
    return Finding(
        place=celsius.place,
        message=f"ice may build up on the props: {celsius.value:g} °C, and {wet}",
        evidence=f"{evidence}; ice is feared at {limit_c:g} °C or less",
        do="wait for warmer or drier air; then write the day's weather again",
        related=(Related(place, wet),),
        mind=DESK,
    )
