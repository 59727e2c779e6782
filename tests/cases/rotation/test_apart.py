"""rotation/yaw-apart: against exact ranks of the allocation matrix worked out with fractions, nothing of preflint."""

from fractions import Fraction
from functools import partial
from itertools import product

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Outcome, Unproven
from preflint.testing import inspect_text, marked

# Corners of a quad and a hexa (stretched so that its places are whole numbers): forward, right.
QUAD = {"front-left": (1, -1), "front-right": (1, 1), "rear-left": (-1, -1), "rear-right": (-1, 1)}
HEXA = {"a": (2, -1), "b": (2, 1), "c": (0, 2), "d": (-2, 1), "e": (-2, -1), "f": (0, -2)}


def rank(rows: list[list[int]]) -> int:
    """Exact, by elimination."""
    table, found = [[Fraction(cell) for cell in row] for row in rows], 0
    for column in range(len(rows[0])):
        pivot = next((i for i in range(found, len(table)) if table[i][column]), None)
        if pivot is None:
            continue
        table[found], table[pivot] = table[pivot], table[found]
        for i in range(len(table)):
            if i != found:
                share = table[i][column] / table[found][column]
                table[i] = [a - share * b for a, b in zip(table[i], table[found], strict=True)]
        found += 1
    return found


def turning(places: dict[str, tuple[int, int]], spins: tuple[str, ...]) -> str:
    turns = zip(places.items(), spins, strict=True)
    rotors = {at: f"place_mm: [{x * 100}, {y * 100}, 0], spin: {spin}" for (at, (x, y)), spin in turns}
    return manifest(rotors=rotors, layout="custom")


judged = partial(answer, rule="rotation/yaw-apart")


@pytest.mark.parametrize("places", [QUAD, HEXA], ids=["quad", "hexa"])
def test_every_choice_of_spins_agrees_with_the_exact_rank(places: dict[str, tuple[int, int]]) -> None:
    for spins in product(("cw", "ccw"), repeat=len(places)):
        yawing = [1 if spin == "cw" else -1 for spin in spins]
        matrix = [[1] * len(places), [y for _, y in places.values()], [x for x, _ in places.values()], yawing]
        told = judged(turning(places, spins))
        # Every independent choice of these small frames leaves far more than the limit; a dependent one leaves nothing.
        assert isinstance(told, Clear if rank(matrix) == 4 else Finding), spins


def test_fronts_alike_and_rears_alike_are_found() -> None:
    text = turning(QUAD, ("cw", "cw", "ccw", "ccw"))
    found = expect(Finding, judged(text))
    assert found.message == (
        "yaw cannot be steered by itself: a correction of the nose tips the aircraft"
    )
    assert found.evidence == (
        "front-left, front-right turn cw seen from above, the others ccw; "
        "0 % of the yaw torque is left when thrust, roll and pitch are held (limit 10 %)"
    )
    assert (marked(text, found.place), found.place.line) == ("cw", 4)
    assert [(marked(text, one.place), one.place.line, one.message) for one in found.related] == [
        ("cw", 5, "front-right turns cw"), ("ccw", 6, "rear-left turns ccw"), ("ccw", 7, "rear-right turns ccw")
    ]


@pytest.mark.parametrize(("forward", "kind", "share"), [(-64, Finding, "10 %"), (-62, Clear, "10 %")])
def test_both_sides_of_the_limit(forward: int, kind: type, share: str) -> None:
    # The fourth rotor moved forward by e of an arm: what is left is e / (2 sqrt(2 (1 + (1 - e/2)^2))),
    # from the one combination of rotors that makes no thrust, roll or pitch; 9.8 % and 10.4 % here.
    places = {"one": (100, -100), "two": (100, 100), "three": (-100, -100), "four": (forward, 100)}
    told = judged(turning(places, ("cw", "cw", "ccw", "ccw")))
    assert isinstance(told, (Finding, Clear))
    assert isinstance(told, kind)
    assert f"{share} of the yaw torque" in told.evidence


def test_without_a_spin_it_is_unproven() -> None:
    told = expect(Unproven, judged(manifest()))
    assert told.cause == "absent"


def test_three_rotors_are_out_of_the_question() -> None:
    text = turning({"a": (1, -1), "b": (1, 1), "c": (-1, 0)}, ("cw", "ccw", "cw"))
    assert judged(text) == NotApplicable("with fewer than four rotors yaw needs something else than their spins")


def placed(*places: tuple[int, int], names: str = "abcdef") -> Outcome:
    rotors = {at: f"place_mm: [{x}, {y}, 0]" for at, (x, y) in zip(names, places, strict=False)}
    return answer(manifest(rotors=rotors, layout="custom"), "rotation/places")


@pytest.mark.parametrize(("places", "message"), [
    (((0, 0), (0, 0), (0, 0), (0, 0)), "a and b are in one place"),
    (((180, -240), (180, 240), (-180, -240), (-180, -231)), "c and d are in one place"),
    (((300, 0), (100, 0), (-100, 0), (-300, 0)), "all rotors are on one line"),
    (((300, 0),), "all rotors are on one line"),
])  # fmt: skip
def test_places_that_nobody_measured_are_unproven(places: tuple[tuple[int, int], ...], message: str) -> None:
    told = expect(Unproven, placed(*places))
    assert (told.cause, told.message) == ("absent", message)
    assert told.do == (
        "measure each rotor's place, forward, right and down from the centre of the rotors in mm, and write place_mm"
    )


def test_places_of_an_aircraft_are_clear() -> None:
    told = placed((180, -240), (180, 240), (-180, -240), (-180, -230))
    assert told == Clear("4 rotors, apart from each other and not on one line")


@pytest.mark.parametrize(("millimetres", "weaker"), [(20, False), (5, True)])
def test_farther_apart_is_the_stricter_way(millimetres: int, weaker: bool) -> None:
    policy = f"{{preflint: 1, tolerances: {{rotor_places_mm: {millimetres}}}}}\n"
    told = inspect_text(turning(QUAD, ("cw", "ccw", "ccw", "cw")), files={"preflint.yaml": policy}).policy
    assert told is not None
    assert ("rotor_places_mm" in told) is weaker
