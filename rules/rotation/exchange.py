"""What an aircraft does whose outputs drive the wrong rotors, worked out from the rotors' places and spins."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from preflint.api import Aircraft, Known, Open, name
from preflint.arrays import np
from preflint.compute.handedness import yaw_reaction_sign
from preflint.frozen import dataclass

from ..shared.places import rotor_places

if TYPE_CHECKING:
    from numpy.typing import NDArray

AXES = ("roll", "pitch", "yaw")
_FLIPS = "the aircraft would flip at its first lift-off"
# Part of a right answer below which there is none: what is left of a correction is lost in the props' differences.
_NOTHING = 0.05
# Below this, what one axis gives in another is rounding.
_SEEN = 0.02


@dataclass(frozen=True, slots=True)
class Response:
    """What comes of a command of each axis, as parts of what ought to; columns are commands, rows what comes of them.

    ``axes`` names rows and columns: without every rotor's spin yaw is left out.
    """

    axes: tuple[str, ...]
    given: NDArray[np.float64]

    @property
    def touched(self) -> tuple[str, ...]:
        """The axes that do not answer as they ought to, or that answer a command of another."""
        off = np.abs(self.given - np.eye(len(self.axes))) > _SEEN
        return tuple(axis for k, axis in enumerate(self.axes) if off[k].any() or off[:, k].any())

    @property
    def flips(self) -> bool:
        """Whether a tilt is answered by tilting further, or not at all: an eigenvalue about zero or below."""
        values, vectors = np.linalg.eig(self.given)
        tilts = np.abs(vectors[:2]).max(axis=0) > _SEEN  # every eigenvector has length 1
        return bool(np.any((values.real <= _NOTHING) & tilts))

    def of(self, axis: str) -> float:
        """The part of a command of that axis that comes as it ought to; below zero where it comes reversed."""
        return float(self.given[self.axes.index(axis), self.axes.index(axis)])

    def __str__(self) -> str:
        own = ", ".join(f"{axis} {_percent(self.of(axis))} %" for axis in self.axes)
        pairs = [
            f"{one} and {other} mix"
            for k, one in enumerate(self.axes)
            for m, other in enumerate(self.axes)
            if k < m and max(abs(self.given[k, m]), abs(self.given[m, k])) > _SEEN
        ]
        mixed = ["roll, pitch and yaw mix"] if len(pairs) == len(AXES) else pairs
        source = "places and spins" if "yaw" in self.axes else "the places alone"
        return f"answers to a command, worked out from {source}: {'; '.join([own, *mixed])}"


def response(aircraft: Aircraft, drives: Mapping[str, str]) -> Response | None:
    """The aircraft's answer where each output drives the rotor given for it, the others their own.

    The moments of the rotors times the shares of them that the flight controller commands, which are taken as the
    least squares solution for thrust, roll, pitch and yaw. None where the places do not tell roll and pitch apart
    from thrust, so that nothing can be worked out.
    """
    try:
        places = rotor_places(aircraft)
    except Open:
        return None
    at = aircraft.positions
    forward, right = np.array([places[each] for each in at], dtype=np.float64).T
    # Body axes: a rotor on the right tips the aircraft left, one in front lifts its nose.
    rows = [np.ones(len(at)), -right, forward]
    if np.linalg.matrix_rank(np.array(rows)) < len(rows):
        return None
    spins = [rotor.spin for rotor in aircraft.rotors]
    known = [float(yaw_reaction_sign(spin.value)) for spin in spins if isinstance(spin, Known)]
    if len(known) == len(at) and np.linalg.matrix_rank(np.array([*rows, known])) == 4:
        rows.append(np.array(known))
    effect = np.array([row / np.linalg.norm(row) for row in rows])
    shares = np.linalg.pinv(effect)
    reached = np.zeros((len(at), len(at)))
    for output, each in enumerate(at):
        reached[at.index(drives.get(each, each)), output] = 1.0
    given = effect @ reached @ shares
    return Response(AXES[: len(rows) - 1], given[1:, 1:])


def consequence(aircraft: Aircraft, drives: Mapping[str, str]) -> tuple[str, str]:
    """What would happen, in words, and the numbers that it is told by ("" where none could be worked out).

    ``drives`` gives each of some outputs another rotor of the same: two outputs exchanged, or several in a ring.
    """
    answer = response(aircraft, drives)
    if answer is None:
        return "corrections would reach the wrong rotors", ""
    if answer.flips:
        return _FLIPS, str(answer)
    if not all(isinstance(rotor.spin, Known) for rotor in aircraft.rotors):
        wrong = "yaw would go wrong" if not answer.touched else "corrections would go wrong"
        return f"{wrong}, how badly hangs on spins that are not recorded", str(answer)
    unlike = "; their props are unlike, so the shares of thrust go wrong too" if _unlike(aircraft, drives) else ""
    return _still_flying(answer) + unlike, str(answer)


def _still_flying(answer: Response) -> str:
    """What is wrong where the aircraft would not turn over."""
    touched = answer.touched
    if not touched:
        return "no correction goes wrong, as they sit in one place and turn alike"
    weakest = min(touched, key=answer.of)
    part = answer.of(weakest)
    untouched = [axis for axis in answer.axes if axis not in touched]
    stay = f"; {' and '.join(untouched)} stay{'' if len(untouched) > 1 else 's'} right" if untouched else ""
    if weakest == "yaw" and part < -_NOTHING:
        return f"yaw would answer the wrong way round, and the nose turn ever faster{stay}"
    if weakest == "yaw" and part <= _NOTHING:
        return f"yaw would not answer at all{stay}"
    if len(touched) > 1:
        listed = f"{', '.join(touched[:-1])} and {touched[-1]}"
        return f"{listed} would answer weakly and mixed, {weakest} only with {_percent(part)} % of its strength"
    return f"{weakest} would answer only with {_percent(part)} % of its strength{stay}"


def _percent(part: float) -> str:
    return f"{round(100 * part) + 0:d}"  # no minus before a zero


def _unlike(aircraft: Aircraft, drives: Mapping[str, str]) -> bool:
    """Whether the props of these rotors are known to be of more than one size."""
    props = [rotor.prop for rotor in aircraft.rotors if name(rotor) in drives]
    for sizes in ([p.diameter_in for p in props], [p.pitch_in for p in props], [p.blades for p in props]):
        if len({size.value for size in sizes if isinstance(size, Known)}) > 1:
            return True
    return False
