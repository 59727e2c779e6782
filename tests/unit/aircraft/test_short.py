"""What a short form stands for, written by hand beside it."""

from typing import Any

import pytest

from preflint.aircraft.short import write_out
from preflint.load.node import Node
from preflint.load.yaml.events import load_yaml

QUAD = "preflint: 1\naircraft: {name: Wren, layout: quad-x}\n"
AT = ("front-left", "front-right", "rear-left", "rear-right")


def written(text: str) -> Any:
    long = write_out(load_yaml((QUAD + text).encode(), "wren.airframe.yaml"))
    assert not long.problems
    return long.document.plain()


def at(node: Node, *steps: str | int) -> Node:
    for step in steps:
        held: Any = node.value
        node = held[step]
    return node


def test_a_record_takes_what_its_kind_has() -> None:
    found = written(
        "sessions:\n"
        "  - date: 2026-05-16 18:30\n"
        "    props: removed\n"
        "    pack: A1\n"
        "    in_force: {divider_ratio: 14.6, zero_mv: 330}\n"
        "    cut_off_test: [{motors_stopped: true}]\n"
        "    voltage_comparison: [{file: a.csv}]\n"
    )
    assert "sessions" not in found
    assert found["records"] == {
        "cut_off_test": [{"date": "2026-05-16 18:30", "props": "removed", "motors_stopped": True}],
        "voltage_comparison": [
            {"date": "2026-05-16 18:30", "pack": "A1", "in_force": {"divider_ratio": 14.6, "zero_mv": 330},
             "file": "a.csv"}
        ],
    }  # fmt: skip


def test_its_own_lines_win_and_settings_merge() -> None:
    found = written(
        "sessions:\n"
        "  - {date: 2026-05-16, pack: A1, in_force: {divider_ratio: 14.6, zero_mv: 330}, voltage_comparison:\n"
        "      [{date: 2026-05-16 19:00, pack: B2, in_force: {divider_ratio: 15.0}, file: a.csv}]}\n"
    )
    assert found["records"]["voltage_comparison"] == [
        {"date": "2026-05-16 19:00", "pack": "B2", "in_force": {"divider_ratio": 15.0, "zero_mv": 330},
         "file": "a.csv"}
    ]  # fmt: skip


OF_VOLTS = ("voltage_comparison", "cell_voltages")
METER = {"instrument": "multimeter", "accuracy_percent": 0.2, "resolution_v": 0.01}


@pytest.mark.parametrize(
    ("kind", "record", "wanted"),
    [
        ("voltage_comparison", "file: a.csv", METER),
        ("cell_voltages", "cells_v: [4.1]", METER),
        ("current_comparison", "file: a.csv", None),  # what it says of volts says nothing of amperes
        ("recharge", "counted_mah: 9, put_back_mah: 9", None),
        ("heading_check", "file: a.csv", None),
        ("voltage_comparison", "file: a.csv, reference: {instrument: other}", {"instrument": "other"}),  # no mixture
    ],
)
def test_an_instrument_reaches_readings_in_its_unit(kind: str, record: str, wanted: Any) -> None:
    found = written(
        "sessions:\n"
        "  - date: 2026-05-16\n"
        "    reference: {instrument: multimeter, accuracy_percent: 0.2, resolution_v: 0.01}\n"
        f"    {kind}: [{{{record}}}]\n"
        + ("" if kind in OF_VOLTS else "    voltage_comparison: [{file: b.csv}]\n")  # or nothing would take it
    )
    assert found["records"][kind][0].get("reference") == wanted


def test_records_stand_before_those_of_sessions() -> None:
    found = written(
        "sessions:\n"
        "  - {date: 2026-05-16, bell_pull: [{at: rear-left, moved: false}]}\n"
        "  - {date: 2026-05-17, bell_pull: [{at: rear-right, moved: false}]}\n"
        "records: {bell_pull: [{date: 2026-05-18, at: front-left, moved: false}]}\n"
    )
    assert [one["at"] for one in found["records"]["bell_pull"]] == ["front-left", "rear-left", "rear-right"]


def test_all_is_each_in_its_turn() -> None:
    found = written(
        "records:\n"
        "  bell_pull: [{date: 2026-05-16, at: all, moved: false}]\n"
        "  stick_check: [{date: 2026-05-16, moves: [{did: throttle-up, sped_up: all}]}]\n"
        "logbook: [{date: 2026-05-09, kind: flown}, {date: 2026-05-10, kind: replaced, part: prop, at: all}]\n"
    )
    assert found["records"]["bell_pull"] == [{"date": "2026-05-16", "at": one, "moved": False} for one in AT]
    assert found["records"]["stick_check"][0]["moves"][0]["sped_up"] == list(AT)
    work = [{"date": "2026-05-10", "kind": "replaced", "part": "prop", "at": one} for one in AT]
    assert found["logbook"] == [{"date": "2026-05-09", "kind": "flown"}, *work]


def test_words_for_what_each_rotor_did() -> None:
    found = written(
        "records:\n"
        "  spin_test: [{date: 2026-05-16, seen: {others: ccw, rear-right: cw, front-left: cw}}]\n"
        "  output_test: [{date: 2026-05-16, turned: as-commanded}]\n"
    )["records"]
    assert found["spin_test"][0]["seen"] == dict(zip(AT, ("cw", "ccw", "ccw", "cw"), strict=True))
    assert found["output_test"][0]["turned"] == dict(zip(AT, AT, strict=True))


def test_every_value_stands_at_its_short_line() -> None:
    text = (
        f"{QUAD}sessions:\n"
        "  - date: 2026-05-16\n"
        "    props: removed\n"
        "    spin_test:\n"
        "      - {seen: {front-left: cw, others: ccw}}\n"
        "      - seen: {front-right: cw}\n"
        "        props: fitted\n"
        "    bell_pull: [{at: all, moved: false}]\n"
    )
    records = at(write_out(load_yaml(text.encode(), "wren.airframe.yaml")).document, "records")
    test = at(records, "spin_test", 0)
    assert (at(test, "date").place.line, at(test, "date").place.column) == (7, 9)  # the record, which is spoken of
    block = at(records, "spin_test", 1, "date").place  # its first key, not all of its lines
    assert (block.line, block.column, block.end_line, block.end_column) == (8, 9, 8, 13)
    assert (at(test, "props").place.line, at(test, "props").place.column) == (5, 12)
    assert {at(test, "seen", name).place.column for name in AT[1:]} == {41}
    assert {at(records, "bell_pull", n, "at").place.column for n in range(4)} == {22}
    assert at(test, "seen", "rear-left").place.pointer == "/sessions/0/spin_test/0/seen/others"
