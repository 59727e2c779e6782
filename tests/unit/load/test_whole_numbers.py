"""Whole numbers written with a decimal point stay whole in all that is said about them."""

from making.manifests import opening

from preflint.api import Known
from preflint.testing import inspect_text, outcome

MANIFEST = opening() + """\
packs: [{label: A1, chemistry: lipo, cells: 6.0}]
power_sensing: {input_bits: 12.0}
records:
  cell_voltages: [{date: 2026-05-17, pack: A1, cells_v: [4.1, 4.1, 4.1]}]
"""


def test_whole_numbers_with_a_point() -> None:
    inspected = inspect_text(MANIFEST)
    cells = inspected.aircraft.packs[0].cells
    assert isinstance(cells, Known)
    assert type(cells.value) is int
    assert outcome(inspected, "power_sensing/cell-count", "A1").message == (
        "the pack is written down with 6 cells, but 3 cells were measured on 2026-05-17"
    )
