"""Which rotors ought to answer when the aircraft is tipped, or a stick is moved; and what is wrong if others do."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import Literal, TypeVar

from preflint.api import (
    Absent,
    Aircraft,
    Finding,
    Known,
    Open,
    Place,
    Related,
    Unproven,
    name,
    need,
    records,
    rotor_place,
)
from preflint.compute.handedness import yaw_reaction_sign

V = TypeVar("V")
Axis = Literal["pitch", "roll", "yaw", "throttle"]

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
_CHECK = "check the layout that is set, the order of the outputs, and the direction of that axis, with props removed"
REVERSE = "reverse or swap that stick"
_MEASURE = "measure each rotor's place from the centre of the rotors, look at each spin, and write place_mm and spin"


@dataclass(frozen=True, slots=True)
class Wrong:
    """One thing that is not as it ought to be: where it is written, in words, and what to do."""

    place: Place
    words: str
    remedy: str


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


def rotor_places(aircraft: Aircraft) -> dict[str, tuple[float, float]]:
    """Forward and right of every rotor, all in one unit: mm where any has ``place_mm``, else arm lengths.

    Ends the rule as unproven where only some have ``place_mm``.
    """
    if any(isinstance(rotor.place_mm, Known) for rotor in aircraft.rotors):
        for rotor in aircraft.rotors:
            need(rotor.place_mm)
    return {name(rotor): rotor_place(aircraft, rotor)[:2] for rotor in aircraft.rotors}


def turning_effect(aircraft: Aircraft, axis: Axis, about_mean: bool = False) -> dict[str, float]:
    """How far more thrust of each rotor moves the aircraft nose down, right side down or to the right.

    In parts of the largest effect. ``about_mean`` counts from the mean place of the rotors, not from the point that
    their places are written from. Needs every rotor's spin for yaw.
    """
    if axis == "throttle":
        return dict.fromkeys(aircraft.positions, 1.0)
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
    written, mean = (turning_effect(aircraft, axis, about_mean) for about_mean in (False, True))
    if axis == "throttle":
        return Ought(aircraft.positions, (), by_slowing=sign < 0)
    must = tuple(
        at for at in aircraft.positions if sign * written[at] >= _CLEARLY and sign * mean[at] > _NEXT_TO_NOTHING
    )
    must_not = tuple(at for at in aircraft.positions if max(sign * written[at], sign * mean[at]) < -_NEXT_TO_NOTHING)
    if not must:
        message = f"by the places and spins that are written no rotor could move the aircraft {said(wanted)}"
        raise Open(Unproven(cause="uncertain", place=aircraft.about.layout.place, message=message, do=_MEASURE))
    return Ought(must, must_not)


def wrong_indication(move: records.Move, words: str, remedy: str) -> list[Wrong]:
    """What was indicated, where it is not what was done. ``words`` takes it in place of ``{}``."""
    if not isinstance(move.indicated, Known) or move.indicated.value == move.did.value:
        return []
    return [Wrong(move.indicated.place, words.format(said(move.indicated.value)), remedy)]


def wrong_answers(aircraft: Aircraft, move: records.Move, wanted: str, after: str) -> list[Wrong]:
    """The rotors that answered the wrong way. Ends the rule as unproven where the record contradicts itself."""
    sped, slowed = _answered(move.sped_up), _answered(move.slowed_down)
    if not sped and not slowed:
        return []
    both = [at for at in sped if at in slowed]
    if both:
        message = f"{after}: {', '.join(both)} is written both as sped up and as slowed down"
        raise Open(
            Unproven(
                cause="uncertain",
                place=sped[both[0]],
                message=message,
                do="repeat that movement and write what each rotor did",
            )
        )
    ought = ought_to_speed_up(aircraft, wanted)
    rising, falling = (sped, slowed) if not ought.by_slowing else (slowed, sped)
    up, down = ("sped up", "slowed down") if not ought.by_slowing else ("slowed down", "sped up")
    wrong_way = {at: place for at, place in rising.items() if at in ought.must_not}
    failing = {at: place for at, place in falling.items() if at in ought.must}
    if not wrong_way and not failing:
        return []
    seen = [f"{_listed(aircraft, rotors)} {how}" for rotors, how in ((wrong_way, up), (failing, down)) if rotors]
    ought_to = f"ought to {'slow down' if ought.by_slowing else 'speed up'}" if failing else "ought to"
    first = next(iter((wrong_way or failing).values()))
    words = f"{after}, {' and '.join(seen)}; {_listed(aircraft, ought.must)} {ought_to}"
    return [Wrong(first, words, _remedy(aircraft, wanted, failing))]


def all_answered(aircraft: Aircraft, move: records.Move, wanted: str, how: str) -> None:
    """Ends the rule as unproven where a rotor that must answer was not seen to."""
    ought = ought_to_speed_up(aircraft, wanted)
    seen = _answered(move.slowed_down if ought.by_slowing else move.sped_up)
    missing = [at for at in ought.must if at not in seen]
    if missing:
        to_have = "to have slowed down" if ought.by_slowing else "to have sped up"
        message = f"{said(move.did.value)}: {', '.join(missing)} ought {to_have} and is not recorded"
        raise Open(Unproven(cause="uncertain", place=move.place, message=message, do=how))


def answered(move: records.Move) -> bool:
    """Whether it is written which rotors answered the way that the movement asks for."""
    return isinstance(move.slowed_down if move.did.value == "throttle-down" else move.sped_up, Known)


def finding(wrong: list[Wrong], evidence: str) -> Finding:
    """All that is wrong in one finding, the first at its place."""
    return Finding(
        place=wrong[0].place,
        message="; ".join(each.words for each in wrong),
        evidence=evidence + "; right and left as seen from above, nose forward",
        do="; ".join(dict.fromkeys(each.remedy for each in wrong)) + "; then repeat the test",
        related=tuple(Related(each.place, each.words) for each in wrong[1:]),
    )


def _remedy(aircraft: Aircraft, wanted: str, failing: Collection[str]) -> str:
    if axis_of(wanted) != "throttle":
        return _CHECK
    if set(failing) == set(aircraft.positions):
        return REVERSE
    return f"look at motor, speed controller and wires at {_listed(aircraft, failing)}, pack unplugged"


def _answered(field: Known[tuple[Known[str], ...]] | Absent) -> dict[str, Place]:
    return {at.value: at.place for at in field.value} if isinstance(field, Known) else {}


def _listed(aircraft: Aircraft, rotors: Iterable[str]) -> str:
    rotors = tuple(rotors)
    if set(rotors) == set(aircraft.positions):
        return "every rotor"
    return ", ".join(rotors)
