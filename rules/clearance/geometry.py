"""How far apart discs are, seen from above and in height."""

import math
from itertools import combinations

from preflint.api import (
    Aircraft,
    Known,
    Open,
    Place,
    Unproven,
    arm_of,
    level_of,
    name,
    need,
    nut_points,
    rotor,
)
from preflint.compute.decision import t_factor, u_rectangular
from preflint.frozen import dataclass

from ..shared.places import places_mm

MM_PER_IN = 25.4
# Half-widths of what is measured with a rule, or read off a prop. Common practice, no source.
_PLACE_WITHIN = 0.01
_DIAMETER_WITHIN = 0.01
_HEIGHT_WITHIN_MM = 3.0
_ONE_AXIS_MM = 10.0  # nearer than this, two rotors stand on one axis


@dataclass(frozen=True, slots=True)
class Pair:
    """Two discs: the gap between their rims seen from above, below zero where they overlap, and what it may be off.

    ``height_mm``: how far apart in height; None where one is above its arm and one below, or in a coaxial pair, and
    nobody measured it.
    """

    one: rotor.Rotor
    other: rotor.Rotor
    apart_mm: float
    gap_mm: float
    u_mm: float
    height_mm: float | None

    @property
    def names(self) -> str:
        """In a sentence."""
        return f"{name(self.one)} and {name(self.other)}"

    @property
    def radius_mm(self) -> float:
        """Of the larger disc."""
        return max(radius_mm(self.one), radius_mm(self.other))

    @property
    def reach_mm(self) -> float:
        """What the gap may be off, at 95 %."""
        return t_factor(math.inf) * self.u_mm

    @property
    def place(self) -> Place:
        """Where the second rotor's place is written, else its entry."""
        return self.other.place_mm.place if isinstance(self.other.place_mm, Known) else self.other.place

    def in_words(self) -> str:
        """For the evidence."""
        across = f"{2 * radius_mm(self.one):.0f} and {2 * radius_mm(self.other):.0f} mm across"
        gap = f"gap {self.gap_mm:.0f} ± {self.reach_mm:.0f} mm (95 %)"
        return f"{self.names}: {self.apart_mm:.0f} mm apart, {across}: {gap}"


def radius_mm(one: rotor.Rotor) -> float:
    """Of its disc. Ends the rule as unproven where the diameter is missing."""
    return need(one.prop.diameter_in).value * MM_PER_IN / 2


def pairs(aircraft: Aircraft) -> list[Pair]:
    """All pairs of discs but those on one axis, by their gap; where one disc is ducted, none could touch.

    Ends the rule as unproven where a place, the arm's length or a diameter is missing, or places are placeholders.
    """
    places = places_mm(aircraft)
    found = []
    for one, other in combinations(aircraft.rotors, 2):
        here, there = places[name(one)], places[name(other)]
        apart = math.dist(here[:2], there[:2])
        if apart < _ONE_AXIS_MM:
            if arm_of(name(one)) != arm_of(name(other)):
                raise Open(_placeholders(one, other))
            continue
        if _ducted(one) or _ducted(other):
            continue
        sides = radius_mm(one) + radius_mm(other)
        u = math.hypot(u_rectangular(_PLACE_WITHIN * apart), u_rectangular(_DIAMETER_WITHIN * sides))
        found.append(Pair(one, other, apart, apart - sides, u, _height_mm(one, other, here[2], there[2])))
    return sorted(found, key=lambda pair: pair.gap_mm)


def is_one_plane(pair: Pair) -> bool:
    """Whether nothing but the reading itself sets them apart in height."""
    return pair.height_mm is not None and pair.height_mm <= _HEIGHT_WITHIN_MM


def _height_mm(one: rotor.Rotor, other: rotor.Rotor, down: float, its_down: float) -> float | None:
    apart = abs(down - its_down)
    same_side = nut_points(one).value == nut_points(other).value and level_of(name(one)) == level_of(name(other))
    return apart if same_side or apart > _HEIGHT_WITHIN_MM else None


def _ducted(one: rotor.Rotor) -> bool:
    return isinstance(one.ducted, Known) and one.ducted.value


def _placeholders(one: rotor.Rotor, other: rotor.Rotor) -> Unproven:
    place = one.place_mm.place if isinstance(one.place_mm, Known) else one.place
    how = "measure each rotor's place, forward, right and down from the centre of the rotors in mm, and write place_mm"
    return Unproven(place=place, message=f"{name(one)} and {name(other)} are in one place", do=how)
