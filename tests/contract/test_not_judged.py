"""Every field of a manifest is read by a rule or a figure, or declared as not judged, and then told by name."""

import datetime as dt
import json

from making.manifests import manifest
from making.reads import GROUPS, judge_all, watched

from preflint import inspect_many, render_report
from preflint.aircraft.declared import declarations
from preflint.testing import inspect_text

# They stand in the place of the site's before a rule is asked: tests/unit/policy/test_days.py.
IN_PLACE_OF_THE_SITES = {"Day.station_pressure_hpa", "Day.sea_level_pressure_hpa"}


def test_what_nothing_reads_is_declared_so_and_nothing_else():
    with watched() as told:
        judge_all()
    read = set().union(*told.values())
    every = {(group, name): said.unjudged for group in GROUPS for name, said in declarations(group).items()}
    silent = {f"{group.__name__}.{name}" for group, name in every if (group, name) not in read}
    declared = {f"{group.__name__}.{name}" for (group, name), unjudged in every.items() if unjudged}
    unread = "read by nothing: write a rule, or say unjudged= in its declaration"
    assert silent - declared == IN_PLACE_OF_THE_SITES, unread
    assert declared - silent == set(), "declared as not judged, and read all the same"


RECORDED = manifest(
    "every_rotor: {motor: {make: Merle 3508}}\n"
    "packs: [{label: A1, cells: 4}, {label: A2, cells: 4}]\n",
    logbook="date: 2026-05-01, kind: moved, part: payload, note: for the camera",
)


def test_what_is_recorded_and_not_judged_is_told_once_by_name(tmp_path):
    (tmp_path / "trial.airframe.yaml").write_text(RECORDED, encoding="utf-8")
    report = inspect_many([tmp_path], judged_on=dt.date(2026, 5, 21))
    seen = inspect_text(RECORDED)
    assert [(one.what, one.why) for one in seen.unjudged] == [
        ("aircraft.name", "label"),
        ("motor.make", "label"), ("logbook.note", "label"),
    ]
    told = json.loads(render_report(report, "json"))["aircraft"][0]["unjudged"]
    assert told[1]["place"]["line"] == 3
    assert [one["what"] for one in told] == [one.what for one in seen.unjudged]


def test_a_bare_manifest_has_only_its_name():
    assert [one.what for one in inspect_text(manifest()).unjudged] == ["aircraft.name"]
