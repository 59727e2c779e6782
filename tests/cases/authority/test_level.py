"""Whether the rotors can hold it level, and what is left when one of them stops.

The same rule's sides and full texts stand beside the share of the hardest worked rotor, in tests/cases/mass.
"""

import math

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, Unproven
from preflint.testing import inspect_text

RULE = "authority/level"
SEA = (
    "site: {elevation_m: 0, temperature_c: 15, station_pressure_hpa: 1013.25, relative_humidity_percent: 0}\n"
    "packs: [{label: A1, chemistry: lipo, cells: 6}]\n"
)
# Spins in walk-round order of each layout; PPNNPN is that of the hexa whose yaw is held by others when one stops.
SPINS = {
    "quad-x": ["cw", "ccw", "ccw", "cw"],
    "hexa-x": ["cw", "ccw", "ccw", "cw", "cw", "ccw"],
    "octo-x": ["cw", "ccw"] * 4,
    "x8": ["cw", "ccw", "ccw", "cw", "ccw", "cw", "cw", "ccw"],
    "y6": ["cw", "ccw"] * 3,
}
NAMES = {
    "quad-x": ["front-left", "front-right", "rear-left", "rear-right"],
    "hexa-x": ["front-left", "front-right", "left", "right", "rear-left", "rear-right"],
    "octo-x": ["front-right", "right-front", "right-rear", "rear-right", "rear-left", "left-rear", "left-front",
               "front-left"],
    "x8": [f"{arm}-{level}" for arm in ("front-left", "front-right", "rear-left", "rear-right")
           for level in ("upper", "lower")],
    "y6": [f"{arm}-{level}" for arm in ("front-left", "front-right", "rear") for level in ("upper", "lower")],
}  # fmt: skip


def craft(layout, grams, rows="[[150, 0, 500], [-150, 0, 500]]", spins=True, more=""):
    turning = {
        at: f"spin: {spin}" if spins else "" for at, spin in zip(NAMES[layout], SPINS[layout], strict=True)
    }
    return manifest(
        "every_rotor: {motor: {max_thrust_g: 1300}, prop: {diameter_in: 10}}\n", SEA, rotors=turning, layout=layout,
        more=f"arm_mm: 400, takeoff_mass_g: {grams}{more}",
        records={"balance_point": f"date: 2026-05-16, columns: [forward_mm, right_mm, mass_g], rows: {rows}"},
    )  # fmt: skip


def margins(text, quantity="authority_margin"):
    return {(one.case, one.at): one.value for one in inspect_text(text).computed if one.quantity == quantity}


@pytest.mark.parametrize("layout", SPINS)
def test_every_layout_with_its_weight_in_the_centre_and_far_out(layout):
    grams = 500 * len(NAMES[layout])
    expect(Clear, answer(craft(layout, grams), RULE))
    told = expect(Finding, answer(craft(layout, grams, "[[500, 0, 950], [-500, 0, 50]]"), RULE))
    assert told.message == "the weight acts 450 mm forward: the rotors cannot hold it level there"


def test_doubt_of_the_scales_is_no_finding():
    """Arms of 400 mm: 282.8 mm forward. On the line itself nobody can tell."""
    told = expect(Unproven, answer(craft("quad-x", 600, "[[400, 0, 853.5], [-400, 0, 146.5]]"), RULE))
    assert (told.cause, told.message) == ("uncertain", "whether the rotors can hold it level is too uncertain to tell")


# Thrust of all over weight at the lowest voltage 0.6801·1300/500 = 1.768; in a pair × 0.848. Even margin: the half
# range is 1.768/2 of the weight, the centre 1 - 0.884 off it: 1 - 0.116/0.884.
def test_the_margin_of_a_quad_and_none_of_its_rotors_stopped():
    found = margins(craft("quad-x", 2000))
    assert list(found) == [("none-stopped", None)]
    assert found["none-stopped", None] == pytest.approx(1 - abs(1 - 0.884) / 0.884, abs=2e-3)


def test_a_hexa_of_alternate_spins_is_on_the_limit_when_any_stops():
    """Du, Quan, Cai, arXiv:1307.0276: PNPNPN is uncontrollable when one rotor fails."""
    found = margins(craft("hexa-x", 3000))
    assert {value for (case, _), value in found.items() if case == "stopped"} == {0.0}
    assert found["none-stopped", None] > 0.8
    assert set(margins(craft("hexa-x", 3000), "authority_distance").values()) >= {0.0}


@pytest.mark.parametrize("layout", ["octo-x", "x8"])
def test_an_octo_of_little_weight_keeps_something_when_one_stops(layout):
    found = margins(craft(layout, 3200))
    left = [value for (case, _), value in found.items() if case == "stopped"]
    assert len(left) == 8
    assert 0 < min(left) <= max(left) < found["none-stopped", None]


def test_the_distance_to_the_limit_of_a_quad():
    """By statics and plane geometry, worked by hand for 2 kg on four rotors of 1300 g.

    At 3.5 of 4.2 V a rotor gives 0.6802·1.3·9.80665 = 8.6715 N and carries 4.9033 N: 3.7682 N to spare. Four rotors
    of four directions make a box; its side where one rotor gives all stands square on (1, 1/x, 1/y, 1/z), x and y the
    places, 0.2828 m, and z the torque of a prop over its thrust, 0.0646 · 10 · 0.0254 m = 0.016408 m. From the load to
    that side it is 4 · 3.7682 / √(1 + 1/x² + 1/y² + 1/z²).
    """
    found = margins(craft("quad-x", 2000), "authority_distance")
    assert found["none-stopped", None] == pytest.approx(15.073 / math.sqrt(1 + 25 + 1 / 0.016408**2), rel=1e-3)


def test_without_spins_nothing_is_told_of_it():
    assert margins(craft("hexa-x", 3000, spins=False)) == {}
