"""The field that follows the current, axis by axis, as measured and with the offset installed added."""

from __future__ import annotations

from collections.abc import Iterator

from preflint.aircraft.field import Known, NotFitted
from preflint.aircraft.records import InterferenceRun
from preflint.arrays import np
from preflint.compute.least_squares import Array
from preflint.findings.inspected import Inspected
from preflint.render.sheet.plotting.canvas import Plot, figure, inline
from preflint.render.sheet.plotting.found import of_figure, table_of, value, with_ending

_AXES = ("x", "forward"), ("y", "right"), ("z", "down")
_MOST_POINTS = 48


def interference(one: Inspected) -> Iterator[Plot]:
    """One plot, of the run that the figures are of; none without them, or where the offset of then is not known."""
    slopes = [value(one, "interference_ut_per_a", axis) for axis, _ in _AXES]
    record = of_figure(one.aircraft.records.interference_run, slopes[0])
    table = table_of(record)
    if record is None or table is None or isinstance(one.aircraft.compass, NotFitted):
        return
    slope = np.array([found.value if found else np.nan for found in slopes])
    then, now = in_log(record), installed(one)
    if then is None or np.any(np.isnan(slope)):
        return
    current = table.column("current_a")
    field = np.column_stack([table.column(f"field_{axis}_ut") for axis, _ in _AXES])
    n = -(-len(current) // _MOST_POINTS)
    current, field = _means(current[:, None], n)[:, 0], _means(field, n)
    change = field - (field.mean(axis=0) - slope * current.mean())  # from what it is at no current
    sensor = rescaled(one, record)
    before, after = slope - then, None if now is None else slope - then + now / sensor
    drawn = figure(3.6)
    panels = drawn.subplots(3, sharex=True)
    along = np.array([0.0, float(current.max())])
    for row, (axis, way) in enumerate(_AXES):
        on = panels[row]
        on.axhline(0, color="0.6", linewidth=0.5)
        on.plot(along, before[row] * along, color="black")[0].set_gid(f"before-fit-{axis}")
        (points,) = on.plot(
            current, change[:, row] - then[row] * current, linestyle="none", marker="o", markersize=3, color="black",
            label="as measured",
        )  # fmt: skip
        points.set_gid(f"before-{axis}")
        if now is not None and after is not None:
            on.plot(along, after[row] * along, color="black", linestyle="--")[0].set_gid(f"after-fit-{axis}")
            (points,) = on.plot(
                current, change[:, row] + (now[row] / sensor - then[row]) * current, linestyle="none", marker="s",
                markersize=3, markerfacecolor="white", markeredgecolor="black", markeredgewidth=0.6,
                label="with the offset",
            )  # fmt: skip
            points.set_gid(f"after-{axis}")
        on.set_ylabel(f"{axis} ({way}), µT")
    panels[-1].set_xlabel("Current, A")
    panels[0].legend(loc="lower left", bbox_to_anchor=(0, 1.0), ncols=2, borderaxespad=0)
    words = f"as measured {_vector(before)} µT for each ampere (x forward, y right, z down)"
    if after is not None:
        words += f", with the offset {_vector(after)}"
    said = with_ending(one, record, f"Interference run of {record.date.value} up to {current.max():.1f} A: {words}.")
    yield Plot("Magnetic field that follows the current, µT", inline(drawn, "plot-interference", said), said)


def installed(one: Inspected) -> Array | None:
    """The offset installed, (3,) in µT for each ampere shown now; None where nobody recorded it."""
    compass = one.aircraft.compass
    if isinstance(compass, Known) and isinstance(compass.value.interference_offset_ut_per_a, Known):
        return np.array(compass.value.interference_offset_ut_per_a.value)
    return None


def in_log(record: InterferenceRun) -> Array | None:
    """The offset that was already in the log, (3,): none in a raw one; None where it is not known."""
    if not isinstance(record.field_is, Known):
        return None
    if record.field_is.value == "raw":
        return np.zeros(3)
    offset = record.in_force.interference_offset_ut_per_a
    return np.array(offset.value) if isinstance(offset, Known) else None


def rescaled(one: Inspected, record: InterferenceRun) -> float:
    """Amperes shown during the run for each that would be shown now; 1 where nobody says that they differ."""
    sensing, then = one.aircraft.power_sensing, record.in_force.sensor_mv_per_a
    if not isinstance(sensing, Known) or not isinstance(then, Known):
        return 1.0
    now = sensing.value.sensor_mv_per_a
    return now.value / then.value if isinstance(now, Known) else 1.0


def _means(rows: Array, n: int) -> Array:
    """Means of n rows after another each: they lie on the same straight line as the rows."""
    return np.array([rows[start : start + n].mean(axis=0) for start in range(0, len(rows), n)])


def _vector(values: Array) -> str:
    return ", ".join(f"{value:+.3f}" for value in values)
