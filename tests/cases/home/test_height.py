"""The height at which it comes home, above the highest obstacle: both sides, thin air, missing input."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

RULE = "return/height"
RELIES = "relies_on: [compass, barometer, satellite]"


def coming(height=45.0, obstacle=28.0, does="comes-home", site="", relies=RELIES):
    heights = "" if height is None else f", height_m: {height}"
    highest = "" if obstacle is None else f"highest_obstacle_m: {obstacle}"
    where = ", ".join(filter(None, (highest, site)))
    of_site = f"site: {{{where}}}\n" if where else ""
    return manifest(of_site, f"return: {{on_link_loss: {does}{heights}}}\n", more=relies)


def test_below_the_trees_in_full():
    text = coming(25)
    found = expect(Finding, answer(text, RULE))
    assert found.message == "it comes home 3 m below the top of the highest obstacle"
    assert found.evidence == (
        "25 m less 28 m leaves -3 m ± 4.2 m (0.5 hPa of drift at 8.32 m/hPa); 10 m at least"
    )
    assert found.do == (
        "set the return height to 43 m or more, or fly where nothing stands so high; write it under return"
    )
    assert marked(text, found.place) == "25"
    assert [(marked(text, r.place), r.message) for r in found.related] == [("28.0", "the highest obstacle")]
    assert inspect_text(text).verdict == "no-go"
    assert isinstance(answer(coming(43), RULE), Clear)


# 100/(1.225·9.80665) = 8.324 m/hPa, times 0.5 hPa: 4.16 m. Found below 10 - 4.16 m, clear from 10 + 4.16 m on.
@pytest.mark.parametrize(("above", "kind"), [
    (-10, Finding), (0, Finding), (5.8, Finding), (5.9, Unproven), (14.1, Unproven), (14.2, Clear), (100, Clear),
])
def test_both_sides(above, kind):
    told = expect(kind, answer(coming(30 + above, 30), RULE))
    if above == 0:
        assert told.message == "it comes home only 0 m above the highest obstacle"
    if above == 5.9:
        assert (told.cause, told.message) == (
            "uncertain", "whether it comes home 10 m above the highest obstacle is too uncertain to tell",
        )
        assert told.do.startswith("set the return height to 45 m or more")


# 845.56 hPa and 35 °C: 0.9559 kg/m³ dry (gas law), 10.67 m/hPa; half of it is 5.3 m, and moist air is a little more.
@pytest.mark.parametrize(("above", "kind"), [(15.2, Unproven), (15.6, Clear)])
def test_thin_air_takes_more(above, kind):
    site = "station_pressure_hpa: 845.56, temperature_c: 35, elevation_m: 1500"
    assert isinstance(answer(coming(30 + above, 30, site=site), RULE), kind)


# Without a barometer to rely on, height is by satellite: 13 m with 95 %.
@pytest.mark.parametrize(("above", "kind"), [(-4, Finding), (-3, Unproven), (22, Unproven), (23, Clear)])
def test_height_by_satellite(above, kind):
    assert isinstance(answer(coming(30 + above, 30, relies="relies_on: [compass, satellite]"), RULE), kind)


@pytest.mark.parametrize(("text", "message"), [
    (coming(None), "return.height_m is not recorded"),
    (coming(obstacle=None), "site.highest_obstacle_m is not recorded"),
    (manifest(more=RELIES), "return.on_link_loss is not recorded"),
    (manifest(), "satellite_receiver is not recorded"),
])
def test_what_is_missing(text, message):
    assert expect(Unproven, answer(text, RULE)).message == message


@pytest.mark.parametrize(("text", "because"), [
    (coming(does="lands"), "when the link is lost in the air it lands where it is"),
    (coming(does="stops"), "when the link is lost in the air every motor stops and it falls"),
    (manifest(more="relies_on: [compass]"), "the aircraft does not rely on position by satellite"),
])
def test_where_it_does_not_come_home(text, because):
    assert answer(text, RULE) == NotApplicable(because)


def test_the_clearance_is_a_figure():
    [figure] = [one for one in inspect_text(coming()).computed if one.quantity == "return_clearance_m"]
    assert (figure.value, figure.unit) == (17, "m")
    assert figure.standard_uncertainty == pytest.approx(0.5 * 8.324 / 3**0.5, rel=1e-3)


def test_a_club_may_ask_for_more():
    policy = "{preflint: 1, tolerances: {return_clearance: 20}}\n"
    told = inspect_text(coming(45, 28), files={"preflint.yaml": policy})
    assert told.policy is not None
    assert "weakens" not in told.policy  # more is stricter
    [outcome] = [result.outcome for result in told.results if result.rule.id == RULE]
    assert expect(Unproven, outcome).do.startswith("set the return height to 53 m or more")
