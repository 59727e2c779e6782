"""The log of an interference run: its steps, and whether it can be a log of this aircraft at all."""

from __future__ import annotations

from preflint.api import SETTINGS, Context, Open, Place, Table, Unproven, need, records
from preflint.arrays import np
from preflint.compute.least_squares import Array
from preflint.compute.plateaus import Plateau, find_plateaus, stretches
from preflint.compute.rows import median
from preflint.frozen import dataclass

from ..power.draw import OVER_FULL, full_current_a
from ..power.range import beyond_sensor, greatest_readable_a
from ..shared.loaded_run import again
from .earth import ANYWHERE_UT, UNIT_HOW

SETTLE_S = 1.0  # motors and the filters of both sensors have settled by then; common practice, no source
_SAME_THROTTLE = 2.0  # per cent; flutter of a throttle held still
_SAME_CURRENT_A, _SAME_CURRENT_SHARE = 0.5, 0.02  # flutter of a current held still, at least and of its range
_FEWEST_STEPS, _MOST_STEPS, _PIECES = 3, 200, 30
_STILL_A, _STILL_SHARE = 3.0, 0.2  # more than anything but motors draws, in all and of the top
_STILL_OF_SMALL = 0.4  # of the top, where that is less than 3 A: electronics of a small aircraft are small, too
_END_OF_RANGE = 0.99  # of what the sensor can show; an input that is full may read a last digit or two less
_MANY_ROWS = 20  # fewer may be alike by chance, where nothing disturbs an axis
_FEW_ROWS = 8  # fewer may be alike even where the other axes scatter
_SPAN = 20.0  # per cent of throttle; less is no run through its range
_BACKWARDS_A = 1.0  # more than the zero of a sensor wanders; common practice, no source
_AGAIN = "look whether the columns are named right and the log is of this aircraft; log the run again"


@dataclass(frozen=True, slots=True, eq=False)
class Steps:
    """Medians of the steps of a run, in order: current (n,), field (n, 3) in µT, time (n,) or None.

    ``digit`` is the last one that the field shows, in µT. ``u_current`` (n,) and ``u_field`` (n, 3) are standard
    uncertainties of the medians, ``throttle`` (n,) is in per cent or None, ``row`` (n,) the middle row of each;
    ``in_words`` says how many there are.
    """

    current: Array
    field: Array
    time: Array | None
    digit: float
    u_current: Array
    u_field: Array
    throttle: Array | None
    row: tuple[int, ...]
    in_words: str

    @property
    def least(self) -> int:
        """The step with the least current."""
        return int(np.argmin(np.abs(self.current)))

    @property
    def least_field_ut(self) -> float:
        """How strong the field is there."""
        return float(np.linalg.norm(self.field[self.least]))

    @property
    def still_again(self) -> Array | None:
        """1 for the last steps with the motors still, else 0, (n,), if they had been still first and ran in between.

        Still is less than a tenth of the way from the least current to the greatest.
        """
        still = self.current <= float(self.current.min()) + 0.1 * float(np.ptp(self.current))
        if still.all() or not still[0]:
            return None
        last = int(np.flatnonzero(still)[-1])
        ran = np.flatnonzero(~still[:last])
        if not ran.size:
            return None
        steps = np.arange(still.size)
        return np.where((steps > ran[-1]) & (steps <= last), 1.0, 0.0)


def field_digit(table: Table) -> float:
    """The last digit of the field in µT: one logger shows all axes alike, and one of them may end in noughts."""
    return min(table.last_digit(f"field_{axis}_ut") for axis in "xyz")


