"""A heading check: how far the indicated heading is from the true one, and how well that is known."""

from math import atan2, cos, degrees, hypot, inf, radians, sin, sqrt

from preflint.api import FIELD_CHECK, Context, Known, Place, Tolerance, Unproven, need, records
from preflint.compute.decision import t_factor, u_rectangular
from preflint.frozen import dataclass

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
POINTING = Tolerance(
    "heading_pointing",
    "deg",
    1.0,
    "higher",
    "common practice, no source",
    "how far the nose may be off the line, by eye, each time it is pointed anew",
)
_WIDEST_GAP_DEG = 120.0
# Steps of at most 45°: 14 CFR 25.1547(e). Somewhat uneven steps tell two cycles a turn from one just as well.
_SOFT_IRON_FROM, _SOFT_IRON_GAP_DEG = 8, 60.0
_HOW = (
    "point the nose along eight directions, 45° apart, by a map line, away from steel and cables; write true_deg "
    "and indicated_deg of each in a heading_check"
)
_OR_ROTATE = "or log a compass_rotation"


@dataclass(frozen=True, slots=True)
class Checked:
    """A heading check: true headings, and indicated minus true, all (n,) in degrees."""

    record: records.HeadingCheck
    true_deg: list[float]
    errors_deg: list[float]
    accuracy_deg: float
    accuracy_recorded: bool
    pointing_deg: float

    @property
    def u_deg(self) -> float:
        """Standard uncertainty of one error: of the directions, common to all, and of pointing the nose, each time."""
        return hypot(u_rectangular(self.accuracy_deg), u_rectangular(self.pointing_deg))

    @property
    def u_mean_deg(self) -> float:
        """Standard uncertainty of the mean error: pointing the nose averages out, the directions do not."""
        return hypot(u_rectangular(self.accuracy_deg), u_rectangular(self.pointing_deg) / sqrt(len(self.true_deg)))

    @property
    def goes_round(self) -> bool:
        return len(self.true_deg) >= 4 and widest_gap(self.true_deg) <= _WIDEST_GAP_DEG

    @property
    def shows_soft_iron(self) -> bool:
        """Two cycles a turn are zero on all four of north, east, south and west, or on the four between them."""
        return len(self.true_deg) >= _SOFT_IRON_FROM and widest_gap(self.true_deg) <= _SOFT_IRON_GAP_DEG

    def row_place(self, row: int) -> Place:
        return need(self.record.table).value.row_place(row)

    def too_few(self, evidence: str) -> Unproven:
        message, how = "the heading check does not go round the circle", _HOW
        if self.goes_round:
            message = (
                f"{len(self.true_deg)} headings do not show soft iron: it takes eight, 45° apart, or a rotation"
            )
            how = f"{_HOW}; {_OR_ROTATE}"
        return Unproven(place=self.record.date.place, message=message, do=how, evidence=evidence, mind=FIELD_CHECK)

    def in_words(self) -> str:
        taken = "recorded" if self.accuracy_recorded else "taken, since none is recorded"
        return (
            "indicated minus true: "
            + ", ".join(f"{e:+.1f}° at {t:.0f}°" for t, e in zip(self.true_deg, self.errors_deg, strict=True))
            + f"; known to {self.accuracy_deg:g}° ({taken}), pointed to {self.pointing_deg:g}°, "
            f"so ± {t_factor(inf) * self.u_deg:.1f}° (95 %)"
        )


def checked(on: Context) -> Checked:
    """The heading check that still speaks. Ends the rule as unproven without one."""
    kept = on.aircraft.records.heading_check
    return on.once(errors_of, on.freshest("heading_check", kept, _HOW, mind=FIELD_CHECK), on)


def errors_of(record: records.HeadingCheck, on: Context) -> Checked:
    """One heading check, whether or not it still speaks."""
    table = need(record.table).value
    true = [float(t) for t in table.column("true_deg")]
    errors = [short_way(float(i) - t) for i, t in zip(table.column("indicated_deg"), true, strict=True)]
    recorded = record.reference.accuracy_deg
    known = isinstance(recorded, Known)
    accuracy = recorded.value if isinstance(recorded, Known) else on.limit(MAP_LINE)
    return Checked(record, true, errors, accuracy, known, on.limit(POINTING))


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
