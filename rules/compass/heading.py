"""Does the compass say where the nose points?"""

from contextlib import suppress
from math import inf

from preflint.api import (
    FIELD_CHECK,
    NO_GO,
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
    Unproven,
    records,
    rule,
)
from preflint.compute.decision import decide

from ..interference.earth import earth_field
from .checks import DEVIATION, MAP_LINE, POINTING, Checked, checked, errors_of, mean_angle, short_way
from .rotation import rotation_or_none

_SAME_WITHIN_DEG = 15.0
_QUARTER_WITHIN_DEG = 20.0
_ALIKE_WITHIN_DEG = 5.0  # hard iron that turns one heading by more than the limit does not turn all alike


@rule(
    "compass/heading-check",
    each="aircraft",
    severity=NO_GO,
    job=Job.PACK_IN,
    precaution=FIELD_CHECK,
    source="14 CFR 27.1327, former 14 CFR 23.1327: deviation of not more than 10° on any heading; 14 CFR 25.1547(e): "
    "steps of at most 45°",
    needed_for_flight=True,
    shown_by=records.HeadingCheck,
    tolerances=(DEVIATION, MAP_LINE, POINTING),
)
def heading_check(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the compass indicate the direction in which the nose points?

    An aircraft that holds its place by a compass that is wrong by more than some tens of degrees corrects to
    the wrong side and flies a widening circle. A calibration by turning the aircraft cannot see a compass
    that is mounted, or set, turned by a quarter: every reading is equally far from the truth. Only known
    directions show it.

    The error is indicated minus true, taken the short way round (−180° to +180°), at eight headings or more
    with no gap wider than 60° between neighbours: soft iron turns the compass twice a turn, and may be zero on all
    of north, east, south and west. Four do beside a rotation, which shows soft iron by itself.
    `reference.accuracy_deg` is how well the directions were known, common to all; the nose is pointed anew each
    time, to ``heading_pointing`` (both a/√3 as standard uncertainties, 95 % bounds). Both columns count from the
    same north. Errors that are all alike are those of a compass turned, or of two norths, one true and one magnetic; a
    heading that runs the wrong way round is that of a compass the wrong way up.

    Fails:

        compass: {hard_iron_ut: [0, 0, 0]}
        records:
          heading_check: [{date: 2026-05-20, reference: {accuracy_deg: 2}, columns: [true_deg, indicated_deg],
                           rows: [[0, 91], [90, 182], [180, 269], [270, 1]]}]

    Passes: the same with

        records:
          heading_check: [{date: 2026-05-20, reference: {accuracy_deg: 2}, columns: [true_deg, indicated_deg],
                           rows: [[0, 2], [45, 48], [90, 93], [135, 136],
                                  [180, 178], [225, 222], [270, 268], [315, 315]]}]

    Not checked: the compass under load (interference) or tilted.
    """
    relies = aircraft.relies_on("compass")
    if isinstance(relies, Absent):
        raise Open(
            Unproven(
                place=relies.place,
                message="whether the aircraft has a compass is not recorded",
                do=relies.do,
                on_paper=relies.on_paper,
            )
        )
    if not relies:
        return NotApplicable("the aircraft does not rely on a compass")
    kept = on.aircraft.records.heading_check
    failed = on.failed("heading_check", kept, lambda record: _indicated(on.once(errors_of, record, on), on))
    return failed or _indicated(checked(on), on)


def _indicated(check: Checked, on: Context) -> Outcome:
    """What one heading check shows by itself."""
    limit = on.limit(DEVIATION)
    true, errors, uncertainty = check.true_deg, check.errors_deg, check.u_deg
    worst = max(range(len(errors)), key=lambda i: (abs(errors[i]), -i))
    evidence = f"{check.in_words()}; at most {limit:g}°"
    decision = decide(errors[worst], uncertainty, inf, limit)
    if decision == "found":
        return _what_is_wrong(check, worst, on, evidence)
    if not check.goes_round or not (check.shows_soft_iron or rotation_or_none(on)):
        return check.too_few(evidence)
    if decision == "clear":
        return Clear(evidence)
    return Unproven(
        cause="uncertain",
        place=check.row_place(worst),
        message=f"the heading check cannot tell whether the error at {true[worst]:.0f}° is within the limit",
        do="repeat it with directions that are known better, by a longer map line",
        record="heading_check",
        evidence=evidence,
    )


def _what_is_wrong(check: Checked, worst: int, on: Context, evidence: str) -> Finding:
    errors, again = check.errors_deg, "then repeat the heading check"
    if turned := constant_turn(errors):
        how = {90: "a quarter turn clockwise", -90: "a quarter turn counter-clockwise", 180: "half a turn"}[turned]
        back = {90: "counter-clockwise", -90: "clockwise", 180: "either way"}[turned]
        message = f"the compass sits {how} from its setting, seen from above"
        return Finding(
            place=check.row_place(worst),
            message=message,
            evidence=evidence,
            do=f"turn the compass by {abs(turned)}° {back}, or set the way it is mounted; {again}",
            record="heading_check",
        )
    if check.goes_round and _alike([2 * t + e for t, e in zip(check.true_deg, errors, strict=True)], _SAME_WITHIN_DEG):
        message = "the heading turns against the nose: the compass is the wrong way up"
        remedy = "set the way the compass is mounted, with the side that is up, and calibrate it"
        return Finding(
            place=check.row_place(worst),
            message=message,
            evidence=evidence,
            do=f"{remedy}; {again}",
            record="heading_check",
        )
    if len(errors) > 1 and _alike(errors, _ALIKE_WITHIN_DEG):
        error = mean_angle(errors)
        message = f"every heading is off by about {error:+.0f}°: the compass is turned, or the norths are two"
        site = on.aircraft.site
        with suppress(Open):
            if all(isinstance(one, Known) for one in (site.latitude_deg, site.longitude_deg, site.elevation_m)):
                evidence += f"; declination at the site {round(earth_field(on).declination_deg):+d}°"
        remedy = (
            "look whether both columns count from true north and the declination is set; if so, set the way the "
            "compass is mounted"
        )
        return Finding(
            place=check.row_place(worst),
            message=message,
            evidence=evidence,
            do=f"{remedy}; {again}",
            record="heading_check",
        )
    side = "clockwise" if errors[worst] > 0 else "counter-clockwise"
    return Finding(
        place=check.row_place(worst),
        message=f"with the nose at {check.true_deg[worst]:.0f}° the compass indicates "
        f"{abs(errors[worst]):.0f}° too far {side}",
        evidence=evidence,
        do="look for steel, magnets and power leads near the compass; calibrate it again away from them; " + again,
        record="heading_check",
    )


def _alike(angles_deg: list[float], within_deg: float) -> bool:
    mean = mean_angle(angles_deg)
    return all(abs(short_way(angle - mean)) <= within_deg for angle in angles_deg)


def constant_turn(errors_deg: list[float]) -> int | None:
    """90, −90 or 180 where all errors are nearly that; else None. Clockwise from above is positive."""
    if not _alike(errors_deg, _SAME_WITHIN_DEG):
        return None
    mean = mean_angle(errors_deg)
    return next((turn for turn in (90, -90, 180) if abs(short_way(mean - turn)) <= _QUARTER_WITHIN_DEG), None)
