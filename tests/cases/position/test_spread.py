"""Whether the position stands still, and what it rests on: full texts, both sides, missing input."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

STILL, SATELLITES = "position/spread", "position/satellites"
RELIES = "relies_on: [satellite]"
# On WGS 84 a degree of latitude has 111 310 m at 54.4° (American Practical Navigator, from memory).
M_PER_DEG = 111_310


def wandering(metres, count=6, digits=6, log=(), relies=RELIES):
    """Half of the rows so far north of the mean, half as far south."""
    places = [54.41235 + (-1) ** number * metres / M_PER_DEG for number in range(count)]
    listed = ", ".join(f"[{latitude:.{digits}f}, -2.94121]" for latitude in places)
    check = f"date: 2026-05-20\ncolumns: [latitude_deg, longitude_deg]\nrows: [{listed}]"
    return manifest(records={"position_check": check}, more=relies, logbook=log)


def test_a_position_that_walks_in_full():
    text = wandering(20)
    found = expect(Finding, answer(text, STILL))
    assert found.message == "the position wanders 20 m from its mean while the aircraft stands still"
    assert found.evidence == (
        "6 positions, the farthest 20.0 m from their mean, ± 0.3 m by the last digit; at most 10 m"
    )
    assert found.do == (
        "go away from walls, vehicles and steel; switch off the video transmitter; if it stands still without it move "
        "the receiver away from it; check again"
    )
    assert marked(text, found.place).startswith("[[54.41253")
    assert [result.rule.severity.name for result in inspect_text(text).results if result.rule.id == STILL] == [
        "CAUTION"
    ]


# The last digit of a longitude, 1e-5° at 54.4°, steps by 0.65 m: half of that on either side of the limit.
@pytest.mark.parametrize(("metres", "kind"), [
    (0, Clear), (2, Clear), (9.5, Clear), (9.9, Unproven), (10.2, Unproven), (10.5, Finding), (400, Finding),
])
def test_both_sides(metres, kind):
    assert isinstance(answer(wandering(metres), STILL), kind)


def test_four_decimals_are_too_coarse_near_the_limit():
    told = expect(Unproven, answer(wandering(9, digits=4), STILL))
    assert told.message == "the position's last digit is too coarse to tell whether it stands still"
    assert isinstance(answer(wandering(60, digits=4), STILL), Finding)


def test_four_rows_are_too_few_to_be_clear():
    told = expect(Unproven, answer(wandering(1, count=4), STILL))
    assert (told.cause, told.message) == ("uncertain", "4 positions are too few to tell whether it stands still")
    assert isinstance(answer(wandering(1, count=5), STILL), Clear)
    assert isinstance(answer(wandering(20, count=4), STILL), Finding)


@pytest.mark.parametrize(("latitude", "longitude"), [
    (-54.41235, 151.2), (0.0, 0.0), (-17.8, 180.0), (78.2, 15.6), (90, 0), (-90, 0),
])
def test_anywhere(latitude, longitude):
    """One and the same scatter, in degrees: in the far north a degree of longitude is short."""
    east = [(longitude + step + 180) % 360 - 180 for step in (0, 1e-5, -1e-5, 2e-5, -2e-5)]
    listed = ", ".join(f"[{latitude:.5f}, {one:.5f}]" for one in east)
    check = f"date: 2026-05-20\ncolumns: [latitude_deg, longitude_deg]\nrows: [{listed}]"
    assert isinstance(answer(manifest(records={"position_check": check}, more=RELIES), STILL), Clear)


def resting_on(values, relies=RELIES):
    return manifest(records={"position_check": f"date: 2026-05-20, {values}"}, more=relies)


def test_few_satellites_in_full():
    text = resting_on("satellites: 5, hdop: 3.1")
    found = expect(Finding, answer(text, SATELLITES))
    assert found.message == "the position rests on little: 5 satellites, 6 at least; HDOP 3.1, at most 2.5"
    assert found.evidence == "position check of 2026-05-20"
    assert found.do == (
        "wait some minutes under open sky, away from walls and trees; if it stays so look at the receiver's place on "
        "the aircraft, with nothing above it; check again"
    )
    assert marked(text, found.place) == "5"


@pytest.mark.parametrize(("values", "kind"), [
    ("satellites: 6, hdop: 2.5", Clear), ("satellites: 5, hdop: 2.5", Finding), ("satellites: 6, hdop: 2.6", Finding),
    ("satellites: 0", Finding), ("hdop: 9", Finding), ("satellites: 6", Unproven), ("hdop: 1", Unproven),
])
def test_both_sides_of_each(values, kind):
    assert isinstance(answer(resting_on(values), SATELLITES), kind)


@pytest.mark.parametrize(("rule", "text", "message"), [
    (STILL, manifest(more=RELIES), "no position check is recorded"),
    (SATELLITES, manifest(more=RELIES), "no position check is recorded"),
    (STILL, manifest(), "satellite_receiver is not recorded"),
    (STILL, resting_on("satellites: 9"), "columns and rows of the position check of 2026-05-20 is not recorded"),
    (SATELLITES, resting_on("minutes_on: 5"), "satellites of the position check of 2026-05-20 is not recorded"),
    (STILL, wandering(1, log=["date: 2026-05-21, kind: replaced, part: satellite-receiver"]),
     "the position check of 2026-05-20 is outdated: satellite receiver replaced on 2026-05-21"),
])
def test_what_is_missing(rule, text, message):
    assert expect(Unproven, answer(text, rule)).message == message


def test_not_relied_on():
    why = NotApplicable("the aircraft does not rely on position by satellite")
    assert answer(wandering(20, relies="relies_on: []"), STILL) == why
    assert answer(resting_on("satellites: 2", relies="relies_on: [compass]"), SATELLITES) == why


def test_a_later_check_without_rows_takes_nothing_away():
    text = wandering(1) + "    - {date: 2026-05-21, satellites: 9, hdop: 1}\n"
    assert isinstance(answer(text, STILL), Clear)
    walked = wandering(20) + "    - {date: 2026-05-21, satellites: 9, hdop: 1}\n"
    assert isinstance(answer(walked, STILL), Finding)
