"""Does the compass say where the nose points?"""

from contextlib import suppress
from dataclasses import dataclass
from math import atan2, cos, degrees, inf, radians, sin

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
    Place,
    Tolerance,
    Unproven,
    need,
    records,
    rule,
)
from preflint.compute.decision import decide, t_factor, u_rectangular

from ..interference.deviation import earth_field

DEVIATION = Tolerance(
    "heading_deviation",
    "deg",
    10.0,
    "lower",
    "14 CFR 27.1327 (deviation of a magnetic direction indicator on any heading; written for a needle read "
    "by a person)",
    "how far the indicated heading may be from the true one on any heading",
)
MAP_LINE = Tolerance(
    "heading_reference_accuracy",
    "deg",
    3.0,
    "higher",
    "common practice, no source",
    "how well a nose is pointed along a map line, where the record does not say",
)
_WIDEST_GAP_DEG = 120.0
_SAME_WITHIN_DEG = 15.0
_QUARTER_WITHIN_DEG = 20.0
_ALIKE_WITHIN_DEG = 5.0  # hard iron that turns one heading by more than the limit does not turn all alike
_HOW = (
    "away from steel and cables, point the nose north, east, south and west by a map line, read the "
    "indicated heading each time, and write a heading_check with true_deg and indicated_deg"
)


@dataclass(frozen=True, slots=True)
class Checked:
    """A heading check: true headings, and indicated minus true, all (n,) in degrees."""

    record: records.HeadingCheck
    true_deg: list[float]
    errors_deg: list[float]
    accuracy_deg: float
    accuracy_recorded: bool

    @property
    def u_deg(self) -> float:
        """Standard uncertainty of the directions pointed in, common to all of them."""
        return u_rectangular(self.accuracy_deg)

    @property
    def goes_round(self) -> bool:
        return len(self.true_deg) >= 4 and widest_gap(self.true_deg) <= _WIDEST_GAP_DEG

    def row_place(self, row: int) -> Place:
        return need(self.record.table).value.row_place(row)

    def too_few(self, evidence: str) -> Unproven:
        message = "the heading check does not go round the circle: north, east, south and west"
        return Unproven(place=self.record.date.place, message=message, do=_HOW, evidence=evidence, mind=FIELD_CHECK)

    def in_words(self) -> str:
        taken = "recorded" if self.accuracy_recorded else "taken, since none is recorded"
        return (
            "indicated minus true: "
            + ", ".join(f"{e:+.1f}° at {t:.0f}°" for t, e in zip(self.true_deg, self.errors_deg, strict=True))
            + f"; known to {self.accuracy_deg:g}° ({taken}), so ± {t_factor(inf) * self.u_deg:.1f}° (95 %)"
        )


