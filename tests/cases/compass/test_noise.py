"""The scatter of a rotation against the compass's own noise: full texts, both sides, missing input."""

import numpy as np
import pytest
from making.earth import DOWN_UT, NORTH_UT, directions
from making.manifests import answer, expect, opening

from preflint.api import Clear, Finding, NotApplicable, Unproven

RULE = "compass/noise"
SITE = "site: {latitude_deg: 0, longitude_deg: 120, elevation_m: 0}\n"
DAY = "2027-07-02"


def turned(sd, own="0.2", count=120, seed=7, rotation=True):
    noise = f", noise_ut: {own}" if own else ""
    text = f"{opening()}{SITE}compass: {{hard_iron_ut: [0, 0, 0]{noise}}}\n"
    if not rotation:
        return text
    rng = np.random.default_rng(seed)
    readings = np.hypot(NORTH_UT, DOWN_UT) * directions(count) + rng.normal(0, sd, (count, 3))
    return (
        f"{text}records:\n  compass_rotation:\n    - date: 2027-06-18\n      field_is: raw\n"
        f"      columns: [field_x_ut, field_y_ut, field_z_ut]\n      rows: {readings.round(3).tolist()}\n"
    )


def test_a_scatter_of_something_else_in_full():
    found = expect(Finding, answer(turned(2.0), RULE, judged_on=DAY))
    assert found.message.startswith("turned about, the compass scatters by ")
    assert found.message.endswith(" µT, its own noise by 0.2")
    assert "by noise_ut 0.2 and the last digit at most 1.00 µT" in found.evidence
    assert found.do == "log the rotation again outdoors, slowly, motors still, away from steel, cables and tools"


# At most 5 · 0.2 = 1.0 µT; of some 110 degrees of freedom the scatter is known to ± 13 %.
@pytest.mark.parametrize(("sd", "expected"), [
    (0.05, Clear), (0.2, Clear), (0.75, Clear), (1.0, Unproven), (1.4, Finding), (3.0, Finding),
])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_both_sides(sd, expected, seed):
    assert isinstance(answer(turned(sd, seed=seed), RULE, judged_on=DAY), expected)


def test_a_noise_of_nothing_still_has_the_last_digit():
    assert isinstance(answer(turned(0.0002, own="0"), RULE, judged_on=DAY), Clear)


@pytest.mark.parametrize("text", [turned(3.0, own=""), turned(3.0, rotation=False)])
def test_what_is_not_asked(text):
    assert isinstance(answer(text, RULE, judged_on=DAY), NotApplicable)


def test_flight_that_does_not_rely_on_the_compass():
    text = turned(3.0).replace(opening(), opening(more="relies_on: [barometer]"))
    assert answer(text, RULE, judged_on=DAY) == NotApplicable("flight does not rely on the compass")
