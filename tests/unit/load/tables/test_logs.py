"""Logs and tables as people hand them in: what is wrong is told with file, line, column and what to do."""

import gzip
import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from making.manifests import opening

from preflint.api import Known
from preflint.errors import NotRead
from preflint.load.tables.table import Table
from preflint.testing import inspect_text

HEADING = "time_s,current_a,field_x_ut,field_y_ut,field_z_ut\n"
START = f"{opening()}records:\n"
NAMED = START + "  interference_run:\n    - {date: 2026-05-01, file: log.csv}\n"

Told = tuple[str, int, int, int, str]
"""File, line, column, end column and message."""


def told(manifest: str, log: str | None = None) -> list[Told]:
    with pytest.raises(NotRead) as refused:
        inspect_text(manifest, files={} if log is None else {"log.csv": log})
    found = []
    for problem in refused.value.problems:
        assert problem.place is not None
        place = problem.place
        assert place.end_line == place.line
        found.append((place.file, place.line, place.column, place.end_column, problem.message))
    return found


def table_of(manifest: str, log: str | None = None, kind: str = "interference_run") -> Table:
    inspected = inspect_text(manifest, files={} if log is None else {"log.csv": log})
    table = inspected.aircraft.records.of_kind(kind)[0].table  # type: ignore[attr-defined]
    assert isinstance(table, Known)
    assert isinstance(table.value, Table)
    return table.value


BACKWARDS = "time runs backwards; put the rows in the order of time, and each log in a table of its own"
AGAIN = "with other readings; log the time with more digits, or leave time_s out"
REPEATED = "this row repeats the one before it, with the same time and readings; delete one of the two"


@pytest.mark.parametrize(("rows", "row", "message"), [
    (["0,1,9,0,0", "2,2,9,0,0", "1,3,9,0,0"], 2, f'column "time_s": 1 comes after 2: {BACKWARDS}'),
    (["0,1,9,0,0", "1,2,9,0,0", "0,1,9,0,0"], 2, f'column "time_s": 0 comes after 1: {BACKWARDS}'),
    (["0,1,9,0,0", "0,2,9,0,0", "1,3,9,0,0"], 1, f'column "time_s": 0 stands in the row before as well, {AGAIN}'),
    (["0,1,9,0,0", "1,2,9,0,0", "1,2,9,0,0"], 2, REPEATED),
    (["-1,1,9,0,0", "-2,2,9,0,0"], 1, f'column "time_s": -2 comes after -1: {BACKWARDS}'),
    (["716300000.002,1,9,0,0", "716300000.001,2,9,0,0"],
     1,
     f'column "time_s": 716300000.001 comes after 716300000.002: {BACKWARDS}'),
])
def test_a_time_that_does_not_go_on(rows: list[str], row: int, message: str) -> None:
    clock = rows[row].index(",")
    log = HEADING + "\n".join(rows) + "\n"
    assert told(NAMED, log) == [("log.csv", row + 2, 1, clock + 1, message)]
    # Quotes around one value make the reader go line by line.
    assert told(NAMED, log.replace(rows[0], rows[0] + " ")) == [("log.csv", row + 2, 1, clock + 1, message)]
    inline = f"{START}  interference_run:\n    - date: 2026-05-01\n      columns: [{HEADING.strip()}]\n      rows:\n"
    inline += "".join(f"        - [{line}]\n" for line in rows)
    assert told(inline) == [("trial.airframe.yaml", row + 8, 12, clock + 12, message)]


THROTTLE = "throttle_percent,current_a,field_x_ut,field_y_ut,field_z_ut\n"
PULSE = (
    'column "throttle_percent": VALUE does not lie between 0 and 100; if the column holds another unit, such as a '
    "pulse width, convert it or leave the column out"
)


@pytest.mark.parametrize("value", ["1500", "100.1", "-0.1"])
def test_a_throttle_that_is_no_per_cent(value: str) -> None:
    message = PULSE.replace("VALUE", value)
    log = f"{THROTTLE}0,1,9,0,0\n100,1,9,0,0\n{value},2,9,0,0\n"
    assert told(NAMED, log) == [("log.csv", 4, 1, len(value) + 1, message)]
    columns = THROTTLE.strip().replace(",", ", ")
    inline = (
        START + f"  interference_run:\n    - date: 2026-05-01\n      columns: [{columns}]\n"
        f"      rows:\n        - [0, 1, 9, 0, 0]\n        - [{value}, 2, 9, 0, 0]\n"
    )
    assert told(inline) == [("trial.airframe.yaml", 9, 12, 12 + len(value), message)]


@pytest.mark.parametrize("value", ["0", "100", "50.5"])
def test_a_throttle_in_per_cent(value: str) -> None:
    assert table_of(NAMED, f"{THROTTLE}{value},1,9,0,0\n").column("throttle_percent")[0] == float(value)


def test_the_clock_may_stand_in_any_column_and_only_it_must_go_on() -> None:
    heading = "current_a;field_z_ut;field_y_ut;field_x_ut;time_s;throttle_percent\n"
    log = heading + "3;9;0;0;0.5;20\n2;9;0;0;0.75;20\n2;9;0;0;0.875;10\n"
    assert table_of(NAMED, log).column("time_s").tolist() == [0.5, 0.75, 0.875]
    again = told(NAMED, log + "2;9;0;0;0.8750;10\n")
    assert again == [("log.csv", 5, 9, 15, REPEATED)]


