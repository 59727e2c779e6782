"""Cells against the pack, and agreement of instruments; texts in full."""

import math

import numpy as np
import pytest
from making.comparisons import volts
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import computed, inspect_text, marked, outcome

SUM = "power_sensing/cell-sum"


def cells(cells_v="[3.85, 3.84, 3.85]", pack_v="11.55", accuracy="accuracy_percent: 0.5", count=3):
    entry = (
        f"date: 2026-05-17, pack: A1, cells_v: {cells_v}, pack_v: {pack_v}, "
        f"reference: {{instrument: meter, {accuracy}}}"
    )
    pack = f"packs: [{{label: A1, chemistry: lipo, cells: {count}}}]\n"
    return manifest(pack, records={"cell_voltages": entry})


def test_a_cell_that_reads_low_in_full():
    text = cells("[3.85, 3.84, 3.62]")
    found = expect(Finding, answer(text, SUM, "A1"))
    assert found.message == "the cells add up to 11.31 V, 0.24 V less than the whole pack"
    assert found.evidence == (
        "3.85 + 3.84 + 3.62 = 11.31 V, the whole pack 11.55 V on 2026-05-17: difference -0.24 V, "
        "of which the instrument explains 0.09 V (95 %)"
    )
    assert found.do == (
        "read every cell and the whole pack again; if it stays, look at the contacts of the balance plug"
    )
    assert marked(text, found.place) == "11.55"
    assert marked(text, found.related[0].place) == "[3.85, 3.84, 3.62]"


BOTH_SIDES = [("11.45", Clear), ("11.44", Finding), ("11.63", Clear), ("11.64", Finding)]


# Worked out by hand: 1.96 · √((0.005·11.54)²/3 + (0.005·11.54)²/3 + 4·0.01²/12) = 0.093 V.
@pytest.mark.parametrize(("pack_v", "kind"), BOTH_SIDES)
def test_both_sides_of_what_the_instrument_explains(pack_v, kind):
    assert isinstance(answer(cells(pack_v=pack_v), SUM, "A1"), kind)


def test_a_fixed_accuracy_counts_for_every_cell():
    # 1.96 · √((3·0.02)²/3 + 0.02²/3 + 4·0.01²/12) = 0.073 V.
    for pack_v, kind in (("11.61", Clear), ("11.62", Finding)):
        assert isinstance(answer(cells(pack_v=pack_v, accuracy="accuracy_v: 0.02"), SUM, "A1"), kind)


def test_the_last_digit_counts_for_every_cell_and_the_pack():
    # 1.96 · √(4·0.1²/12 + 2·(0.001·11.54)²/3) = 0.115 V.
    for pack_v, kind in (("11.65", Clear), ("11.66", Finding)):
        coarse = cells(pack_v=pack_v, accuracy="accuracy_percent: 0.1, resolution_v: 0.1")
        assert isinstance(answer(coarse, SUM, "A1"), kind)


# Worked out by hand for two cells of 3.85 V and one of 3.84 V: with a meter of a %, U = 1.96 · a · √2 · 11.54 / √3
# and a little for the digits; 1 % of 11.54 V is reached at a = 0.62.
@pytest.mark.parametrize(("percent", "kind"), [("0.61", Clear), ("0.63", Unproven), ("50", Unproven)])
def test_an_instrument_too_coarse_to_tell(percent, kind):
    text = cells(pack_v="11.54", accuracy=f"accuracy_percent: {percent}")
    assert isinstance(answer(text, SUM, "A1"), kind)


def test_an_instrument_too_coarse_in_full():
    text = cells(accuracy="accuracy_percent: 2.0")
    open_ = expect(Unproven, answer(text, SUM, "A1"))
    assert open_.cause == "uncertain"
    assert open_.message == "the cells add up to 11.54 V, the pack reads 11.55 V: too uncertain to tell"
    assert open_.evidence.startswith("one range of the instrument may differ from the other; ")
    assert "of which the instrument explains 0.37 V (95 %)" in open_.evidence
    assert open_.do == "read every cell and the whole pack again with a better instrument"
    assert marked(text, open_.place) == "11.55"


