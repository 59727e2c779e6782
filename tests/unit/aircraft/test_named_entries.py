"""What nobody recorded is named as people say it: its key and its record, with the date."""

import dataclasses

import pytest

from preflint.api import Absent
from preflint.testing import inspect_text

BARE = "preflint: 1\naircraft: {name: Lapwing, layout: quad-x}\n"


def told(text: str) -> set[str]:
    """Everything in packs, records and logbook that nobody recorded."""
    aircraft = inspect_text(text).aircraft
    assert aircraft is not None
    found: set[str] = set()

    def gather(thing: object) -> None:
        if isinstance(thing, Absent):
            found.add(thing.what)
        elif isinstance(thing, tuple):
            for item in thing:
                gather(item)
        elif dataclasses.is_dataclass(thing):
            for part in dataclasses.fields(thing):
                gather(getattr(thing, part.name))

    gather((aircraft.packs, aircraft.records, aircraft.logbook))
    return found


READINGS = "columns: [indicated_v, reference_v], rows: [[24.02, 24.11]]"


@pytest.mark.parametrize(("written", "named"), [
    (
        f"records: {{voltage_comparison: [{{date: 2026-05-16, {READINGS}}}]}}",
        [
            "loaded of the voltage comparison of 2026-05-16",
            "divider_ratio in force during the voltage comparison of 2026-05-16",
            "reference.accuracy_percent of the voltage comparison of 2026-05-16",
        ],
    ),
    (
        (
            f"records: {{voltage_comparison: [{{date: 2026-05-16 10:30, {READINGS}}}, "
            f"{{date: 2026-05-16, {READINGS}}}]}}"
        ),
        ["loaded of the voltage comparison of 2026-05-16 10:30", "loaded of the voltage comparison of 2026-05-16"],
    ),
    (
        f"records: {{voltage_comparison: [{{date: 2026-05-16, {READINGS}}}, {{date: 2026-05-16, {READINGS}}}]}}",
        [
            "divider_ratio in force during the first voltage comparison of 2026-05-16",
            "divider_ratio in force during the second voltage comparison of 2026-05-16",
        ],
    ),
    (
        (
            f"records: {{voltage_comparison: [{{date: 2026-05-16, pack: A1, {READINGS}}}, "
            f"{{date: 2026-05-16, pack: A2, {READINGS}}}]}}"
        ),
        [
            "loaded of the voltage comparison of 2026-05-16 with pack A1",
            "loaded of the voltage comparison of 2026-05-16 with pack A2",
        ],
    ),
    (
        (
            "records: {nut_test: [{date: 2026-05-16, at: rear-left, motor_turned: cw, nut: runs-on}, "
            "{date: 2026-05-16, at: rear-right, motor_turned: cw, nut: runs-on}, "
            "{date: 2026-05-17, at: rear-left, motor_turned: cw, nut: runs-on}]}"
        ),
        [
            "nut_turned of the nut test of 2026-05-16 at rear-left",
            "nut_turned of the nut test of 2026-05-16 at rear-right", "nut_turned of the nut test of 2026-05-17",
        ],
    ),
    (
        "records: {tilt_test: [{date: 2026-05-16, moves: [{did: nose-down}, {did: right-down}]}]}",
        [
            "props of the tilt test of 2026-05-16", "indicated of the move nose-down of the tilt test of 2026-05-16",
            "indicated of the move right-down of the tilt test of 2026-05-16",
        ],
    ),
    ("packs: [{label: A1, cells: 4}]", ["chemistry of the pack A1", "lead.gauge_awg of the pack A1"]),
    ("packs: [{cells: 4}]", ["label of the pack"]),
    ("packs: [{cells: 4}, {cells: 6}]", ["label of the first pack", "label of the second pack"]),
    ("logbook: [{date: 2026-05-09, kind: crashed}]", ["part of the logbook entry of 2026-05-09"]),
])
def test_what_is_missing_is_named_with_its_record(written: str, named: list[str]) -> None:
    found = told(f"{BARE}{written}\n")
    assert set(named) <= found
    assert not [what for what in found if "[" in what]


def test_records_of_several_kinds_each_say_their_own_name() -> None:
    text = BARE + "records: {hover: [{date: 2026-05-16}], range_test: [{date: 2026-05-17}]}\n"
    assert {
        "mean_current_a of the hover of 2026-05-16",
        "sensor_mv_per_a in force during the hover of 2026-05-16",
        "control_held of the range test of 2026-05-17",
    } <= told(text)


def test_more_than_ten_of_one_day_are_counted_in_figures() -> None:
    many = ", ".join(["{date: 2026-05-16, control_held: true}"] * 22)
    found = told(f"{BARE}records: {{range_test: [{many}]}}\n")
    assert "distance_m of the tenth range test of 2026-05-16" in found
    assert "distance_m of the range test of 2026-05-16 (number 11)" in found
    assert "distance_m of the range test of 2026-05-16 (number 22)" in found
