"""What is set to warn: whether there is anything, in which order, and whether it was noticed."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

NONE, ORDER, HEARD, LEFT = "warnings/none", "warnings/order", "warnings/heard", "warnings/charge-left"
PACK = "packs: [{label: A1, chemistry: lipo, cells: 4, capacity_mah: 6000}]\n"


def warned(*entries, pack=PACK, records=None, log=(), more=""):
    told = f"battery_warnings: [{', '.join(f'{{{one}}}' for one in entries)}]\n" if entries else ""
    return manifest(pack, told, more, records=records, logbook=log)


def test_nothing_warns_in_full():
    text = manifest(PACK, "battery_warnings: none\n")
    found = expect(Finding, answer(text, NONE))
    assert found.message == "nothing warns of an empty pack, and nothing limits the flight"
    assert found.evidence == "battery_warnings: none"
    assert found.do == (
        "set a battery warning, by volts, by charge used or by a timer; write it under battery_warnings; until then "
        "land by the clock"
    )
    assert marked(text, found.place) == "none"
    assert inspect_text(text).verdict == "no-go"


def test_a_warning_without_a_pack_is_a_line_at_the_desk():
    told = expect(Unproven, answer(warned("watches: pack-voltage, at_v: 14.0", pack=""), NONE))
    assert told.message == "no pack is recorded, so that nobody can tell what its warnings mean"
    assert told.on_paper


def test_nobody_says():
    told = expect(Unproven, answer(manifest(PACK), NONE))
    assert told.message == "battery_warnings is not recorded"
    assert told.do == "read how warnings of a low pack are set, and write battery_warnings, or battery_warnings: none"


@pytest.mark.parametrize(("warning", "kind"), [
    ("watches: pack-voltage, at_v: 14.0", Clear),
    ("watches: pack-voltage, at_v: 12.0", Finding),  # four empty cells
    ("watches: pack-voltage, at_v: 12.1", Clear),
    ("watches: pack-voltage, at_v: 10.5", Finding),  # set for three cells
    ("watches: pack-voltage, at_v: 16.8", Finding),  # it comes when full: set for more cells, or for ever ignored
    ("watches: pack-voltage, at_cell_v: 3.5", Clear),
    ("watches: lowest-cell, at_cell_v: 3.4", Clear),
    ("watches: lowest-cell, at_cell_v: 2.9", Finding),
    ("watches: charge-used, at_used_mah: 4500", Clear),
    ("watches: charge-used, at_used_mah: 6000", Finding),
    ("watches: flight-time, at_min: 6", Clear),
    ("watches: pack-voltage", Unproven),
    ("watches: charge-used, at_v: 14", Unproven),
])  # fmt: skip
def test_one_that_comes_before_the_pack_is_empty(warning, kind):
    expect(kind, answer(warned(f"{warning}, does: tells"), NONE))


def test_one_that_works_is_enough():
    expect(Clear, answer(warned("watches: pack-voltage, at_v: 10.5", "watches: charge-used, at_used_mah: 4500"), NONE))
    expect(Clear, answer(warned("watches: charge-used", "watches: pack-voltage, at_v: 14"), NONE))


def test_every_pack_needs_one():
    both = "packs:\n  - {label: A1, chemistry: lipo, cells: 4}\n  - {label: B2, chemistry: lipo, cells: 6}\n"
    found = expect(Finding, answer(warned("watches: pack-voltage, at_v: 14", pack=both), NONE))
    assert found.message == "no battery warning comes between full and empty for pack B2"
    expect(Clear, answer(warned("watches: pack-voltage, at_cell_v: 3.5", pack=both), NONE))


@pytest.mark.parametrize("pack", ["", "packs: [{label: A1, cells: 4}]\n", "packs: [{label: A1, chemistry: lipo}]\n"])
def test_volts_mean_nothing_without_a_pack(pack):
    expect(Unproven, answer(warned("watches: pack-voltage, at_v: 14", pack=pack), NONE))


@pytest.mark.parametrize(("chemistry", "at", "kind"), [
    ("li-ion", 2.6, Clear), ("li-ion", 2.5, Finding), ("life", 2.6, Clear), ("lipo-hv", 3.0, Finding),
    ("lipo-hv", 4.3, Clear), ("lipo", 4.3, Finding),
])  # fmt: skip
def test_each_chemistry_has_its_own_window(chemistry, at, kind):
    expect(kind, answer(warned(f"watches: lowest-cell, at_cell_v: {at}", pack=PACK.replace("lipo", chemistry)), NONE))


def volts(at, does, watches="pack-voltage"):
    return f"watches: {watches}, at_cell_v: {at}, does: {does}"


def used(at, does):
    return f"watches: charge-used, at_used_mah: {at}, does: {does}"


AT_14_4 = "watches: pack-voltage, at_v: 14.4, does: tells"


def test_it_lands_before_it_tells_in_full():
    text = warned(volts(3.4, "tells"), volts(3.6, "lands"))
    found = expect(Finding, answer(text, ORDER))
    assert found.message == "it lands before it tells: pack-voltage at 3.6 V a cell"
    assert found.evidence == "tells by pack-voltage at 3.4 V a cell, lands by pack-voltage at 3.6 V a cell"
    assert found.do == "set the two so that it tells first"
    assert [marked(text, place) for place in (found.place, found.related[0].place)] == ["3.6", "3.4"]


@pytest.mark.parametrize(("entries", "kind"), [
    ((volts(3.6, "tells"), volts(3.5, "comes-home"), volts(3.4, "lands")), Clear),
    ((volts(3.6, "tells"), volts(3.4, "comes-home"), volts(3.5, "lands")), Finding),
    ((volts(3.4, "comes-home"), volts(3.3, "lands")), Clear),
    ((volts(3.5, "tells"), volts(3.5, "lands")), Clear),
    ((used(4000, "tells"), used(4800, "lands")), Clear),
    ((used(4800, "tells"), used(4000, "lands")), Finding),
    (("watches: flight-time, at_min: 8, does: tells", "watches: flight-time, at_min: 6, does: lands"), Finding),
    ((volts(3.4, "tells"), used(4000, "lands")), NotApplicable),  # of different things
    ((volts(3.4, "tells"), volts(3.6, "lands", "lowest-cell")), Finding),  # the lowest cell is never above the mean
    ((volts(3.6, "tells", "lowest-cell"), volts(3.4, "lands")), Clear),
    ((volts(3.4, "tells", "lowest-cell"), volts(3.6, "lands")), Finding),
    ((AT_14_4, volts(3.6, "lands")), Clear),  # 14.4 V of four cells
    ((AT_14_4, volts(3.7, "lands")), Finding),
    ((AT_14_4, volts(3.7, "lands", "lowest-cell")), Finding),
    ((volts(3.4, "tells"), "watches: pack-voltage, at_cell_v: 3.6"), NotApplicable),  # what it does is not told
    ((), NotApplicable),
])  # fmt: skip
def test_orders(entries, kind):
    expect(kind, answer(warned(*entries), ORDER))
    expect(kind, answer(warned(*reversed(entries)), ORDER))


def test_volts_of_a_pack_before_those_of_a_cell_in_full():
    both = "packs:\n  - {label: A1, chemistry: lipo, cells: 4}\n  - {label: B2, chemistry: lipo, cells: 6}\n"
    text = warned("watches: pack-voltage, at_v: 20, does: tells", volts(3.5, "lands"), pack=both)
    found = expect(Finding, answer(text, ORDER))  # 5.00 V a cell of A1, 3.33 V of B2
    assert found.message == "it lands before it tells: pack-voltage at 3.5 V a cell"
    assert found.evidence == (
        "tells by pack-voltage at 20 V, lands by pack-voltage at 3.5 V a cell; in pack B2 at 3.33 and 3.50 V a cell"
    )
    assert [marked(text, place) for place in (found.place, found.related[0].place)] == ["3.5", "20"]
    assert inspect_text(text).verdict == "no-go"


@pytest.mark.parametrize(("pack", "kind"), [
    ("", NotApplicable), ("packs: [{label: A1, chemistry: lipo}]\n", Unproven), (PACK, Clear),
])  # fmt: skip
def test_volts_of_a_pack_and_of_a_cell_take_its_cells(pack, kind):
    expect(kind, answer(warned(AT_14_4, volts(3.5, "lands"), pack=pack), ORDER))


HOVERED = {"hover": "date: 2026-05-17, mean_current_a: 15.4"}


def test_a_timer_that_rings_after_the_pack_is_empty_in_full():
    """6000 mAh at 15.4 A: 23.4 min; 15.4 A less its U takes 25 min."""
    text = warned("watches: flight-time, at_min: 90, does: tells", records=HOVERED)
    found = expect(Finding, answer(text, NONE))
    assert found.message == "no battery warning comes between full and empty for pack A1"
    assert found.evidence == "flight-time at 90 min; pack A1 is empty after 25 min of hover"
    assert found.related[0].message == "pack A1"
    assert marked(text, found.place).startswith("[{watches: flight-time")
    assert inspect_text(text).verdict == "no-go"


@pytest.mark.parametrize(("entries", "records", "kind"), [
    (("watches: flight-time, at_min: 24",), HOVERED, Clear),
    (("watches: flight-time, at_min: 26",), HOVERED, Finding),
    (("watches: flight-time, at_min: 26",), None, Clear),  # nobody knows what hover takes
    (("watches: flight-time, at_min: 26", "watches: pack-voltage, at_v: 14"), HOVERED, Clear),
    (("watches: flight-time, at_min: 26", "watches: pack-voltage, at_v: 10"), HOVERED, Finding),
])  # fmt: skip
def test_both_sides_of_a_timer(entries, records, kind):
    expect(kind, answer(warned(*(f"{one}, does: tells" for one in entries), records=records), NONE))


def test_a_timer_beside_a_current_comparison():
    """The scale is known better then; what a hover may differ from day to day stays."""
    compared = (
        "date: 2026-05-16, route: restrained, in_force: {sensor_mv_per_a: 20, zero_mv: 330}, "
        "reference: {instrument: clamp meter, accuracy_percent: 1.0, resolution_a: 0.1}, "
        "columns: [indicated_a, reference_a], rows: [[0, 0], [10, 10], [20, 20], [35, 35]]"
    )
    records = {"current_comparison": compared, "hover": "date: 2026-05-17, mean_current_a: 15.4, "
               "in_force: {sensor_mv_per_a: 20, zero_mv: 330}"}  # fmt: skip
    sensing = "power_sensing: {divider_ratio: 6.2, sensor_mv_per_a: 20, zero_mv: 330}\n"
    timer = warned("watches: flight-time, at_min: 90, does: tells", records=records, more=sensing)
    assert expect(Finding, answer(timer, NONE)).evidence.endswith("empty after 25 min of hover")
    expect(Clear, answer(timer.replace("90", "20"), NONE))


VOLTS = "watches: pack-voltage, at_v: 14.0, does: tells"


def tried(*tests, log=(), warnings=(VOLTS,)):
    return warned(*warnings, records={"warning_test": tests}, log=log)


def test_not_noticed_in_full():
    text = tried("date: 2026-05-18, watches: pack-voltage, sounded: false")
    found = expect(Finding, answer(text, HEARD))
    assert found.message == "the battery warning was not noticed when it was tried (pack-voltage)"
    assert found.do == "make it louder or show it where you look, then try it again"
    assert marked(text, found.place) == "false"
    assert found.record == "warning_test"


@pytest.mark.parametrize(("tests", "log", "kind"), [
    (["date: 2026-05-18, watches: pack-voltage, sounded: true"], (), Clear),
    (["date: 2026-05-18, sounded: true"], (), Clear),
    ([], (), Unproven),
    (["date: 2026-05-18, watches: flight-time, sounded: true"], (), Unproven),  # nothing is set that watches it
    (["date: 2026-05-18, sounded: true", "date: 2026-05-19, sounded: false"],
     (), Finding),
    (["date: 2026-05-18, sounded: false", "date: 2026-05-19, sounded: true"],
     (), Clear),
    (["date: 2026-05-18, watches: pack-voltage, sounded: true"],
     ("date: 2026-05-19, kind: settings-changed, part: flight-controller, touches: [warnings]",), Unproven),
    (["date: 2026-05-18, watches: pack-voltage, sounded: true"],
     ("date: 2026-05-19, kind: settings-changed, part: flight-controller, touches: [outputs]",), Clear),
    (["date: 2026-05-18, watches: pack-voltage, sounded: true"],
     ("date: 2026-05-19, kind: replaced, part: power-sensor",), Unproven),
    (["date: 2026-05-18, watches: pack-voltage, sounded: false"],  # work does not take a failure away
     ("date: 2026-05-19, kind: settings-changed, part: flight-controller, touches: [warnings]",), Finding),
    (["date: 2026-05-18, watches: pack-voltage, sounded: true, sounded_at_v: 13.75"], (), Clear),
    (["date: 2026-05-18, watches: pack-voltage, sounded: true, sounded_at_v: 13.70"], (), Finding),
])  # fmt: skip
def test_tests_of_a_warning(tests, log, kind):
    expect(kind, answer(tried(*tests, log=log), HEARD))


def test_at_which_volts_a_count_of_charge_came_tells_nothing():
    test = "date: 2026-05-18, watches: charge-used, sounded: true, sounded_at_v: 9.0"
    expect(Clear, answer(tried(test, warnings=(used(4500, "tells"),)), HEARD))


def test_a_warning_of_a_cell_that_came_late_in_full():
    test = "date: 2026-05-18, watches: pack-voltage, sounded: true, sounded_at_v: 13.0"
    text = tried(test, warnings=(volts(3.5, "tells"),))
    found = expect(Finding, answer(text, HEARD))
    assert found.message == "the warning set to 14 V came at 13 V"
    assert found.evidence == "warning test of 2026-05-18; pack-voltage at 3.5 V a cell; 2 % below at most"
    assert marked(text, found.place) == "13.0"


@pytest.mark.parametrize(("came", "kind"), [
    (13.75, Clear), (13.70, Finding), (3.45, Clear), (3.40, Finding),  # the display shows a pack, or a cell
])  # fmt: skip
def test_both_sides_of_what_is_set_for_a_cell(came, kind):
    test = f"date: 2026-05-18, watches: pack-voltage, sounded: true, sounded_at_v: {came}"
    expect(kind, answer(tried(test, warnings=(volts(3.5, "tells"),)), HEARD))


PLAN = "plan: {farthest_m: 300, height_m: 30, airspeed_m_s: 10, descent_m_s: 1.5, wind_m_s: 6}\n"
HOVER = {"hover": "date: 2026-05-17, mean_current_a: 15.4"}


def test_nothing_left_for_the_way_home_in_full():
    text = warned(used(5900, "tells"), records=HOVER, more=PLAN)
    found = expect(Finding, answer(text, LEFT))
    assert found.message == "0 mAh are left in pack A1 at the warning; the way home takes 406"
    assert found.do == "set the warning to come earlier, or plan to stay nearer"
    assert found.evidence.startswith("charge-used at 5900 mAh comes after all is used of 4800 to 6000 (")
    assert marked(text, found.place) == "5900"


@pytest.mark.parametrize(("warning", "kind"), [
    (used(4200, "tells"), Clear), (used(4400, "tells"), Unproven), (used(5600, "tells"), Unproven),
    (used(5750, "tells"), Finding), ("watches: flight-time, at_min: 15, does: tells", Clear),
    ("watches: flight-time, at_min: 24, does: tells", Finding), (volts(3.5, "tells"), Unproven), ("", NotApplicable),
])  # fmt: skip
def test_both_sides_of_what_is_left(warning, kind):
    """5400 ± 679 mAh less what is used, against 406 (± 170 or so)."""
    expect(kind, answer(warned(*filter(None, [warning]), records=HOVER, more=PLAN), LEFT))


def test_left_without_plan_or_hover():
    expect(Unproven, answer(warned(used(4200, "tells"), records=HOVER), LEFT))
    expect(Unproven, answer(warned(used(4200, "tells"), more=PLAN), LEFT))


def test_of_two_packs_the_smaller_counts_whichever_comes_first():
    small, large = ("{label: A1, chemistry: lipo, cells: 4, capacity_mah: 5000}",
                    "{label: B2, chemistry: lipo, cells: 4, capacity_mah: 6000}")  # fmt: skip
    for packs in (f"[{small}, {large}]", f"[{large}, {small}]"):
        told = warned(used(4800, "tells"), pack=f"packs: {packs}\n", records=HOVER, more=PLAN)
        assert expect(Finding, answer(told, LEFT)).message.startswith("0 mAh are left in pack A1 at the warning")
    none = warned(used(4800, "tells"), pack="", records=HOVER, more=PLAN)
    assert expect(Unproven, answer(none, LEFT)).message == (
        "no pack is recorded, so that nobody can tell what its warnings mean"
    )


def test_of_two_warnings_the_earlier_counts():
    """After 4200 mAh, or after 24 minutes at 15.4 A, which are 6160."""
    late = "watches: flight-time, at_min: 24, does: tells"
    for entries in ((used(4200, "tells"), late), (late, used(4200, "tells"))):
        expect(Clear, answer(warned(*entries, records=HOVER, more=PLAN), LEFT))
