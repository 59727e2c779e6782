"""What it does in the air when the link is lost, and whether flight relies on what that takes."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

ASKS, NEEDS = "return/on-link-loss", "return/needs-position"
RECEIVER = "satellite_receiver: {accuracy_m: 3}\n"
DOES = ("comes-home", "lands", "holds", "stops")


def home(does=None, relies="relies_on: [compass, barometer, satellite]", more=""):
    group = f"return: {{on_link_loss: {does}}}\n" if does else ""
    return manifest(group, more, more=relies)


@pytest.mark.parametrize("does", DOES)
def test_what_is_recorded_is_told(does):
    told = expect(Clear, answer(home(does), ASKS))
    assert told.evidence.startswith("when the link is lost in the air ")


def test_not_recorded_in_full():
    told = expect(Unproven, answer(home(), ASKS))
    assert (told.message, told.do) == (
        "return.on_link_loss is not recorded",
        "look in the flight controller's settings what it does in the air when the link is lost",
    )
    assert inspect_text(home()).verdict == "unproven"


@pytest.mark.parametrize(("text", "kind"), [
    (home(relies="relies_on: [compass]"), NotApplicable),
    (home(relies=""), Unproven),
    (home("lands", relies=""), Unproven),
    (home(relies="", more=RECEIVER), Unproven),
    (home(relies="", more="satellite_receiver: none\n"), NotApplicable),
    (home("lands", relies="", more=RECEIVER), Clear),
])
def test_it_is_asked_where_flight_relies_on_satellite(text, kind):
    assert isinstance(answer(text, ASKS), kind)


def test_comes_home_without_a_position_in_full():
    text = home("comes-home", "relies_on: [barometer]")
    found = expect(Finding, answer(text, NEEDS))
    assert found.message == "it comes home when the link is lost, and flight does not rely on satellite and compass"
    assert found.evidence == (
        "on_link_loss is comes-home, which takes a position and a heading; satellite and compass: not relied on"
    )
    assert found.do == (
        "fit what is missing, write satellite and compass in relies_on and check it; or let the aircraft land when "
        "the link is lost"
    )
    assert marked(text, found.place) == "comes-home"
    assert [r.message for r in found.related] == ["what flight relies on"]
    assert inspect_text(text).verdict == "no-go"


@pytest.mark.parametrize(("does", "relies", "kind"), [
    ("comes-home", "[compass, barometer, satellite]", Clear),
    ("holds", "[compass, satellite]", Clear),
    ("comes-home", "[compass, barometer]", Finding),
    ("comes-home", "[satellite, barometer]", Finding),
    ("holds", "[compass]", Finding),
    ("holds", "[]", Finding),
    ("lands", "[]", Clear),
    ("stops", "[]", Clear),
])
def test_what_holding_a_place_takes(does, relies, kind):
    assert isinstance(answer(home(does, f"relies_on: {relies}"), NEEDS), kind)


@pytest.mark.parametrize(("fitted", "kind"), [
    ("compass: {}\nsatellite_receiver: {}\n", Clear),
    ("compass: none\nsatellite_receiver: {}\n", Finding),
    ("compass: {}\nsatellite_receiver: none\n", Finding),
    ("compass: {}\n", Unproven),
    ("satellite_receiver: {}\n", Unproven),
])
def test_what_is_fitted_counts_where_nobody_says_what_is_relied_on(fitted, kind):
    assert isinstance(answer(home("comes-home", "", fitted), NEEDS), kind)


def test_needs_position_without_a_word_of_it():
    assert expect(Unproven, answer(home(), NEEDS)).message == "return.on_link_loss is not recorded"
    assert inspect_text(home(relies="relies_on: []")).verdict == "unproven"