@rule(
    "compass/heading-check",
    each="aircraft",
    severity=NO_GO,
    job=Job.COMPASS,
    precaution=FIELD_CHECK,
    source="14 CFR 27.1327, former 14 CFR 23.1327: deviation of not more than 10° on any heading",
    needed_for_flight=True,
    tolerances=(DEVIATION, MAP_LINE),
)
def heading_check(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the compass indicate the direction in which the nose points?

    An aircraft that holds its place by a compass that is wrong by more than some tens of degrees corrects to
    the wrong side and flies a widening circle. A calibration by turning the aircraft cannot see a compass
    that is mounted, or set, turned by a quarter: every reading is equally far from the truth. Only known
    directions show it.

    The error is indicated minus true, taken the short way round (−180° to +180°), at four headings or more
    with no gap wider than 120° between neighbours. `reference.accuracy_deg` is how well the directions were
    known (a/√3 as a standard uncertainty, 95 % bounds). Both columns count from the same north. Errors that are all
    alike are those of a compass turned, or of two norths, one true and one magnetic; a heading that runs the wrong way
    round is that of a compass the wrong way up.

    Fails:

        compass: {hard_iron_ut: [0, 0, 0]}
        records:
          heading_check: [{date: 2026-05-20, reference: {accuracy_deg: 2}, columns: [true_deg, indicated_deg],
                           rows: [[0, 91], [90, 182], [180, 269], [270, 1]]}]

    Passes:

        compass: {hard_iron_ut: [0, 0, 0]}
        records:
          heading_check: [{date: 2026-05-20, reference: {accuracy_deg: 2}, columns: [true_deg, indicated_deg],
                           rows: [[0, 2], [90, 93], [180, 178], [270, 268]]}]

    Not checked: the compass under load (interference) or tilted; soft iron between four headings: check eight.
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
    check, limit = checked(on), on.limit(DEVIATION)
    true, errors, uncertainty = check.true_deg, check.errors_deg, check.u_deg
    worst = max(range(len(errors)), key=lambda i: (abs(errors[i]), -i))
    evidence = f"{check.in_words()}; at most {limit:g}°"
    decision = decide(errors[worst], uncertainty, inf, limit)
    if decision == "found":
        return _what_is_wrong(check, worst, on, evidence)
    if not check.goes_round:
        return check.too_few(evidence)
    if decision == "clear":
        return Clear(evidence)
    return Unproven(
        cause="uncertain",
        place=check.row_place(worst),
        message=f"the heading check cannot tell: the error at {true[worst]:.0f}° may be within the limit or beyond it",
        do="repeat it with directions that are known better, by a longer map line",
        evidence=evidence,
    )


def checked(on: Context) -> Checked:
    """The heading check that still speaks. Ends the rule as unproven without one."""
    kept = on.aircraft.records.heading_check
    return errors_of(on.freshest("heading_check", kept, _HOW, mind=FIELD_CHECK), on)


def errors_of(record: records.HeadingCheck, on: Context) -> Checked:
    """One heading check, whether or not it still speaks."""
    table = need(record.table).value
    true = [float(t) for t in table.column("true_deg")]
    errors = [short_way(float(i) - t) for i, t in zip(table.column("indicated_deg"), true, strict=True)]
    recorded = record.reference.accuracy_deg
    known = isinstance(recorded, Known)
    accuracy = recorded.value if isinstance(recorded, Known) else on.limit(MAP_LINE)
    return Checked(record, true, errors, accuracy, known)


def _what_is_wrong(check: Checked, worst: int, on: Context, evidence: str) -> Finding:
    errors, again = check.errors_deg, "then repeat the heading check"
    if turned := constant_turn(errors):
        how = {90: "a quarter turn clockwise", -90: "a quarter turn counter-clockwise", 180: "half a turn"}[turned]
        back = {90: "counter-clockwise", -90: "clockwise", 180: "either way"}[turned]
        message = (
            f"every heading is wrong by about {abs(turned)}°: the compass is mounted {how}, seen from above, "
            "from what is set"
        )
        return Finding(
            place=check.row_place(worst),
            message=message,
            evidence=evidence,
            do=f"turn the compass by {abs(turned)}° {back}, or set the way it is mounted; {again}",
        )
    if check.goes_round and _alike([2 * t + e for t, e in zip(check.true_deg, errors, strict=True)], _SAME_WITHIN_DEG):
        message = "as the nose turns one way the indicated heading turns the other: the compass is the wrong way up"
        remedy = "set the way the compass is mounted, with the side that is up, and calibrate it"
        return Finding(place=check.row_place(worst), message=message, evidence=evidence, do=f"{remedy}; {again}")
    if len(errors) > 1 and _alike(errors, _ALIKE_WITHIN_DEG):
        error = mean_angle(errors)
        message = f"every heading is wrong by about {error:+.0f}°: the compass is turned, or the norths are two"
        site = on.aircraft.site
        with suppress(Open):
            if all(isinstance(one, Known) for one in (site.latitude_deg, site.longitude_deg, site.elevation_m)):
                evidence += f"; declination at the site {round(earth_field(on).declination_deg):+d}°"
        remedy = (
            "look whether both columns count from true north and the declination is set; if so, set the way the "
            "compass is mounted"
        )
        return Finding(place=check.row_place(worst), message=message, evidence=evidence, do=f"{remedy}; {again}")
    side = "clockwise" if errors[worst] > 0 else "counter-clockwise"
    return Finding(
        place=check.row_place(worst),
        message=f"with the nose at {check.true_deg[worst]:.0f}° the compass indicates "
        f"{abs(errors[worst]):.0f}° too far {side}",
        evidence=evidence,
        do="look for steel, magnets and power leads near the compass, calibrate it again away from them, " + again,
    )


def short_way(angle_deg: float) -> float:
    """The same angle from −180 (excluded) to +180."""
    return 180.0 - (180.0 - angle_deg) % 360.0


def widest_gap(headings_deg: list[float]) -> float:
    """The widest angle between neighbouring headings round the circle; 360 for a single one."""
    ordered = sorted(h % 360.0 for h in headings_deg)
    return max(b - a for a, b in zip(ordered, [*ordered[1:], ordered[0] + 360.0], strict=True))


def mean_angle(angles_deg: list[float]) -> float:
    """Round the circle."""
    return degrees(atan2(sum(sin(radians(a)) for a in angles_deg), sum(cos(radians(a)) for a in angles_deg)))


def _alike(angles_deg: list[float], within_deg: float) -> bool:
    mean = mean_angle(angles_deg)
    return all(abs(short_way(angle - mean)) <= within_deg for angle in angles_deg)


def constant_turn(errors_deg: list[float]) -> int | None:
    """90, −90 or 180 where all errors are nearly that; else None. Clockwise from above is positive."""
    if not _alike(errors_deg, _SAME_WITHIN_DEG):
        return None
    mean = mean_angle(errors_deg)
    return next((turn for turn in (90, -90, 180) if abs(short_way(mean - turn)) <= _QUARTER_WITHIN_DEG), None)
