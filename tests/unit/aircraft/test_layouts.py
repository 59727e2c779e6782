"""What a position's name says of its arm, in every layout and in names of one's own."""

import pytest

from preflint.api import ANGLES, arm_of, level_of, positions


@pytest.mark.parametrize("layout", ["x8", "y6"])
def test_a_coaxial_layout_has_two_rotors_on_each_arm(layout):
    pairs = {}
    for at in positions(layout):
        pairs.setdefault(arm_of(at), []).append(level_of(at))
    assert list(pairs.values()) == [["upper", "lower"]] * len(pairs)
    assert all(ANGLES[layout][f"{arm}-upper"] == ANGLES[layout][f"{arm}-lower"] for arm in pairs)


@pytest.mark.parametrize("layout", sorted(ANGLES.keys() - {"x8", "y6"}))
def test_elsewhere_each_rotor_has_its_arm(layout):
    assert [(arm_of(at), level_of(at)) for at in positions(layout)] == [(at, None) for at in positions(layout)]


@pytest.mark.parametrize(("name", "arm", "level"), [
    ("nose-lower", "nose", "lower"),
    ("nose-upper", "nose", "upper"),
    ("upper", "upper", None),
    ("upper-nose", "upper-nose", None),
    ("noselower", "noselower", None),
])
def test_names_of_layout_custom(name, arm, level):
    assert (arm_of(name), level_of(name)) == (arm, level)
