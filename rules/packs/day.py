"""The checks of one pack, and how they are asked for."""

from collections.abc import Callable

from preflint.api import PACK_CHECK, Context, Known, Moment, Outcome, fitted, need, records
from preflint.compute.pack import tug_force_n
from preflint.frozen import dataclass

_HOW = records.KINDS["pack_check"].take
_N_PER_KGF = 9.80665


@dataclass(frozen=True, slots=True)
class Cells:
    """The cells of a pack check, as those of any reading at rest."""

    cells_v: Known[tuple[float, ...]]
    date: Known[Moment]
    reference: records.Reference


def checks_of(pack: fitted.Pack, on: Context) -> tuple[records.PackCheck, ...]:
    """All checks that name this pack, whenever they were made. Ends the rule as unproven where it has no label."""
    label = need(pack.label).value
    return tuple(check for check in on.aircraft.records.pack_check if check.pack.value == label)


def how(pack: fitted.Pack) -> str:
    """The check as an order, with the pull in newtons where the mass of the pack is recorded."""
    force = pull(pack)
    return _HOW.replace("tug at it", f"tug at it {force}") if force else _HOW


def pull(pack: fitted.Pack) -> str:
    """How hard to tug, in words; "" where the mass of the pack is not recorded."""
    if not isinstance(pack.mass_g, Known):
        return ""
    newton = tug_force_n(pack.mass_g.value / 1000)
    return f"with {newton:.0f} N ({newton / _N_PER_KGF:.1f} kgf)"


def asked(
    pack: fitted.Pack, on: Context, judge: Callable[[records.PackCheck], Outcome], *fields: str
) -> Outcome:
    """As the last check of the pack says that failed, else as the latest of the day; of those that hold a field."""
    checks = checks_of(pack, on)
    telling = tuple(check for check in checks if any(isinstance(getattr(check, name), Known) for name in fields))

    def says(check: records.PackCheck) -> object:
        return [value.value if isinstance(value := getattr(check, name), Known) else None for name in fields]

    return on.tested("pack_check", telling or checks, judge, how(pack), mind=PACK_CHECK, says=says)


def cells_of(check: records.PackCheck) -> Cells:
    """Its cells. Ends the rule as unproven where none are recorded."""
    return Cells(need(check.cells_v), check.date, check.reference)
