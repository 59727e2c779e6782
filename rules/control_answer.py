"""Which rotors ought to speed up when the aircraft is tipped, or a stick is moved."""

from typing import Literal

from preflint.api import Aircraft, Known, Place, name, need, records, rotor_place
from preflint.compute.handedness import yaw_reaction_sign

Axis = Literal["pitch", "roll", "yaw"]

# Attitude: its axis and sign; nose down, right side down and turned to the right count as positive.
_ATTITUDES: dict[str, tuple[Axis, int]] = {
    "nose-down": ("pitch", 1),
    "nose-up": ("pitch", -1),
    "right-down": ("roll", 1),
    "left-down": ("roll", -1),
    "turned-right": ("yaw", 1),
    "turned-left": ("yaw", -1),
}
# Part of the longest lever arm: rotors closer to the axis answer too little to be told by eye.
_CLEARLY = 0.5
_NEXT_TO_NOTHING = 0.05


def axis_of(attitude: str) -> Axis:
    """The axis about which the aircraft is moved."""
    return _ATTITUDES[attitude][0]


def turning_effect(aircraft: Aircraft, axis: Axis) -> dict[str, float]:
    """How far more thrust of each rotor moves the aircraft nose down, right side down or to the right.

    In parts of the largest effect. Needs every rotor's spin for yaw.
    """
    effects: dict[str, float] = {}
    for rotor in aircraft.rotors:
        forward, right, _ = rotor_place(aircraft, rotor)
        if axis == "yaw":
            effects[name(rotor)] = float(yaw_reaction_sign(need(rotor.spin).value))
        else:
            # A rotor that pulls up in front lifts the nose; one on the right lifts the right side.
            effects[name(rotor)] = -(forward if axis == "pitch" else right)
    largest = max((abs(e) for e in effects.values()), default=0.0)
    return {at: e / largest if largest else 0.0 for at, e in effects.items()}


def ought_to_speed_up(aircraft: Aircraft, wanted: str) -> tuple[frozenset[str], frozenset[str]]:
    """The rotors that must, and those that must not, speed up to move the aircraft to the attitude wanted."""
    axis, sign = _ATTITUDES[wanted]
    effects = {at: sign * e for at, e in turning_effect(aircraft, axis).items()}
    must = frozenset(at for at, e in effects.items() if e >= _CLEARLY)
    must_not = frozenset(at for at, e in effects.items() if e < -_NEXT_TO_NOTHING)
    return must, must_not


def opposed(attitude: str) -> str:
    """The movement that undoes this one."""
    axis, sign = _ATTITUDES[attitude]
    return next(other for other, entry in _ATTITUDES.items() if entry == (axis, -sign))


def wrong_rotors(aircraft: Aircraft, move: records.Move, wanted: str) -> list[tuple[Place, str]]:
    """Each rotor that sped up and moves the aircraft the wrong way."""
    _, must_not = ought_to_speed_up(aircraft, wanted)
    return [(at.place, at.value) for at in move.sped_up if isinstance(at, Known) and at.value in must_not]


def missing_rotors(aircraft: Aircraft, move: records.Move, wanted: str) -> list[str]:
    """Each rotor that ought to have sped up, and was not seen to, in walk-round order."""
    must, _ = ought_to_speed_up(aircraft, wanted)
    seen = {at.value for at in move.sped_up}
    return [at for at in aircraft.positions if at in must - seen]
