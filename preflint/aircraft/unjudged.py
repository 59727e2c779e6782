"""What an owner recorded and no rule or figure reads: silence about it would read as approval."""

from collections.abc import Iterator, Mapping
from typing import Any

from preflint.aircraft.declare import Unjudged
from preflint.aircraft.declared import declarations, is_group
from preflint.aircraft.field import Known
from preflint.aircraft.model import Aircraft
from preflint.frozen import dataclass
from preflint.places import Place


@dataclass(frozen=True, slots=True)
class NotJudged:
    """``what``: the key path without positions, such as motor.mass_g; ``why`` as it is declared."""

    what: str
    why: Unjudged
    place: Place


def not_judged(aircraft: Aircraft) -> tuple[NotJudged, ...]:
    """Each once, though a value for every rotor is read for each of them; in the order of the manifest's format."""
    return tuple(dict.fromkeys(_inside(aircraft, "")))


def _inside(value: Any, path: str) -> Iterator[NotJudged]:
    kind: Any = type(value)
    if isinstance(value, Known):
        yield from _inside(value.value, path)
    elif isinstance(value, tuple):
        for entry in value:
            yield from _inside(entry, path)
    elif isinstance(value, Mapping):
        for entry in value.values():
            yield from _inside(entry, path)
    elif is_group(kind):
        for name, said in declarations(kind).items():
            held, key = getattr(value, name), said.key or name
            inner = "" if key == "rotors" else f"{path}.{key}" if path else key
            if said.unjudged is None:
                yield from _inside(held, inner)
            elif isinstance(held, Known):
                yield NotJudged(inner, said.unjudged, held.place)
