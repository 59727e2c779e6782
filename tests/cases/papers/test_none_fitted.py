"""What is said to be not fitted and was read from all the same: full texts, both sides, each part."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

RULE = "papers/none-fitted"
CHECK = {"barometer_check": "date: 2026-05-16, indicated_hpa: 987, station_pressure_hpa: 987"}
READINGS = {
    "heading_check": "date: 2026-05-16, columns: [true_deg, indicated_deg], rows: [[0, 1], [90, 91]]",
    "interference_run": "date: 2026-05-16, columns: [current_a, field_x_ut, field_y_ut, field_z_ut], "
    "rows: [[0, 18, 1, 45], [20, 19, 1, 45]]",
    "compass_rotation": "date: 2026-05-16, columns: [field_x_ut, field_y_ut, field_z_ut], rows: [[18, 1, 45]]",
}


def test_readings_of_what_is_not_fitted():
    text = manifest("barometer: none\n", records=CHECK)
    told = expect(Unproven, answer(text, RULE))
    assert told.message == "barometer is none, but its readings of 2026-05-16 are recorded"
    assert told.do == "write down the barometer that is fitted, or its removal in the logbook"
    assert (marked(text, told.place), told.on_paper) == ("none", True)
    assert ("barometer/indicated-pressure", NotApplicable) in {
        (result.rule.id, type(result.outcome)) for result in inspect_text(text).results
    }  # nobody else asks


@pytest.mark.parametrize("kind", READINGS)
def test_every_reading_of_a_compass(kind):
    text = manifest("compass: none\n", records={kind: READINGS[kind]})
    expect(Unproven, answer(text, RULE))
    expect(NotApplicable, answer(text.replace("compass: none", "compass: {}"), RULE))


@pytest.mark.parametrize(("entry", "expected"), [
    ("date: 2026-05-16, kind: removed, part: barometer", Clear),
    ("date: 2026-05-17, kind: removed, part: barometer", Clear),
    ("date: 2026-05-15, kind: removed, part: barometer", Unproven),  # and read again later
    ("date: 2026-05-17, kind: replaced, part: barometer", Unproven),
    ("date: 2026-05-17, kind: removed, part: compass", Unproven),
])  # fmt: skip
def test_taken_off_since(entry, expected):
    expect(expected, answer(manifest("barometer: none\n", records=CHECK, logbook=entry), RULE))


def test_input_missing():
    expect(NotApplicable, answer(manifest(), RULE))


def test_a_reading_after_the_day_judged_at_is_none_yet():
    expect(Clear, answer(manifest("barometer: none\n", records=CHECK), RULE, judged_on="2026-05-15"))


def test_a_position_shown_by_no_receiver():
    shown = "date: 2026-05-16, shown_latitude_deg: 54, shown_longitude_deg: -3, place_latitude_deg: 54, "
    text = manifest("satellite_receiver: none\n", records={"position_check": f"{shown}place_longitude_deg: -3"})
    told = expect(Unproven, answer(text, RULE))
    assert told.message == "satellite_receiver is none, but its readings of 2026-05-16 are recorded"
    assert told.do == "write down the satellite receiver that is fitted, or its removal in the logbook"
    removed = "logbook: [{date: 2026-05-17, kind: removed, part: satellite-receiver}]\n"
    expect(Clear, answer(text + removed, RULE))
