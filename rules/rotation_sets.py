"""Are the props of a set alike?"""

from collections import Counter
from collections.abc import Hashable, Iterator, Sequence

from preflint.api import (
    ADVISORY,
    CAUTION,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Field,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    name,
    need,
    rule,
)

from .rotation_state import Rotor, names

_SIZE = {"diameter_in": "{:g} in diameter", "pitch_in": "{:g} in pitch", "blades": "{:d} blades"}
_ORIGIN = {"make": "make {}", "batch": "batch {}"}


def prop_sets(aircraft: Aircraft) -> Iterator[tuple[str, list[Rotor]]]:
    """The props that must be alike: uppers and lowers of coaxial arms each by themselves, the others together."""
    for label, suffix in (("upper props", "-upper"), ("lower props", "-lower")):
        level = [rotor for rotor in aircraft.rotors if name(rotor).endswith(suffix)]
        if level:
            yield label, level
    rest = [rotor for rotor in aircraft.rotors if not name(rotor).endswith(("-upper", "-lower"))]
    if rest:
        yield "props", rest


def _unlike(aircraft: Aircraft, fields: dict[str, str], remedy: str, harm: str) -> Finding | None:
    """The first difference within a set, placed at the value that the fewest props share."""
    for label, rotors in prop_sets(aircraft):
        for key, wording in fields.items():
            known = [(rotor, value) for rotor, value in _values(rotors, key) if isinstance(value, Known)]
            counts = Counter(value.value for _, value in known)
            if len(counts) < 2:
                continue
            usual = max(counts, key=lambda value: counts[value])  # of a tie: the first in walk-round order
            odd = [(rotor, value) for rotor, value in known if value.value != usual]
            usual_at = names(rotor for rotor, value in known if value.value == usual)
            told = [f"{name(rotor)} {wording.format(value.value)}" for rotor, value in odd]
            first = odd[0][1].place
            places = {value.place: rotor for rotor, value in reversed([*odd, *known])}
            related = [Related(place, name(rotor)) for place, rotor in reversed(places.items()) if place != first]
            return Finding(
                first,
                f"the {label} are not alike: {', '.join(told)}, but {wording.format(usual)} at {usual_at}",
                f"{key}: " + ", ".join(f"{name(rotor)} {_shown(value.value)}" for rotor, value in known),
                f"{remedy} at {names(rotor for rotor, _ in odd)}; {harm}",
                tuple(related),
            )
    return None


def _values(rotors: Sequence[Rotor], key: str) -> Iterator[tuple[Rotor, Field[Hashable]]]:
    for rotor in rotors:
        yield rotor, getattr(rotor.prop, key)


def _shown(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)


def _all_recorded(aircraft: Aircraft, fields: dict[str, str]) -> None:
    for key in fields:
        for _, value in _values(aircraft.rotors, key):
            need(value)


@rule(
    "rotation/matched-size", each="aircraft", severity=CAUTION, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED,
    source="common practice, no source",
)
def matched_size(aircraft: Aircraft, on: Context) -> Outcome:
    """All props of a set have one diameter, pitch and number of blades

    Thrust goes with the fourth power of the diameter at one speed, so one odd prop leans the aircraft
    over and uses up the control that gusts need. On coaxial arms the uppers are one set and the lowers
    another, since a lower prop of more pitch is common there.

    Fails:

        every_rotor:
          prop: {diameter_in: 14, pitch_in: 4.8, blades: 2}
        rotors:
          - {at: front-left, prop: {diameter_in: 13}}

    Passes:

        every_rotor:
          prop: {diameter_in: 14, pitch_in: 4.8, blades: 2}

    Not checked: the shape of the blades.
    """
    if len(aircraft.rotors) < 2:
        return NotApplicable("there is only one prop")
    found = _unlike(
        aircraft, _SIZE, "fit a prop of the size of the others", "a mixed set leans and uses up control"
    )
    if found:
        return found
    _all_recorded(aircraft, _SIZE)
    return Clear("within each set all props have one diameter, pitch and number of blades")


@rule(
    "rotation/matched-batch", each="aircraft", severity=ADVISORY, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED,
    source="common practice, no source",
)
def matched_batch(aircraft: Aircraft, on: Context) -> Outcome:
    """All props of a set are of one make and batch

    Props of one printed size differ between makers, and a little between batches, in thrust, mass and
    stiffness. The aircraft flies, but trims unevenly and shakes more.

    Fails:

        every_rotor:
          prop: {make: Fellside, batch: A7}
        rotors:
          - {at: front-left, prop: {batch: B2}}

    Passes:

        every_rotor:
          prop: {make: Fellside, batch: A7}

    Not checked: balance, which has a topic of its own.
    """
    if len(aircraft.rotors) < 2:
        return NotApplicable("there is only one prop")
    found = _unlike(
        aircraft, _ORIGIN, "at the next change of props fit one of the same make and batch",
        "until then watch for uneven trim and vibration",
    )
    if found:
        return found
    _all_recorded(aircraft, _ORIGIN)
    return Clear("within each set all props are of one make and batch")


RULES = (matched_size, matched_batch)
