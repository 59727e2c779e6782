"""Which columns of a record's table are read, and in what unit."""

import numpy as np
import pytest

from preflint.api import Known
from preflint.errors import NotRead
from preflint.testing import inspect_text

START = """\
preflint: 1
aircraft: {name: Trial, layout: quad-x}
records:
  interference_run:
    - {date: 2026-05-01, file: log.csv}
"""


def columns(manifest: str, log: str = "") -> dict[str, list[float]]:
    run = inspect_text(manifest, files={"log.csv": log}).aircraft.records.interference_run[0]
    assert isinstance(run.table, Known)
    return {name: run.table.value.column(name).tolist() for name in run.table.value.columns}


def test_microtesla_and_milligauss_give_one_field() -> None:
    # 1 G = 1e-4 T (SI brochure, 9th ed., table of non-SI units as in earlier editions; from memory).
    in_ut = columns(START, "current_a,field_x_ut,field_y_ut,field_z_ut\n1.0,10.0,-20.0,45.0\n")
    in_mgauss = columns(START, "current_a;field_x_mgauss;field_y_mgauss;field_z_mgauss\n1.0;100;-200;450\n")
    assert list(in_mgauss) == list(in_ut) == ["current_a", "field_x_ut", "field_y_ut", "field_z_ut"]
    assert np.allclose(list(in_ut.values()), list(in_mgauss.values()), rtol=1e-12)


def test_each_column_is_converted_after_its_own_unit() -> None:
    log = "field_x_mgauss,field_y_ut,field_z_mgauss,current_a\n100,-20.0,450,1.0\n"
    inline = (
        START.partition("    - ")[0] + "    - date: 2026-05-01\n"
        "      columns: [field_x_mgauss, field_y_ut, field_z_mgauss, current_a]\n      rows: [[100, -20.0, 450, 1.0]]\n"
    )
    for found in (columns(START, log), columns(inline)):
        # 1 G = 1e-4 T (SI brochure, 9th ed., table of non-SI units as in earlier editions; from memory).
        expected = {"current_a": 1.0, "field_x_ut": 10.0, "field_y_ut": -20.0, "field_z_ut": 45.0}
        assert {name: round(values[0], 9) for name, values in found.items()} == expected


def test_columns_that_nobody_asks_for_may_hold_anything() -> None:
    log = "note,current_a,field_z_ut,field_y_ut,field_x_ut,time_s\nfirst,1.0,45.0,-20.0,10.0,0.5\n"
    assert columns(START, log) == {
        "time_s": [0.5], "current_a": [1.0], "field_x_ut": [10.0], "field_y_ut": [-20.0], "field_z_ut": [45.0],
    }


def test_a_missing_column_is_named_at_the_heading() -> None:
    with pytest.raises(NotRead) as refused:
        columns(START, "current_a,field_x_ut,field_y_ut\n1.0,10.0,-20.0\n")
    (problem,) = refused.value.problems
    assert problem.message.startswith('the column "field_z_ut" (or "field_z_mgauss") is missing')
    assert problem.place
    assert (refused.value.file, problem.place.file, problem.place.line) == ("trial.airframe.yaml", "log.csv", 1)


def test_a_missing_log_is_named_where_it_is_referred_to() -> None:
    with pytest.raises(NotRead) as refused:
        inspect_text(START)
    (problem,) = refused.value.problems
    assert problem.place
    assert (problem.place.file, problem.place.line, problem.place.column) == ("trial.airframe.yaml", 5, 32)


def test_every_bad_table_is_told_in_one_go() -> None:
    two = START + "    - {date: 2026-05-02, file: other.csv}\n"
    with pytest.raises(NotRead) as refused:
        inspect_text(two, files={"log.csv": "current_a\n", "other.csv": ""})
    assert {problem.place.file for problem in refused.value.problems if problem.place} == {"log.csv", "other.csv"}
