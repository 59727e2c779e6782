"""The field of an interference run with the motors still, against that of the Earth."""

import math

import numpy as np
import pytest
from making.manifests import SITE, answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

RULE = "interference/run-field"
HARD = (4.0, -12.0, 8.0)
EARTH = np.array([13.0, 12.0, 46.5])  # 49.8 µT, as the model has it there
FORCE = "interference_offset_ut_per_a: [-0.11, 0.23, -0.05]"


def logged(strength=1.0, kind="raw", then="", compass="hard_iron_ut: [4, -12, 8]", held=(0, 0, 0), least=0.0):
    """A run with the motors still at ``least`` amperes; ``held``: what a compensated log holds already."""
    still = EARTH * strength - np.array(HARD) + held
    rows = [
        [a, *(round(float(c + b * a), 2) for c, b in zip(still, (0.11, -0.23, 0.05), strict=True))]
        for a in (least, 8.1, 16.2, 24.1, least + 0.1)
    ]
    settings = f"interference_offset_ut_per_a: [-0.11, 0.23, -0.05]{', ' if compass else ''}{compass}"
    entry = (
        f"date: 2026-05-16\nroute: restrained\nfield_is: {kind}\nin_force: {{sensor_mv_per_a: 26.4{then}}}\n"
        f"columns: [current_a, field_x_ut, field_y_ut, field_z_ut]\nrows: {rows}\n"
    )
    fitted = f"power_sensing: {{sensor_mv_per_a: 26.4}}\ncompass: {{{settings}}}\n"
    return manifest(SITE, fitted, records={"interference_run": entry})


def test_in_the_field_of_the_earth_in_full():
    assert answer(logged(), RULE) == Clear(
        "with hard iron 49.8 µT, dipping by 69°; the model has 49.8 µT, dipping by 69°, at the site; within ± 0.3 "
        "µT and ± 0.4° (95 %); at most 15 % and 15° apart; raw run of 2026-05-16: [9.0, 24.0, 38.5] µT forward, "
        "right, down at no current"
    )


def test_beside_steel_in_full():
    text = logged(0.7)
    found = expect(Finding, answer(text, RULE))
    assert found.message == (
        "motors still, the run shows 34.8 µT, weaker than the Earth's 49.8 µT"
    )
    assert found.evidence == (
        "taken near steel, or hard iron is not as set; with hard iron 34.8 µT, dipping by 69°; the model has 49.8 "
        "µT, dipping by 69°, at the site; within ± 0.3 µT and ± 0.4° (95 %); at most 15 % and 15° apart; raw run of "
        "2026-05-16: [5.1, 20.4, 24.6] µT forward, right, down at no current"
    )
    assert found.do == (
        "compare hard_iron_ut with the flight controller; if it is right, repeat the run outdoors, level, away from "
        "steel, vehicles and reinforced concrete"
    )
    assert marked(text, found.place) == "date: 2026-05-16"
    assert [marked(text, at.place) for at in found.related] == ["[4, -12, 8]"]
    assert "stronger than the Earth's" in answer(logged(1.3), RULE).message


@pytest.mark.parametrize(
    ("strength", "expected"),
    [(0.84, Finding), (0.85, Unproven), (0.86, Clear), (1.14, Clear), (1.15, Unproven), (1.16, Finding)],
)
def test_both_sides_of_the_limit(strength, expected):
    assert isinstance(answer(logged(strength), RULE), expected)


def test_hard_iron_of_the_wrong_sign_shows():
    found = expect(Finding, answer(logged(compass="hard_iron_ut: [-4, 12, -8]"), RULE))
    assert found.message == (
        "motors still, the field of the run dips by 40°, less steeply than the Earth's 69°"
    )


@pytest.mark.parametrize(("lean", "expected"), [(0, Clear), (14, Clear), (15, Unproven), (16, Finding)])
@pytest.mark.parametrize("sign", [1, -1])
def test_both_sides_of_the_dip(lean, sign, expected):
    dip = math.radians(69.05 + sign * lean)
    leaning = 49.8 * np.array([math.cos(dip), 0, math.sin(dip)])
    assert isinstance(answer(logged(held=leaning - EARTH), RULE), expected)


def test_what_flows_at_the_least_step_is_taken_off():
    """5 A make 0.25 µT downward: near the limit it would tell."""
    assert "[9.0, 24.0, 38.5] µT" in answer(logged(least=5.0), RULE).evidence


def test_a_compensated_log_may_hold_the_hard_iron_already():
    then = f", {FORCE}, hard_iron_ut: [4, -12, 8]"
    assert isinstance(answer(logged(kind="compensated", then=then, held=HARD), RULE), Clear)
    assert isinstance(answer(logged(0.7, "compensated", then, held=HARD), RULE), Finding)
    # Another was in force: what is installed now counts.
    other = f", {FORCE}, hard_iron_ut: [1, 2, 3]"
    assert isinstance(answer(logged(kind="compensated", then=other, held=(1, 2, 3)), RULE), Clear)
    assert answer(logged(kind="compensated", then=f", {FORCE}"), RULE) == NotApplicable(
        "whether the compensated log holds a hard-iron correction is not recorded"
    )


def test_a_matrix_that_scales_is_counted():
    halved = "hard_iron_ut: [4, -12, 8], soft_iron: [[0.8, 0, 0], [0, 0.8, 0], [0, 0, 0.8]]"
    assert isinstance(answer(logged(compass=halved), RULE), Finding)
    assert isinstance(answer(logged(1.25, compass=halved), RULE), Clear)


def test_what_is_missing():
    assert answer(logged(compass=""), RULE) == NotApplicable(
        "no hard-iron correction is recorded to add to the field of the run"
    )
    told = answer(logged().replace(SITE, ""), RULE)
    assert (told.cause, told.message) == ("absent", "site.latitude_deg is not recorded")
    head = manifest()
    assert answer(head, RULE) == NotApplicable("no interference run is recorded, which heading-error asks for")
    text = logged()
    taken_off = head + "compass: none\n" + text[text.index("records:") :]
    assert inspect_text(taken_off).broken == ()
    assert answer(taken_off, RULE) == NotApplicable("no compass is fitted")


def test_moved_since():
    told = answer(logged() + "logbook:\n  - {date: 2026-05-18, kind: moved, part: battery-tray}\n", RULE)
    assert told.cause == "stale"
