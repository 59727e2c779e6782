"""Every field of a manifest is read by a rule or a figure, or declared as not judged, and then told by name."""

import datetime as dt
import json
from typing import get_args

import pytest
from making.fragments import whole
from making.manifests import CLUB, FILES, manifest

from preflint import inspect_many, inspection, render_report
from preflint.aircraft.declared import declarations, hints_of, is_group
from preflint.aircraft.model import Aircraft
from preflint.engine.rule_module import builtin_and
from preflint.findings.manual import failing, passing
from preflint.testing import inspect_text

TURNED = [[x, y, z] for x in (-40, 0, 40) for y in (-20, 20) for z in (-30, 5)]
ROTATION = f"columns: [field_x_ut, field_y_ut, field_z_ut], rows: {TURNED}"
# What neither the club nor a manual page has, though a rule would read it.
MORE = manifest(
    "site: {latitude_deg: 54.4, longitude_deg: -2.9, elevation_m: 150}\nbarometer: {}\n"
    "compass: {hard_iron_ut: [1, 2, 3], soft_iron: [[1, 0, 0], [0, 1, 0], [0, 0, 1]]}\n",
    records={
        "compass_rotation": f"date: 2026-05-18, field_is: compensated, {ROTATION}, "
        "in_force: {hard_iron_ut: [1, 2, 3], soft_iron: [[1, 0, 0], [0, 1, 0], [0, 0, 1]]}",
        "barometer_check": "date: 2026-05-18, indicated_hpa: 1000, sea_level_pressure_hpa: 1018, "
        "reference: {accuracy_hpa: 1}",
    },
)


def groups_in(hint, found):
    """Every declared group that a value of this type can hold."""
    if is_group(hint) and hint not in found:
        found.add(hint)
        for inner in hints_of(hint).values():
            groups_in(inner, found)
    for inner in get_args(hint):
        groups_in(inner, found)
    return found


GROUPS = groups_in(Aircraft, set())


@pytest.fixture
def read(monkeypatch):
    """(group, field) for all that rules and figures ask an aircraft for."""
    asked, judging = set(), []

    def watch(group):
        fields = frozenset(declarations(group))

        def get(self, name):
            if judging and name in fields:
                asked.add((group, name))
            return object.__getattribute__(self, name)

        monkeypatch.setattr(group, "__getattribute__", get, raising=False)

    def judge(*given):
        judging.append(True)
        try:
            return really(*given)
        finally:
            judging.pop()

    really = inspection.judge
    monkeypatch.setattr(inspection, "judge", judge)
    for group in GROUPS:
        watch(group)
    return asked


def test_what_nothing_reads_is_declared_so_and_nothing_else(read):
    for path in CLUB.glob("*.airframe.yaml"):
        inspect_text(path.read_text(encoding="utf-8"), files=FILES)
    for rule in (rule.info for rule in builtin_and([]).rules):
        inspect_text(whole(rule.topic, failing(rule.manual)))
        inspect_text(whole(rule.topic, passing(rule.manual)))
    inspect_text(MORE)
    every = {(group, name): said.unjudged for group in GROUPS for name, said in declarations(group).items()}
    silent = {f"{group.__name__}.{name}" for group, name in every if (group, name) not in read}
    declared = {f"{group.__name__}.{name}" for (group, name), unjudged in every.items() if unjudged}
    assert silent - declared == set(), "read by nothing: write a rule, or say unjudged= in its declaration"
    assert declared - silent == set(), "declared as not judged, and read all the same"


RECORDED = manifest(
    "every_rotor: {motor: {make: Merle 3508, kv_rpm_per_v: 420}, esc: {max_cells: 6}}\n"
    "packs: [{label: A1, cells: 4, rated_c: 25}, {label: A2, cells: 4, rated_c: 30}]\n",
    records={
        "six_positions": "date: 2026-05-18, columns: [accel_x_m_s2, accel_y_m_s2, accel_z_m_s2], rows: [[0, 0, 9]]",
    },
    logbook="date: 2026-05-01, kind: moved, part: payload, note: for the camera",
)


def test_what_is_recorded_and_not_judged_is_told_once_by_name(tmp_path):
    (tmp_path / "trial.airframe.yaml").write_text(RECORDED, encoding="utf-8")
    report = inspect_many([tmp_path], judged_on=dt.date(2026, 5, 21))
    seen = inspect_text(RECORDED)
    assert [(one.what, one.why) for one in seen.unjudged] == [
        ("aircraft.name", "label"),
        ("motor.make", "label"), ("motor.kv_rpm_per_v", "no-rule"), ("esc.max_cells", "no-rule"),
        ("packs.rated_c", "no-rule"), ("packs.rated_c", "no-rule"),
        ("records.six_positions.table", "no-rule"), ("logbook.note", "label"),
    ]
    text = " ".join(render_report(report, "text").split())
    assert "Recorded and not judged, since no built-in rule reads it: motor.kv_rpm_per_v, esc.max_cells," in text
    told = json.loads(render_report(report, "json"))["aircraft"][0]["unjudged"]
    assert told[1]["place"]["line"] == 3
    assert [one["what"] for one in told] == [one.what for one in seen.unjudged]


def test_a_bare_manifest_has_only_its_name():
    assert [one.what for one in inspect_text(manifest()).unjudged] == ["aircraft.name"]