def test_no_instrument_is_exact():
    open_ = expect(Unproven, answer(cells(accuracy="accuracy_percent: 0"), SUM, "A1"))
    assert open_.cause == "absent"
    assert open_.message == "the meter's accuracy is written as 0, but no meter is without error"
    beside = cells(accuracy="accuracy_percent: 0, accuracy_v: 0.01")
    assert isinstance(answer(beside, SUM, "A1"), Clear)


# A common gain error cancels in the difference, one of a range's own does not. Simulated with both: the rule takes
# them as independent, so that honest cells are found at most as often as 5 %.
@pytest.mark.parametrize("common", [0.0, 0.5, 1.0])
def test_honest_cells_are_seldom_found(common):
    rng = np.random.default_rng(11)
    honest, worth = np.array([3.85, 3.84, 3.85]), 0.005
    found = 0
    for _ in range(100):
        both, *apart = rng.uniform(-worth, worth, 3)
        gains = [1 + math.sqrt(common) * both + math.sqrt(1 - common) * one for one in apart]
        seen, whole = np.round(honest * gains[0], 3), round(float(honest.sum()) * gains[1], 2)
        text = cells(f"[{', '.join(f'{one:.3f}' for one in seen)}]", f"{whole:.2f}")
        found += isinstance(answer(text, SUM, "A1"), Finding)
    assert found <= 10


def test_the_latest_of_several_records_counts():
    text = cells("[3.85, 3.84, 3.62]") + cells().split("  cell_voltages:\n")[1].replace("05-17", "05-18")
    assert isinstance(answer(text, SUM, "A1"), Clear)
    assert isinstance(outcome(inspect_text(text, judged_on="2026-05-17"), SUM, "A1"), Finding)
    same_day = expect(Finding, answer(text.replace("05-18", "05-17"), SUM, "A1"))  # the one that failed counts
    assert same_day.evidence.startswith("failed on 2026-05-17, and no ")


def test_cells_that_cannot_be_judged():
    assert isinstance(answer(cells(accuracy="resolution_v: 0.01"), SUM, "A1"), Unproven)
    other = answer(cells(count=4), SUM, "A1")
    assert other == NotApplicable("3 cells are recorded, not 4: see cell-count")
    nothing = NotApplicable("no voltages of its cells and of the whole pack are recorded together")
    assert answer(cells().partition("records:")[0], SUM, "A1") == nothing
    assert answer(cells().replace(" pack_v: 11.55,", ""), SUM, "A1") == nothing
    other_pack = cells().replace("pack: A1", "pack: B2").replace("packs: [", "packs: [{label: B2}, ")
    assert answer(other_pack, SUM, "A1") == nothing


def two(first, second, names=("bench meter", "clamp"), logbook=()):
    entries = []
    for day, name, (ratio, percent, v) in zip(("2026-05-10", "2026-05-17"), names, (first, second), strict=True):
        reference = f"instrument: {name}, accuracy_percent: {percent}, resolution_v: 0.001"
        entries.append(volts(f"[[16.001, {v}]]", reference, ratio, date=day))
    fitted = "power_sensing: {divider_ratio: 10.0}\n"
    return manifest(fitted, records={"voltage_comparison": entries}, logbook=logbook)


def test_two_instruments_that_agree_or_do_not():
    # By hand: ratios asked for 10.0 and 10.09999, U = 2 · 0.5 % / √3 each: 0.1 / √(0.0577² + 0.0583²) = 1.218.
    seen = inspect_text(two((10.0, 0.5, "16.001"), (10.0, 0.5, "16.161")))
    assert computed(seen, "normalised_error", "volts").value == pytest.approx(1.218, rel=1e-3)
    # The setting corrected in between: the display then read 1 % more, and the second meter confirms it.
    seen = inspect_text(two((10.0, 0.5, "16.161"), (10.1, 0.5, "16.001")))
    assert computed(seen, "normalised_error", "volts").value == pytest.approx(0, abs=2e-4)


def test_no_agreement_is_told_of_one_instrument_or_two_sensors():
    for text in (
        two((10.0, 0.5, "16.001"), (10.0, 0.5, "16.161"), ("Bench meter", "bench meter")),
        two(
            (10.0, 0.5, "16.001"), (10.0, 0.5, "16.161"),
            logbook="date: 2026-05-12, kind: replaced, part: power-sensor",
        ),
    ):
        with pytest.raises(LookupError):
            computed(inspect_text(text), "normalised_error", "volts")
