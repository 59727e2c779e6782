"""What is set to warn, and what that means for a pack."""

from collections.abc import Mapping

from preflint.api import Absent, Aircraft, Field, Known, NotApplicable, NotFitted, Open, Unproven, fitted, need

from ..power.draw import pack_window_v

# Which numbers say where a warning comes, by what it watches.
NUMBERS: Mapping[str, tuple[str, ...]] = {
    "pack-voltage": ("at_v", "at_cell_v"),
    "lowest-cell": ("at_cell_v",),
    "charge-used": ("at_used_mah",),
    "flight-time": ("at_min",),
}
BY_VOLTS = ("pack-voltage", "lowest-cell")


def warnings_of(aircraft: Aircraft) -> tuple[fitted.BatteryWarning, ...] | NotApplicable:
    """Those that are set. Where nobody says, or none is, warnings/none tells it."""
    told = aircraft.battery_warnings
    if isinstance(told, Absent):
        return NotApplicable("no battery warning is recorded: see warnings/none")
    if isinstance(told, NotFitted):
        return NotApplicable("nothing warns of an empty pack: see warnings/none")
    return told.value


def told_number(warning: fitted.BatteryWarning) -> Known[float] | None:
    """At which number it comes, of those that fit what it watches; None where none is recorded."""
    told: list[Field[float]] = [getattr(warning, name) for name in NUMBERS[warning.watches.value]]
    return next((one for one in told if isinstance(one, Known)), None)


def number(warning: fitted.BatteryWarning) -> Known[float]:
    """The same. Ends the rule as unproven where none is recorded."""
    absent: Field[float] = getattr(warning, NUMBERS[warning.watches.value][0])
    return told_number(warning) or need(absent)


def cell_v(warning: fitted.BatteryWarning, pack: fitted.Pack) -> float:
    """The voltage of a cell of this pack at which a warning of volts comes, as set."""
    at = number(warning)
    return at.value / need(pack.cells).value if at is warning.at_v else at.value


def in_words(warning: fitted.BatteryWarning) -> str:
    """``pack-voltage at 14 V``."""
    at = told_number(warning)
    if at is None:
        return f"{warning.watches.value} at no number"
    unit = {"charge-used": "mAh", "flight-time": "min"}.get(warning.watches.value, "V")
    a_cell = " a cell" if at is warning.at_cell_v else ""
    return f"{warning.watches.value} at {at.value:g} {unit}{a_cell}"


def works(warning: fitted.BatteryWarning, pack: fitted.Pack, lasts_min: float) -> bool:
    """Whether it comes at all before this pack is empty, by its number alone; by the clock after ``lasts_min``.

    Ends the rule as unproven where number, cells, chemistry or capacity are not recorded.
    """
    at = number(warning).value
    match warning.watches.value:
        case "flight-time":
            return at < lasts_min
        case "charge-used":
            return at < need(pack.capacity_mah).value
    low, full = pack_window_v(pack)
    return low < cell_v(warning, pack) * need(pack.cells).value < full


def name_of(pack: fitted.Pack) -> str:
    """What people call it."""
    return f"pack {pack.label.value}" if isinstance(pack.label, Known) else "the pack"


def no_pack(aircraft: Aircraft) -> Open:
    """That no pack is recorded."""
    how = "write down cells, chemistry and capacity_mah of each pack"
    message = "no pack is recorded, so that nobody can tell what its warnings mean"
    return Open(Unproven(place=aircraft.place, message=message, do=how, on_paper=True))
