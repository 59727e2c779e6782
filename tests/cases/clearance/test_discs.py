"""Discs against discs: full texts, both sides of touching, heights, one axis, mirrored and turned, missing input."""

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

RULE = "clearance/discs"


def built(inches, layout="quad-x", arm=250, more=""):
    arms = f"arm_mm: {arm}" if arm else ""
    return manifest(f"every_rotor: {{prop: {{diameter_in: {inches}}}{more}}}\n", layout=layout, more=arms)


def placed(places, inches=16, own=()):
    rotors = {
        at: f"place_mm: {list(place)}{''.join(f', {word}' for name, word in own if name == at)}"
        for at, place in places.items()
    }
    return manifest(f"every_rotor: {{prop: {{diameter_in: {inches}}}}}\n", rotors=rotors, layout="custom")


SQUARE = {"fore-port": (180, -240, 0), "fore-starboard": (180, 240, 0),
          "aft-port": (-180, -240, 0), "aft-starboard": (-180, 240, 0)}  # fmt: skip


def test_sixteen_inches_on_places_360_mm_apart():
    text = placed(SQUARE)
    found = expect(Finding, answer(text, RULE))
    assert found.message == "the blades of fore-port and aft-port can meet: discs overlap by 46 mm"
    # 1.96/√3 · √(3.6² + 4.064²) = 6.1 mm.
    assert found.evidence == (
        "fore-port and aft-port: 360 mm apart, 406 and 406 mm across: gap -46 ± 6 mm (95 %); "
        "fore-starboard and aft-starboard: 360 mm apart, 406 and 406 mm across: gap -46 ± 6 mm (95 %)"
    )
    assert found.do == (
        "fit props that clear each other, or longer arms; look at the blades for marks; measure arms again"
    )
    assert marked(text, found.place) == "[-180, -240, 0]"
    assert inspect_text(text).verdict == "no-go"


# Neighbours of a quad stand √2 arms apart, of a hexa one arm, of an octo 2·sin 22.5° = 0.7654: 2·sin(180°/n).
@pytest.mark.parametrize(("layout", "count"), [
    ("quad-x", 4), ("quad-plus", 4), ("hexa-x", 6), ("hexa-plus", 6), ("octo-x", 8), ("octo-plus", 8),
    ("x8", 4), ("y6", 3),
])
def test_both_sides_on_each_layout(layout, count):
    inches, arm = 12, 1000
    mm = inches * 25.4
    touching = mm / (2 * math.sin(math.pi / count))
    told = [type(answer(built(inches, layout, round(touching * times, 2)), RULE)) for times in (0.97, 1.0, 1.03)]
    assert told == [Finding, Unproven, Clear]
    assert isinstance(answer(built(inches, layout, arm), RULE), Clear)


def test_from_palm_sized_to_large():
    # The gap and all that is uncertain about it grow with the aircraft: the answer does not.
    for times in (0.1, 0.3, 1, 2.5):
        told = [answer(built(10 * times, arm=arm * times), RULE) for arm in (170, 180, 190)]
        assert [type(one) for one in told] == [Finding, Unproven, Clear], times


def test_turned_by_hand_settles_what_is_too_near():
    near = placed(SQUARE, 14.2)  # 360.7 mm across
    told = expect(Unproven, answer(near, RULE))
    assert told.message == "whether the blades of fore-port and aft-port clear each other cannot be told"
    assert told.do == "turn both props by hand, tip to tip; measure the least gap at each rotor and write tip_gap_mm"
    tried = near.replace("every_rotor: {", "every_rotor: {tip_gap_mm: 3, ")
    assert isinstance(answer(tried, RULE), Clear)
    assert isinstance(answer(tried.replace("tip_gap_mm: 3", "tip_gap_mm: 0"), RULE), Unproven)
    # A gap at one of two rotors is none where the other has none.
    ahead = [(at, "tip_gap_mm: 3") for at in ("fore-port", "fore-starboard")]
    assert isinstance(answer(placed(SQUARE, 14.2, ahead), RULE), Unproven)
    # What geometry rules out is no matter of trying.
    over = placed(SQUARE).replace("every_rotor: {", "every_rotor: {tip_gap_mm: 3, ")
    assert isinstance(answer(over, RULE), Finding)


