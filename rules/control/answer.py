"""Which rotors ought to answer when the aircraft is tipped, or a stick is moved."""

from typing import Literal

from preflint.api import Aircraft, Open, Unproven, name, need
from preflint.compute.handedness import yaw_reaction_sign
from preflint.frozen import dataclass

from ..shared.places import rotor_places

Axis = Literal["pitch", "roll", "yaw", "throttle"]
SOURCE = "ISO 1151-1 (body axes); which rotors must answer follows from their places and spins"

# Each movement: its axis and sign; nose down, right side down, turned to the right and more throttle are positive.
_MOVEMENTS: dict[str, tuple[Axis, int]] = {
    "nose-down": ("pitch", 1),
    "nose-up": ("pitch", -1),
    "right-down": ("roll", 1),
    "left-down": ("roll", -1),
    "turned-right": ("yaw", 1),
    "turned-left": ("yaw", -1),
    "throttle-up": ("throttle", 1),
    "throttle-down": ("throttle", -1),
}
# Part of the longest lever arm: rotors closer to the axis answer too little to be told by eye. Between the arms of
# an octo (0.41 of the longest), which are, and those of a hexa (0.5), which are not.
_CLEARLY = 0.45
_NEXT_TO_NOTHING = 0.05
_MEASURE = "measure each rotor's place from the centre of the rotors, look at each spin, and write place_mm and spin"


@dataclass(frozen=True, slots=True)
class Ought:
    """The rotors that must speed up, and those that must not; the others may do either.

    With the throttle lowered they must slow down instead.
    """

    must: tuple[str, ...]
    must_not: tuple[str, ...]
    by_slowing: bool = False


def axis_of(movement: str) -> Axis:
    """The axis about which the aircraft is moved, or the throttle."""
    return _MOVEMENTS[movement][0]


def opposed(attitude: str) -> str:
    """The movement that undoes this one."""
    axis, sign = _MOVEMENTS[attitude]
    return next(other for other, entry in _MOVEMENTS.items() if entry == (axis, -sign))


def said(movement: str) -> str:
    """A movement as people say it."""
    return movement.replace("-", " ")


def turning_effect(aircraft: Aircraft, axis: Axis, about_mean: bool = False) -> dict[str, float]:
    """How far more thrust of each rotor moves the aircraft nose down, right side down or to the right.

    In parts of the largest effect. ``about_mean`` counts from the mean place of the rotors, not from the point that
    their places are written from. Needs every rotor's spin for yaw.
    """
    if axis == "yaw":
        return {name(r): float(yaw_reaction_sign(need(r.spin).value)) for r in aircraft.rotors}
    # A rotor that pulls up in front lifts the nose; one on the right lifts the right side.
    along = {at: -place[0 if axis == "pitch" else 1] for at, place in rotor_places(aircraft).items()}
    middle = sum(along.values()) / len(along) if about_mean and along else 0.0
    effects = {at: effect - middle for at, effect in along.items()}
    largest = max((abs(e) for e in effects.values()), default=0.0)
    return {at: e / largest if largest else 0.0 for at, e in effects.items()}


def ought_to_speed_up(aircraft: Aircraft, wanted: str) -> Ought:
    """The rotors that must, and those that must not, speed up to move the aircraft as wanted.

    A rotor counts only where its side is the same seen from the written centre and from the mean place of all
    rotors, so that places measured from another point accuse nobody. Ends the rule as unproven where no rotor could
    move the aircraft that way.
    """
    axis, sign = _MOVEMENTS[wanted]
    if axis == "throttle":
        return Ought(aircraft.positions, (), by_slowing=sign < 0)
    written, mean = (turning_effect(aircraft, axis, about_mean) for about_mean in (False, True))
    must = tuple(
        at for at in aircraft.positions if sign * written[at] >= _CLEARLY and sign * mean[at] > _NEXT_TO_NOTHING
    )
    must_not = tuple(at for at in aircraft.positions if max(sign * written[at], sign * mean[at]) < -_NEXT_TO_NOTHING)
    if not must:
        message = f"by the places and spins written no rotor could move the aircraft {said(wanted)}"
        raise Open(Unproven(cause="uncertain", place=aircraft.about.layout.place, message=message, do=_MEASURE))
    return Ought(must, must_not)
