"""Are the readings of a record those of an earlier one, under a new date?"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import fields
from typing import TYPE_CHECKING, Any

from preflint.aircraft.dated import Dated
from preflint.aircraft.declared import declarations
from preflint.aircraft.field import Known
from preflint.arrays import np
from preflint.compute.rows import distinct

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Readings = tuple[tuple[str, ...], NDArray[np.float64], NDArray[np.float64]]

# How far a reading taken anew lies from the one before at the least, with nothing changed: a share of itself, and a
# fixed part. What is set and not read (time, throttle, a direction pointed along) is not here.
# Common practice, no source.
_ANEW: Mapping[str, tuple[float, float]] = {
    **dict.fromkeys(("indicated_v", "reference_v", "voltage_v"), (0.003, 0.0)),
    **dict.fromkeys(("cells_v", "pack_v"), (0.001, 0.0)),
    **dict.fromkeys(("indicated_a", "reference_a", "current_a", "mean_current_a", "mean_voltage_v"), (0.01, 0.0)),
    **dict.fromkeys(("used_mah", "thrust_g", "rpm"), (0.01, 0.0)),
    **dict.fromkeys(("counted_mah", "put_back_mah"), (0.1, 0.0)),
    **dict.fromkeys(("field_x_ut", "field_y_ut", "field_z_ut"), (0.0, 0.1)),
    "indicated_deg": (0.0, 0.5),
    **dict.fromkeys(("indicated_hpa", "station_pressure_hpa"), (0.0, 2.0)),
}
_CHANCE = 1e-3  # below which nobody believes it; common practice, no source
_MOST_ROWS = 100  # that are looked at: they are many more than it takes
_MOST_INDEXED = 1_000  # rows
_LONG = "a long log"


def copies(records: Iterable[Dated]) -> Mapping[int, Dated]:
    """By the id of each record the first dated before it whose readings it has; none where chance explains it.

    records: those of one kind, in order. A reading agrees by chance with 1 in as many last digits as a new one
    scatters over. Of the readings of a row the one of most digits counts so, every other as one in two at the best:
    they may go together.
    """
    read = [(record, readings) for record in records if (readings := _readings(record)) is not None]
    # Many records may say the same, and what holds for one of them holds for all: the turns of each content.
    turns: dict[object, list[int]] = {}
    having: dict[object, list[object]] = {}  # the contents that have a row
    for turn, (_, readings) in enumerate(read):
        names, rows, digits = readings
        content = (names, rows.tobytes(), digits.tobytes())
        if content not in turns:
            for row in _rows(readings):
                having.setdefault(row, []).append(content)
        turns.setdefault(content, []).append(turn)
    found: dict[int, Dated] = {}
    for mine in turns.values():
        readings = read[mine[0]][1]
        # Only where a row is the same to the last digit is there anything to count.
        rows_of = _rows(readings)
        alike = turns if _LONG in rows_of else {one for row in (*rows_of, _LONG) for one in having.get(row, ())}
        others = [its for one in alike if (its := turns[one]) is not mine or len(mine) > 1]
        copied = [turn for its in others if _copied(readings, read[its[0]][1]) for turn in its]
        earlier = [read[turn][0] for turn in sorted(copied)]
        for record in (read[turn][0] for turn in mine):
            if (first := next((one for one in earlier if record.date.value.after(one.date.value)), None)) is not None:
                found[id(record)] = first
    return found


def _copied(mine: Readings, its: Readings) -> bool:
    return its[0] == mine[0] and _chance(mine, its[1]) < _CHANCE


def _rows(readings: Readings) -> set[object]:
    """What its rows are found again by. A long log stands for itself: it is compared with all."""
    names, rows, _ = readings
    return {_LONG} if len(rows) > _MOST_INDEXED else {(names, *row) for row in rows.tolist()}


def _readings(record: Dated) -> Readings | None:
    """Names, rows (rows, names) and the last digit of each name, of what a record reads anew each time."""
    kind: Any = type(record)
    said = declarations(kind).get("table")
    table = getattr(record, "table", None) if said and not said.unjudged else None
    if isinstance(table, Known):
        names = tuple(sorted(name for name in table.value.columns if name in _ANEW))
        if not names:
            return None
        rows = np.column_stack([table.value.column(name) for name in names])
        return names, rows, np.array([table.value.last_digit(name) for name in names])
    single: list[tuple[str, float, float]] = []
    for name in sorted(field.name for field in fields(record) if field.name in _ANEW):
        said = getattr(record, name)
        if isinstance(said, Mapping):
            numbers = [one.value for _, one in sorted(said.items())]
        elif isinstance(said, Known):
            numbers = list(said.value) if isinstance(said.value, tuple) else [said.value]
        else:
            continue
        digit = min((_last_digit(number) for number in numbers), default=1.0)
        single += [(name, number, digit) for number in numbers]
    if not single:
        return None
    names, values, digits = zip(*single, strict=True)
    return names, np.array([values]), np.array(digits)


def _last_digit(number: float) -> float:
    """What one step of the last digit counts, of a number as it is written at the shortest."""
    decimals = f"{number:.9f}".rstrip("0").partition(".")[2]
    return float(10.0 ** -len(decimals))


def _chance(mine: Readings, its: NDArray[np.float64]) -> float:
    """That a record taken anew would agree in so many rows; 1 where fewer than half of them agree."""
    names, all_rows, digits = mine
    rows = distinct(all_rows)
    alike = np.array([bool(np.any(np.all(its == row, axis=1))) for row in rows[:_MOST_ROWS]])
    if 2 * np.sum(alike) < alike.size:
        return 1.0
    share, fixed = np.array([_ANEW[name] for name in names]).T
    chance, its = 1.0, distinct(its)
    for row in rows[:_MOST_ROWS][alike]:
        within = share * np.abs(row) + fixed
        # Once for each number: cells of one voltage are no news of each other.
        each = np.sort(distinct(np.column_stack([row, 1 / (1 + 2 * within / digits)]))[:, 1])
        each[1:] = np.maximum(each[1:], 0.5)
        near = int(np.sum(np.all(np.abs(its - row) <= within + digits / 2, axis=1)))
        chance *= min(1.0, math.prod(each.tolist()) * max(1, near))
    return chance
