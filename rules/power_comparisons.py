"""Do successive comparisons with different instruments agree?"""

from collections.abc import Iterable, Iterator, Sequence

from preflint.api import Aircraft, Context, Figure, Known, Open, figure, records
from preflint.compute.decision import normalised_error
from preflint.compute.least_squares import Indeterminate

from .power_sensing_current import CURRENT_ZERO
from .power_sensing_fit import Record, Unit, compare
from .power_sensing_voltage import VOLTAGE_ZERO

# Work after which the same settings still belong to the same sensor.
_SAME_SENSOR = frozenset({"settings-changed", "flown", "stored"})


@figure("normalised-error")
def agreement_figures(on: Context) -> Iterator[Figure]:
    """Eₙ of the latest comparison and the one before it, where two instruments were used (case: volts or amperes).

    What is compared is the setting that each asks for, which no change of settings touches, with
    U = 2·u after ISO 13528. At most 1: they agree. Two instruments of one model share their errors, and
    nobody says of what model they are: names alike count as one instrument.
    """
    told = on.aircraft.records
    yield from _agreement(on, "v", told.voltage_comparison, on.limit(VOLTAGE_ZERO))
    yield from _agreement(on, "a", told.current_comparison, on.limit(CURRENT_ZERO))


def _agreement(on: Context, unit: Unit, taken: Sequence[Record], u_zero: float) -> Iterator[Figure]:
    past = sorted(
        (record for record in taken if record.date.value.date <= on.judged_on),
        key=lambda record: record.date.value.latest,
    )
    if len(past) < 2:
        return
    one, other = past[-2:]
    names = [record.reference.instrument for record in (one, other)]
    if not all(isinstance(name, Known) for name in names) or _alike(names) or _worked_on(on.aircraft, one, other):
        return
    wanted = [_setting(record, unit, u_zero) for record in (one, other)]
    if wanted[0] is None or wanted[1] is None:
        return
    (value, u), (other_value, other_u) = wanted[0], wanted[1]
    case = "volts" if unit == "v" else "amperes"
    yield Figure(
        "normalised_error", case, normalised_error(value, 2 * u, other_value, 2 * other_u), None, "1", None, other.place
    )


def _alike(names: Iterable[object]) -> bool:
    return len({name.value.casefold() for name in names if isinstance(name, Known)}) == 1


def _setting(record: Record, unit: Unit, u_zero: float) -> tuple[float, float] | None:
    """divider_ratio, or amperes for each millivolt, that the readings ask for, with its standard uncertainty."""
    try:
        fits = compare(record, unit, u_zero).fits
    except (Open, Indeterminate):
        return None
    gain = fits[0].gain if unit == "v" else fits[-1].gain
    if unit == "v":
        ratio = record.in_force.divider_ratio
        return (ratio.value * gain.value, ratio.value * gain.u) if isinstance(ratio, Known) else None
    sensor = record.in_force.sensor_mv_per_a
    return (gain.value / sensor.value, gain.u / sensor.value) if isinstance(sensor, Known) else None


def _worked_on(aircraft: Aircraft, one: records.Dated, other: records.Dated) -> bool:
    """Whether anything but settings may have changed between the two records."""
    return any(
        entry.kind.value not in _SAME_SENSOR
        and entry.date.value.after(one.date.value) is not False
        and other.date.value.after(entry.date.value) is not False
        for entry in aircraft.logbook
    )


FIGURES = (agreement_figures,)
