"""Cells that lag behind and cells that are dead: full texts, both sides of every limit, inputs missing."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making.manifests import answer, expect, manifest
from preflint_rules.power.packs.cells import last_digit

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

DEAD = "power_sensing/dead-cell"
APART = "power_sensing/cells-apart"
METER = ", reference: {instrument: meter, accuracy_percent: 0.5, resolution_v: 0.001}"


def read(cells, chemistry="lipo", reference=METER, pack="pack: A1, ", date="2026-05-17"):
    return f"date: {date}, {pack}full: false, cells_v: {list(cells)}{reference}"


def whole(*entries, chemistry="chemistry: lipo, ", work=()):
    return manifest(f"packs: [{{label: A1, {chemistry}cells: 4}}]\n", records={"cell_voltages": entries}, logbook=work)


def of(cells, chemistry="lipo", **more):
    return whole(read(cells, **more), chemistry=f"chemistry: {chemistry}, ")


def test_a_cell_of_no_volts_in_full():
    text = of([4.1, 0, 4.1, 4.09])
    found = expect(Finding, answer(text, DEAD, "A1"))
    assert found.message == "cell 2 of 4 reads 0.00 V, less than the 3.0 V at which a cell is empty"
    assert found.evidence == (
        "cells of 4.10, 0.00, 4.10, 4.09 V on 2026-05-17: 4.10 V ± 0.001 V (95 %) apart, at most 0.3 V; the lowest "
        "0.00 V ± 0.023 V, at least 3.0 V"
    )
    assert found.do == (
        "neither fly nor charge this pack; clean the contacts of its balance plug and read every cell again; if the "
        "cell stays as low, dispose of the pack by local rules, and take it and its records out of the manifest"
    )
    assert marked(text, found.place) == "[4.1, 0, 4.1, 4.09]"
    assert inspect_text(text).verdict == "no-go"
    assert answer(text, APART, "A1") == NotApplicable("said by power_sensing/dead-cell")


def test_a_cell_far_behind_in_full():
    found = expect(Finding, answer(of([4.1, 4.1, 3.2, 4.09]), DEAD, "A1"))
    assert found.message == "cell 3 of 4 reads 3.20 V, 0.90 V below the highest"


def test_a_cell_that_lags_in_full():
    text = of([3.85, 3.85, 3.77, 3.84])
    found = expect(Finding, answer(text, APART, "A1"))
    assert found.message == "cell 3 of 4 reads 3.77 V, 80 mV below the highest"
    assert found.evidence == (
        "cells of 3.85, 3.85, 3.77, 3.84 V on 2026-05-17: 80 mV ± 1 mV (95 %) apart, at most 50 mV"
    )
    assert found.do == (
        "charge the pack with balancing, let it rest for an hour, and read every cell again; if it lags behind again, "
        "land earlier, and fly the pack no more when it falls further back"
    )
    assert marked(text, found.place) == "[3.85, 3.85, 3.77, 3.84]"
    assert isinstance(answer(text, DEAD, "A1"), Clear)


@pytest.mark.parametrize(("volts", "digit"), [
    ((4, 4, 3), 1.0), ((4.1, 4, 3.9), 0.1), ((4.15, 4.1, 4), 0.01), ((4.151, 4.1, 4), 0.001), ((4.1514,), 0.001),
])
def test_the_last_digit_is_the_finest_that_any_shows(volts, digit):
    assert last_digit(volts) == digit


def test_clear_in_full():
    text = of([3.85, 3.84, 3.85, 3.86])
    assert answer(text, DEAD, "A1") == Clear(
        "cells of 3.85, 3.84, 3.85, 3.86 V on 2026-05-17: 0.02 V ± 0.001 V (95 %) apart, at most 0.3 V; the lowest "
        "3.84 V ± 0.022 V, at least 3.0 V"
    )
    assert answer(text, APART, "A1") == Clear(
        "cells of 3.85, 3.84, 3.85, 3.86 V on 2026-05-17: 20 mV ± 1 mV (95 %) apart, at most 50 mV"
    )


# U by hand: 1.96 · √2 · 1 mV / √12 = 0.8 mV, and 1.96 · 0.5 % · 4 V / √3 = 23 mV of one reading near 4 V.
@pytest.mark.parametrize(
    ("behind_mv", "dead", "apart"),
    [(48, Clear, Clear), (50, Clear, Unproven), (52, Clear, Finding), (298, Clear, Finding), (300, Unproven, Finding),
     (302, Finding, NotApplicable)],
)  # fmt: skip
def test_both_sides_of_both_limits(behind_mv, dead, apart):
    text = of([4.0, round(4.0 - behind_mv / 1000, 3), 4.0, 4.0])
    assert isinstance(answer(text, DEAD, "A1"), dead)
    assert isinstance(answer(text, APART, "A1"), apart)


# The end of discharge of each chemistry: common practice.
@pytest.mark.parametrize(("chemistry", "empty"), [("lipo", 3.0), ("lipo-hv", 3.0), ("li-ion", 2.5), ("life", 2.5)])
@pytest.mark.parametrize(("beyond", "kind"), [(-0.03, Finding), (-0.005, Unproven), (0.005, Unproven), (0.03, Clear)])
def test_both_sides_of_empty(chemistry, empty, beyond, kind):
    assert isinstance(answer(of([round(empty + beyond, 3)] * 4, chemistry), DEAD, "A1"), kind)


def test_a_poor_meter_and_none_on_record():
    coarse = ", reference: {instrument: meter, accuracy_percent: 0.5, accuracy_v: 0.05, resolution_v: 0.01}"
    open_ = expect(Unproven, answer(of([3.85, 3.8, 3.85, 3.85], reference=coarse), APART, "A1"))
    assert open_.message == "the cells read 50 mV apart: too uncertain to tell"
    assert open_.do.endswith("read every cell again with a meter that shows mV")
    # A life cell of up to 3.40 V is not yet so full that good cells part.
    for highest, how in ((3.4, "read every cell again with a meter that shows mV"), (3.41, "read every cell again")):
        full = expect(Unproven, answer(of([highest, 3.36, 3.36, 3.36], "life", reference=coarse), APART, "A1"))
        assert full.do.endswith(how)
    assert isinstance(answer(of([4.1, 0, 4.1, 4.1], reference=""), DEAD, "A1"), Finding)
    assert isinstance(answer(of([4.1, 3.2, 4.1, 4.1], reference=""), DEAD, "A1"), Finding)
    assert isinstance(answer(of([4.1, 4.1, 4.1, 4.1], reference=""), DEAD, "A1"), Clear)


@pytest.mark.parametrize(
    ("chemistry", "cells"),
    [("lipo", [3.5, 3.42, 3.5, 3.5]), ("life", [3.55, 3.4, 3.6, 3.5]), ("li-ion", [3.2, 3.1, 3.2, 3.2])],
)
def test_where_good_cells_part_nothing_is_told(chemistry, cells):
    open_ = expect(Unproven, answer(of(cells, chemistry), APART, "A1"))
    assert open_.do == "charge the pack with balancing, let it rest for an hour, and read every cell again"


def test_life_cells_just_full_part_by_more():
    apart = [3.66, 3.33, 3.65, 3.64]
    open_ = expect(Unproven, answer(of(apart, "life"), DEAD, "A1"))
    assert open_.message == "the cells read 3.33 to 3.66 V: too uncertain to tell whether one is dead"
    assert isinstance(answer(of(apart), DEAD, "A1"), Finding)
    assert answer(whole(read(apart), chemistry=""), DEAD, "A1").cause == "absent"


def test_what_is_not_asked_or_missing():
    none = NotApplicable("no cells of this pack are recorded")
    other = manifest(
        "packs: [{label: A1, chemistry: lipo, cells: 4}, {label: A2, chemistry: lipo, cells: 4}]\n",
        records={"cell_voltages": read([4.1, 0, 4.1, 4.1], pack="pack: A2, ")},
    )
    for rule in (DEAD, APART):
        assert answer(other, rule, "A1") == none
    assert isinstance(answer(other, DEAD, "A2"), Finding)
    assert isinstance(answer(of([4.1, 0, 4.1, 4.1], pack=""), DEAD, "A1"), Finding)
    assert answer(of([4.1]), APART, "A1") == NotApplicable("the pack has one cell")
    for cells, rule in (([4.1, 4.1], DEAD), ([4.1, 4.0], APART)):
        assert answer(whole(read(cells), chemistry=""), rule, "A1").cause == "absent"
    assert isinstance(answer(whole(read([4.1, 0]), chemistry=""), DEAD, "A1"), Finding)
    stored = whole(read([4.1, 4.1]), work="date: 2026-05-18, kind: stored")
    for rule in (DEAD, APART):
        assert answer(stored, rule, "A1").cause == "stale"


def test_a_dead_cell_stays_dead_until_the_cells_are_read_again():
    dead, sound = read([4.1, 0, 4.1, 4.1]), read([4.1, 4.1, 4.1, 4.1], date="2026-05-19")
    since = whole(dead, work="date: 2026-05-18, kind: stored")
    assert expect(Finding, answer(since, DEAD, "A1")).evidence.startswith("failed on 2026-05-17, and no ")
    assert isinstance(answer(whole(dead, sound), DEAD, "A1"), Clear)


@settings(derandomize=True, deadline=None, max_examples=40)
@given(
    true=st.lists(st.floats(-0.02, 0.02), min_size=2, max_size=8), middle=st.floats(3.65, 4.18), error=st.floats(-1, 1)
)
def test_good_cells_and_a_meter_within_its_accuracy_are_never_found(true, middle, error):
    """40 mV apart at most, by a meter wrong by any share of its 0.5 %."""
    text = of([round((middle + one) * (1 + error * 0.005), 3) for one in true])
    for rule in (DEAD, APART):
        assert not isinstance(answer(text, rule, "A1"), Finding)
