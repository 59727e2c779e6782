"""Logs of few rows to a step: from three on the steps are told, below that the log is cut into pieces."""

import numpy as np
import pytest
from making.logs import COLUMNS, answer, csv, field
from making.manifests import expect

from preflint.api import Clear


# 120 rows: 40 steps of three rows each, or 60 of two.
@pytest.mark.parametrize(("rows", "told"), [(3, "40 steps to "), (2, "30 pieces without steps to ")])
def test_three_rows_make_a_step(rows, told):
    half = 60 // rows
    amperes = np.repeat([*np.linspace(0, 30, half + 1)[:-1], *np.linspace(30, 0, half)], rows)  # up, and down again
    log = csv(COLUMNS[2:], amperes, field(amperes, noise=0.02))
    assert told in expect(Clear, answer(log)).evidence
