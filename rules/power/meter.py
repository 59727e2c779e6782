"""The meter of a comparison: how good it is said to be, and how good it is taken to be."""

import math
from typing import Literal

from preflint.api import DESK, Context, Known, Open, Unproven, need, records
from preflint.compute.calibration import Instrument

from ..shared.loaded_run import again, compare_again
from .limits import AMMETER_FLOOR, AMMETER_ZERO_MOST, VOLTMETER_FLOOR

Unit = Literal["v", "a"]
Record = records.VoltageComparison | records.CurrentComparison

COMPARE_VOLTS = f"pack plugged in, motors still: {records.KINDS['voltage_comparison'].take}"
"""How volts are compared with a meter: what a rule asks for that needs them."""


def meter_floor(on: Context, unit: Unit) -> float:
    """The best accuracy, in %, that a meter is taken to have."""
    return on.limit(VOLTMETER_FLOOR if unit == "v" else AMMETER_FLOOR)


def _stated(reference: records.Reference, unit: Unit) -> tuple[float, float]:
    """The meter's accuracy as recorded: in per cent, and the fixed part.

    Ends the rule as unproven where it is missing, or is nothing: no meter is without error.
    """
    fixed = reference.accuracy_v if unit == "v" else reference.accuracy_a
    percent = reference.accuracy_percent
    if not isinstance(fixed, Known):
        need(percent)
    stated = [part for part in (percent, fixed) if isinstance(part, Known)]
    if not any(part.value for part in stated):
        raise Open(
            Unproven(
                place=stated[0].place,
                message="the meter's accuracy is written as 0, but no meter is without error",
                do=f"read the accuracy in the meter's manual: accuracy_percent, and accuracy_{unit} for its fixed part",
                mind=DESK,
            )
        )
    return (
        percent.value if isinstance(percent, Known) else 0.0,
        fixed.value if isinstance(fixed, Known) else 0.0,
    )


def has_accuracy(reference: records.Reference, unit: Unit) -> bool:
    """Whether an accuracy is recorded that is not nothing: no instrument is exact."""
    fixed = reference.accuracy_v if unit == "v" else reference.accuracy_a
    return any(isinstance(part, Known) and part.value > 0 for part in (reference.accuracy_percent, fixed))


def better_than(reference: records.Reference, unit: Unit, at: float, floor: float) -> Known[float] | None:
    """What is claimed in % of a reading ``at``, at its place, where that is better than ``floor``, and more than 0."""
    fixed, percent = reference.accuracy_v if unit == "v" else reference.accuracy_a, reference.accuracy_percent
    of_fixed = 100 * fixed.value / at if isinstance(fixed, Known) and at > 0 else 0.0
    claimed = of_fixed + (percent.value if isinstance(percent, Known) else 0.0)
    stated = percent if isinstance(percent, Known) else fixed
    return Known(claimed, stated.place) if isinstance(stated, Known) and 0 < claimed < floor * (1 - 1e-9) else None


def zero_of(reference: records.Reference, unit: Unit) -> float | None:
    """What the meter showed with no current through it; None where that is not recorded, and for volts."""
    return reference.zero_a.value if unit == "a" and isinstance(reference.zero_a, Known) else None


def must_be_a_zero(on: Context, record: Record) -> None:
    """Ends the rule as unproven where a meter's zero is more than one shows with no current through it."""
    zero, most = record.reference.zero_a, on.limit(AMMETER_ZERO_MOST)
    if isinstance(record, records.VoltageComparison) or not isinstance(zero, Known) or abs(zero.value) <= most:
        return
    raise Open(
        Unproven(
            cause="uncertain",
            place=zero.place,
            message=f"zero_a says {zero.value:g} A with no current: more than {most:g} A is no meter's zero",
            do=f"set the meter to zero away from leads and magnets, note zero_a, and compare again: "
            f"{compare_again(record)}",
            mind=again(record),
        )
    )


def instrument(
    reference: records.Reference, unit: Unit, shown: float, floor: float, zero_within: float | None = 0.0
) -> Instrument:
    """The meter as recorded, no better than ``floor`` in %; where no last digit is, the one that its readings show.

    Its zero is one more error common to all its readings: of a last digit's half where it is recorded, else of
    ``zero_within`` (None: as if it were recorded). Ends the rule as unproven where the accuracy is missing, or is
    nothing.
    """
    percent, fixed = _stated(reference, unit)
    resolution = reference.resolution_v if unit == "v" else reference.resolution_a
    digit = resolution.value if isinstance(resolution, Known) else shown
    of_zero = digit / 2 if zero_within is None or zero_of(reference, unit) is not None else zero_within
    return Instrument(
        accuracy_percent=max(percent, floor), accuracy_absolute=math.hypot(fixed, of_zero), resolution=digit
    )


def meter_in_words(record: Record, unit: Unit) -> str:
    """The instrument, how good it is said to be, and its zero."""
    percent, fixed = _stated(record.reference, unit)
    name, zero = record.reference.instrument, zero_of(record.reference, unit)
    parts = [f"{percent:g} % of the reading"] if percent else []
    parts += [f"{fixed:g} {unit.upper()}"] if fixed else []
    off = "" if unit == "v" else ", its zero not noted" if zero is None else f", its zero {zero:g} A"
    return f"{name.value if isinstance(name, Known) else 'a meter'} good to {' and '.join(parts)}{off}"
