"""Volts of one cell for those of the pack, Ah for mAh: said by name; both sides, full texts, inputs missing."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import marked

PACK = "packs: [{label: A1, chemistry: lipo, cells: 4, capacity_mah: 5000}]\n"
HOVER, SAG, RECHARGE = (f"power_sensing/{name}" for name in ("hover-volts", "sag-volts", "recharge-unit"))


def hovering(volts, packs=PACK, more=""):
    return manifest(packs, records={"hover": f"date: 2026-05-16, mean_voltage_v: {volts}{more}"})


def sagging(rows, packs=PACK):
    run = f"date: 2026-05-16, pack: A1, columns: [current_a, voltage_v, used_mah], rows: {rows}"
    return manifest(packs, records={"sag_run": run})


def recharged(counted, put_back, packs=PACK):
    record = f"date: 2026-05-16, pack: A1, counted_mah: {counted}, put_back_mah: {put_back}, full_before: true"
    reference = "reference: {accuracy_percent: 1}"
    return manifest(packs, "power_sensing: {sensor_mv_per_a: 26.4}\n", records={"recharge": f"{record}, {reference}"})


def test_a_hover_in_volts_a_cell_in_full():
    text = hovering(3.8)
    found = expect(Finding, answer(text, HOVER))
    assert found.message == "the hover of 2026-05-16 has 3.80 V, which is the voltage of one cell"
    assert found.evidence == "the mean voltage 3.80 V; the pack lives between 12.0 and 16.8 V"
    assert found.do == "write down the voltage of the whole pack"
    assert (marked(text, found.place), [marked(text, one.place) for one in found.related]) == ("3.8", ["4"])


# Lipo, four cells of 3.0 to 4.2 V (common practice, no source) within 5 %: 11.4 to 17.64 V; one cell 2.85 to 4.41 V.
@pytest.mark.parametrize(("volts", "says"), [
    (2.84, "which no pack of this aircraft has"), (2.86, "which is the voltage of one cell"),
    (4.40, "which is the voltage of one cell"), (4.42, "which no pack of this aircraft has"),
    (11.39, "which no pack of this aircraft has"), (11.41, None), (17.63, None),
    (17.65, "which no pack of this aircraft has"),
])
def test_both_sides_of_what_a_pack_has(volts, says):
    told = answer(hovering(volts), HOVER)
    assert isinstance(told, Clear) if says is None else told.message.endswith(says)


@pytest.mark.parametrize(("packs", "more", "kind"), [
    ("packs: [{label: A1, chemistry: lipo, cells: 1}]\n", "", Clear),
    ("packs: [{label: A1, chemistry: lipo, cells: 4}, {label: B1, chemistry: lipo, cells: 1}]\n", "", Clear),
    ("packs: [{label: A1, chemistry: lipo, cells: 4}, {label: B1, chemistry: lipo, cells: 1}]\n", ", pack: A1",
     Finding),
    ("packs: [{label: A1, cells: 4}]\n", "", Unproven),
    ("", "", NotApplicable),
])
def test_of_which_pack_the_hover_was(packs, more, kind):
    assert isinstance(answer(hovering(3.8, packs, more), HOVER), kind)


def test_what_the_hover_lacks():
    assert answer(manifest(PACK), HOVER) == NotApplicable("no hover is recorded")
    told = answer(manifest(PACK, records={"hover": "date: 2026-05-16, mean_current_a: 9"}), HOVER)
    assert told.message == "mean_voltage_v of the hover of 2026-05-16 is not recorded"


def test_a_hover_in_volts_a_cell_is_compared_with_nothing():
    text = hovering(3.8, more=", mean_current_a: 9, duration_s: 60, height_m: 3, wind_m_s: 0, takeoff_mass_g: 900")
    for rule in ("hover-power", "hover-efficiency"):
        told = answer(text.replace("packs:", "power_sensing: {divider_ratio: 6.2}\npacks:"), f"power_sensing/{rule}")
        assert told == NotApplicable("the hover's voltage is that of one cell: see hover-volts")


def test_a_sag_run_in_volts_a_cell_in_full():
    text = sagging("[[0, 4.01, 0], [25, 3.91, 70], [50, 3.81, 210], [1, 3.98, 220]]")
    found = expect(Finding, answer(text, SAG, "A1"))
    assert found.message == "the sag run of 2026-05-16 has 4.01 V, which is the voltage of one cell"
    assert found.evidence == "the highest voltage 4.01 V; the pack lives between 12.0 and 16.8 V"
    assert marked(text, found.place) == "[0, 4.01, 0]"
    told = answer(text, "power_sensing/sag", "A1")
    assert told == NotApplicable("the volts of the sag run are those of one cell: see sag-volts")


def test_a_sag_run_of_the_whole_pack():
    assert isinstance(answer(sagging("[[0, 16.02, 0], [25, 10.1, 70]]"), SAG, "A1"), Clear)  # how far: see sag
    assert answer(sagging("[[0, 24.9, 0]]"), SAG, "A1").message.endswith("which no pack of this aircraft has")
    assert answer(manifest(PACK), SAG, "A1") == NotApplicable("no sag run of this pack is recorded")


def test_a_recharge_in_ampere_hours_in_full():
    text = recharged(3180, 3.2)
    found = expect(Finding, answer(text, RECHARGE))
    assert found.message == "put_back_mah of 2026-05-16 is 3.2, which is a number of Ah"
    assert found.evidence == "3.2 Ah are 3200 mAh; the pack has 5000 mAh"
    assert found.do == "write put_back_mah: 3200, if the charge was 3.2 Ah"
    assert marked(text, found.place) == "3.2"
    told = answer(text, "power_sensing/recharge")
    assert told == NotApplicable("a charge is written down in Ah: see recharge-unit")


@pytest.mark.parametrize(("counted", "put_back", "capacity", "found"), [
    (3.18, 3.2, ", capacity_mah: 5000", "put_back_mah"),
    (3.18, 3200, ", capacity_mah: 5000", "counted_mah"),
    (3180, 7.5, ", capacity_mah: 5000", "put_back_mah"),  # half as much again as the pack has: an error of its own
    (3180, 7.6, ", capacity_mah: 5000", None),
    (0, 3200, ", capacity_mah: 5000", None),  # nothing was counted: see recharge
    (19.9, 3200, "", "counted_mah"),
    (20.1, 3200, "", None),
    (0.24, 0.25, ", capacity_mah: 300", "put_back_mah"),
    (6.1, 0.25, ", capacity_mah: 300", "put_back_mah"),
    (240, 250, ", capacity_mah: 300", None),
])
def test_both_sides_of_an_ampere_hour(counted, put_back, capacity, found):
    told = answer(recharged(counted, put_back, f"packs: [{{label: A1{capacity}}}]\n"), RECHARGE)
    assert isinstance(told, Clear) if found is None else told.message.startswith(f"{found} of")


def test_a_pack_without_a_label_is_not_the_one_charged():
    """7 mAh are 7 Ah of a pack of 10000 mAh, and no 7 Ah of the one of 3000 mAh that was charged."""
    packs = "packs: [{label: A1, capacity_mah: 3000}, {capacity_mah: 10000}]\n"
    assert isinstance(answer(recharged(2900, 7, packs), RECHARGE), Clear)
    assert isinstance(answer(recharged(2900, 7, packs.replace("3000", "10000")), RECHARGE), Finding)


def test_no_recharge():
    assert answer(manifest(PACK), RECHARGE) == NotApplicable("no recharge is recorded")
