"""The shown position against the place: full texts, both sides of the limit, missing input."""

from math import cos, radians

import pytest
from making.manifests import SITE, answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

RULE = "position/where"
RELIES = "relies_on: [satellite]"
FITTED = "satellite_receiver: {accuracy_m: 3}\n"
PLACE = "place_latitude_deg: 54.41235, place_longitude_deg: -2.94121"
# One minute of arc of a meridian is a nautical mile of 1852 m: the International Hydrographic Conference of 1929. On a
# sphere of the mean radius it has 1853 m, so a distance of some tens of metres is the same to some centimetres.
M_PER_DEG = 60 * 1852


def shown(north_m=0.0, east_m=0.0, place=PLACE, fitted=FITTED, accuracy="accuracy_m: 5", log=()):
    latitude = 54.41235 + north_m / M_PER_DEG
    longitude = -2.94121 + east_m / (M_PER_DEG * cos(radians(54.41235)))
    taken = f"date: 2026-05-20, shown_latitude_deg: {latitude:.6f}, shown_longitude_deg: {longitude:.6f}"
    check = ", ".join(filter(None, (taken, place, f"reference: {{{accuracy}}}" if accuracy else "")))
    return manifest(fitted, records={"position_check": check}, more=RELIES, logbook=log)


def test_a_position_of_another_field_in_full():
    text = shown(east_m=200)
    found = expect(Finding, answer(text, RULE))
    assert found.message == "the aircraft shows itself 200 m from where it stands"
    assert found.evidence == (
        "shown 54.41235, -2.93812; the place 54.41235, -2.94121: 200 m ± 7 m (95 %), at most 30 m"
    )
    assert found.do == (
        "wait some minutes under open sky; compare latitude, longitude and their signs; if it stays wrong look at "
        "the receiver and its wires; check again"
    )
    assert marked(text, found.place) == "54.412350"
    assert [(marked(text, r.place), r.message) for r in found.related] == [("54.41235", "the place")]
    assert inspect_text(text).verdict == "no-go"


# U = 1.96·√(3² + 5²)/√3 = 6.6 m, so it is clear up to 23.4 m and found from 36.6 m on.
@pytest.mark.parametrize(("north_m", "east_m", "expected"), [
    (0, 0, Clear), (23, 0, Clear), (0, -23, Clear), (24, 0, Unproven), (36, 0, Unproven), (0, 36, Unproven),
    (-37, 0, Finding), (0, 37, Finding), (25, 25, Unproven), (27, 27, Finding),
])
def test_both_sides_of_the_limit(north_m, east_m, expected):
    assert isinstance(answer(shown(north_m, east_m), RULE), expected)


@pytest.mark.parametrize(("text", "message"), [
    (manifest(), "satellite_receiver is not recorded"),
    (manifest(FITTED, more=RELIES), "no position check is recorded"),
    (shown(fitted=""), "satellite_receiver is not recorded"),
    (shown(fitted="satellite_receiver: {}\n"), "satellite_receiver.accuracy_m is not recorded"),
    (shown(accuracy=""), "reference.accuracy_m of the position check of 2026-05-20 is not recorded"),
    (shown(place="place_latitude_deg: 54.41235"),
     "place_longitude_deg of the position check of 2026-05-20 is not recorded"),
    (shown(place=""), "site.latitude_deg is not recorded"),
    (shown(log=["date: 2026-05-21, kind: replaced, part: satellite-receiver"]),
     "the position check of 2026-05-20 is outdated: satellite receiver replaced on 2026-05-21"),
])
def test_what_is_missing(text, message):
    assert expect(Unproven, answer(text, RULE)).message == message


def test_the_place_of_the_site_serves_where_the_check_names_none():
    of_the_site = shown(place="", fitted=FITTED + SITE.replace("54.4,", "54.41235,").replace("-2.9,", "-2.94121,"))
    assert isinstance(answer(of_the_site, RULE), Clear)
    rough = shown(place="", fitted=FITTED + SITE, accuracy="accuracy_m: 6000")
    assert expect(Unproven, answer(rough, RULE)).cause == "uncertain"


def test_not_relied_on():
    text = shown().replace(RELIES, "relies_on: [compass]")
    assert answer(text, RULE) == NotApplicable("the aircraft does not rely on position by satellite")


def test_a_wrong_position_outlives_a_crash():
    text = shown(east_m=200, log=["date: 2026-05-21, kind: crashed"])
    assert expect(Finding, answer(text, RULE)).evidence.startswith("failed on 2026-05-20, and no ")
