"""An indication compared with a reference instrument: reference = zero + gain·indicated.

Three fits, by name:

* ``gain-only``: the zero held at 0, all rows alike;
* ``gain-and-zero``: a straight line, all rows alike;
* ``gain-with-zero-prior``: a straight line with errors on both axes (York) and one more row that says "at
  zero it reads about zero". It stays sound when the rows lie close together, where a free zero and gain
  lose each other, and it is determinate from a single row.

What is uncertain, and how it enters (GUM, JCGM 100:2008):

* the resolution q of either display, q/√12, afresh in each row;
* the scatter of the rows about the fit, if a row is to spare; it replaces the resolution where it is larger.
  Its degrees of freedom count only where the rows refute the resolution (chi-squared beyond its 95 % point);
* the accuracy of the reference instrument, a percentage and an absolute part, each as a half-width, a/√3.
  It is one error common to all rows: it moves gain and zero as a whole and never averages down.

Quantities are in the unit of the rows (volts or amperes); a gain has no unit.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Literal

from preflint.arrays import np
from preflint.compute.decision import chi_square_limit, effective_dof, u_rectangular
from preflint.compute.least_squares import Array, Indeterminate, checked_rows
from preflint.compute.regression import Line, line, line_through_origin
from preflint.compute.york import Rows, york
from preflint.frozen import dataclass

if TYPE_CHECKING:
    from numpy.typing import ArrayLike

FitName = Literal["gain-only", "gain-and-zero", "gain-with-zero-prior"]


@dataclass(frozen=True, slots=True)
class Instrument:
    """A reference instrument: accuracy as half-widths (percent of reading, and absolute), and its display."""

    accuracy_percent: float = 0.0
    accuracy_absolute: float = 0.0
    resolution: float = 0.0

    def __post_init__(self) -> None:
        for value in (self.accuracy_percent, self.accuracy_absolute, self.resolution):
            if not (math.isfinite(value) and value >= 0):
                raise ValueError("accuracy and resolution are finite numbers, zero or more")


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value with its standard uncertainty and effective degrees of freedom."""

    value: float
    u: float
    dof: float


@dataclass(frozen=True, slots=True, eq=False)
class Calibration:
    """One fit, with covariances (2, 2) for (zero, gain).

    ``covariance_rows`` comes from the rows and has ``dof_rows``: those of their scatter, or infinitely many
    where the resolutions explain it. ``covariance_common`` comes from the accuracy of the instrument and from
    the prior, and is taken as exact; ``covariance_prior`` is the part of it that the prior brings.
    ``row_sd`` is the standard uncertainty that one row of the reference was given in the end.
    """

    fit: FitName
    zero: Estimate
    gain: Estimate
    covariance_rows: Array
    covariance_common: Array
    covariance_prior: Array
    dof_rows: float
    row_sd: float

    def reference_at(self, indicated: float) -> Estimate:
        """What the reference would show, and how surely, where this is indicated."""
        at = np.array([1.0, indicated])
        value = self.zero.value + self.gain.value * indicated
        return _estimate(value, at, self.covariance_rows, self.covariance_common, self.dof_rows)

    def with_rows_worth(self, share: float) -> Calibration:
        """The same fit, where each row says as much as ``share`` of an independent one, above 0 and at most 1.

        Rows of a log follow one another so fast that what scatters one scatters the next.
        """
        if not 0 < share <= 1:
            raise ValueError(f"a row is worth more than none and at most one, not {share:g}")
        if share == 1:
            return self
        return _calibration(
            self.fit,
            self.zero.value,
            self.gain.value,
            self.covariance_rows / share,
            self.covariance_common - self.covariance_prior,
            self.covariance_prior,
            dof_rows=max(1.0, self.dof_rows * share),
            row_sd=self.row_sd,
        )

    def error_of_indication(self, indicated: float) -> Estimate:
        """(indicated - true) / true where this is indicated; positive if it reads high.

        Raises Indeterminate where the fit puts the true value at zero or on the other side of it.
        """
        true = self.reference_at(indicated)
        if not true.value * indicated > 0:
            raise Indeterminate(f"no relative error at an indication of {indicated:g}")
        return Estimate(indicated / true.value - 1, abs(indicated) * true.u / true.value**2, true.dof)


