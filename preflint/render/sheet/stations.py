"""Where each disc lies on the page, in mm: right is to the right, forward is up."""

import math
from collections.abc import Sequence
from itertools import combinations

from preflint.aircraft.field import Known
from preflint.aircraft.layouts import level_of, unit_place
from preflint.aircraft.model import Aircraft, name
from preflint.aircraft.rotor import Rotor
from preflint.frozen import dataclass
from preflint.render.sheet.svg import Point

MM_PER_IN = 25.4
_ONE_AXIS_MM = 10.0  # nearer than this, two rotors stand on one axis
_INSIDE = 0.95  # a lower disc of the upper one's size would lie under its line


@dataclass(frozen=True, slots=True)
class Station:
    """One disc. ``radius`` is as drawn; ``measured`` says whether the prop's diameter is recorded.

    ``lower``: below another on its axis. ``shrunk``: drawn a little inside the disc above, which is as large.
    """

    rotor: Rotor
    at: Point
    radius: float
    measured: bool
    lower: bool
    shrunk: bool

    @property
    def name(self) -> str:
        """The rotor's position."""
        return name(self.rotor)


@dataclass(frozen=True, slots=True)
class Stations:
    """All discs, in walk-round order. ``why_not_to_scale``: what keeps the places from being to scale, "" if nothing.

    ``together``: pairs that are written in one place and height, so that nobody can tell which is above.
    """

    every: tuple[Station, ...]
    why_not_to_scale: str
    together: tuple[tuple[str, str], ...]

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of all discs, with the centre of the rotors in it."""
        edges = [
            (s.at[0] - s.radius, s.at[1] - s.radius, s.at[0] + s.radius, s.at[1] + s.radius) for s in self.every
        ]
        lefts, tops, rights, bottoms = zip(*edges, (0.0, 0.0, 0.0, 0.0), strict=True)
        return min(lefts), min(tops), max(rights), max(bottoms)


def stations(aircraft: Aircraft) -> Stations:
    """The discs of an aircraft with at least one rotor.

    A place that nobody measured is at the arm's length; where that is missing too, the drawing is not to scale.
    """
    rotors = aircraft.rotors
    radii = [_radius(rotor) for rotor in rotors]
    places, why = _places(aircraft, [r for r in radii if r is not None])
    below, together = _below(rotors, places)
    least = min([r for r in radii if r is not None], default=_room(places) / 2)
    made = []
    for i, rotor in enumerate(rotors):
        forward, right, _ = places[i]
        radius = radii[i]
        drawn = 0.8 * least if radius is None else radius
        above = radii[below[i]] if i in below else None
        shrunk = radius is not None and above is not None and abs(radius / above - 1) < 1 - _INSIDE
        measured = radius is not None
        made.append(
            Station(rotor, (right, -forward), drawn * (_INSIDE if shrunk else 1), measured, i in below, shrunk)
        )
    pairs = tuple((name(rotors[i]), name(rotors[k])) for i, k in together)
    return Stations(tuple(made), why, pairs)


def _radius(rotor: Rotor) -> float | None:
    diameter = rotor.prop.diameter_in
    return diameter.value * MM_PER_IN / 2 if isinstance(diameter, Known) else None


def _places(aircraft: Aircraft, radii: Sequence[float]) -> tuple[list[tuple[float, float, float]], str]:
    """Forward, right and down of each rotor, and why they are not to scale."""
    written = {
        i: (rotor.place_mm.value[0], rotor.place_mm.value[1], rotor.place_mm.value[2])
        for i, rotor in enumerate(aircraft.rotors)
        if isinstance(rotor.place_mm, Known)
    }
    why, arm = "", 1.0
    if len(written) < len(aircraft.rotors):
        if isinstance(aircraft.about.arm_mm, Known):
            arm = aircraft.about.arm_mm.value
        else:
            guess = max((math.hypot(*place[:2]) for place in written.values()), default=0.0)
            arm = guess or 2.8 * max(radii, default=100.0)
            why = "arm_mm is not recorded" if not written else "place_mm is not recorded of every rotor, nor arm_mm"
    made = []
    for i, rotor in enumerate(aircraft.rotors):
        if i in written:
            made.append(written[i])
        else:
            forward, right, down = unit_place(aircraft.about.layout.value, name(rotor))
            made.append((arm * forward, arm * right, arm * down))
    return made, why


def _below(
    rotors: Sequence[Rotor], places: Sequence[tuple[float, float, float]]
) -> tuple[dict[int, int], list[tuple[int, int]]]:
    """The rotors that lie below another on their axis, each with that one, and the pairs that nobody can tell apart."""
    below, together = dict[int, int](), list[tuple[int, int]]()
    for i, k in combinations(range(len(rotors)), 2):
        if math.dist(places[i][:2], places[k][:2]) >= _ONE_AXIS_MM:
            continue
        deeper = places[k][2] - places[i][2]
        levels = level_of(name(rotors[i])), level_of(name(rotors[k]))
        if deeper == 0 and set(levels) == {"upper", "lower"}:
            deeper = 1.0 if levels[1] == "lower" else -1.0
        if deeper == 0:
            together.append((i, k))
        else:
            below.update([(k, i)] if deeper > 0 else [(i, k)])
    return below, together


def _room(places: Sequence[tuple[float, float, float]]) -> float:
    """The least distance between two axes, or from the centre where there is one axis."""
    apart = [math.dist(a[:2], b[:2]) for a, b in combinations(places, 2)]
    wide = [distance for distance in apart if distance >= _ONE_AXIS_MM]
    return min(wide, default=max((math.hypot(*place[:2]) for place in places), default=0.0) or 200.0)
