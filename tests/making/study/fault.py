"""A kind of fault: how it gets into the document of a sound aircraft, and which rules are to name it.

Nothing of preflint is used here or in the lists of faults.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from making.sound.build import Sound

Document = dict[str, Any]
OTHER = {
    "cw": "ccw", "ccw": "cw", "up": "down", "down": "up", "nose-down": "nose-up", "right-down": "left-down",
    "turned-right": "turned-left", "throttle-up": "throttle-down",
}  # fmt: skip
JUDGED = "2026-05-21"


class DoesNotApply(Exception):
    """The aircraft has nothing that could have the fault."""


@dataclass
class Case:
    """One aircraft that is to get faults: what is true of it, its document, and chance."""

    sound: Sound
    document: Document
    rng: np.random.Generator

    def one(self) -> Document:
        """Some rotor's entry."""
        found: Document = self.document["rotors"][int(self.rng.integers(len(self.document["rotors"])))]
        return found

    def positions(self) -> list[str]:
        return [rotor["at"] for rotor in self.document["rotors"]]

    def latest(self, kind: str) -> Document:
        """The record of the kind written last."""
        if not self.document["records"].get(kind):
            raise DoesNotApply
        found: Document = self.document["records"][kind][-1]
        return found

    def own(self, rotor: Document, group: str) -> Document:
        """What is written of a part of this rotor beside what stands for every rotor."""
        found: Document = rotor.setdefault(group, {})
        return found

    def section(self, *path: str) -> Document:
        found = self.document
        for step in path:
            if not isinstance(found.get(step), dict):
                raise DoesNotApply
            found = found[step]
        return found

    def column(self, kind: str, name: str) -> tuple[list[list[float]], int]:
        """The rows of the latest record of the kind, and the index of a column of theirs."""
        table = self.latest(kind)
        if "rows" not in table or name not in table["columns"]:
            raise DoesNotApply
        return table["rows"], table["columns"].index(name)


Put = Callable[[Case], str | None]


@dataclass(frozen=True)
class Fault:
    """``put`` tells the position it is at, or None; it raises DoesNotApply where no such aircraft can have it.

    ``limit`` are the words of README's known limits that tell why it cannot be known on some aircraft.
    """

    name: str
    rules: tuple[str, ...]
    put: Put
    limit: str = ""


def need(applies: object) -> None:
    if not applies:
        raise DoesNotApply


def record(kind: str, key: str, value: object) -> Put:
    """One entry of the latest record of the kind is another."""

    def put(case: Case) -> None:
        need(case.latest(kind).get(key) != value)
        case.latest(kind)[key] = value

    return put


def setting(*path: str, value: object) -> Put:
    """One entry of a section is another; the aircraft has the section."""

    def put(case: Case) -> None:
        group = case.section(*path[:-1])
        need(group.get(path[-1]) != value)
        group[path[-1]] = value

    return put


def times(factor: float, *path: str) -> Put:
    """One number of a section is so many times as much."""

    def put(case: Case) -> None:
        group = case.section(*path[:-1])
        need(path[-1] in group)
        group[path[-1]] = float(f"{group[path[-1]] * factor:.4g}")

    return put


def pack(key: str, value: Callable[[Case], object]) -> Put:
    """One entry of the pack that is flown, worked out for the aircraft."""

    def put(case: Case) -> str:
        case.document["packs"][0][key] = value(case)
        return str(case.document["packs"][0]["label"])

    return put


def record_times(kind: str, key: str, factor: float) -> Put:
    def put(case: Case) -> None:
        need(key in case.latest(kind))
        case.latest(kind)[key] = float(f"{case.latest(kind)[key] * factor:.4g}")

    return put


def column(kind: str, name: str, change: Callable[[float], float]) -> Put:
    """Every reading of a column is another."""

    def put(case: Case) -> None:
        rows, at = case.column(kind, name)
        for row in rows:
            row[at] = round(change(row[at]), 5)

    return put


def log(**entry: object) -> Put:
    """Work or a mishap that came after all records, and a flight since."""

    def put(case: Case) -> str | None:
        told = {"date": "2026-05-19", **entry}
        if entry.get("at") == "some":
            told["at"] = case.one()["at"]
        case.document["logbook"] += [told, {"date": "2026-05-20 18:00", "kind": "flown"}]
        return str(told["at"]) if "at" in told else None

    return put
