"""Does the accelerometer show gravity, whichever side is down?"""

from __future__ import annotations

from preflint.api import NO_GO, SETTINGS, Aircraft, Clear, Context, Finding, Job, Outcome, Tolerance, Unproven, rule
from preflint.arrays import np

from .positions import HOW, KNOWN, Positions, fitted

SCALE = Tolerance(
    "accelerometer_scale_percent",
    "%",
    5.0,
    "lower",
    "common practice, no source",
    "how far each axis of the accelerometer may be from gravity at the site",
)
_AXES = ("forward", "right", "down")
_G_PER_M_S2 = 1 / 9.80665  # standard gravity, 3rd CGPM 1901


@rule(
    "inertial/scale",
    each="aircraft",
    severity=NO_GO,
    job=Job.PACK_IN,
    precaution=SETTINGS,
    source="NGA.STND.0036 (WGS 84, normal gravity); the limit is common practice, no source",
    tolerances=(SCALE,),
)
def scale(aircraft: Aircraft, on: Context) -> Outcome:
    """Does each axis of the accelerometer show gravity at rest?

    The flight controller finds down by what the accelerometer shows at rest. A sensor set to another range shows half
    of gravity: every tilt is then taken for another one, and height is held by accelerations that are none.

    Reasoning: at rest the length of (reading - zero) / scale is gravity, whichever side is down. Zero and scale of each
    axis are fitted to all readings by least squares; so no side has to stand plumb. Gravity is that of WGS 84 at the
    site's latitude and elevation; without a latitude 9.80 m/s² ± 0.04. Each reading is known to 0.05 m/s² (1 u), or to
    their scatter where that is more. Found if an axis' scale is more than ``accelerometer_scale_percent`` from 1 beyond
    its uncertainty (95 %), clear if none may be, otherwise too uncertain to tell.

    Fails:

        site: {latitude_deg: 54.4, longitude_deg: -2.9, elevation_m: 150}
        records:
          six_positions:
            - {date: 2026-05-10, columns: [accel_x_m_s2, accel_y_m_s2, accel_z_m_s2],
               rows: [[0.02, -0.03, -4.90], [0.02, 0.03, 4.91], [-4.90, 0.01, -0.03], [4.91, -0.02, 0.03],
                      [0.03, -4.92, 0.01], [-0.01, 4.89, -0.02]]}

    Passes: the same with

        records:
          six_positions:
            - {date: 2026-05-10, columns: [accel_x_m_s2, accel_y_m_s2, accel_z_m_s2],
               rows: [[0.04, -0.06, -9.79], [0.03, 0.05, 9.83], [-9.80, 0.02, -0.05], [9.82, -0.03, 0.06],
                      [0.05, -9.84, 0.02], [-0.02, 9.78, -0.04]]}

    Not checked: which way round the axes are (control/tilt-answer), and how the scale goes with warmth.
    """
    taken = aircraft.records.six_positions
    return on.tested("six_positions", taken, lambda one: _scaled(fitted(one, on), on.limit(SCALE)), HOW)


def _scaled(found: Positions, limit: float) -> Outcome:
    """What one record shows by itself."""
    off, expanded = 100 * found.off, 100 * KNOWN * found.u_off
    worst = int(np.argmax(np.abs(off)))
    evidence = f"{found.in_words()}; ± {expanded[worst]:.1f} % (95 %), at most {limit:g} %"
    place = found.record.place
    if np.all(np.abs(off) + expanded <= limit):
        return Clear(evidence)
    surely = np.abs(off) - expanded
    if np.any(surely > limit):
        worst = int(np.argmax(surely))
        shown = float(found.fit.scale[worst] * found.gravity)
        in_g = abs(found.fit.scale[worst] / _G_PER_M_S2 - 1) <= limit / 100
        return Finding(
            place=place,
            message=f"the accelerometer shows {shown:.2f} m/s² {_AXES[worst]}, gravity is {found.gravity:.2f}",
            evidence=evidence,
            do="the readings are in g: write them in m/s²; else take them again" if in_g else "calibrate the "
            "accelerometer on all six sides; set its range as its maker says; then repeat the six positions",
            record="six_positions",
        )
    return Unproven(
        cause="uncertain",
        place=place,
        message=f"whether the accelerometer is within {limit:g} % of gravity is too uncertain to tell",
        do=HOW,
        evidence=evidence,
        record="six_positions",
    )
