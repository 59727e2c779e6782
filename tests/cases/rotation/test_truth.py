"""Spin, hand, face, nut, view of the nut and rig, at every position of every layout, against shapes in space.

The oracle takes cross products of chord, axis and helix and imports nothing of ours. Every manifest goes
through the real stages: file, schema, aircraft, rules.
"""

from collections.abc import Iterator
from itertools import product
from pathlib import Path

import numpy as np
import pytest
from making import vectors
from making.manifests import manifest

from preflint.api import ANGLES, Clear, Finding, NotApplicable, positions
from preflint.testing import inspect_text, marked, outcome

TURNINGS = ("cw", "ccw")
WAYS = ("up", "down")
# (spin, hand, face, nut tightens, nut points); None: nut_points is left out.
CASES = list(product(TURNINGS, TURNINGS, WAYS, TURNINGS, (None, *WAYS)))
LAYOUTS = tuple(ANGLES)


def oracle_state(spin: str, hand: str, face: str) -> tuple[bool, bool]:
    """(pushes up, leading edge first), both read off each blade."""
    seen = {
        (vectors.air_goes(spin, blade) < 0, vectors.edge_first(spin, blade)) for blade in vectors.blades(hand, face)
    }
    assert len(seen) == 1
    return seen.pop()


def oracle_nut_stays(spin: str, tightens: str, points: str) -> bool:
    """Whether the drag of the prop screws on the nut that this person turns ``tightens`` to tighten it."""
    shaft = next(s for s in (vectors.Shaft(t, points) for t in ("left", "right")) if s.tightening_word() == tightens)
    turning = vectors.turning(spin, vectors.ABOVE, vectors.ORIGIN)
    return shaft.tightens(vectors.drag_torque(turning))


def oracle_yaw_share(spins: list[str]) -> float:
    """Torque left over as a share of all, from the drag of equal rotors."""
    torques = [vectors.drag_torque(vectors.turning(spin, vectors.ABOVE, vectors.ORIGIN)) for spin in spins]
    return float(np.linalg.norm(sum(torques)) / sum(np.linalg.norm(torque) for torque in torques))


STATES = {key: oracle_state(*key) for key in product(TURNINGS, TURNINGS, WAYS)}
STAYS = {key: oracle_nut_stays(*key) for key in product(TURNINGS, TURNINGS, WAYS)}
INVERTED, FLIGHT = (False, True), (True, True)


def rigged(layout: str, rotors: dict[str, tuple[str, str, str, str, str | None]]) -> str:
    written = {}
    for at, (spin, hand, face, tightens, points) in rotors.items():
        view = f"nut_points: {points}, " if points else ""
        fixing = f"fixing: {{kind: nut, nut_kind: plain, nut_tightens: {tightens}}}"
        written[at] = f"spin: {spin}, {view}prop: {{hand: {hand}, face: {face}}}, {fixing}"
    return manifest(rotors=written, layout=layout)


def arrangements(layout: str) -> Iterator[dict[str, tuple[str, str, str, str, str | None]]]:
    """Every case at every position, each rotor with another case at a time."""
    for start in range(len(CASES)):
        yield {at: CASES[(start + 7 * i) % len(CASES)] for i, at in enumerate(positions(layout))}


def test_the_oracle_knows_nothing_of_ours():
    assert "preflint" not in Path(vectors.__file__).read_text(encoding="utf-8")
    assert sorted(set(STATES.values())) == [(False, False), (False, True), (True, False), (True, True)]


