"""What the link has to spare at the planned distance: full texts, both sides of each limit, missing input."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

REACH, MARGIN, RANGE = "failsafe/link-reach", "failsafe/link-margin", "failsafe/range-test"


def planned(farthest=300, test="distance_m: 40, reduced_power: true, reduced_by_db: 30, control_held: true", log=()):
    plan = "" if farthest is None else f"plan: {{farthest_m: {farthest}}}\n"
    return manifest(plan, records={"range_test": f"date: 2026-05-20, {test}"} if test else None, logbook=log)


SHORT = "distance_m: 30, reduced_power: true, reduced_by_db: 20, control_held: true"


def test_planned_farther_than_it_reaches_in_full():
    text = planned(500, SHORT)
    found = expect(Finding, answer(text, REACH))
    assert found.message == "the link is 4 dB short at the planned 500 m"
    assert found.evidence == (
        "control held at 30 m with the power reduced by 20 dB; planned 500 m: -4.4 dB, nothing left at 300 m; ± 2 dB, "
        "at least 0 dB"
    )
    assert found.do == (
        "plan no farther than 75 m, where 10 dB are left; or look how both antennas lie, and test the range again"
    )
    assert marked(text, found.place) == "500"
    assert [(marked(text, r.place), r.message) for r in found.related] == [("20", "the range test")]
    assert answer(text, MARGIN) == NotApplicable(
        "the link does not reach as far as is planned, which is told already"
    )
    assert inspect_text(text).verdict == "no-go"
    assert isinstance(answer(planned(75, SHORT), MARGIN), Clear)


def test_little_to_spare_in_full():
    text = planned(300, SHORT.replace("30,", "50,"))
    found = expect(Finding, answer(text, MARGIN))
    assert found.message == "the link has only 4 dB to spare at the planned 300 m"
    assert found.evidence == (
        "control held at 50 m with the power reduced by 20 dB; planned 300 m: +4.4 dB, nothing left at 500 m; ± 2 dB, "
        "at least 10 dB"
    )
    assert isinstance(answer(text, REACH), Clear)


# 30 dB and 40 m: nothing left at 1265 m. 2 dB are a factor of 1.259, 10 dB one of 3.162, 12 dB one of 3.981.
@pytest.mark.parametrize(("farthest", "reach", "margin"), [
    (300, Clear, Clear), (317, Clear, Clear), (318, Clear, Unproven), (503, Clear, Unproven), (504, Clear, Finding),
    (1004, Clear, Finding), (1005, Unproven, Finding), (1592, Unproven, Finding), (1593, Finding, NotApplicable),
    (20000, Finding, NotApplicable), (0, Clear, Clear),
])
def test_both_sides(farthest, reach, margin):
    text = planned(farthest)
    assert isinstance(answer(text, REACH), reach)
    assert isinstance(answer(text, MARGIN), margin)


# At full power there is nothing in hand but the distance: 3.98 times as far as planned for 12 dB.
@pytest.mark.parametrize(("test", "kind"), [
    ("distance_m: 1200, reduced_power: false, control_held: true", Clear),
    ("distance_m: 1190, reduced_power: false, control_held: true", Unproven),
    ("distance_m: 700, reduced_power: false, control_held: true", Finding),
    ("distance_m: 40, reduced_power: false, reduced_by_db: 30, control_held: true", NotApplicable),  # far too short
])
def test_at_full_power(test, kind):
    assert isinstance(answer(planned(300, test), MARGIN), kind)


@pytest.mark.parametrize(("text", "message"), [
    (planned(test=""), "no range test is recorded"),
    (planned(None), "plan.farthest_m is not recorded"),
    (planned(test="distance_m: 40, reduced_power: true, control_held: true"),
     "reduced_by_db of the range test of 2026-05-20 is not recorded"),
    (planned(test="distance_m: 40, control_held: true"),
     "reduced_by_db of the range test of 2026-05-20 is not recorded"),
    (planned(test="reduced_by_db: 30, control_held: true"),
     "distance_m of the range test of 2026-05-20 is not recorded"),
    (planned(test="distance_m: 40, reduced_by_db: 30"),
     "control_held of the range test of 2026-05-20 is not recorded"),
    (planned(test="distance_m: 40, reduced_by_db: 30, control_held: false"),
     "control did not hold in the range test of 2026-05-20: it shows no margin"),
    (planned(log=["date: 2026-05-21, kind: moved, part: antenna"]),
     "the range test of 2026-05-20 is outdated: antenna moved on 2026-05-21"),
])
@pytest.mark.parametrize("rule", [REACH, MARGIN])
def test_what_is_missing(text, message, rule):
    assert expect(Unproven, answer(text, rule)).message == message


def test_neither_a_plan_nor_a_test():
    assert answer(planned(None, ""), REACH) == NotApplicable("neither a planned distance nor a range test is recorded")


@pytest.mark.parametrize(("metres", "kind"), [("29.9", Unproven), ("30", Clear)])
def test_what_the_maker_asks_for(metres, kind):
    text = planned(None, f"distance_m: {metres}, reduced_power: true, maker_asks_m: 30, control_held: true")
    told = expect(kind, answer(text, RANGE))
    if kind is Unproven:
        assert (told.message, told.do, told.evidence) == (
            "control held at 29.9 m, nearer than the maker of the transmitter asks for",
            "repeat the range test to 30 m or farther",
            "range test of 2026-05-20 at 29.9 m, at reduced power; the maker asks for 30 m",
        )


def test_figures():
    text = planned(test="distance_m: 40, reduced_by_db: 30, frequency_mhz: 2400, control_held: true")
    told = {one.quantity: one for one in inspect_text(text).computed}
    # ITU-R P.525 and P.526 by hand: see tests/outside/test_radio.py.
    assert told["link_margin_db"].value == pytest.approx(12.5, abs=0.005)
    assert told["link_margin_db"].standard_uncertainty == pytest.approx(2 / 3**0.5)
    assert told["link_reach_m"].value == pytest.approx(1265, abs=0.5)
    assert told["free_space_loss_db"].value == pytest.approx(89.6, abs=0.05)
    assert told["fresnel_radius_m"].value == pytest.approx(3.06, abs=0.005)
    assert told["link_break_point_m"].value == pytest.approx(151, abs=0.5)
    without = {one.quantity for one in inspect_text(planned()).computed}
    assert {"link_margin_db", "link_reach_m"} <= without
    assert not {"free_space_loss_db", "fresnel_radius_m", "link_break_point_m"} & without


@pytest.mark.parametrize(("farthest", "quantities"), [
    (300, {"link_break_point_m", "free_space_loss_db", "fresnel_radius_m", "link_margin_db", "link_reach_m"}),
    (0, {"link_break_point_m", "link_margin_db", "link_reach_m"}),  # no distance, no loss over it
])  # fmt: skip
def test_figures_of_a_planned_distance_and_of_none(farthest, quantities):
    test = "distance_m: 40, reduced_power: true, reduced_by_db: 30, control_held: true, frequency_mhz: 2400"
    told = {one.quantity for one in inspect_text(planned(farthest, test)).computed}
    assert {one for one in told if one.startswith(("link", "free", "fresnel"))} == quantities
