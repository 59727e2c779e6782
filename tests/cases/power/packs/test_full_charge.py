"""A pack just charged full checks the meter: both limits of every chemistry, full texts, inputs missing."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import marked

FULL = "power_sensing/full-charge"
METER = "accuracy_percent: 0.2, resolution_v: 0.001"


def charged(cells, chemistry="lipo", accuracy=METER, full=", full: true", work=()):
    entry = f"date: 2026-05-17, pack: A1{full}, cells_v: {list(cells)}, reference: {{instrument: meter, {accuracy}}}"
    pack = f"packs: [{{label: A1, chemistry: {chemistry}, cells: {len(cells)}}}]\n"
    return manifest(pack, records={"cell_voltages": entry}, logbook=work)


def test_a_cell_that_reads_too_high_in_full():
    text = charged([4.19, 4.31, 4.2])
    found = expect(Finding, answer(text, FULL, "A1"))
    assert found.message == (
        "a cell charged full reads 4.31 V, 110 mV above full charge: it is overcharged, or the meter reads high"
    )
    assert found.evidence == (
        "cells of 4.19 to 4.31 V on 2026-05-17, each ± 0.010 V (95 %); a full lipo cell has 4.20 V, and may read from "
        "4.10 to 4.25 V"
    )
    assert found.do == (
        "lay the pack outdoors, away from people and anything that burns, and neither charge nor fly it; read the "
        "meter against another one on something else, and look at what the charger is set to"
    )
    assert marked(text, found.place) == "[4.19, 4.31, 4.2]"
    assert marked(text, found.related[0].place) == "lipo"


def test_a_cell_that_reads_too_low_in_full():
    found = expect(Finding, answer(charged([4.19, 4.02, 4.2]), FULL, "A1"))
    assert found.message == (
        "a cell charged full reads 4.02 V, 180 mV below full charge: the meter reads low, the charger ended early, "
        "or the cell does not hold"
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
    assert isinstance(answer(charged(cells, chemistry), FULL, "A1"), kind)


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
    assert not isinstance(answer(charged(seen, accuracy=accuracy), FULL, "A1"), Finding)
