"""A pack just charged full checks the meter: both limits of every chemistry, full texts, inputs missing."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

FULL = "power_sensing/full-charge"
OVER = "power_sensing/cell-overcharged"
METER = "accuracy_percent: 0.2, resolution_v: 0.001"


def charged(cells, chemistry="lipo", accuracy=METER, full=", full: true", work=()):
    entry = f"date: 2026-05-17, pack: A1{full}, cells_v: {list(cells)}, reference: {{instrument: meter, {accuracy}}}"
    pack = f"packs: [{{label: A1, chemistry: {chemistry}, cells: {len(cells)}}}]\n"
    return manifest(pack, records={"cell_voltages": entry}, logbook=work)


def test_a_cell_that_reads_too_high_in_full():
    text = charged([4.19, 4.31, 4.2])
    assert answer(text, FULL, "A1") == NotApplicable("said by power_sensing/cell-overcharged")
    found = expect(Finding, answer(text, OVER, "A1"))
    assert found.message == (
        "a cell reads 4.31 V, 110 mV above full: overcharged, or the meter reads high"
    )
    assert found.evidence == (
        "the highest cell 4.31 V ± 0.010 V (95 %) on 2026-05-17; a full lipo cell has 4.20 V, and may read up to 4.25 V"
    )
    assert found.do == (
        "lay the pack outdoors, away from people and anything that burns, and neither charge nor fly it; look at the "
        "chemistry on its label and at what the charger is set to; read the meter against another one on something "
        "else; if the meter was wrong, read the cells again"
    )
    assert marked(text, found.place) == "[4.19, 4.31, 4.2]"
    assert marked(text, found.related[0].place) == "lipo"
    assert inspect_text(text).verdict == "no-go"


def test_a_full_cell_is_clear_in_full():
    assert answer(charged([4.19, 4.2]), OVER, "A1") == Clear(
        "the highest cell 4.20 V ± 0.010 V (95 %) on 2026-05-17; a full lipo cell has 4.20 V, and may read up to 4.25 V"
    )


@pytest.mark.parametrize("full", [", full: true", ", full: false", ""])
def test_too_high_is_too_high_full_or_not_and_by_an_unknown_meter(full):
    assert isinstance(answer(charged([4.37, 4.19], full=full), OVER, "A1"), Finding)
    # By hand: 1.96 · 2 % · 4.37 / √3 = 99 mV, and 4.25 + 0.099 is less than 4.37.
    assert isinstance(answer(charged([4.37, 4.19], accuracy="resolution_v: 0.001", full=full), OVER, "A1"), Finding)
    open_ = expect(Unproven, answer(charged([4.3, 4.19], accuracy="resolution_v: 0.001", full=full), OVER, "A1"))
    assert open_.message == "a cell reads 4.30 V: too uncertain to tell whether it is overcharged"
    assert open_.do == "write down how good the meter is, or read every cell again with a better one"


def test_what_is_missing_for_overcharge():
    assert answer(manifest("packs: [{label: A1}]\n"), OVER, "A1") == NotApplicable(
        "no cells of this pack are recorded"
    )
    bare = charged([4.2]).replace("chemistry: lipo, ", "")
    assert answer(bare, OVER, "A1").cause == "absent"
    beyond_any = charged([4.47]).replace("chemistry: lipo, ", "")
    assert "a full cell has at most 4.35 V" in expect(Finding, answer(beyond_any, OVER, "A1")).evidence
    nobodys = charged([4.37]).replace("pack: A1, ", "")
    assert isinstance(answer(nobodys, OVER, "A1"), Finding)
    stored = charged([4.2], work="date: 2026-05-18, kind: stored")
    assert answer(stored, OVER, "A1").cause == "stale"
    assert "failed on 2026-05-17" in answer(charged([4.37], work="date: 2026-05-18, kind: stored"), OVER, "A1").evidence


def test_a_cell_that_reads_too_low_in_full():
    found = expect(Finding, answer(charged([4.19, 4.02, 4.2]), FULL, "A1"))
    assert found.message == "a cell charged full reads 4.02 V, 180 mV below full charge"
    assert found.evidence.startswith(
        "the meter reads low, the charger ended early, or the cell does not hold; cells of 4.02 to 4.20 V on "
    )
    assert found.do == "read the cells with another meter, and look at the charger's settings and at the pack's age"


# U by hand: 1.96 · 0.2 % · 4.2 / √3 = 9.5 mV. Full charge by chemistry: common practice.
@pytest.mark.parametrize(("chemistry", "full"), [("lipo", 4.20), ("lipo-hv", 4.35), ("li-ion", 4.20), ("life", 3.65)])
@pytest.mark.parametrize(
    ("beyond", "kind"),
    [(0.062, Finding), (0.055, Unproven), (0.045, Unproven), (0.038, Clear), (0, Clear), (-0.088, Clear),
     (-0.095, Unproven), (-0.105, Unproven), (-0.112, Finding)],
)  # fmt: skip
def test_both_sides_of_both_limits(chemistry, full, beyond, kind):
    cells = [round(full, 3), round(full + beyond, 3)]
    text = charged(cells, chemistry)
    if beyond > 0.06:
        assert isinstance(answer(text, FULL, "A1"), NotApplicable)
    assert isinstance(answer(text, OVER if beyond > 0.06 else FULL, "A1"), kind)
    assert isinstance(answer(text, OVER, "A1"), kind if beyond > 0 else Clear)


def test_too_uncertain_in_full():
    open_ = expect(Unproven, answer(charged([4.244, 4.2]), FULL, "A1"))
    assert open_.cause == "uncertain"
    assert open_.message == "cells charged full read 4.20 to 4.24 V ± 0.010 V: too uncertain to tell"
    assert open_.do == "read the cells again with a better instrument, soon after charging"


def test_what_is_not_asked_or_missing():
    nothing = NotApplicable("no cells of this pack at full charge are recorded")
    assert answer(charged([3.8, 3.8], full=""), FULL, "A1") == nothing
    assert answer(charged([3.8, 3.8], full=", full: false"), FULL, "A1") == nothing
    assert answer(charged([4.2]), FULL, "A1", "2026-05-16") == nothing
    for accuracy in ("resolution_v: 0.01", "accuracy_percent: 0"):
        open_ = expect(Unproven, answer(charged([4.2], accuracy=accuracy), FULL, "A1"))
        assert open_.cause == "absent"
    bare = charged([4.2]).replace("chemistry: lipo, ", "")
    assert answer(bare, FULL, "A1").cause == "absent"
    stored = charged([4.2], work="date: 2026-05-18, kind: stored")
    assert answer(stored, FULL, "A1").cause == "stale"


@settings(derandomize=True, deadline=None, max_examples=40)
@given(
    cells=st.lists(st.floats(4.13, 4.21), min_size=1, max_size=8), error=st.floats(-1, 1), percent=st.floats(0.1, 0.6)
)
def test_full_cells_and_a_meter_within_its_accuracy_are_never_found(cells, error, percent):
    """A meter wrong by any share of its accuracy, up to all of it."""
    seen = [round(cell * (1 + error * percent / 100), 3) for cell in cells]
    accuracy = f"accuracy_percent: {percent:.4f}, resolution_v: 0.001"
    for rule in (FULL, OVER):
        assert not isinstance(answer(charged(seen, accuracy=accuracy), rule, "A1"), Finding)
