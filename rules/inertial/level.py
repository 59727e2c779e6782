"""Does the aircraft know level?"""

from preflint.api import (
    CAUTION,
    SETTINGS,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Tolerance,
    Unproven,
    rule,
)

from .positions import HOW, KNOWN, Positions, fitted

LEVEL = Tolerance(
    "level_error_deg",
    "deg",
    3.0,
    "lower",
    "common practice, no source",
    "how far from level an aircraft may hold itself by the zeros of its accelerometer",
)


@rule(
    "inertial/level",
    each="aircraft",
    severity=CAUTION,
    job=Job.PACK_IN,
    precaution=SETTINGS,
    source="derived: the angle whose tangent is zero over gravity; the limit is common practice, no source",
    tolerances=(LEVEL,),
)
def level(aircraft: Aircraft, on: Context) -> Outcome:
    """Do the accelerometer's zeros let the aircraft hold itself level?

    An accelerometer that shows a little forward where nothing acts makes the aircraft lean, and drift off. The compass
    leans along: where the field dips by I, a lean of δ turns the heading by up to δ·tan I.

    Reasoning: zeros as fitted for scale; δ = atan(√(zero_x² + zero_y²) / g). Found above ``level_error_deg`` beyond its
    uncertainty (95 %), clear below by as much, otherwise too uncertain to tell. Beside a compass rotation the lean
    counts in compass/total-deviation; a heading check has it in its readings.

    Fails:

        records:
          six_positions:
            - {date: 2026-05-10, columns: [accel_x_m_s2, accel_y_m_s2, accel_z_m_s2],
               rows: [[0.94, -0.06, -9.79], [0.93, 0.05, 9.83], [-8.90, 0.02, -0.05], [10.72, -0.03, 0.06],
                      [0.95, -9.84, 0.02], [0.88, 9.78, -0.04]]}

    Passes: the same with

        records:
          six_positions:
            - {date: 2026-05-10, columns: [accel_x_m_s2, accel_y_m_s2, accel_z_m_s2],
               rows: [[0.04, -0.06, -9.79], [0.03, 0.05, 9.83], [-9.80, 0.02, -0.05], [9.82, -0.03, 0.06],
                      [0.05, -9.84, 0.02], [-0.02, 9.78, -0.04]]}

    Not checked: a flight controller that sits askew on the frame: its zeros are right then.
    """
    taken = aircraft.records.six_positions
    if not taken:
        return NotApplicable("no six positions are recorded, which inertial/scale asks for")
    return on.tested("six_positions", taken, lambda one: _level(fitted(one, on), on.limit(LEVEL)), HOW)


def _level(found: Positions, limit: float) -> Outcome:
    """What one record shows by itself."""
    tilt, expanded = found.tilt_deg, KNOWN * found.u_tilt_deg
    evidence = f"level by its zeros to {tilt:.1f}° ± {expanded:.1f}° (95 %), at most {limit:g}°; {found.in_words()}"
    if tilt + expanded <= limit:
        return Clear(evidence)
    place = found.record.place
    if tilt - expanded > limit:
        return Finding(
            place=place,
            message=f"the aircraft holds itself {tilt:.1f}° from level, by the zeros of its accelerometer",
            evidence=evidence,
            do="calibrate the accelerometer on all six sides; then repeat the six positions",
            record="six_positions",
        )
    return Unproven(
        cause="uncertain",
        place=place,
        message=f"the aircraft holds itself {tilt:.1f}° from level: too near {limit:g}° to tell",
        do=HOW,
        evidence=evidence,
        record="six_positions",
    )