# A tenth of the radius of 16 in is 20.3 mm.
@pytest.mark.parametrize(("height", "expected"), [
    (0, Finding), (3, Finding), (4, Unproven), (20, Unproven), (20.32, Clear), (21, Clear), (60, Clear), (-60, Clear),
])
def test_overlap_at_different_heights(height, expected):
    higher = SQUARE | {"aft-port": (-180, -240, height), "aft-starboard": (-180, 240, height)}
    told = answer(placed(higher), RULE)
    assert isinstance(told, expected)
    if expected is Clear:
        assert told.evidence.endswith("gap -46 ± 6 mm (95 %), at different heights")
    if height == 20:
        assert told.message == "fore-port and aft-port overlap, 20 mm apart in height, less than 20 mm"


def test_the_larger_of_two_discs_tells_how_far_apart_in_height():
    """16 in beside 14 in: a tenth of 203 mm, not of 178; 360 mm apart they overlap by 21 mm."""
    for height, expected in ((19, Unproven), (21, Clear)):
        higher = SQUARE | {"aft-port": (-180, -240, height), "aft-starboard": (-180, 240, height)}
        small = [(at, "prop: {diameter_in: 14}") for at in ("aft-port", "aft-starboard")]
        assert isinstance(answer(placed(higher, own=small), RULE), expected)


def test_above_and_below_the_arms():
    below = [("aft-port", "nut_points: down"), ("aft-starboard", "nut_points: down")]
    assert isinstance(answer(placed(SQUARE, own=below), RULE), Clear)
    # All of them below is one plane again.
    every = [(at, "nut_points: down") for at in SQUARE]
    assert isinstance(answer(placed(SQUARE, own=every), RULE), Finding)


def test_a_duct_keeps_discs_apart():
    ducts = [(at, "ducted: true") for at in SQUARE]
    assert isinstance(answer(placed(SQUARE, own=ducts), RULE), NotApplicable)
    assert isinstance(answer(placed(SQUARE, own=ducts[:1]), RULE), Finding)  # the other side is open


def test_coaxial_pairs_share_an_axis():
    told = expect(Clear, answer(built(12, "x8", 330), RULE))
    assert told.evidence.startswith("nearest: ")
    # The upper disc of one arm and the lower one of the next may overlap; two uppers may not.
    found = expect(Finding, answer(built(12, "x8", 200), RULE))
    assert "upper and front-right-upper" in found.message


def test_placeholders_ground_by_nothing_but_what_asks_for_them():
    told = expect(Unproven, answer(placed(dict.fromkeys(SQUARE, (0, 0, 0))), RULE))
    assert told.message == "fore-port and fore-starboard are in one place"


def test_what_is_missing():
    assert "arm_mm" in expect(Unproven, answer(built(12, arm=None), RULE)).message
    one = manifest(rotors={"front-left": "prop: {diameter_in: 12}"}, more="arm_mm: 250")
    assert "diameter_in" in expect(Unproven, answer(one, RULE)).message
    some = manifest(
        "every_rotor: {prop: {diameter_in: 12}}\n", rotors={"front-left": "place_mm: [180, -180, 0]"}
    )
    assert "place_mm" in expect(Unproven, answer(some, RULE)).message


def worst(text):
    """How the answer stands, and the gap of the nearest pair in words."""
    told = answer(text, RULE)
    evidence = getattr(told, "evidence", "")
    return type(told), evidence.partition(": gap ")[2].partition(" (")[0]


@settings(derandomize=True, deadline=None, max_examples=25)
@given(st.integers(150, 400), st.integers(150, 400), st.integers(-90, 90), st.floats(8, 18))
def test_mirrored_turned_and_moved(forward, right, shift, inches):
    corners = [(forward, -right), (forward, right + shift), (-forward, -right), (-forward, right)]
    seen = []
    for turn in (lambda x, y: (x, y), lambda x, y: (x, -y), lambda x, y: (-y, x), lambda x, y: (x + 35, y - 20)):
        places = {at: (*turn(*corner), 0) for at, corner in zip(SQUARE, corners, strict=True)}
        seen.append(worst(placed(places, round(inches, 2))))
    assert len(set(seen)) == 1
    least = min(math.dist(one, other) for one, other in itertools.combinations(corners, 2))
    gap = least - round(inches, 2) * 25.4
    if abs(gap) > 12:
        assert seen[0][0] is (Clear if gap > 0 else Finding)
