"""What is recorded and declared as not judged is told by name. That nothing else is unread: test_reads."""

import datetime as dt
import json

from making.manifests import manifest

from preflint import inspect_many, render_report
from preflint.testing import inspect_text

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
