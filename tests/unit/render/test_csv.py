"""The table for spreadsheets, as the reader of the standard library reads it."""

import csv
import io
from dataclasses import replace
from pathlib import Path

import pytest

from preflint.errors import Legible, NotRead, Problem
from preflint.findings.report import Report
from preflint.render.csv_report import COLUMNS, is_csv_report, render_csv

from .hostile import manifest


def rows(report: Report) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO("".join(render_csv(report)), newline=""), strict=True))


def test_a_line_for_each_finding_and_open_question(judge, report, dotterel: str) -> None:
    told = rows(report(judge(dotterel), not_read=(NotRead("lost.airframe.yaml", [Problem("gone, or moved")]),)))
    assert tuple(told[0]) == COLUMNS
    first = told[0]
    assert (first["aircraft"], first["verdict"], first["word"]) == ("Dotterel", "no-go", "no-go")
    assert first["rotor"] == "front-right"
    assert (first["rule"], first["line"]) == ("retention/nut-hand", "5")
    assert first["remedy"] == "fit an adapter whose nut tightens cw"
    assert {"no-go", "caution", "not proven", "not known"} <= {row["word"] for row in told}
    (unread,) = (row for row in told if row["word"] == "not read")
    assert "gone, or moved" in unread["message"]


def test_what_is_not_read_has_the_name_and_owner_that_stand_there(report) -> None:
    problem = Problem("it breaks off")
    error = NotRead("x.airframe.yaml", [problem], Legible("Kite", "R. Ashdown", "quad-x"))
    first = rows(report(not_read=(error,)))[0]
    assert [first[name] for name in ("aircraft", "owner", "verdict", "word")] == ["Kite", "R. Ashdown", "", "not read"]


def test_the_run_stands_at_the_end_with_its_packs_and_rule_modules(judge, report, dotterel: str) -> None:
    one = replace(judge(dotterel), flown_with=("AV2",))
    tool = "preflint 0.1.0 (rules: preflint, preflint_sample)"
    told = [row["message"] for row in rows(replace(report(one), tool=tool)) if row["word"] == "report"]
    assert told[0].startswith("Manifests: 1 seen, 1 assessed, 0 not assessed.")
    assert "Packs flown today: Dotterel with AV2." in told
    assert tool in told[-1]


@pytest.mark.parametrize("sign", ["=", "+", "-", "@", " =", "＝"])
def test_nothing_is_computed(judge, report, sign: str) -> None:
    text = f"{sign}HYPERLINK(1)"
    told = rows(report(judge(manifest(text))))
    assert {row["owner"] for row in told if row["word"] != "report"} == {f"'{text}"}
    assert not [cell for row in told for cell in row.values() if cell.lstrip()[:1] in tuple("=+-@＝")]


def test_lines_end_as_the_standard_has_it(judge, report, dotterel: str) -> None:
    text = "".join(render_csv(report(judge(dotterel))))
    assert text.count("\n") == text.count("\r\n") == len(text.split("\r\n")) - 1


def test_an_older_report_is_known_by_its_first_line(judge, report, dotterel: str, tmp_path: Path) -> None:
    (tmp_path / "old.csv").write_bytes("".join(render_csv(report(judge(dotterel)))).encode())
    (tmp_path / "log.csv").write_text("time_s,current_a\n0,1\n")
    assert is_csv_report(tmp_path / "old.csv")
    assert not is_csv_report(tmp_path / "log.csv")