@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_case_at_every_position(layout):
    for rotors in arrangements(layout):
        text = rigged(layout, rotors)
        inspected = inspect_text(text)
        states = {at: STATES[case[:3]] for at, case in rotors.items()}
        assert set(states.values()) != {INVERTED}
        assert isinstance(outcome(inspected, "rotation/inverted-rig"), Clear)
        for at, (spin, hand, face, tightens, points) in rotors.items():
            told = outcome(inspected, "rotation/prop-state", at)
            if states[at] == FLIGHT:
                assert isinstance(told, Clear), (at, rotors[at])
            else:
                assert isinstance(told, Finding), (at, rotors[at])
                assert f"at: {at}, " in text.split("\n")[told.place.line - 1]
                own_hand = (states[at][0]) == FLIGHT[0]
                assert marked(text, told.place) == (face if own_hand else hand)
                wanted = "turn the prop over" if own_hand else f"fit a {spin} prop, domed side up"
                assert told.do.startswith(wanted)
                assert STATES[spin, hand if own_hand else spin, "up"] == FLIGHT  # the remedy cures
            view = points or ("down" if at.endswith("-lower") else "up")
            nut = outcome(inspected, "retention/nut-hand", at)
            assert isinstance(nut, Clear if STAYS[spin, tightens, view] else Finding), (at, rotors[at])
        share = oracle_yaw_share([case[0] for case in rotors.values()])
        assert isinstance(outcome(inspected, "rotation/yaw-balance"), Finding if share > 0.2 else Clear)


def alternating(layout: str) -> dict[str, str]:
    """A spin for each position: neighbours alternate, and so do upper and lower."""
    angles = sorted(set(ANGLES[layout].values()))
    upper = {angle: TURNINGS[i % 2] for i, angle in enumerate(angles)}
    spins = {}
    for at, angle in ANGLES[layout].items():
        other = TURNINGS[1 - TURNINGS.index(upper[angle])]
        spins[at] = other if at.endswith("-lower") else upper[angle]
    return spins


@pytest.mark.parametrize(("layout", "mirrored", "points"), list(product(LAYOUTS, (False, True), (None, *WAYS))))
def test_a_whole_aircraft_in_either_rig(layout, mirrored, points):
    spins = {at: TURNINGS[(TURNINGS.index(spin) + mirrored) % 2] for at, spin in alternating(layout).items()}
    for rig in (FLIGHT, INVERTED):
        rotors = {}
        for at, spin in spins.items():
            view = points or ("down" if at.endswith("-lower") else "up")
            hand, face = next((h, f) for (s, h, f), seen in STATES.items() if s == spin and seen == rig)
            tightens = next(t for t in TURNINGS if STAYS[spin, t, view])
            rotors[at] = (spin, hand, face, tightens, points)
        inspected = inspect_text(rigged(layout, rotors))
        whole = outcome(inspected, "rotation/inverted-rig")
        assert isinstance(whole, Finding if rig == INVERTED else Clear)
        for at in rotors:
            single = outcome(inspected, "rotation/prop-state", at)
            assert (
                single == NotApplicable("said once by rotation/inverted-rig")
                if rig == INVERTED
                else isinstance(single, Clear)
            )
            assert isinstance(outcome(inspected, "retention/nut-hand", at), Clear)
        assert isinstance(outcome(inspected, "rotation/yaw-balance"), Clear)
        if rig == INVERTED:
            for hand in TURNINGS:  # where the props go, they fly
                targets = [at for at, spin in spins.items() if spin == hand]
                assert STATES[hand, hand, "up"] == FLIGHT
                listed = f"{', '.join(targets[:-1])} and {targets[-1]}"
                assert f"the {hand} props on {listed}" in whole.do


@pytest.mark.parametrize("layout", LAYOUTS)
def test_one_rotor_left_out_of_the_inverted_rig_is_no_longer_said_once(layout):
    spins = alternating(layout)
    for left in spins:
        rotors = {}
        for at, spin in spins.items():
            wanted = FLIGHT if at == left else INVERTED
            hand, face = next((h, f) for (s, h, f), seen in STATES.items() if s == spin and seen == wanted)
            rotors[at] = (spin, hand, face, "cw", None)
        inspected = inspect_text(rigged(layout, rotors))
        assert isinstance(outcome(inspected, "rotation/inverted-rig"), Clear)
        for at in spins:
            assert isinstance(outcome(inspected, "rotation/prop-state", at), Clear if at == left else Finding)
