"""How each prop runs on its motor, and which records were taken in the inverted rig."""

from collections.abc import Callable, Iterable, Iterator
from typing import TypeVar

from preflint.api import (
    PACK_UNPLUGGED,
    PROPS_REMOVED,
    Aircraft,
    Known,
    Open,
    Related,
    Unproven,
    name,
    records,
)
from preflint.api import rotor as _rotor
from preflint.compute.handedness import PropState, prop_state

Rotor = _rotor.Rotor
T = TypeVar("T", records.SpinTest, records.OutputTest)
LoadedRun = records.CurrentComparison | records.InterferenceRun | records.SagRun

WIRES = f"{PACK_UNPLUGGED} {PROPS_REMOVED}"

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


def loaded_runs(aircraft: Aircraft) -> Iterator[tuple[str, LoadedRun]]:
    """Every record that says by which route its load was made, with its kind in words."""
    for comparison in aircraft.records.current_comparison:
        yield "current comparison", comparison
    for run in aircraft.records.interference_run:
        yield "interference run", run
    for sag in aircraft.records.sag_run:
        yield "sag run", sag


def inverted_runs(aircraft: Aircraft) -> list[tuple[str, LoadedRun]]:
    """The records taken in the inverted rig, the oldest first."""
    found = [
        (kind, run)
        for kind, run in loaded_runs(aircraft)
        if isinstance(run.route, Known) and run.route.value == "inverted-load"
    ]
    return sorted(found, key=lambda item: (item[1].date.value.latest, item[0]))


def listed(words: Iterable[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    *most, last = words
    return f"{', '.join(most)} and {last}" if most else last


def names(rotors: Iterable[Rotor]) -> str:
    """The positions of some rotors, in words."""
    return listed(name(rotor) for rotor in rotors)


def settled(
    kind: str, latest: T, tests: Iterable[T], at: str, says: Callable[[T], Known[str] | None], how: str
) -> None:
    """Ends the rule as order-open where another test of that day, in unknown order, says something else."""
    mine = says(latest)
    for other in tests:
        theirs = says(other)
        if mine is None or theirs is None or latest.date.value.after(other.date.value) is not None:
            continue
        if theirs.value != mine.value:
            day = latest.date.value.date
            message = f"two {kind}s of {day} disagree about {at}, and which came first is not recorded"
            related = (Related(theirs.place, f"the other says {theirs.value}"),)
            evidence = f"one says {mine.value}, the other {theirs.value}"
            again = f"repeat it and write the time of day: {how}"
            raise Open(
                Unproven(
                    cause="order-open",
                    place=mine.place,
                    message=message,
                    do=again,
                    evidence=evidence,
                    related=related,
                    mind=PROPS_REMOVED,
                )
            )