def test_every_kind_of_record_with_a_clock_has_it_watched() -> None:
    start = START + "  compass_rotation:\n    - {date: 2026-05-01, "
    rows = ["0,9,0,0", "1,0,9,0", "1,0,9,0"]
    log = "time_s,field_x_ut,field_y_ut,field_z_ut\n" + "\n".join(rows)
    assert told(start + "file: log.csv}\n", log) == [("log.csv", 4, 1, 2, REPEATED)]
    inline = ", ".join(f"[{row}]" for row in rows)
    columns = "columns: [time_s, field_x_ut, field_y_ut, field_z_ut]"
    ((file, line, _, _, message),) = told(f"{start}{columns}, rows: [{inline}]}}\n")
    assert (file, line, message) == ("trial.airframe.yaml", 5, REPEATED)


def test_a_log_without_a_clock_may_repeat_itself() -> None:
    log = HEADING.replace("time_s,", "") + "1,9,0,0\n" * 3
    assert table_of(NAMED, log).rows_read == 3


def test_one_step_back_is_told_once_and_in_the_right_line_of_a_long_log() -> None:
    times = list(range(400_000))
    times[300_001:300_001] = [300_000]  # one row twice, in the middle of a portion
    times[350_000], times[350_001] = times[350_001], times[350_000]
    log = HEADING + "".join(f"{time},1,9,0,0\n" for time in times)
    assert told(NAMED, log) == [
        ("log.csv", 300_003, 1, 7, REPEATED),
        ("log.csv", 350_003, 1, 7, f'column "time_s": 349999 comes after 350000: {BACKWARDS}'),
    ]


@pytest.mark.parametrize("filler", [1, 3, 7, 11])
def test_a_step_back_where_one_portion_of_the_file_ends_is_found(filler: int) -> None:
    """Portions end after a mebibyte: rows of many lengths put the fault on both sides of the seam."""
    wide = "1" * filler
    lines, size, portion = [], len(HEADING), 1024 * 1024
    for time in range(200_000):
        lines.append(f"{time},{wide},9,0,0\n")
        size += len(lines[-1])
        if size > portion:
            break
    for row in range(len(lines) - 2, len(lines) + 2):
        times = [*range(row), row - 1, *range(row, len(lines) + 2)]
        log = HEADING + "".join(f"{time},{wide},9,0,0\n" for time in times)
        assert [(line, message) for _, line, _, _, message in told(NAMED, log)] == [(row + 2, REPEATED)]


ROW = "0,1,9,0,0\n"
FOREIGN: dict[str, tuple[Callable[[Path], object], str, int, int, str]] = {
    "empty": (lambda log: log.write_bytes(b""), "log", 1, 1, "the file is empty; its first line must name the columns"),
    "heading": (
        lambda log: log.write_text(HEADING),
        "log", 1, 1, "the table has a heading but no rows; write the readings below it",
    ),
    "wide": (
        lambda log: log.write_text(HEADING + ROW, encoding="utf-16"),
        "log", 1, 1, "the file is saved as UTF-16; save it as UTF-8",
    ),
    "wide-unmarked": (
        lambda log: log.write_text(HEADING + ROW, encoding="utf-16-le"),
        "log", 1, 1, "the file holds zero bytes, as UTF-16, UTF-32 and binary files do; save it as UTF-8 text",
    ),
    "packed": (
        lambda log: log.write_bytes(gzip.compress((HEADING + ROW).encode())),
        "log", 1, 1, "the file is compressed; unpack it first",
    ),
    "cut-off": (
        lambda log: log.write_text(HEADING + ROW + "1,1,9"),
        "log", 3, 1, "3 values where the heading names 5 columns; write every reading, or delete the row",
    ),
    "padded": (
        lambda log: log.write_bytes((HEADING + ROW).encode() + bytes(4096)),
        "log", 3, 1, "a control character (U+0000), which cannot be seen; delete it",
    ),
    "folder": (lambda log: log.mkdir(), "manifest", 3, 55, "folder.csv: it is a folder, not a file"),
    "pipe": (lambda log: os.mkfifo(log), "manifest", 3, 55, "pipe.csv: it is not a regular file"),
    "link": (
        lambda log: log.symlink_to(__file__),
        "manifest", 3, 55, "link.csv: it is a link or leads through one; links are not followed",
    ),
    "gone": (lambda log: None, "manifest", 3, 55, ("gone.csv: there is no such file; "
             "its folder has folder.csv, endless.csv, link.csv, pipe.csv and 7 more")),
    "endless": (
        lambda log: (log.touch(), os.truncate(log, 2 * 1024**3 + 1)),
        "manifest", 3, 55, "endless.csv: the file has 2147483649 bytes; at most 2147483648 are read",
    ),
}  # fmt: skip


def test_what_is_no_table_is_told_by_the_program(tmp_path: Path) -> None:
    for name, (make, *_) in FOREIGN.items():
        record = f"records: {{interference_run: [{{date: 2026-05-01, file: {name}.csv}}]}}\n"
        (tmp_path / f"{name}.airframe.yaml").write_text(START.replace("records:\n", record))
        make(tmp_path / f"{name}.csv")
    program = [str(Path(sys.executable).with_name("preflint")), "inspect", "--format", "json", str(tmp_path)]
    run = subprocess.run(program, capture_output=True, text=True, timeout=120)
    assert (run.returncode, run.stderr) == (3, "")
    found = {}
    for refused in json.loads(run.stdout)["not_read"]:
        (problem,) = refused["problems"]
        place = problem["place"]
        found[refused["file"]] = (place["file"], place["line"], place["column"], problem["message"])
    files = {"log": "{}.csv", "manifest": "{}.airframe.yaml"}
    assert found == {
        f"{name}.airframe.yaml": (files[at].format(name), line, column, message)
        for name, (_, at, line, column, message) in FOREIGN.items()
    }