def gain_only(
    indicated: ArrayLike, reference: ArrayLike, instrument: Instrument, resolution_indicated: float = 0.0
) -> Calibration | None:
    """The fit with the zero held at 0; None if nothing but zero was indicated.

    ``indicated`` and ``reference``: (n,). Raises ValueError for rows that are not finite or do not match.
    """
    try:
        fit = line_through_origin(indicated, reference, 1.0)
    except Indeterminate:
        return None
    return _from_plain_line("gain-only", fit, indicated, reference, instrument, resolution_indicated)


def gain_and_zero(
    indicated: ArrayLike, reference: ArrayLike, instrument: Instrument, resolution_indicated: float = 0.0
) -> Calibration | None:
    """The straight line with all rows alike; None if only one value was indicated.

    ``indicated`` and ``reference``: (n,). Raises ValueError for rows that are not finite or do not match.
    """
    try:
        fit = line(indicated, reference, 1.0)
    except Indeterminate:
        return None
    return _from_plain_line("gain-and-zero", fit, indicated, reference, instrument, resolution_indicated)


def gain_with_zero_prior(
    indicated: ArrayLike,
    reference: ArrayLike,
    instrument: Instrument,
    resolution_indicated: float = 0.0,
    *,
    u_zero: float,
) -> Calibration | None:
    """The straight line with errors on both axes and a zero known beforehand to be 0 within ``u_zero``.

    ``indicated`` and ``reference``: (n,); ``u_zero`` is a standard uncertainty above zero, in their unit.
    Uncertainties are widened until the rows scatter about the line as much as their degrees of freedom allow, on
    both axes by as much, since nobody knows which of the two scatters (on the reference's alone where the
    indication is taken as exact): given to the coarser of the two, large scatter would make the gain lean. Allowed
    are n - 2 + (u of the zero fitted / u_zero)², which is n - 1 where the prior alone knows the zero and n - 2
    where the rows do (restricted maximum likelihood; D. Harville, J. Am. Stat. Assoc. 72 (1977) 320).
    None if nothing but zero was indicated, or no width of the rows lets the fit settle. Raises ValueError as
    the other fits do.
    """
    if not (math.isfinite(u_zero) and u_zero > 0):
        raise ValueError("the prior of the zero needs a standard uncertainty, finite and above zero")
    xs, ys, _ = checked_rows(indicated, reference, None)
    rows = Rows.of(xs, ys)
    xx, _, yy = rows.about(rows.x, rows.y)  # about 0
    if xx == 0:
        return None
    u_x, u_y = _row_resolutions(xs, ys, instrument, resolution_indicated)
    fit, steepness, wider, refuted = None, math.sqrt(yy / xx), 1.0, False
    for _ in range(200):
        wide_x, wide_y = _widened(u_x, u_y, steepness, wider)
        try:
            fit = york(rows, wide_x, wide_y, u_zero)
        except Indeterminate:  # rows that contradict each other by far more than their resolutions
            fit = None
            if wider * u_y > np.max(np.abs(ys)):
                break
            wider *= 2
            refuted = True
            continue
        row_sd = math.hypot(wide_y, fit.slope * wide_x)
        spare = xs.size - 2 + min(1.0, fit.variance_zero / u_zero**2)
        scatter = float(np.sum((ys - fit.zero - fit.slope * xs) ** 2)) / row_sd**2
        if xs.size < 2 or scatter <= spare * (1 + 1e-4):
            break
        if wider == 1:
            refuted = scatter / spare > chi_square_limit(max(1.0, spare)) / max(1.0, spare)
        wider *= math.sqrt(scatter / spare)
    if fit is None:
        return None
    covariance = np.array([[fit.variance_zero, fit.covariance], [fit.covariance, fit.variance_slope]])
    from_prior = np.outer(covariance[:, 0], covariance[:, 0]) / u_zero**2
    # What an absolute error does to it, to first order: every reference reading one unit higher, and the zero known as
    # before, lifts the whole line by one but for what the zero holds back.
    leaning = np.array([1.0, 0.0]) - covariance[:, 0] / u_zero**2
    return _calibration(
        "gain-with-zero-prior",
        fit.zero,
        fit.slope,
        covariance - from_prior,
        _from_instrument(fit.zero, fit.slope, leaning, instrument),
        from_prior,
        dof_rows=max(1.0, spare) if refuted else math.inf,
        row_sd=row_sd,
    )