def steps_of(record: records.InterferenceRun) -> Steps:
    """The steps of a run. Ends the rule as unproven where it has no table.

    Rows of one throttle setting (or, without it, one current) that follow each other are one step.
    Neighbours in a log are not independent, and the median forgives the moment of change. A log without steps,
    of a hover say, is cut into pieces instead, which count by how they scatter about the fit.
    """
    table = need(record.table).value
    current = table.column("current_a")
    field = np.column_stack([table.column(f"field_{axis}_ut") for axis in "xyz"])  # milligauss was converted before
    digit = field_digit(table)
    time = table.column("time_s") if "time_s" in table.columns else None
    throttle = table.column("throttle_percent") if "throttle_percent" in table.columns else None
    resolution = np.array([table.last_digit("current_a"), digit, digit, digit])
    values = np.column_stack([current, field])
    if found := _levels(throttle, time, values, resolution):
        u_field = np.array([one.u[1:] for one in found])
        # What differs from step to step does not get less with more rows: no step counts more than the middle one.
        u_field = np.maximum(u_field, median(u_field))
        in_words = f"{len(found)} steps"
    else:
        found = _pieces(time, values, resolution)
        u_field = np.full((len(found), 3), digit / np.sqrt(12))
        in_words = f"{len(found)} {'piece' if len(found) == 1 else 'pieces'} without steps"
    medians = np.array([one.median for one in found])
    return Steps(
        current=medians[:, 0],
        field=medians[:, 1:],
        time=None if time is None else np.array([one.time for one in found]),
        digit=digit,
        # The scatter of the current is left out: where the current itself wavers, the field goes with it.
        u_current=np.full(len(found), resolution[0] / np.sqrt(12)),
        u_field=u_field,
        throttle=None if throttle is None else np.array([median(throttle[one.rows]) for one in found]),
        row=tuple((one.rows.start + one.rows.stop - 1) // 2 for one in found),
        in_words=in_words,
    )


def _levels(throttle: Array | None, time: Array | None, values: Array, resolution: Array) -> tuple[Plateau, ...]:
    """The steps of throttle, or else of current; none where the log has no steps, or mostly changes."""
    current, n = values[:, 0], len(values)
    levels = [] if throttle is None else [(throttle, _SAME_THROTTLE)]
    levels.append((current, max(_SAME_CURRENT_A, _SAME_CURRENT_SHARE * float(np.ptp(current)))))
    by_hand = time is None or n < 2 or float(median(np.diff(time))) >= SETTLE_S  # read when all had settled
    for level, near in levels:
        if not _FEWEST_STEPS <= len(stretches(level, near)) <= min(max(30, n // 3), _MOST_STEPS):
            continue
        settle_s = 0.0 if by_hand else SETTLE_S
        found = find_plateaus(level, values, tolerance=near, time=time, settle_s=settle_s, resolution=resolution)
        if len(found) >= _FEWEST_STEPS and 2 * sum(one.rows.stop - one.rows.start for one in found) >= n:
            return found
    return ()


def _pieces(time: Array | None, values: Array, resolution: Array) -> tuple[Plateau, ...]:
    n = len(values)
    size = -(-n // _PIECES)
    return find_plateaus(
        np.arange(n) // size, values, tolerance=0, time=time, fewest_rows=(size + 1) // 2, resolution=resolution
    )


def plausible_steps(on: Context, record: records.InterferenceRun) -> Steps:
    """The steps. Ends the rule as unproven where the columns cannot be readings, or not those of this aircraft."""
    return on.once(_plausible, on, record)


def _plausible(on: Context, record: records.InterferenceRun) -> Steps:
    steps, table = on.once(steps_of, record), need(record.table).value
    current = table.column("current_a")
    most = int(np.argmax(current))
    if beyond := beyond_sensor(on, record, float(current[most]), table.row_place(most)):
        raise Open(beyond)
    readable = greatest_readable_a(on.aircraft, record.in_force)
    if readable and current[most] >= _END_OF_RANGE * readable[0]:
        message = (
            f"the run of {record.date.value} goes up to {current[most]:.1f} A, but the sensor shows "
            f"{readable[0]:.1f} A at most"
        )
        how = f"repeat the run below {_END_OF_RANGE * readable[0]:.0f} A"
        raise Open(
            Unproven(cause="uncertain", place=table.row_place(most), message=message, do=how, mind=again(record))
        )
    _is_a_run(record, steps)
    _columns_differ(record)
    if steps.throttle is not None and float(np.ptp(steps.throttle)) >= _SPAN:
        _follows_the_throttle(record, steps, steps.throttle)
    _draw_is_possible(on, record, steps)
    return steps


def _is_a_run(record: records.InterferenceRun, steps: Steps) -> None:
    """Shows a field that some place on Earth has, and a current that flows forwards."""
    day, lowest, highest = record.date.value, float(steps.current.min()), float(steps.current.max())
    shown = steps.least_field_ut
    if not ANYWHERE_UT[0] <= shown <= ANYWHERE_UT[1]:
        message = f"the run of {day} shows {shown:.3g} µT at the least current; the Earth has 22 to 67 µT"
        raise Open(Unproven(cause="uncertain", place=record.place, message=message, do=UNIT_HOW, mind=SETTINGS))
    if lowest < -_BACKWARDS_A or lowest < -highest:
        message = f"the run of {day} shows {lowest:.1f} A, flowing backwards: a wrong sign or zero"
        how = "set right the zero or the direction of the current sensor; log the run again"
        raise Open(Unproven(cause="uncertain", place=record.place, message=message, do=how, mind=again(record)))


def _columns_differ(record: records.InterferenceRun) -> None:
    """In a log no two columns are one, and none of the three axes of the field stands still alone."""
    table = need(record.table).value
    field = np.column_stack([table.column(f"field_{axis}_ut") for axis in "xyz"])
    if len(table.values) < _MANY_ROWS and not _scatters(table.column("current_a"), field, field_digit(table)):
        return
    names = [name for name in table.columns if name != "time_s" and np.ptp(table.column(name))]
    for i, one in enumerate(names):
        for other in names[i + 1 :]:
            if np.array_equal(table.column(one), table.column(other)):
                message = f"{one} and {other} of the run of {record.date.value} hold the same numbers"
                raise _not_this(record, record.place, message)
    still = [f"field_{axis}_ut" for axis in "xyz" if f"field_{axis}_ut" not in names]
    if 0 < len(still) < 3:
        message = (
            f"{' and '.join(still)} {'stands' if len(still) == 1 else 'stand'} still in {len(table.values)} rows of "
            f"the run of {record.date.value}"
        )
        why = "still to the last digit while the field moves otherwise: no sensor is that still"
        raise _not_this(record, record.place, message, why)


def _scatters(current: Array, field: Array, digit: float) -> bool:
    """Whether a few rows are enough: every axis that moves is off a line over the current by two last digits."""
    field = field[:, np.ptp(field, axis=0) > 0]
    if len(field) < _FEW_ROWS or not field.size:
        return False
    design = np.column_stack([np.ones(len(field)), current])
    residuals = field - design @ np.linalg.lstsq(design, field, rcond=None)[0]
    return bool(np.min(np.std(residuals, axis=0)) >= 2 * digit)


def _follows_the_throttle(record: records.InterferenceRun, steps: Steps, throttle: Array) -> None:
    current = steps.current
    lowest, highest = int(np.argmin(throttle)), int(np.argmax(throttle))
    if current.min() > -1 and np.ptp(current) and np.corrcoef(throttle, current)[0, 1] < 0.5:
        message = (
            f"in the run of {record.date.value} current does not rise with throttle: {current[lowest]:.1f} A at "
            f"{throttle[lowest]:.0f} %, {current[highest]:.1f} A at {throttle[highest]:.0f} %"
        )
        raise _not_this(record, record.place, message)
    if throttle[lowest] <= 1 and current[lowest] > _more_than_still(float(current.max())):
        message = (
            f"the run of {record.date.value} shows {current[lowest]:.1f} A at {throttle[lowest]:.0f} % throttle, "
            "where motors draw next to nothing"
        )
        raise _not_this(record, need(record.table).value.row_place(steps.row[lowest]), message)


def _more_than_still(top_a: float) -> float:
    """What only motors draw, in a run up to ``top_a``."""
    return max(min(_STILL_A, _STILL_OF_SMALL * top_a), _STILL_SHARE * top_a)


def _draw_is_possible(on: Context, record: records.InterferenceRun, steps: Steps) -> None:
    """A share of the throttle draws less than that share of the full current, since draw grows faster than throttle."""
    try:
        full = full_current_a(on.aircraft)
    except Open:
        return
    most = int(np.argmax(steps.current))
    shown, throttle = float(steps.current[most]), 100.0 if steps.throttle is None else float(steps.throttle[most])
    if shown > max(min(_STILL_A, _STILL_OF_SMALL * full), OVER_FULL * full * throttle / 100):
        where = f", but all motors at full throttle draw {full:.0f} A"
        if steps.throttle is not None:
            where = (
                f" at {throttle:.0f} % throttle, but {full:.0f} A at 100 % means under "
                f"{full * throttle / 100:.0f} A"
            )
        message = f"the run of {record.date.value} shows {shown:.1f} A{where}"
        raise _not_this(record, need(record.table).value.row_place(steps.row[most]), message)


def _not_this(record: records.InterferenceRun, place: Place, message: str, evidence: str = "") -> Open:
    mind = again(record)
    return Open(Unproven(cause="uncertain", place=place, message=message, evidence=evidence, do=_AGAIN, mind=mind))
