"""Speed controllers against full throttle and hover: full texts, both sides, missing input."""

import pytest
from making.manifests import QUAD, answer, answers, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

SECONDS, SHORT, STEADY = "power_train/controller", "power_train/controller-short", "power_train/controller-steady"
HOVER = "date: 2026-05-17, mean_current_a: {}, mean_voltage_v: 15.2, takeoff_mass_g: 2000"


def flown(draw="34", esc="continuous_a: 20", hover="18.4", more=""):
    motor = f"motor: {{full_throttle_draw_a: {draw}}}, " if draw else ""
    records = {"hover": HOVER.format(hover)} if hover else {}
    return manifest(
        f"every_rotor: {{{motor}esc: {{{esc}}}{more}}}\n", QUAD, records=records, more="takeoff_mass_g: 2000"
    )


def test_too_small_in_full():
    text = flown()
    found = expect(Finding, answer(text, SECONDS, "front-left"))
    assert found.message == "the controller carries 20 A; full throttle draws 34 A"
    assert found.evidence == "full throttle 34 A ± 11 %; continuous rating 20 A: 170 %"
    assert found.do == (
        "fit a controller that carries full throttle, or a smaller prop; where its maker gives a short-time rating, "
        "write short_a and short_s"
    )
    assert marked(text, found.place) == "20"
    assert [(marked(text, r.place), r.message) for r in found.related] == [("34", "full throttle draws 34 A")]
    assert inspect_text(text).verdict == "no-go"
    assert len([one for one in answers(text, SECONDS) if isinstance(one, Finding)]) == 4


# U = 1.96 · 10 %/√3 = 11.3 %: of 34 A found below 30.1 A and clear from 37.9 A on.
@pytest.mark.parametrize(("esc", "expected"), [
    ("continuous_a: 30", Finding), ("continuous_a: 30.3", Unproven), ("continuous_a: 37", Unproven),
    ("continuous_a: 38", Clear), ("continuous_a: 25, short_a: 30, short_s: 10", Finding),
    ("continuous_a: 25, short_a: 35, short_s: 10", Unproven), ("continuous_a: 25, short_a: 45, short_s: 10", Clear),
    ("continuous_a: 40, short_a: 4, short_s: 10", Clear),  # a short rating below the other tells nothing
])
def test_both_sides_of_full_throttle(esc, expected):
    assert isinstance(answer(flown(esc=esc), SECONDS, "rear-left"), expected)


def test_a_short_rating_that_is_the_other_one_is_no_other():
    told = expect(Clear, answer(flown(esc="continuous_a: 40, short_a: 40, short_s: 10"), SECONDS, "rear-left"))
    assert told.evidence == "full throttle 34 A ± 11 %; continuous rating 40 A: 85 %"


def test_too_near_to_tell_asks_for_the_data_sheet():
    told = expect(Unproven, answer(flown(esc="continuous_a: 34"), SECONDS, "front-left"))
    assert told.message == "full throttle draws 34 A, too near the 34 A of the controller to tell"
    assert told.do == "read the controller's short-time rating in its data sheet; write short_a and short_s"
    assert told.cause == "uncertain"


def test_the_short_rating_in_full():
    text = flown(esc="continuous_a: 30, short_a: 45, short_s: 8")
    found = expect(Finding, answer(text, SHORT, "front-left"))
    assert found.message == "full throttle for no more than 8 s: it draws more than the controller's rating"
    assert found.evidence == "full throttle 34 A ± 11 %; continuous rating 30 A, 45 A for 8 s"
    assert found.do == "brief the pilot: full throttle for 8 s at most, then let it cool"
    assert marked(text, found.place) == "8"
    assert isinstance(answer(flown(esc="continuous_a: 31, short_a: 45, short_s: 8"), SHORT, "front-left"), Clear)
    assert isinstance(answer(flown(), SHORT, "front-left"), NotApplicable)
    missing = answer(flown(esc="continuous_a: 30, short_a: 45"), SHORT, "front-left")
    assert "short_s" in expect(Unproven, missing).message


# 18.4 A of four are 4.6 A, within 5 % 4.37 to 4.83 A: at 80 % found below 5.46 A, clear from 6.04 A on.
@pytest.mark.parametrize(("amperes", "expected"), [(5.4, Finding), (5.5, Unproven), (6.0, Unproven), (6.1, Clear)])
def test_both_sides_of_the_hover(amperes, expected):
    assert isinstance(answer(flown(esc=f"continuous_a: {amperes}"), STEADY, "front-left"), expected)


def test_hover_in_full():
    found = expect(Finding, answer(flown(esc="continuous_a: 5"), STEADY, "front-left"))
    assert found.message == "hover takes 4.4 A or more of the controller's 5 A"
    assert found.evidence == "hover 18.4 A (hover of 2026-05-17): 4.4 to 4.8 A each; 80 % of 5 A: 4.0 A"
    assert found.do == "fit controllers of which the hover takes 80 % or less, or take mass off"


def test_before_any_hover_physics_bounds_it():
    site = "site: {elevation_m: 150}\npacks: [{label: A1, chemistry: lipo, cells: 4}]\n"
    props = ", prop: {diameter_in: 12}"
    told = [
        answer(flown("", f"continuous_a: {most}", "", props) + site, STEADY, "front-left") for most in (0.5, 4, 60)
    ]
    assert [type(one) for one in told] == [Finding, Unproven, Clear]
    assert "log a steady hover, or measure thrust and current" in expect(Unproven, told[1]).do


@pytest.mark.parametrize("rule", [SECONDS, STEADY])
def test_what_is_missing(rule):
    assert "continuous_a" in expect(Unproven, answer(flown(esc="max_cells: 4"), rule, "front-left")).message
    without = flown(draw="", hover="")
    assert isinstance(answer(without, rule, "front-left"), Unproven)
    assert isinstance(answer(flown(draw="12", esc="continuous_a: 20"), rule, "front-left"), Clear)
