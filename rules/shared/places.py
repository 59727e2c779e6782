"""Where the rotors are, for whatever is worked out from their lever arms."""

from preflint.api import Aircraft, Known, name, need, rotor_place


def rotor_places(aircraft: Aircraft) -> dict[str, tuple[float, float]]:
    """Forward and right of every rotor, all in one unit: mm where any has ``place_mm``, else arm lengths.

    Ends the rule as unproven where only some have ``place_mm``.
    """
    if any(isinstance(rotor.place_mm, Known) for rotor in aircraft.rotors):
        for rotor in aircraft.rotors:
            need(rotor.place_mm)
    return {name(rotor): rotor_place(aircraft, rotor)[:2] for rotor in aircraft.rotors}


def places_mm(aircraft: Aircraft) -> dict[str, tuple[float, float, float]]:
    """Forward, right and down of every rotor in mm.

    Ends the rule as unproven where only some have ``place_mm``, or none has and the arm is not recorded.
    """
    places = rotor_places(aircraft)
    written = any(isinstance(rotor.place_mm, Known) for rotor in aircraft.rotors)
    scale = 1.0 if written else need(aircraft.about.arm_mm).value
    down = {name(rotor): rotor_place(aircraft, rotor)[2] for rotor in aircraft.rotors}
    return {at: (scale * forward, scale * right, scale * down[at]) for at, (forward, right) in places.items()}
