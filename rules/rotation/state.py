"""How each prop runs on its motor, and how rotors are named in words."""

from collections.abc import Iterable

from preflint.api import PACK_UNPLUGGED, PROPS_REMOVED, Aircraft, Known, name, together
from preflint.api import rotor as _rotor
from preflint.compute.handedness import PropState, prop_state

Rotor = _rotor.Rotor

LOOK = (
    "look at every prop (motor of its own hand, domed side up) and write a rig_check with the time of day and rig: "
    "flight"
)
WIRES = together(PACK_UNPLUGGED, PROPS_REMOVED)

RUNS: dict[PropState, str] = {
    "flight": "pushes up, leading edge first",
    "inverted-load": "pushes down, leading edge first",
    "turned-over": "pushes up weakly, trailing edge first",
    "wrong-hand": "pushes down, trailing edge first",
}


def state(rotor: Rotor) -> PropState | None:
    """None where spin, hand or face is not recorded."""
    spin, hand, face = rotor.spin, rotor.prop.hand, rotor.prop.face
    if isinstance(spin, Known) and isinstance(hand, Known) and isinstance(face, Known):
        return prop_state(spin.value, hand.value, face.value)
    return None


def all_inverted(aircraft: Aircraft) -> bool:
    """Whether every rotor is recorded, and every one runs as an inverted load."""
    return bool(aircraft.rotors) and all(state(rotor) == "inverted-load" for rotor in aircraft.rotors)


def listed(words: Iterable[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    *most, last = words
    return f"{', '.join(most)} and {last}" if most else last


def names(rotors: Iterable[Rotor]) -> str:
    """The positions of some rotors, in words."""
    return listed(name(rotor) for rotor in rotors)
