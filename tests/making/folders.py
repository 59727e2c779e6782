"""A club's folder of small aircraft on disk, and what a run over it told."""

import datetime as dt
from pathlib import Path
from typing import Any

from preflint.findings.report import Report
from preflint.fleet.inspect import inspect_many

DAY = dt.date(2026, 5, 21)
SMALL = "preflint: 1\naircraft: {{name: {name}, layout: quad-x}}\n{more}\n"


def three(folder: Path) -> Path:
    """A tree of three: two share a motor and a site, the third names neither."""
    write(folder / "preflint.yaml", "preflint: 1\nfield_day: {date: 2026-05-23, site: sites/far.yaml}\n")
    for name in ("one", "two"):
        manifest(folder, name, "site: sites/near.yaml\nevery_rotor: {motor: parts/big.yaml}")
    manifest(folder, "three", "records: {interference_run: [{date: 2026-05-01, field_is: raw, file: logs/run.csv}]}")
    write(folder / "parts/big.yaml", "shaft_mm: 4.0\n")
    write(folder / "sites/near.yaml", "latitude_deg: 54.4\nlongitude_deg: -2.9\n")
    write(folder / "sites/far.yaml", "latitude_deg: -33.9\nlongitude_deg: 18.4\n")
    header = "time_s,throttle_percent,current_a,field_x_ut,field_y_ut,field_z_ut\n"
    write(folder / "logs/run.csv", header + "0,0,0.2,18,0,45\n1,50,9,18,0,45\n")
    return folder


def write(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


def manifest(folder: Path, name: str, more: str = "") -> Path:
    path = folder / f"{name}.airframe.yaml"
    write(path, SMALL.format(name=name.title(), more=more))
    return path


def inspected(*paths: Path, **options: Any) -> Report:
    return inspect_many(paths, **{"judged_on": DAY, **options})


def names(report: Report) -> list[str]:
    return [one.aircraft.about.name.value for one in report.aircraft]


def said(report: Report) -> list[str]:
    return [note.message for note in report.notes]


def missed(report: Report) -> dict[str, str]:
    return {error.file: error.problems[0].message for error in report.not_read}
