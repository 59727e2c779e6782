"""Display against meter, volts and amperes: how far each reading is off, the fit, its doubt and the limit."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Literal

from preflint.aircraft.field import Known
from preflint.aircraft.records import CurrentComparison, VoltageComparison
from preflint.arrays import np
from preflint.compute.decision import t_factor
from preflint.compute.least_squares import Array
from preflint.findings.inspected import Inspected
from preflint.findings.result import Figure
from preflint.render.sheet.plotting.canvas import Plot, axes, figure, inline
from preflint.render.sheet.plotting.found import called, latest, limit, of_figure, table_of, value, with_ending

if TYPE_CHECKING:
    from matplotlib.axes import Axes

_WORDS: Mapping[Literal["v", "a"], tuple[str, str]] = {"v": ("Voltage", "voltage"), "a": ("Current", "current")}

_MOST_POINTS = 300


def comparisons(one: Inspected) -> Iterator[Plot]:
    """One plot for volts and one for amperes, of the record judged, else of the latest."""
    kept = one.aircraft.records
    volts, amperes = value(one, "voltage_gain", "gain-only"), value(one, "current_gain", "gain-only")
    for record, gain, unit in (
        (of_figure(kept.voltage_comparison, volts) or latest(kept.voltage_comparison), volts, "v"),
        (of_figure(kept.current_comparison, amperes) or latest(kept.current_comparison), amperes, "a"),
    ):
        if record is not None and table_of(record) is not None:
            yield _plot(one, record, gain if gain and gain.place == record.place else None, "v" if unit == "v" else "a")


def _plot(
    one: Inspected, record: VoltageComparison | CurrentComparison, gain: Figure | None, unit: Literal["v", "a"]
) -> Plot:
    title, word = _WORDS[unit]
    table, sign = table_of(record), unit.upper()
    assert table is not None
    zero = record.reference.zero_a.value if unit == "a" and isinstance(record.reference.zero_a, Known) else 0.0
    true = table.column(f"reference_{unit}") - zero
    off = table.column(f"indicated_{unit}") - true
    lowest, highest = float(np.min(true)), float(np.max(true))
    room = 0.06 * (highest - lowest) or 0.1 * abs(highest) or 1.0
    along = np.linspace(min(0.0, lowest) if unit == "a" else lowest - room, highest + room, 60)
    step = -(-len(true) // _MOST_POINTS)
    drawn = figure(2.5)
    on = axes(drawn, f"Meter, {sign}", f"Display less meter, {sign}")
    on.axhline(0, color="0.6", linewidth=0.5)
    words = [f"{title} comparison of {record.date.value}: {len(true)} readings"]
    if gain is not None:
        words.append(_fit(one, on, along, gain, unit))
    bound = limit(one, f"{word}_scale_percent")
    if bound is not None:
        for side in (1, -1):
            label = f"{called(one)} ±{bound:g} %" if side == 1 else None
            (line,) = on.plot(along, side * bound / 100 * along, color="black", linestyle="--", label=label)
            line.set_gid(f"limit-{'over' if side == 1 else 'under'}")
        words.append(f"{called(one)} {bound:g} %")
    (points,) = on.plot(true[::step], off[::step], linestyle="none", marker="o", color="black", label="readings")
    points.set_gid("readings")
    worst = int(np.argmax(np.abs(off)))
    on.set_xlim(float(along[0]), float(along[-1]))
    on.margins(y=0.1)
    on.legend(loc="upper left", bbox_to_anchor=(0, -0.24), ncols=2, borderaxespad=0)
    said = f"{', '.join(words)}. Farthest off: the display {off[worst]:+.2f} {sign} at {true[worst]:.2f} {sign}."
    said = with_ending(one, record, said)
    return Plot(f"{title}: display against meter, {sign}", inline(drawn, f"plot-{word}", said), said)


def _fit(one: Inspected, on: Axes, along: Array, gain: Figure, unit: Literal["v", "a"]) -> str:
    """Draws what the display shows by the fits, as far as it is off, and says it in words.

    The band is that of the gain with the zero held at 0, which is what the setting can put right. The line with a
    zero of its own has none: gain and zero move together, and the figures do not tell by how much.
    """
    word, u = _WORDS[unit][1], gain.standard_uncertainty or 0.0
    half = t_factor(gain.dof or math.inf) * u
    if half < gain.value:
        most, least = along / (gain.value - half) - along, along / (gain.value + half) - along
        band = on.fill_between(along, least, most, facecolor="0.85", edgecolor="0.5", linewidth=0.4)
        band.set_label("its doubt, 95 %")
        band.set_gid("band")
    (line,) = on.plot(along, along / gain.value - along, color="black", label="fit through zero")
    line.set_gid("fit")
    free, zero = (value(one, f"{word}_{part}", "gain-with-zero-prior") for part in ("gain", f"zero_{unit}"))
    if free and zero:
        (line,) = on.plot(
            along, (along - zero.value) / free.value - along, color="black", linestyle=":", label="fit, zero free"
        )
        line.set_gid("fit-zero-free")
    return f"true is {gain.value:.4f} ± {half:.4f} times what the display shows (95 %)"
