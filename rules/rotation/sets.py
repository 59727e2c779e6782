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
    Place,
    Related,
    level_of,
    name,
    need,
    rule,
)

from .state import Rotor, names

_SIZE = {
    "diameter_in": "{:g} inch diameter",
    "pitch_in": "{:g} inch pitch",
    "blades": "{:d} blades",
}
_ORIGIN = {"make": "make {}", "batch": "batch {}"}


def prop_sets(aircraft: Aircraft) -> Iterator[tuple[str, list[Rotor]]]:
    """The props that must be alike: uppers of coaxial arms, lowers of coaxial arms, all others."""
    for label, level in (("upper props: ", "upper"), ("lower props: ", "lower"), ("", None)):
        rotors = [rotor for rotor in aircraft.rotors if level_of(name(rotor)) == level]
        if rotors:
            yield label, rotors


def _unlike(aircraft: Aircraft, fields: dict[str, str], remedy: str) -> Finding | None:
    """All differences within the sets, placed at the first value that fewer props have than another."""
    told: list[str] = []
    odd: dict[Place, Rotor] = {}
    usual: dict[Place, Rotor] = {}
    for label, rotors in prop_sets(aircraft):
        for key, wording in fields.items():
            known = [(rotor, value) for rotor, value in _values(rotors, key) if isinstance(value, Known)]
            counts = Counter(value.value for _, value in known)
            if len(counts) < 2:
                continue
            most = max(counts, key=lambda value: counts[value])  # of a tie: the first in walk-round order
            for rotor, value in known:
                (usual if value.value == most else odd).setdefault(value.place, rotor)
            holders = {value: names(rotor for rotor, v in known if v.value == value) for value in counts}
            unlike = [f"{wording.format(value)} at {holders[value]}" for value in counts if value != most]
            told.append(f"{label}{', '.join(unlike)}, but {wording.format(most)} at {holders[most]}")
    if not told:
        return None
    first = next(iter(odd))
    related = [Related(place, f"{name(rotor)} is unlike too") for place, rotor in odd.items() if place != first]
    related += [Related(place, f"as at {name(rotor)}", compared=True) for place, rotor in usual.items()]
    where = names(rotor for rotor in aircraft.rotors if rotor in odd.values())
    return Finding(
        place=first,
        message=f"the props do not match at {where}",
        evidence="; ".join(told),
        do=remedy.format(where),
        related=tuple(related),
    )


def _values(rotors: Sequence[Rotor], key: str) -> Iterator[tuple[Rotor, Field[Hashable]]]:
    for rotor in rotors:
        yield rotor, getattr(rotor.prop, key)


def _all_recorded(aircraft: Aircraft, fields: dict[str, str]) -> None:
    for key in fields:
        for _, value in _values(aircraft.rotors, key):
            need(value)


@rule(
    "rotation/matched-size",
    each="aircraft",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source",
)
def matched_size(aircraft: Aircraft, on: Context) -> Outcome:
    """All props of a set have one diameter, pitch and number of blades.

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
    found = _unlike(aircraft, _SIZE, "fit at {} the size of prop that the others have")
    if found:
        return found
    _all_recorded(aircraft, _SIZE)
    return Clear("within each set all props have one diameter, pitch and number of blades")


@rule(
    "rotation/matched-batch",
    each="aircraft",
    severity=ADVISORY,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source",
)
def matched_batch(aircraft: Aircraft, on: Context) -> Outcome:
    """All props of a set are of one make and batch.

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
    found = _unlike(aircraft, _ORIGIN, "fit at {} the make and batch of the others when the props are next changed")
    if found:
        return found
    _all_recorded(aircraft, _ORIGIN)
    return Clear("within each set all props are of one make and batch")
