"""The table for spreadsheets, as the reader of the standard library reads it."""

import csv
import io
from pathlib import Path

import pytest

from preflint.errors import NotRead, Problem
from preflint.findings.report import Report
from preflint.render.csv_report import COLUMNS, is_csv_report, render_csv

from .hostile import manifest


def rows(report: Report) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(render_csv(report), newline=""), strict=True))


def test_a_line_for_each_finding_and_open_question(judge, report, dotterel: str) -> None:
    told = rows(report(judge(dotterel), not_read=(NotRead("lost.airframe.yaml", [Problem("gone, or moved")]),)))
    assert tuple(told[0]) == COLUMNS
    first = told[0]
    assert (first["aircraft"], first["verdict"], first["word"]) == ("Dotterel", "no-go", "no-go")
    assert first["rotor"] == "front-right"
    assert (first["rule"], first["line"]) == ("retention/nut-hand", "5")
    assert first["remedy"] == "fit an adapter whose nut tightens cw"
    assert {"no-go", "caution", "not proven", "not known"} <= {row["word"] for row in told}
    assert [row["word"] for row in told][-1] == "not read"
    assert "gone, or moved" in told[-1]["message"]


@pytest.mark.parametrize("sign", ["=", "+", "-", "@", " =", "＝"])
def test_nothing_is_computed(judge, report, sign: str) -> None:
    text = f"{sign}HYPERLINK(1)"
    told = rows(report(judge(manifest(text))))
    assert {row["owner"] for row in told} == {f"'{text}"}
    assert not [cell for row in told for cell in row.values() if cell.lstrip()[:1] in tuple("=+-@＝")]


def test_lines_end_as_the_standard_has_it(judge, report, dotterel: str) -> None:
    text = render_csv(report(judge(dotterel)))
    assert text.count("\n") == text.count("\r\n") == len(text.split("\r\n")) - 1


def test_an_older_report_is_known_by_its_first_line(judge, report, dotterel: str, tmp_path: Path) -> None:
    (tmp_path / "old.csv").write_bytes(render_csv(report(judge(dotterel))).encode())
    (tmp_path / "log.csv").write_text("time_s,current_a\n0,1\n")
    assert is_csv_report(tmp_path / "old.csv")
    assert not is_csv_report(tmp_path / "log.csv")
