"""How the torques about the yaw axis add up, worked out from the spins, places and props of the rotors."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from math import hypot

from preflint.api import Aircraft, Known, name, need
from preflint.compute.handedness import yaw_reaction_sign

from .state import Rotor

Places = Mapping[str, tuple[float, float]]

_NO_LENGTH = 1e-9  # per arm: what rounding leaves of a column that the ones before it make up
SIZE_RATIO = 2.0  # torques of two sizes of prop at equal thrust; common practice, no source


def yaw_signs(aircraft: Aircraft) -> list[int]:
    """The sign of each rotor's torque on the aircraft. Ends the rule as unproven where a spin is not recorded."""
    return [yaw_reaction_sign(need(rotor.spin).value) for rotor in aircraft.rotors]


def yaw_apart_percent(places: Places, signs: Sequence[int]) -> float:
    """The part of the rotors' yaw torque that is left when thrust, roll and pitch are held, by least squares."""
    arm = sum(hypot(forward, right) for forward, right in places.values()) / len(places) or 1.0
    held = [[1.0] * len(signs), *([way / arm for way in ways] for ways in zip(*places.values(), strict=True))]
    left = [float(sign) for sign in signs]
    ways: list[list[float]] = []  # each of length 1 and at right angles to those before it
    for column in held:
        for way in ways:
            column = _without(column, way)
        if (length := hypot(*column)) > _NO_LENGTH:
            ways.append([part / length for part in column])
            left = _without(left, ways[-1])
    return 100 * hypot(*left) / hypot(*signs)


def _without(column: Sequence[float], way: Sequence[float]) -> list[float]:
    along = sum(one * other for one, other in zip(column, way, strict=True))
    return [one - along * other for one, other in zip(column, way, strict=True)]


def offset_percent(places: Places) -> float:
    """How far the mean place of the rotors lies off the point they are measured from, per arm."""
    arm = sum(hypot(forward, right) for forward, right in places.values())
    offset = hypot(sum(forward for forward, _ in places.values()), sum(right for _, right in places.values()))
    return 100 * offset / arm if arm else 0.0


def left_over_percent(rotors: Sequence[Rotor], signs: Sequence[int]) -> tuple[float, float]:
    """Least and most torque left over, whatever the torques of props of different sizes (within SIZE_RATIO).

    A prop whose size is not recorded counts as one of the first size that is.
    """
    sizes = [_size(rotor) for rotor in rotors]
    usual = next((size for size in sizes if size), None)
    groups: dict[tuple[float, float, int] | None, list[int]] = defaultdict(list)
    for size, sign in zip(sizes, signs, strict=True):
        groups[size or usual].append(sign)
    # The share is a ratio of two sums, so it is greatest (and least) where the groups that lean most one way
    # have the one torque and the others the other.
    leaning = sorted(groups.values(), key=lambda group: sum(group) / len(group))
    shares = []
    for cut in range(len(leaning)):
        for before, after in ((1.0, SIZE_RATIO), (SIZE_RATIO, 1.0)):
            torques = [before if index < cut else after for index in range(len(leaning))]
            left_over = sum(q * sum(group) for q, group in zip(torques, leaning, strict=True))
            shares.append(100 * left_over / sum(q * len(group) for q, group in zip(torques, leaning, strict=True)))
    low, high = min(shares), max(shares)
    return (0.0 if low < 0 < high else min(abs(low), abs(high))), max(abs(low), abs(high))


def _size(rotor: Rotor) -> tuple[float, float, int] | None:
    diameter, pitch, blades = rotor.prop.diameter_in, rotor.prop.pitch_in, rotor.prop.blades
    if isinstance(diameter, Known) and isinstance(pitch, Known) and isinstance(blades, Known):
        return diameter.value, pitch.value, blades.value
    return None


def coupling(aircraft: Aircraft, places: Places, signs: Sequence[int], reversed_one: Rotor) -> float:
    """How much roll and pitch a pure yaw command makes once that rotor is reversed, in arm lengths."""
    forward = right = arm = 0.0
    for rotor, sign in zip(aircraft.rotors, signs, strict=True):
        x, y = places[name(rotor)]
        acting = -sign if rotor is reversed_one else sign
        forward, right, arm = forward + acting * x, right + acting * y, arm + hypot(x, y)
    return hypot(forward, right) / arm if arm else 0.0
