"""The reports of three of the club's aircraft, word for word: a change of wording is seen as a change of these files.

To renew them: preflint inspect examples/club/NAME.airframe.yaml --as-of 2026-05-21 --output tests/golden/NAME.txt
"""

import datetime as dt
from pathlib import Path

import pytest

from preflint.fleet.inspect import inspect_many
from preflint.render.text import render_text

HERE = Path(__file__).parent
CLUB = HERE.parents[1] / "examples" / "club"


@pytest.mark.parametrize("name", ["knot", "redshank", "siskin"])
def test_the_report_is_as_it_was(name: str) -> None:
    report = inspect_many([CLUB / f"{name}.airframe.yaml"], judged_on=dt.date(2026, 5, 21))
    text = render_text(report)
    assert text == (HERE / f"{name}.txt").read_text(encoding="utf-8")
    assert max(map(len, text.splitlines())) <= 80
