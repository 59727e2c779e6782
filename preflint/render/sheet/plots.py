"""The plots of the field sheet: only those whose data are on record."""

from preflint.findings.inspected import Inspected
from preflint.render.sheet.plotting.canvas import Plot, style
from preflint.render.sheet.plotting.comparisons import comparisons
from preflint.render.sheet.plotting.compass import coverage, deviation
from preflint.render.sheet.plotting.energy import energy
from preflint.render.sheet.plotting.interference import interference
from preflint.render.sheet.plotting.rotors import margins, shares
from preflint.render.sheet.plotting.time_line import time_line

__all__ = ["Plot", "plots"]

_ALL = (comparisons, interference, deviation, coverage, shares, margins, energy, time_line)


def plots(one: Inspected) -> tuple[Plot, ...]:
    """Each with its inline SVG and a text alternative, in the order of the page; the same bytes each time.

    Raises ImportError where matplotlib, of the extra ``sheet``, is not installed.
    """
    with style():
        return tuple(plot for make in _ALL for plot in make(one))
