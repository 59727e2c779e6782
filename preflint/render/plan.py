"""A small plan view of an aircraft in characters: each rotor, its spin, and what was found there."""

from collections.abc import Mapping, Sequence

from preflint.aircraft.field import Known
from preflint.aircraft.model import Aircraft, name, rotor_place
from preflint.aircraft.rotor import Rotor
from preflint.findings.inspected import Inspected
from preflint.findings.outcome import NO_GO, Finding
from preflint.frozen import dataclass
from preflint.render.entries import Entry, found, open_for_flight
from preflint.render.escape import printable
from preflint.render.fold import fold

LARGE, SMALL = 5, 2  # rows from the centre to the outermost rotor; a character is about twice as high as it is wide
NARROW = 50  # below this there is no room for names beside the drawing

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
        """Room for a text and a blank on either side of it."""
        if column < 0 or column + length > self.width:
            return False
        return all(self.is_free(row, c) for c in range(column - 1, column + length + 1))

    def is_free(self, row: int, column: int) -> bool:
        """Whether nothing stands there but perhaps the dot of an arm."""
        return self.cells.get((row, column), ".") == "."

    def lines(self) -> list[str]:
        rows = [row for row, _ in self.cells]
        return [
            "".join(self.cells.get((row, c), " ") for c in range(self.width)).rstrip()
            for row in range(min(rows), max(rows) + 1)
        ]


def marks(inspected: Inspected, numbers: Mapping[int, int]) -> dict[str, Mark]:
    """What was found at each rotor; ``numbers`` are those of the findings, by the identity of their results."""
    found_here, open_here = found(inspected), open_for_flight(inspected)
    made: dict[str, Mark] = {}
    for position in inspected.positions:
        here = [entry for entry in found_here if position in _concerns(inspected, entry)]
        worst = max((r.rule.severity for entry in here for r in entry.results), default=None)
        asked = any(position in entry.at for entry in open_here)
        sign = "X" if worst == NO_GO else "!" if worst else "?" if asked else "o"
        told = (numbers.get(id(entry.results[0])) for entry in here)
        made[position] = Mark(sign, tuple(n for n in told if n is not None))
    return made


def _concerns(inspected: Inspected, entry: Entry) -> set[str]:
    """The rotors that a finding is about, and those that it points at, but for those of mere comparison.

    A rotor that nobody wrote has the place of the whole list, at which no finding points because of it.
    """
    outcomes = [r.outcome for r in entry.results if isinstance(r.outcome, Finding)]
    pointed = [*entry.places, *(one.place for o in outcomes for one in o.related if not one.compared)]
    return set(entry.at) | {
        name(rotor)
        for rotor in inspected.aircraft.rotors
        for place in pointed
        if rotor.place.pointer.rpartition("/")[2].isdecimal()
        and place.file == rotor.place.file
        and f"{place.pointer}/".startswith(f"{rotor.place.pointer}/")
    }


def plan(aircraft: Aircraft, marks: Mapping[str, Mark], width: int = 80, rows: int = LARGE) -> list[str]:
    """The drawing and its legend, in lines of at most ``width`` columns.

    A rotor whose name finds no room beside it gets a letter, and a line below the drawing. Rotors of one
    place (a coaxial arm) are written upper first. Where there is no room to draw, the rotors are listed.
    ``rows`` are those from the centre to the outermost rotor.
    """
    labels = {name(rotor): _label(rotor, marks.get(name(rotor), Mark())) for rotor in aircraft.rotors}
    numbered = any(mark.numbers for mark in marks.values())
    if width < NARROW:
        listed = [line for at in labels for line in fold(labels[at], width, f"  {_worst([at], marks)} ", "    ")]
        return listed + _legend("Rotors", [_worst([at], marks) for at in labels], width, numbered)
    canvas, stations = _Canvas(width), _stations(aircraft, rows)
    canvas.put(min(row for row, _ in stations) - (2 if rows > SMALL else 1), canvas.width // 2 - 2, "nose")
    apart = _draw(canvas, stations, labels, marks)
    named = [line for key, at in apart for line in fold(labels[at], width, f"  {key}: ", "     ")]
    shown = [_worst(rotors, marks) for rotors in stations.values()]
    return canvas.lines() + named + _legend("Seen from above, nose up", shown, width, numbered)


def _worst(rotors: Sequence[str], marks: Mapping[str, Mark]) -> str:
    return min((marks.get(at, Mark()).sign for at in rotors), key=list(SIGNS).index)


def _label(rotor: Rotor, mark: Mark) -> str:
    spin = rotor.spin.value if isinstance(rotor.spin, Known) else "spin?"
    found = f" [{','.join(map(str, mark.numbers))}]" if mark.numbers else ""
    return f"{printable(name(rotor), ascii_only=True)} {spin}{found}"


def _stations(aircraft: Aircraft, rows: int) -> dict[tuple[int, int], list[str]]:
    """The rotors at each cell, in rows and columns from the centre."""
    places = {name(rotor): rotor_place(aircraft, rotor) for rotor in aircraft.rotors}
    reach = max((abs(x) for forward, right, _ in places.values() for x in (forward, right)), default=0.0) or 1.0
    stations: dict[tuple[int, int], list[str]] = {}
    for at, (forward, right, _) in sorted(places.items(), key=lambda item: item[1][2]):
        cell = round(-forward / reach * rows), round(right / reach * 2 * rows)
        stations.setdefault(cell, []).append(at)
    return stations


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
    for (row, column), rotors in stations.items():
        canvas.put(row, middle + column, _worst(rotors, marks))
    apart: list[tuple[str, str]] = []
    for (row, column), rotors in stations.items():
        wanted = [
            (
                row + i,
                middle + column + 2 if column >= 0 else middle + column - 1 - len(labels[at]),
                labels[at],
            )
            for i, at in enumerate(rotors)
        ]
        if all(canvas.has_room(r, c, len(text)) for r, c, text in wanted):
            for r, c, text in wanted:
                canvas.put(r, c, text)
        else:
            for i, at in enumerate(rotors):
                key = "abcdefghijklmnopqrstuvwxyz"[len(apart) % 26]
                if canvas.is_free(row, middle + column + 1 + i):
                    canvas.put(row, middle + column + 1 + i, key)
                apart.append((key, at))
    return apart


def _legend(view: str, signs: list[str], width: int, numbered: bool) -> list[str]:
    used = ", ".join(f"{sign} {meaning}" for sign, meaning in SIGNS.items() if sign in signs)
    return fold(f"{view}: {used}{'; [n] finding n' if numbered else ''}.", width, "  ", "  ")
