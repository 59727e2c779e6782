"""The line that a sag run tells: V = V₀ - R·I - a·Q."""

from __future__ import annotations

import math

from preflint.api import (
    Context,
    Known,
    NotApplicable,
    NotFitted,
    Open,
    Unproven,
    fitted,
    need,
    records,
)
from preflint.arrays import np
from preflint.compute.decision import t_factor
from preflint.compute.least_squares import Array, Indeterminate, solve
from preflint.frozen import dataclass

from ...shared.loaded_run import again
from ..draw import is_a_cells

HOW = records.KINDS["sag_run"].take


@dataclass(frozen=True, slots=True, eq=False)
class Sag:
    """V = V₀ - R·I - a·Q fitted to a run, Q in mAh. ``covariance`` is None without a row to spare.

    ``parameters`` are V₀, R and a; (3,), (3, 3). Where no charge was used between the rows a is 0 and known.
    """

    parameters: Array
    covariance: Array | None
    dof: float
    top_a: float
    used_mah: float
    rows: int

    @property
    def ohm(self) -> float:
        """Resistance of pack and leads."""
        return float(self.parameters[1])

    def expanded(self, where: Array) -> float:
        """U at 95 % of the combination ``where`` (3,) of the parameters, by Student's t."""
        assert self.covariance is not None
        return t_factor(self.dof) * math.sqrt(max(0.0, float(where @ self.covariance @ where)))


def fitted_sag(run: records.SagRun) -> Sag | None:
    """The fit, rows all alike; None if the rows do not tell R.

    The rows' standard uncertainty is their scatter about the fit, but at least that of the last digit of the volts
    (q/√12); either way with the degrees of freedom of the scatter, since few rows may agree by luck.
    """
    table = need(run.table).value
    current, used, volts = (table.column(name) for name in ("current_a", "used_mah", "voltage_v"))
    ones = np.ones_like(volts)
    columns = [ones, -current] if np.ptp(used) == 0 else [ones, -current, -used]
    try:
        fit = solve(columns, volts, ones, "the rows do not tell a resistance")
    except Indeterminate:
        return None
    size, spare = len(columns), volts.size - len(columns)
    parameters = np.zeros(3)
    parameters[:size] = fit.parameters
    covariance, dof = None, math.inf
    if spare >= 1:
        scatter, digit = math.sqrt(fit.chi_square / spare), table.last_digit("voltage_v") / math.sqrt(12)
        covariance = np.zeros((3, 3))
        covariance[:size, :size] = max(scatter, digit) ** 2 * fit.inverse
        dof = spare
    return Sag(parameters, covariance, dof, float(np.max(current)), float(np.max(used)), int(volts.size))


def latest_sag(pack: fitted.Pack, on: Context) -> tuple[records.SagRun, Sag] | NotApplicable:
    """The sag run that speaks for the pack, with a fit that has a row to spare; else the rule is unproven."""
    if isinstance(on.aircraft.power_sensing, NotFitted):
        return NotApplicable("no power sensing is fitted")
    of_pack = [run for run in on.aircraft.records.sag_run if _of(run, pack, on)]
    if not on.so_far(of_pack):
        return NotApplicable("no sag run of this pack is recorded")
    run = on.freshest("sag_run", of_pack, HOW, mind=again(on.latest(of_pack)))
    if is_a_cells(float(np.max(need(run.table).value.column("voltage_v"))), pack):
        return NotApplicable("the volts of the sag run are those of one cell: see sag-volts")
    if np.any(np.diff(need(run.table).value.column("used_mah")) < 0):
        message = f"the charge used falls from row to row in the sag run of {run.date.value}"
        how = f"write the rows in the order they were read, of one run only; {HOW}"
        raise Open(
            Unproven(cause="uncertain", place=run.place, message=message, do=how, mind=again(run), record="sag_run")
        )
    found = on.once(fitted_sag, run)
    if found is None:
        message = f"the readings of {run.date.value} tell no resistance: there are too few, or current and charge "
        message += "used rise together"
        raise Open(
            Unproven(cause="uncertain", place=run.place, message=message, do=HOW, mind=again(run), record="sag_run")
        )
    if found.covariance is None:
        message = f"the {found.rows} readings of {run.date.value} leave none to spare to tell how they scatter"
        raise Open(
            Unproven(cause="uncertain", place=run.place, message=message, do=HOW, mind=again(run), record="sag_run")
        )
    return run, found


def _of(run: records.SagRun, pack: fitted.Pack, on: Context) -> bool:
    """Whether it is of this pack: by its label, or because there is no other pack."""
    if isinstance(run.pack, Known) and isinstance(pack.label, Known):
        return run.pack.value == pack.label.value
    return len(on.aircraft.packs) == 1


def in_words(run: records.SagRun, fit: Sag) -> str:
    """The fit, for the evidence."""
    held = f", each after {run.dwell_s.value:g} s" if isinstance(run.dwell_s, Known) else ""
    open_v, ohm, by_charge = fit.parameters
    return (
        f"{fit.rows} readings of {run.date.value}{held}: V = {open_v:.2f} V - {1000 * ohm:.1f} mΩ × I "
        f"- {1000 * by_charge:.2f} mV/mAh × Q"
    )
