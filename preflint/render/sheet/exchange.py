"""Where each prop goes for a load in the inverted rig: to a motor of the other spin."""

import math
from collections.abc import Iterator, Sequence

from preflint.aircraft.dated import Dated
from preflint.aircraft.field import Known
from preflint.aircraft.model import Aircraft
from preflint.aircraft.records import KINDS
from preflint.compute.handedness import prop_state
from preflint.render.sheet.stations import Station


def inverted_records(aircraft: Aircraft) -> Iterator[tuple[str, Dated]]:
    """What was recorded in the inverted rig, or saw it, each with its kind in words."""
    for key, kind in KINDS.items():
        for record in aircraft.records.of_kind(key):
            for said in (getattr(record, "route", None), getattr(record, "rig", None)):
                if isinstance(said, Known) and said.value == "inverted-load":
                    yield kind.title.lower(), record


def stands_inverted(aircraft: Aircraft) -> bool:
    """Whether every rotor, as it is written, runs as an inverted load now."""
    return bool(aircraft.rotors) and all(
        isinstance(one.spin, Known)
        and isinstance(one.prop.hand, Known)
        and isinstance(one.prop.face, Known)
        and prop_state(one.spin.value, one.prop.hand.value, one.prop.face.value) == "inverted-load"
        for one in aircraft.rotors
    )


def exchange(every: Sequence[Station]) -> dict[str, str]:
    """For each rotor the one to which its prop goes, each once; empty where spins are unknown or not half and half.

    On coaxial arms upper and lower change places. Else each goes one place on, clockwise seen from above, where
    neighbours turn opposite ways; where they do not, the first cw changes with the first ccw, and so on.
    """
    spins = {one.name: one.rotor.spin.value for one in every if isinstance(one.rotor.spin, Known)}
    turning = {way: [one.name for one in every if spins.get(one.name) == way] for way in ("cw", "ccw")}
    if len(spins) < len(every) or len(turning["cw"]) != len(turning["ccw"]):
        return {}
    return next(
        moves
        for moves in (_within_arms(every), _one_on(every), _in_pairs(turning["cw"], turning["ccw"]))
        if len(moves) == len(every) and all(spins[home] != spins[to] for home, to in moves.items())
    )


def _within_arms(every: Sequence[Station]) -> dict[str, str]:
    uppers = {one.at: one.name for one in every if not one.lower}
    lowers = {one.at: one.name for one in every if one.lower}
    return _in_pairs([uppers[at] for at in lowers if at in uppers], list(lowers.values())) if lowers else {}


def _one_on(every: Sequence[Station]) -> dict[str, str]:
    round_ = [one.name for one in sorted(every, key=lambda one: math.atan2(one.at[0], -one.at[1]))]
    return dict(zip(round_, round_[1:] + round_[:1], strict=True))


def _in_pairs(some: Sequence[str], others: Sequence[str]) -> dict[str, str]:
    if len(some) != len(others):
        return {}
    return dict(zip(some, others, strict=True)) | dict(zip(others, some, strict=True))
