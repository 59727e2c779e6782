"""Medians and distinct rows against numpy's own, and what they are for: numpy's masked arrays stay unloaded."""

import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import array_shapes, arrays
from making.manifests import CLUB

from preflint.compute.rows import distinct, median

ROWS = arrays(float, array_shapes(min_dims=1, max_dims=2, max_side=7), elements=st.integers(-3, 3).map(lambda n: n / 4))
FEW = settings(derandomize=True, deadline=None)

JUDGED = """
import datetime as dt
import sys
import numpy
print("numpy.ma" in sys.modules)
import preflint
for path in sys.argv[1:]:
    preflint.inspect(path, judged_on=dt.date(2026, 5, 21))
print("numpy.ma" in sys.modules)
"""


@FEW
@given(ROWS)
def test_medians(rows):
    np.testing.assert_array_equal(median(rows), np.median(rows, axis=0))


@FEW
@given(ROWS)
def test_distinct_rows(rows):
    np.testing.assert_array_equal(distinct(rows), np.unique(rows, axis=0))


def test_the_club_is_judged_without_masked_arrays():
    """They take as long to load as half of numpy; some versions of numpy load them by themselves."""
    paths = sorted(map(str, CLUB.glob("*.airframe.yaml")))
    run = subprocess.run([sys.executable, "-c", JUDGED, *paths], capture_output=True, text=True, check=True)
    at_once, in_the_end = run.stdout.split()
    if at_once == "True":
        pytest.skip("this numpy loads them at once")
    assert in_the_end == "False"
