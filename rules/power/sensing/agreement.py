"""Do successive comparisons with different instruments agree?"""

from collections.abc import Iterable, Iterator, Sequence

from preflint.api import Context, Figure, Known, Open, figure
from preflint.compute.decision import normalised_error
from preflint.compute.least_squares import Indeterminate

from ...shared.successive import last_two
from ..fit import compared
from ..meter import Record, Unit

# The setting that readings ask for belongs to the sensor, whatever was set while they were taken.
_CONVERTED = frozenset({"settings-changed"})


@figure("normalised-error")
def agreement_figures(on: Context) -> Iterator[Figure]:
    """Eₙ of the latest comparison and the one before it, where two instruments were used (case: volts or amperes).

    What is compared is the setting that each asks for, which no change of settings touches, with
    U = 2·u after ISO 13528. At most 1: they agree. Two instruments of one model share their errors, and
    nobody says of what model they are: names alike count as one instrument.
    """
    told = on.aircraft.records
    yield from _agreement(on, "v", told.voltage_comparison)
    yield from _agreement(on, "a", told.current_comparison)


def _agreement(on: Context, unit: Unit, taken: Sequence[Record]) -> Iterator[Figure]:
    pair = last_two(on, f"{'voltage' if unit == 'v' else 'current'}_comparison", taken, _CONVERTED)
    if isinstance(pair, str):
        return
    one, other = pair
    names = [record.reference.instrument for record in (one, other)]
    if not all(isinstance(name, Known) for name in names) or alike(names):
        return
    wanted = [_setting(on, record, unit) for record in (one, other)]
    if wanted[0] is None or wanted[1] is None:
        return
    (value, u), (other_value, other_u) = wanted[0], wanted[1]
    case = "volts" if unit == "v" else "amperes"
    yield Figure(
        "normalised_error", case, normalised_error(value, 2 * u, other_value, 2 * other_u), None, "1", None, other.place
    )


def alike(names: Iterable[object]) -> bool:
    """Whether all are recorded and the same: then they count as one instrument, and nobody knows better."""
    said = {name.value.casefold() if isinstance(name, Known) else None for name in names}
    return len(said) == 1 and None not in said


def _setting(on: Context, record: Record, unit: Unit) -> tuple[float, float] | None:
    """divider_ratio, or amperes for each millivolt, that the readings ask for, with its standard uncertainty."""
    fixed = record.reference.accuracy_v if unit == "v" else record.reference.accuracy_a
    if not isinstance(record.table, Known) or not any(
        isinstance(accuracy, Known) for accuracy in (fixed, record.reference.accuracy_percent)
    ):
        return None  # nothing to tell of this one, and the other unit goes on
    try:
        fits = compared(on, record, unit).fits
    except (Open, Indeterminate):
        return None
    gain = fits[0].gain if unit == "v" else fits[-1].gain
    if unit == "v":
        ratio = record.in_force.divider_ratio
        return (ratio.value * gain.value, ratio.value * gain.u) if isinstance(ratio, Known) else None
    sensor = record.in_force.sensor_mv_per_a
    return (gain.value / sensor.value, gain.u / sensor.value) if isinstance(sensor, Known) else None
