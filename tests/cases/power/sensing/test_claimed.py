"""Instruments that are said to be better than such instruments are: told, and judged as what they can be."""

import pytest
from making.comparisons import amperes, read, volts
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable
from preflint.testing import computed, inspect_text, marked

CLAIMED = "power_sensing/meter-accuracy"
ROWS = "[[15.45, 15.46], [14.44, 14.45]]"


def test_a_meter_better_than_any_in_full():
    text = read(volts(ROWS, "instrument: my meter, accuracy_percent: 0.02, resolution_v: 0.01"))
    found = expect(Finding, answer(text, CLAIMED))
    assert found.message == "my meter is said to be good to 0.02 %: judged here as one of 0.1 %"
    assert found.evidence == "instruments of this kind are good to 0.1 % at best"
    assert found.do == "read the accuracy in the instrument's manual, with its fixed part and for the range used"
    assert marked(text, found.place) == "0.02"


# Volts 0.1 %, amperes 0.5 %: common practice, no source. At the highest reading, 15.46 V and 21.4 A.
@pytest.mark.parametrize(("of_volts", "of_amperes", "said"), [
    ("accuracy_percent: 0.1", "accuracy_percent: 0.5", None),
    ("accuracy_percent: 0.099", "accuracy_percent: 0.5", "0.099"),
    ("accuracy_percent: 0.1", "accuracy_percent: 0.49", "0.49"),
    ("accuracy_percent: 0.05, accuracy_v: 0.01", "accuracy_percent: 0.5", None),  # 0.05 % and 0.065 %
    ("accuracy_v: 0.01", "accuracy_percent: 0.5", "0.065"),
    ("accuracy_v: 0.02", "accuracy_a: 0.2", None),
    ("accuracy_v: 0.02", "accuracy_a: 0.1", "0.47"),
    ("accuracy_percent: 0", "accuracy_percent: 2", None),  # not said to be anything: see the scales
])
def test_both_sides_of_the_floor(of_volts, of_amperes, said):
    told = answer(read(volts(ROWS, of_volts), amperes(reference=of_amperes)), CLAIMED)
    assert isinstance(told, Finding) == (said is not None)
    assert said is None or f"is said to be good to {said} %: " in told.message


@pytest.mark.parametrize(("record", "floor"), [
    ({"cell_voltages": "date: 2026-05-16, pack: A1, cells_v: [4.1], reference: {accuracy_percent: 0.01}"}, "0.1"),
    ({"recharge": "date: 2026-05-16, counted_mah: 400, put_back_mah: 410, reference: {accuracy_percent: 0.1}"}, "0.5"),
])
def test_meters_of_cells_and_chargers(record, floor):
    found = expect(Finding, answer(manifest(records=record), CLAIMED))
    assert found.message.endswith(f"judged here as one of {floor} %")


def test_it_is_judged_as_one_that_there_can_be():
    # 0.1 % / √3 of the gain is the least that a meter leaves, however good it is said to be.
    seen = inspect_text(read(volts(ROWS, "accuracy_percent: 0.001, resolution_v: 0.001")))
    assert computed(seen, "voltage_gain", "gain-only").standard_uncertainty > 0.001 / 3**0.5


def test_only_the_latest_of_a_kind_is_looked_at():
    earlier = volts(ROWS, "accuracy_percent: 0.02", date="2026-05-10")
    assert isinstance(answer(read([earlier, volts(ROWS)]), CLAIMED), Clear)


def test_nothing_recorded():
    assert answer(manifest(), CLAIMED) == NotApplicable("no accuracy of an instrument is recorded")
    assert answer(read(volts(ROWS)), CLAIMED) == Clear("no instrument is said to be better than such instruments are")
