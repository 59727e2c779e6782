"""The error of the heading round the compass, and which directions a rotation covered."""

from __future__ import annotations

import math
from collections.abc import Iterator

from preflint.aircraft.field import Known, NotFitted
from preflint.arrays import np
from preflint.compute.ellipsoid import fit_sphere
from preflint.compute.least_squares import Array, Indeterminate
from preflint.findings.inspected import Inspected
from preflint.render.sheet.plotting.canvas import Plot, axes, figure, inline
from preflint.render.sheet.plotting.found import called, latest, limit, of_figure, table_of, value, with_ending
from preflint.render.sheet.plotting.interference import in_log, installed, rescaled

_SECTORS, _BANDS = 8, 4  # areas alike on the sphere
_Dashes = str | tuple[int, tuple[int, int]]
_LOADS: tuple[tuple[str, str, _Dashes], ...] = ("hover", "hover", "-"), ("full", "full throttle", (0, (5, 2)))


def deviation(one: Inspected) -> Iterator[Plot]:
    """One plot of a heading check, of what the interference left over makes, or of both."""
    if isinstance(one.aircraft.compass, NotFitted):
        return
    check = latest(one.aircraft.records.heading_check)
    table, curves = table_of(check), list(_left_over(one))
    if table is None and not curves:
        return
    drawn = figure(2.9)
    on = axes(drawn, "Heading, degrees", "Compass reads too far, degrees")
    on.axhline(0, color="0.6", linewidth=0.5)
    words: list[str] = []
    bounds = [limit(one, "heading_error_limit_deg") or limit(one, "heading_deviation")]
    bounds.append(limit(one, "heading_error_aim_deg"))
    for bound, dots, what in zip(bounds, ("--", ":"), (called(one), "aim"), strict=True):
        for side in (1, -1) if bound is not None else ():
            assert bound is not None
            label = f"{what} ±{bound:g}°" if side == 1 else None
            line = on.axhline(side * bound, color="black", linestyle=dots, label=label)
            line.set_gid(f"{what.split()[-1]}-{'over' if side == 1 else 'under'}")
    heading = np.linspace(0, 360, 181)
    for name, label, dashes, error in curves:
        (line,) = on.plot(heading, error, color="0.35", linestyle=dashes, label=f"interference, {label}")
        line.set_gid(f"interference-{name}")
        words.append(f"interference alone makes up to {np.max(np.abs(error)):.1f}° at {label}")
    if table is not None and check is not None:
        true = table.column("true_deg") % 360
        off = (table.column("indicated_deg") - table.column("true_deg") + 180) % 360 - 180
        (points,) = on.plot(true, off, linestyle="none", marker="o", color="black", label="heading check")
        points.set_gid("readings")
        worst = int(np.argmax(np.abs(off)))
        words.insert(0, f"heading check of {check.date.value}: at most {off[worst]:+.1f}°, on {true[worst]:.0f}°")
    on.set_xlim(0, 360)
    on.set_xticks(range(0, 361, 45))
    on.legend(loc="upper left", bbox_to_anchor=(0, -0.24), ncols=2, borderaxespad=0)
    whole = [item for item in one.computed if item.quantity == "total_deviation_deg"]
    if whole:
        worst_of = max(whole, key=lambda item: item.value)
        words.append(f"with all causes together {worst_of.value:.1f}° at most ({worst_of.case})")
    said = "; ".join(words)
    named = ", ".join(f"{what} {bound:g}°" for bound, what in zip(bounds, (called(one), "aim"), strict=True) if bound)
    said = f"{said[0].upper()}{said[1:]}; {named or 'no limit'}."
    if check is not None:
        said = with_ending(one, check, said)
    yield Plot("Deviation round the compass, degrees", inline(drawn, "plot-deviation", said), said)


def _left_over(one: Inspected) -> Iterator[tuple[str, str, _Dashes, Array]]:
    """Of each load that a figure is of: key, words, line, and the error on 181 headings, level.

    The figure tells how large it is at the worst heading; which way the field lies that makes it, the run.
    """
    slopes = [value(one, "interference_ut_per_a", axis) for axis in "xyz"]
    record = of_figure(one.aircraft.records.interference_run, slopes[0])
    then, now = (in_log(record), installed(one)) if record else (None, None)
    if record is None or then is None or now is None:
        return
    slope = np.array([found.value if found else 0.0 for found in slopes])
    forward, right, _ = slope - then + now / rescaled(one, record)
    psi = np.radians(np.linspace(0, 360, 181))
    assert isinstance(record.field_is, Known)
    for load, label, dashes in _LOADS:
        found = value(one, "heading_error_deg", f"{record.field_is.value}-{load}-level")
        if found is None or found.value >= 90:
            continue
        across = math.sin(math.radians(found.value))  # over the horizontal field
        e = across * np.array([forward, right]) / (math.hypot(forward, right) or 1.0)
        shown = np.arctan2(np.sin(psi) - e[1], np.cos(psi) + e[0])
        yield load, label, dashes, np.degrees((shown - psi + np.pi) % (2 * np.pi) - np.pi)


def coverage(one: Inspected) -> Iterator[Plot]:
    """One plot of the latest rotation: where on the sphere its readings lie, seen from the middle of all."""
    needed = value(one, "hard_iron_needed_ut", "x")
    kept = one.aircraft.records.compass_rotation
    record = of_figure(kept, needed) or latest(kept)
    table = table_of(record)
    if record is None or table is None or isinstance(one.aircraft.compass, NotFitted):
        return
    points = np.column_stack([table.column(f"field_{axis}_ut") for axis in "xyz"])
    points = points[:: -(-len(points) // 300)]
    try:
        middle = fit_sphere(points).centre
    except Indeterminate:
        return
    x, y, z = (points - middle).T
    azimuth, height = np.degrees(np.arctan2(y, x)), z / np.maximum(np.linalg.norm(points - middle, axis=1), 1e-9)
    counted, *_ = np.histogram2d(azimuth, height, [_SECTORS, _BANDS], [[-180, 180], [-1, 1]])
    drawn = figure(2.5)
    on = axes(drawn, "Field points right of the nose, degrees", "Below the aircraft, degrees")
    for i, j in np.argwhere(counted == 0):
        on.axvspan(
            -180 + i * 360 / _SECTORS, -180 + (i + 1) * 360 / _SECTORS, j / _BANDS, (j + 1) / _BANDS,
            facecolor="none", edgecolor="0.6", hatch="////", linewidth=0,
        )  # fmt: skip
    (dots,) = on.plot(azimuth, height, linestyle="none", marker="o", markersize=3, color="black", label="readings")
    dots.set_gid("readings")
    on.set_xlim(-180, 180)
    on.set_ylim(-1, 1)
    on.set_xticks(range(-180, 181, 45))
    on.set_yticks([math.sin(math.radians(at)) for at in (-90, -30, 0, 30, 90)], ["-90", "-30", "0", "30", "90"])
    on.grid(color="0.8", linewidth=0.4)
    filled = int(np.count_nonzero(counted))
    said = (
        f"Rotation of {record.date.value}: {len(points)} readings lie in {filled} of {counted.size} equal areas of the "
        "sphere; hatched areas hold none."
    )
    said = with_ending(one, record, said)
    yield Plot("Directions covered by the compass rotation", inline(drawn, "plot-coverage", said), said)
