"""A small plan view of an aircraft in characters: each rotor in its place, its spin, and what was found there."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from preflint.aircraft.field import Known
from preflint.aircraft.model import Aircraft, name, rotor_place
from preflint.aircraft.rotor import Rotor
from preflint.render.escape import printable
from preflint.render.fold import columns, fold

_ROWS = 5  # from the centre to the outermost rotor
_COLUMNS = 2 * _ROWS  # a character is about twice as high as it is wide
_NARROW = 50  # below this there is no room for names beside the drawing

# What a rotor's sign may be, worst first.
SIGNS = {"X": "no-go", "!": "caution or advisory", "?": "not proven", "o": "nothing found"}


@dataclass(frozen=True, slots=True)
class Mark:
    """What was found at a rotor: a sign of SIGNS and the numbers of the findings."""

    sign: str = "o"
    numbers: tuple[int, ...] = ()


class _Canvas:
    def __init__(self, width: int) -> None:
        self.width = width
        self.cells: dict[tuple[int, int], str] = {}

    def put(self, row: int, column: int, text: str) -> None:
        for i, letter in enumerate(text):
            self.cells[row, column + i] = letter

    def has_room(self, row: int, column: int, length: int) -> bool:
        """Room for a text and a blank on either side of it; the dots of an arm may be written over."""
        if column < 0 or column + length > self.width:
            return False
        return all(self.cells.get((row, c), ".") == "." for c in range(column - 1, column + length + 1))

    def lines(self) -> list[str]:
        rows = [row for row, _ in self.cells]
        return [
            "".join(self.cells.get((row, c), " ") for c in range(self.width)).rstrip()
            for row in range(min(rows), max(rows) + 1)
        ]


def plan(
    aircraft: Aircraft, marks: Mapping[str, Mark], width: int = 80, ascii_only: bool = False
) -> list[str]:
    """The drawing and its legend, in lines of at most ``width`` columns.

    A rotor whose name finds no room beside it gets a letter, and a line below the drawing; one whose place
    nobody recorded is listed there. Rotors of one place (a coaxial arm) are written upper first.
    """
    labels = {
        name(rotor): _label(rotor, marks.get(name(rotor), Mark()), ascii_only) for rotor in aircraft.rotors
    }
    canvas = _Canvas(width)
    stations, unplaced = _stations(aircraft) if width >= _NARROW else ({}, [*aircraft.positions])
    apart = _draw(canvas, stations, labels, marks) if stations else []
    lines = canvas.lines() if stations else []
    for key, at in apart:
        lines += fold(labels[at], width, f"  {key}: ", "     ")
    for at in unplaced:
        lines += fold(labels[at], width, f"  {_worst([at], marks)} ", "    ")
    shown = [_worst(rotors, marks) for rotors in stations.values()] + [_worst([at], marks) for at in unplaced]
    return lines + _legend(shown, bool(stations), width)


def _worst(rotors: Sequence[str], marks: Mapping[str, Mark]) -> str:
    return min((marks.get(at, Mark()).sign for at in rotors), key=list(SIGNS).index)


def _label(rotor: Rotor, mark: Mark, ascii_only: bool) -> str:
    spin = rotor.spin.value if isinstance(rotor.spin, Known) else "spin?"
    found = f" [{','.join(map(str, mark.numbers))}]" if mark.numbers else ""
    return f"{printable(name(rotor), ascii_only)} {spin}{found}"


def _stations(aircraft: Aircraft) -> tuple[dict[tuple[int, int], list[str]], list[str]]:
    """The rotors at each cell (rows and columns from the centre), and those of no known place."""
    places: dict[str, tuple[float, float, float]] = {}
    for rotor in aircraft.rotors:
        if isinstance(rotor.place_mm, Known) or aircraft.about.layout.value != "custom":
            places[name(rotor)] = rotor_place(aircraft, rotor)
    reach = (
        max((abs(x) for forward, right, _ in places.values() for x in (forward, right)), default=0.0) or 1.0
    )
    stations: dict[tuple[int, int], list[str]] = {}
    for at, (forward, right, _) in sorted(
        places.items(), key=lambda item: (item[1][2], _order(aircraft, item[0]))
    ):
        cell = round(-forward / reach * _ROWS), round(right / reach * _COLUMNS)
        stations.setdefault(cell, []).append(at)
    return stations, [at for at in aircraft.positions if at not in places]


def _order(aircraft: Aircraft, at: str) -> int:
    return aircraft.positions.index(at)


def _draw(
    canvas: _Canvas,
    stations: Mapping[tuple[int, int], list[str]],
    labels: Mapping[str, str],
    marks: Mapping[str, Mark],
) -> list[tuple[str, str]]:
    """Draws all stations; the rotors that found no room, each with its letter."""
    middle = canvas.width // 2
    for row, column in stations:
        steps = max(abs(row), abs(column) // 2, 1)
        for step in range(1, steps):
            canvas.put(round(row * step / steps), middle + round(column * step / steps), ".")
    canvas.put(0, middle, "+")
    canvas.put(min(row for row, _ in stations) - 2, middle - 2, "nose")
    for (row, column), rotors in stations.items():
        canvas.put(row, middle + column, _worst(rotors, marks))
    apart: list[tuple[str, str]] = []
    for (row, column), rotors in stations.items():
        wanted = [
            (
                row + i,
                middle + column + 2 if column >= 0 else middle + column - 1 - columns(labels[at]),
                labels[at],
            )
            for i, at in enumerate(rotors)
        ]
        if all(text.isascii() and canvas.has_room(r, c, len(text)) for r, c, text in wanted):
            for r, c, text in wanted:
                canvas.put(r, c, text)
        else:
            for i, at in enumerate(rotors):
                key = "abcdefghijklmnopqrstuvwxyz"[len(apart) % 26]
                canvas.put(row, middle + column + 1 + i, key)
                apart.append((key, at))
    return apart


def _legend(signs: list[str], drawn: bool, width: int) -> list[str]:
    used = [f"{sign} {meaning}" for sign, meaning in SIGNS.items() if sign in signs]
    view = "Seen from above, nose up: " if drawn else "Rotors: "
    return fold(
        view + ", ".join(used) + ("; [n] finding n" if {"X", "!"} & set(signs) else "") + ".",
        width,
        "  ",
        "  ",
    )
