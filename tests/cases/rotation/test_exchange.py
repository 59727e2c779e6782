"""rotation/output-order says what would happen: full texts for each kind of exchange."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import ANGLES, Finding, positions

RULE = "rotation/output-order"
FROM = "answers to a command, worked out from places and spins:"
FLIP = "the aircraft would flip at its first lift-off"


def spins_round(layout):
    """Neighbouring arms take turns; of a coaxial pair the two differ (on a y6 all upper rotors turn alike)."""
    angles = ANGLES[layout]
    arms = sorted(set(angles.values()))
    turns = {}
    for at in positions(layout):
        cw = arms.index(angles[at]) % 2 == 0 or layout == "y6"
        turns[at] = "cw" if cw != at.endswith("-lower") else "ccw"
    return turns


def commanded(layout, exchanged, spins=None, prop=lambda at: "", complete=True):
    spins = spins_round(layout) if spins is None else spins
    rotors = {at: (f"spin: {spins[at]}" if at in spins else "") + prop(at) for at in positions(layout)}
    turned = {at: at for at in positions(layout)} if complete else {}
    pairs = ", ".join(f"{at}: {drives}" for at, drives in (turned | exchanged).items())
    test = f"date: 2026-04-18\nprops: removed\nturned: {{{pairs}}}\n"
    return manifest(rotors=rotors, records={"output_test": test}, layout=layout)


def placed(rotors, turned):
    written = {at: f"spin: {spin}, place_mm: [{x}, {y}, 0]" for at, (spin, x, y) in rotors.items()}
    test = f"date: 2026-04-18, props: removed, turned: {{{turned}}}"
    return manifest(rotors=written, records={"output_test": test}, layout="custom")


def both(one, other):
    return {one: other, other: one}


def found(text, at):
    told = expect(Finding, answer(text, RULE, at))
    message = told.message.partition(": ")[2]
    # What was commanded and what turned is said before the numbers.
    return message, "; ".join(told.evidence.split("; ")[1:]).partition("turned; ")[2] or told.evidence


@pytest.mark.parametrize(("layout", "one", "other", "happens", "numbers"), [
    ("quad-x", "front-left", "front-right", FLIP, f"{FROM} roll 0 %, pitch 100 %, yaw 0 %; roll and yaw mix"),
    ("quad-x", "front-left", "rear-left", FLIP, f"{FROM} roll 100 %, pitch 0 %, yaw 0 %; pitch and yaw mix"),
    ("quad-x", "front-left", "rear-right", FLIP, f"{FROM} roll 0 %, pitch 0 %, yaw 100 %; roll and pitch mix"),
    ("quad-plus", "front", "rear", FLIP, f"{FROM} roll 100 %, pitch -100 %, yaw 100 %"),
    ("quad-plus", "front", "left", FLIP, f"{FROM} roll 50 %, pitch 50 %, yaw 0 %; roll, pitch and yaw mix"),
    ("x8", "front-left-upper", "front-left-lower",
     "yaw would answer only with 50 % of its strength; roll and pitch stay right",
     f"{FROM} roll 100 %, pitch 100 %, yaw 50 %"),
    ("y6", "rear-upper", "rear-lower", "yaw would answer only with 33 % of its strength; roll and pitch stay right",
     f"{FROM} roll 100 %, pitch 100 %, yaw 33 %"),
    ("y6", "front-left-upper", "front-right-upper", FLIP, f"{FROM} roll 0 %, pitch 100 %, yaw 100 %"),
    ("x8", "front-left-upper", "front-right-lower",
     "roll would answer only with 50 % of its strength; pitch and yaw stay right",
     f"{FROM} roll 50 %, pitch 100 %, yaw 100 %"),
    ("octo-x", "front-right", "front-left",
     "roll and yaw would answer weakly and mixed, yaw only with 50 % of its strength",
     f"{FROM} roll 85 %, pitch 100 %, yaw 50 %; roll and yaw mix"),
])
def test_two_exchanged(layout, one, other, happens, numbers):
    assert found(commanded(layout, both(one, other)), one) == (happens, numbers)


ARMS = ("front-left", "front-right", "rear-left", "rear-right")


@pytest.mark.parametrize(("arms", "yaw"), [(2, "0"), (3, "-50"), (4, "-100")])
def test_several_arms_of_an_x8(arms, yaw):
    exchanged = {}
    for arm in ARMS[:arms]:
        exchanged |= both(f"{arm}-upper", f"{arm}-lower")
    message, numbers = found(commanded("x8", exchanged), "front-left-upper")
    assert message == "yaw would answer only with 50 % of its strength; roll and pitch stay right"
    assert numbers == (
        f"{FROM} roll 100 %, pitch 100 %, yaw 50 %; with all {2 * arms} outputs that are wrong: "
        f"{FROM} roll 100 %, pitch 100 %, yaw {yaw} %"
    )


def test_a_ring_of_upper_and_lower():
    """Three of a y6, one after the other: no exchange of two, and still worked out."""
    ring = {"front-left-upper": "front-left-lower", "front-left-lower": "rear-upper", "rear-upper": "front-left-upper"}
    message, numbers = found(commanded("y6", ring), "front-left-upper")
    assert message == FLIP
    assert numbers.endswith(f"{FROM} roll 75 %, pitch 25 %, yaw 33 %; roll, pitch and yaw mix")


def test_one_place_and_one_turning():
    spins = spins_round("x8") | {"front-left-lower": "cw", "front-left-upper": "cw"}
    message, _ = found(commanded("x8", both("front-left-upper", "front-left-lower"), spins), "front-left-upper")
    assert message == "no correction goes wrong, as they sit in one place and turn alike"


def test_without_spins():
    alone = "answers to a command, worked out from the places alone:"
    assert found(commanded("quad-x", both("front-left", "front-right"), {}), "front-left") == (
        FLIP, f"{alone} roll 0 %, pitch 100 %",
    )
    assert found(commanded("hexa-x", both("front-left", "front-right"), {}), "front-left") == (
        "corrections would go wrong, how badly hangs on spins that are not recorded", f"{alone} roll 67 %, pitch 100 %",
    )
    coaxial = commanded("x8", both("front-left-upper", "front-left-lower"), {"rear-left-upper": "cw"})
    assert found(coaxial, "front-left-upper") == (
        "yaw would go wrong, how badly hangs on spins that are not recorded", f"{alone} roll 100 %, pitch 100 %",
    )


def test_unlike_props_of_one_arm():
    def prop(at):
        return f", prop: {{diameter_in: {15 if at.endswith('-upper') else 14}}}"

    message, _ = found(commanded("x8", both("front-left-upper", "front-left-lower"), prop=prop), "front-left-upper")
    assert message == (
        "yaw would answer only with 50 % of its strength; roll and pitch stay right; "
        "their props are unlike, so the shares of thrust go wrong too"
    )


def test_not_every_output_was_commanded():
    text = commanded("quad-x", {"front-left": "front-right"}, complete=False)
    told = answer(text, RULE, "front-left")
    assert told.message == (
        "the output for front-left drives front-right: a correction meant for front-left would reach front-right"
    )
    assert told.evidence == "output test of 2026-04-18: commanded front-left, front-right turned"
    # Two outputs that drive one rotor do not close either.
    twice = commanded("quad-x", {"front-left": "front-right"})
    assert answer(twice, RULE, "front-left").message == told.message


def square(front, rear):
    rotors = {"a": ("cw", front, -200), "b": ("ccw", front, 200), "c": ("ccw", rear, -200), "d": ("cw", rear, 200)}
    return placed(rotors, "a: b, b: a, c: c, d: d")


@pytest.mark.parametrize(("front", "rear"), [(200, -200), (5000, -5000), (0, -400)])
def test_places_in_mm_from_any_point(front, rear):
    assert found(square(front, rear), "a") == (FLIP, f"{FROM} roll 0 %, pitch 100 %, yaw 0 %; roll and yaw mix")


def test_places_that_tell_nothing():
    told = answer(square(0, 0), RULE, "a")
    assert told.message == "the outputs for a and b are exchanged: corrections would reach the wrong rotors"
    some = commanded("quad-x", both("front-left", "front-right"), prop=lambda at: "").replace(
        "at: front-left, spin", "at: front-left, place_mm: [220, -220, 0], spin", 1
    )
    told = answer(some, RULE, "front-left")
    assert told.message.endswith("are exchanged: corrections would reach the wrong rotors")


@pytest.mark.parametrize(("rear", "flips"), [(90, True), (94, False)])
def test_both_sides_of_flipping(rear, flips):
    """Coaxial, 400 mm wide in front: b^2 / (a^2 + b^2) of roll is left, 0.048 and 0.052 of it; the limit is 0.05."""
    arms = {"fl": (300, -400), "fr": (300, 400), "rl": (-300, -rear), "rr": (-300, rear)}
    rotors = {
        f"{arm}-{level}": (spin, *place)
        for arm, place in arms.items()
        for level, spin in (("upper", "cw"), ("lower", "ccw"))
    }
    text = placed(rotors, "fl-upper: fr-upper, fr-upper: fl-upper")
    message, numbers = found(text, "fl-upper")
    assert (message == FLIP) == flips
    assert numbers == f"{FROM} roll 5 %, pitch 100 %, yaw 100 %"
    if not flips:
        assert message == "roll would answer only with 5 % of its strength; pitch and yaw stay right"


def test_two_rotors_that_hold_all_of_yaw():
    """Two rotors in front, two on one arm behind: with these two exchanged yaw is reversed, roll and pitch are not."""
    rotors = {
        "left": ("cw", 150, -260), "right": ("ccw", 150, 260),
        "tail-upper": ("cw", -300, 0), "tail-lower": ("ccw", -300, 0),
    }
    text = placed(rotors, "tail-upper: tail-lower, tail-lower: tail-upper")
    message, numbers = found(text, "tail-upper")
    assert message == "yaw would answer the wrong way round, and the nose turn ever faster; pitch stays right"
    assert numbers == f"{FROM} roll 100 %, pitch 100 %, yaw -100 %; roll and yaw mix"
