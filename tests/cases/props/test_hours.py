"""Hours of props and motors against their makers' life: full texts, both sides, what the logbook leaves open."""

import pytest
from making.manifests import PROPPED, answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

AT = "front-left"
RULES = {"prop": "props/hours", "motor": "props/motor-hours"}


def flown(*minutes, part="prop", life=10, fitted=f"kind: fitted, part: PART, at: {AT}", log=()):
    """Flights on days from 1 May on, of a part fitted in April."""
    flights = [
        f"date: 2026-05-{day:02}, kind: flown{'' if one is None else f', minutes: {one}'}"
        for day, one in enumerate(minutes, start=1)
    ]
    new = [f"date: 2026-04-01, {fitted.replace('PART', part)}"] if fitted else []
    lives = f"every_rotor: {{{part}: {{life_h: {life}}}}}\n" if life else ""
    return manifest(lives, PROPPED, logbook=[*new, *flights, *log])


@pytest.mark.parametrize("part", RULES)
def test_flown_too_long_in_full(part):
    text = flown(400, 260, part=part)
    found = expect(Finding, answer(text, RULES[part], AT))
    assert found.message == f"the {part} has flown 11.0 h, its maker gives it 10 h"
    assert found.evidence == f"the {part} has flown 11.0 h since it was fitted on 2026-04-01; its maker's life is 10 h"
    assert found.do == f"replace the {part}, write it in the logbook, and do what the new one asks for"
    assert marked(text, found.related[0].place) == "10"
    assert "caution" in inspect_text(text).verdict or inspect_text(text).verdict == "unproven"


def test_a_motor_within_its_life_and_one_whose_flights_nobody_timed():
    assert isinstance(answer(flown(600, part="motor"), "props/motor-hours", AT), Clear)
    assert isinstance(answer(flown(400, None, part="motor"), "props/motor-hours", AT), Unproven)


@pytest.mark.parametrize(("minutes", "expected"), [
    ((600,), Clear), ((600, 0.1), Finding), ((599,), Clear), ((), Clear),
])
def test_both_sides_of_the_life(minutes, expected):
    assert isinstance(answer(flown(*minutes), RULES["prop"], AT), expected)


@pytest.mark.parametrize(("text", "message"), [
    (flown(100, None, 200),
     "the prop has flown at least 5.0 h since it was fitted on 2026-04-01: not every flight tells its minutes"),
    (flown(100, fitted=""), "since when the prop is fitted is not in the logbook"),
    (flown(100, fitted="kind: fitted, part: motor, at: front-left"),
     "since when the prop is fitted is not in the logbook"),
    (flown(100, fitted="kind: fitted, part: prop, at: rear-left"),
     "since when the prop is fitted is not in the logbook"),
])
def test_what_the_logbook_leaves_open(text, message):
    left = expect(Unproven, answer(text, RULES["prop"], AT))
    assert left.message == message
    assert left.on_paper


def test_at_least_is_enough_where_that_is_too_much():
    assert isinstance(answer(flown(700, None), RULES["prop"], AT), Finding)
    found = expect(Finding, answer(flown(700, fitted=""), RULES["prop"], AT))
    assert found.evidence.startswith("the prop has flown at least 11.7 h in the logbook")


def test_a_new_prop_begins_anew_where_it_is_fitted():
    new = [f"date: 2026-05-10, kind: replaced, part: prop, at: {AT}"]
    assert isinstance(answer(flown(700, log=new), RULES["prop"], AT), Clear)
    elsewhere = [new[0].replace(AT, "rear-left")]
    assert isinstance(answer(flown(700, log=elsewhere), RULES["prop"], AT), Finding)
    moved = [new[0].replace("replaced", "moved")]
    assert isinstance(answer(flown(700, log=moved), RULES["prop"], AT), Finding)


def test_on_the_day_of_the_fitting_the_order_is_open():
    same = flown(fitted="", log=[f"date: 2026-05-10, kind: fitted, part: prop, at: {AT}",
                                 "date: 2026-05-10, kind: flown, minutes: 700"])
    left = expect(Unproven, answer(same, RULES["prop"], AT))
    assert left.do.endswith("and the time of day where one is of the day of the fitting")


def test_flights_after_the_day_judged_at_do_not_count():
    assert isinstance(answer(flown(log=["date: 2026-05-22, kind: flown, minutes: 700"]), RULES["prop"], AT), Clear)


def test_without_a_life_there_is_none():
    assert isinstance(answer(flown(900, 900, life=None), RULES["prop"], AT), NotApplicable)


def test_minutes_are_figures():
    figures = {
        (one.case, one.at): (one.value, one.standard_uncertainty)
        for one in inspect_text(flown(100, 50, life=None)).computed
        if one.quantity == "minutes_since_fitted"
    }
    assert figures == {("prop", AT): (150.0, 0.0)}
