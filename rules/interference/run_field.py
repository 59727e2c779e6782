"""Was the interference run taken in the Earth's field, or beside steel?"""

from math import degrees, hypot, inf

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
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
    rule,
)
from preflint.compute.decision import decide, t_factor
from preflint.compute.geomagnetism import Field

from ..shared.loaded_run import again
from .earth import FIELD_STRENGTH, earth_field
from .run import latest_run, not_asked, steps_again
from .still_field import NoIron, StillField, still_field

FIELD_DIP = Tolerance(
    "field_dip_deg",
    "deg",
    15.0,
    "lower",
    "common practice, no source",
    "how far the inclination of the field measured level may be from that of the model at the site",
)


@rule(
    "interference/run-field",
    each="aircraft",
    severity=CAUTION,
    job=Job.LOAD,
    precaution=ANY_LOADED_RUN,
    source="derived: the field of the World Magnetic Model at the site; the tolerance is common practice, no source",
    tolerances=(FIELD_STRENGTH, FIELD_DIP),
)
def run_field(aircraft: Aircraft, on: Context) -> Outcome:
    """Was the interference run taken in the Earth's field, or beside steel?

    Over a steel bench, on a car or on reinforced concrete the field is another one, and iron that the current
    magnetises answers it. An offset from there belongs to the bench.

    Reasoning: the run's field at no current (the least step, less the slope times its current), with the
    hard-iron correction added, must be as strong as the World Magnetic Model has it at the site, within
    ``field_strength_percent``, and dip as steeply, within ``field_dip_deg`` (which leaves room for an aircraft that
    stands level only nearly), both beyond the uncertainties of run and model at 95 %. A raw log gets the hard iron
    installed (and soft_iron, where one is). A compensated log gets the difference of the hard iron installed and the
    one in force during the run, and is not judged where that is not recorded: whether it held any is then not known.
    Steel nearby is one explanation, a hard iron that is not as set, or of the wrong sign, the other; both are said.

    Fails:

        site: {latitude_deg: 54.4, longitude_deg: -2.9, elevation_m: 150}
        power_sensing: {sensor_mv_per_a: 26.4}
        compass: {interference_offset_ut_per_a: [-0.11, 0.23, -0.05], hard_iron_ut: [4, -12, 8]}
        records:
          interference_run:
            - date: 2026-05-16
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0.0, 9.00, 24.00, 21.00], [8.1, 9.89, 22.14, 21.41], [16.2, 10.78, 20.27, 21.81],
                     [24.1, 11.65, 18.46, 22.21], [0.1, 9.01, 23.98, 21.00]]

    Passes: the same with

        records:
          interference_run:
            - date: 2026-05-16
              route: restrained
              field_is: raw
              in_force: {sensor_mv_per_a: 26.4}
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0.0, 9.00, 24.00, 38.00], [8.1, 9.89, 22.14, 38.41], [16.2, 10.78, 20.27, 38.81],
                     [24.1, 11.65, 18.46, 39.21], [0.1, 9.01, 23.98, 38.00]]

    Not checked: steel that turns the field to one side only, since the heading of the aircraft is not recorded.
    """
    if not aircraft.records.interference_run:
        return NotApplicable("no interference run is recorded, which heading-error asks for")
    if answer := not_asked(aircraft):
        return answer
    record, earth = latest_run(on), earth_field(on)
    seen = still_field(on, record)
    if isinstance(seen, NoIron):
        return seen.why
    share, most = on.limit(FIELD_STRENGTH) / 100, on.limit(FIELD_DIP)
    u = hypot(seen.u_ut, earth.u_total_ut)
    u_dip = hypot(degrees(seen.u_ut / max(seen.strength_ut, 1.0)), earth.u_inclination_deg)
    evidence = (
        f"with hard iron {seen.strength_ut:.1f} µT, dipping by {seen.dip_deg:.0f}°; the model has "
        f"{earth.total_ut:.1f} µT, dipping by {earth.inclination_deg:.0f}°, at the site; within "
        f"± {t_factor(inf) * u:.1f} µT and ± {t_factor(inf) * u_dip:.1f}° (95 %); at most {100 * share:g} % and "
        f"{most:g}° apart; {seen.kind} run of {record.date.value}: {seen.in_words} µT forward, right, down at no "
        "current"
    )
    by_strength = decide(seen.strength_ut - earth.total_ut, u, inf, share * earth.total_ut)
    by_dip = decide(seen.dip_deg - earth.inclination_deg, u_dip, inf, most)
    if by_strength == by_dip == "clear":
        return Clear(evidence)
    if "found" in (by_strength, by_dip):
        return Finding(
            place=record.place,
            message=_too_strong(seen, earth) if by_strength == "found" else _too_steep(seen, earth),
            evidence=f"taken near steel{'' if by_strength == 'found' else ' or not level'}, or hard iron is not as "
            f"set; {evidence}",
            do="compare hard_iron_ut with the flight controller; if it is right, repeat the run outdoors, level, "
            "away from steel, vehicles and reinforced concrete",
            related=(Related(seen.hard.place, "the hard-iron correction added"),),
            mind=again(record),
            record="interference_run",
        )
    return Unproven(
        cause="uncertain",
        place=record.place,
        message="the field of the run with the motors still may be that of the Earth or not",
        do=steps_again(record),
        evidence=evidence,
        mind=again(record),
        record="interference_run",
    )


def _too_strong(seen: StillField, earth: Field) -> str:
    way = "stronger" if seen.strength_ut > earth.total_ut else "weaker"
    return f"motors still, the run shows {seen.strength_ut:.1f} µT, {way} than the Earth's {earth.total_ut:.1f} µT"


def _too_steep(seen: StillField, earth: Field) -> str:
    way = "more steeply" if seen.dip_deg > earth.inclination_deg else "less steeply"
    return (
        f"motors still, the field of the run dips by {seen.dip_deg:.0f}°, {way} than the Earth's "
        f"{earth.inclination_deg:.0f}°"
    )
