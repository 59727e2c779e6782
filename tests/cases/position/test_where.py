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
# Length of a degree of latitude at 54.4°, and of longitude at the equator, from the series for WGS 84 in the American
# Practical Navigator (NIMA Pub. 9, from memory); of longitude at 54.4° by N·cos φ, where N is 0.22 % above that.
NORTH_M_PER_DEG, EAST_M_PER_DEG = 111_310, 111_319.5 * 1.00222 * cos(radians(54.41235))


def shown(north_m=0.0, east_m=0.0, place=PLACE, fitted=FITTED, accuracy="accuracy_m: 5", log=(), more=""):
    latitude = 54.41235 + north_m / NORTH_M_PER_DEG
    longitude = -2.94121 + east_m / EAST_M_PER_DEG
    taken = f"date: 2026-05-20, shown_latitude_deg: {latitude:.6f}, shown_longitude_deg: {longitude:.6f}"
    check = ", ".join(filter(None, (taken, place, f"reference: {{{accuracy}}}" if accuracy else "", more)))
    return manifest(fitted, records={"position_check": check}, more=RELIES, logbook=log)


def test_a_position_of_another_field_in_full():
    text = shown(east_m=200)
    found = expect(Finding, answer(text, RULE))
    assert found.message == "the aircraft shows itself 200 m from where it stands"
    assert found.evidence == (
        "shown 54.41235, -2.93813; the place 54.41235, -2.94121: 200 m ± 7 m (95 %), at most 30 m; "
        "0 m north, 200 m east of it"
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


# U of the receiver is 2·1.2·4 m = 9.6 m, of the place 1.96·5/√3 = 5.7 m: 11.1 m in squares.
@pytest.mark.parametrize(("metres", "kind"), [
    (0, Clear), (18.5, Clear), (19.5, Unproven), (40.5, Unproven), (41.8, Finding),
])
def test_with_the_dilution_of_the_day(metres, kind):
    told = expect(kind, answer(shown(north_m=metres, fitted="satellite_receiver: {}\n", more="hdop: 1.2"), RULE))
    if metres == 0:
        assert told.evidence.endswith("0 m ± 11 m (95 %), at most 30 m")


def test_the_dilution_of_the_day_goes_before_what_the_maker_says():
    assert isinstance(answer(shown(east_m=10, more="hdop: 1.0"), RULE), Clear)
    assert isinstance(answer(shown(east_m=10, more="hdop: 4.0"), RULE), Unproven)


@pytest.mark.parametrize(("minutes", "kind"), [(0, Unproven), (4.9, Unproven), (5, Finding), (60, Finding)])
def test_the_first_minutes_after_a_cold_start_find_nothing(minutes, kind):
    text = shown(east_m=200, more=f"minutes_on: {minutes}")
    told = expect(kind, answer(text, RULE))
    if minutes == 4.9:
        assert (told.cause, told.message, told.do) == (
            "uncertain",
            "the position was read 4.9 min after switching on: too soon to tell",
            "leave the receiver on under open sky for 5 min; then check again",
        )
        assert marked(text, told.place) == "4.9"
    assert isinstance(answer(shown(east_m=5, more=f"minutes_on: {minutes}"), RULE), Clear)


def rows(*places, place=(54.41235, -2.94121)):
    listed = ", ".join(f"[{latitude:.5f}, {longitude:.5f}]" for latitude, longitude in places)
    check = (
        f"date: 2026-05-20\nplace_latitude_deg: {place[0]:.5f}\nplace_longitude_deg: {place[1]:.5f}\n"
        f"reference: {{accuracy_m: 5}}\ncolumns: [latitude_deg, longitude_deg]\nrows: [{listed}]"
    )
    return manifest(FITTED, records={"position_check": check}, more=RELIES)


def test_of_rows_the_mean_is_the_position():
    near = rows((54.41235, -2.94121), (54.41237, -2.94119), (54.41236, -2.94120))
    assert isinstance(answer(near, RULE), Clear)
    far = rows((54.41435, -2.94121), (54.41437, -2.94119), (54.41436, -2.94120))  # 0.002° north: 223 m
    found = expect(Finding, answer(far, RULE))
    assert found.message == "the aircraft shows itself 224 m from where it stands"
    assert marked(far, found.place).startswith("[[54.41435")


@pytest.mark.parametrize("place", [(-17.8, 180.0), (-17.8, -179.99999), (54.4, 0.0), (-90.0, 20.0), (89.99999, 5.0)])
def test_date_line_and_poles(place):
    """Some metres away on either side of a line where numbers jump, which is no distance."""
    latitude, longitude = place
    turned = (longitude + 0.00001 + 180) % 360 - 180, (longitude - 0.00001 + 180) % 360 - 180
    near = rows((latitude, turned[0]), (latitude, turned[1]), (latitude, turned[0]), place=place)
    assert isinstance(answer(near, RULE), Clear)


@pytest.mark.parametrize("flip", [(-1, 1), (1, -1), (-1, -1)])
def test_a_forgotten_sign_is_found(flip):
    other = (54.41235 * flip[0], -2.94121 * flip[1])
    assert isinstance(answer(rows(other, other), RULE), Finding)
    # And the aircraft that stands there is as well off as one in the north and west.
    assert isinstance(answer(rows(other, other, place=other), RULE), Clear)


def test_neither_a_position_nor_rows():
    text = manifest(FITTED, records={"position_check": f"date: 2026-05-20, {PLACE}, reference: {{accuracy_m: 5}}"},
                    more=RELIES)  # fmt: skip
    assert expect(Unproven, answer(text, RULE)).message == (
        "shown_latitude_deg of the position check of 2026-05-20 is not recorded"
    )