def _from_plain_line(
    name: FitName,
    fit: Line,
    indicated: ArrayLike,
    reference: ArrayLike,
    instrument: Instrument,
    resolution_indicated: float,
) -> Calibration:
    xs, ys, _ = checked_rows(indicated, reference, None)
    u_x, u_y = _row_resolutions(xs, ys, instrument, resolution_indicated)
    resolved = math.hypot(u_y, fit.slope * u_x)
    row_sd = max(resolved, fit.residual_sd or 0.0)
    unit = np.array([[fit.variance_intercept, fit.covariance], [fit.covariance, fit.variance_slope]])
    return _calibration(
        name,
        fit.intercept,
        fit.slope,
        row_sd**2 * unit,
        _from_instrument(fit.intercept, fit.slope, unit @ np.array([xs.size, np.sum(xs)]), instrument),
        np.zeros((2, 2)),
        dof_rows=fit.dof if row_sd > resolved else math.inf,
        row_sd=row_sd,
    )


def _calibration(
    name: FitName,
    zero_at: float,
    slope: float,
    rows: Array,
    instrument: Array,
    prior: Array,
    *,
    dof_rows: float,
    row_sd: float,
) -> Calibration:
    common = instrument + prior
    zero, gain = (
        _estimate(value, at, rows, common, dof_rows)
        for value, at in ((zero_at, np.array([1.0, 0.0])), (slope, np.array([0.0, 1.0])))
    )
    return Calibration(name, zero, gain, rows, common, prior, dof_rows, row_sd)


def _estimate(value: float, at: Array, rows: Array, common: Array, dof_rows: float) -> Estimate:
    u_rows, u_common = (math.sqrt(max(0.0, float(at @ part @ at))) for part in (rows, common))
    return Estimate(value, math.hypot(u_rows, u_common), effective_dof([(u_rows, dof_rows), (u_common, math.inf)]))


def _from_instrument(zero: float, slope: float, leaning: Array, instrument: Instrument) -> Array:
    """Covariance of (zero, gain) from the accuracy: a scale error scales both, a shift leans on the fit."""
    scaling = u_rectangular(instrument.accuracy_percent / 100) * np.array([zero, slope])
    shifting = u_rectangular(instrument.accuracy_absolute) * leaning
    return np.outer(scaling, scaling) + np.outer(shifting, shifting)


def _row_resolutions(xs: Array, ys: Array, instrument: Instrument, resolution_indicated: float) -> tuple[float, float]:
    if not (math.isfinite(resolution_indicated) and resolution_indicated >= 0):
        raise ValueError("a resolution is a finite number, zero or more")
    # No display is exact; the floor keeps the arithmetic sound where no resolution was given.
    floor = 1e-9 * float(np.max(np.abs(ys))) or 1e-9
    return resolution_indicated / math.sqrt(12), max(floor, instrument.resolution / math.sqrt(12))


def _widened(u_x: float, u_y: float, steepness: float, wider: float) -> tuple[float, float]:
    """Uncertainties of both axes, so that a row scatters about the line ``wider`` times as much as by them."""
    more = (wider**2 - 1) * (u_y**2 + (steepness * u_x) ** 2)
    if u_x == 0 or steepness == 0:
        return u_x, math.sqrt(u_y**2 + more)
    return math.sqrt(u_x**2 + more / 2 / steepness**2), math.sqrt(u_y**2 + more / 2)
