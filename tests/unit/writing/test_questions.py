"""The questions of a record: each says what is wanted, takes what is right and refuses the rest with a reason."""

import dataclasses
import datetime as dt
from decimal import Decimal

import pytest
from making.answering import usual_answer

from preflint.aircraft.layouts import NAMES, arm_of, positions
from preflint.aircraft.moment import Moment
from preflint.aircraft.records import KINDS
from preflint.writing.facts import Facts
from preflint.writing.questions import NoSense, Question, question, questions

FACTS = Facts.of_layout("quad-x", Moment(dt.date(2026, 5, 21)), {"A1": 4, "B2": 4})
WHERE = ("front-left", "front-right", "rear-left", "rear-right")


def of(kind: str, name: str) -> Question:
    return question(kind, name, FACTS)


@pytest.mark.parametrize("kind", KINDS)
def test_every_question_says_what_is_wanted_and_takes_it(kind: str) -> None:
    for one in questions(kind, FACTS):
        assert one.title
        assert one.meaning.endswith(".") or one.columns
        assert one.choices or one.example or one.columns
        assert one.read(usual_answer(one)) is not None
        with pytest.raises(NoSense):
            one.read("")


@pytest.mark.parametrize("kind", KINDS)
def test_a_choice_has_no_example(kind: str) -> None:
    """It would suggest one of two directions."""
    assert [one.name for one in questions(kind, FACTS) if one.choices and one.example] == []


def test_a_value_at_each_position_is_told_in_one_line() -> None:
    seen = of("spin_test", "seen")
    assert seen.positions == WHERE
    assert seen.read("cw ccw ccw cw") == dict(zip(WHERE, ("cw", "ccw", "ccw", "cw"), strict=True))
    assert seen.read("cw, ccw, ccw, cw") == seen.read("cw,ccw,ccw,cw") == seen.read("cw ccw ccw cw")
    assert seen.read("cw - - cw") == {"front-left": "cw", "rear-right": "cw"}


def test_short_answers_stand_for_what_is_written_out() -> None:
    written = dataclasses.replace(FACTS, spins=dict(zip(WHERE, ("cw", "ccw", "ccw", "cw"), strict=True)))
    assert question("spin_test", "seen", written).read("as-written") == written.spins
    assert of("output_test", "turned").read("as-commanded") == {at: at for at in WHERE}
    assert of("bell_pull", "moved").read("all no") == dict.fromkeys(WHERE, False)


def test_what_is_not_written_is_not_seen_as_written() -> None:
    for spins in ({}, {"front-left": "cw"}):
        with pytest.raises(NoSense):
            question("spin_test", "seen", dataclasses.replace(FACTS, spins=spins)).read("as-written")


def test_no_number_is_the_same_everywhere() -> None:
    with pytest.raises(NoSense):
        of("stick_check", "start_throttle_percent").read("all 5")


def test_work_on_an_arm_may_name_the_arm() -> None:
    facts = Facts.of_layout(next(name for name in NAMES if any("upper" in at for at in positions(name))), FACTS.now)
    arm = arm_of(facts.positions[0])
    assert arm not in facts.positions
    assert question("log", "at", facts).read(arm) == arm
    with pytest.raises(NoSense):
        question("nut_test", "at", facts).read(arm)


def test_a_look_at_every_rotor_asks_for_all_of_them() -> None:
    assert [(one.name, one.positions) for one in questions("bell_pull", FACTS)] == [("moved", WHERE)]
    assert [(one.name, one.positions) for one in questions("bell_pull", FACTS, {"at": "rear-left"})] == [("moved", ())]


def test_numbers_are_kept_as_they_are_read_off() -> None:
    assert str(of("hover", "mean_voltage_v").read("24.10")) == "24.10"
    rows = of("voltage_comparison", "table").read("24.10 24.2\n22.00 22.1")["rows"]
    assert [[str(cell) for cell in row] for row in rows] == [["24.10", "24.2"], ["22.00", "22.1"]]


def test_a_column_that_may_be_left_out_may_be_there() -> None:
    table = of("current_comparison", "table")
    assert table.read("0.0 0.1\n9.8 10.1")["columns"] == ["indicated_a", "reference_a"]
    assert table.read("0 0.0 0.1\n55 9.8 10.1")["columns"] == ["throttle_percent", "indicated_a", "reference_a"]


@pytest.mark.parametrize("answer", ["yes", "Yes", "y", "true"])
def test_yes_is_taken(answer: str) -> None:
    assert of("voltage_comparison", "loaded").read(answer) is True


@pytest.mark.parametrize("answer", ["no", "N", "false"])
def test_no_is_taken(answer: str) -> None:
    assert of("voltage_comparison", "loaded").read(answer) is False


def test_lists() -> None:
    assert of("walk_round", "damaged").read("none") == []
    assert of("walk_round", "looked_at").read("arms props") == ["arms", "props"]
    assert of("walk_round", "looked_at").read("all") == ["arms", "mounts", "wires", "pack", "bells", "props"]
    assert of("stick_check", "moves.throttle-up.sped_up").read("all") == list(WHERE)
    assert of("tilt_test", "moves.nose-down.sped_up").read("front-left front-right") == ["front-left", "front-right"]
    assert of("cell_voltages", "cells_v").read("3.85, 3.84") == [Decimal("3.85"), Decimal("3.84")]
    matrix = of("compass_rotation", "in_force.soft_iron").read("1 0 0 0 1 0 0 0 1")
    assert matrix == [[1, 0, 0], [0, 1, 0], [0, 0, 1]]


def test_what_the_manifest_may_be_without_can_be_left_out() -> None:
    assert of("hover", "wind_m_s").read("-") is None
    with pytest.raises(NoSense, match="cannot be left out"):
        of("bell_pull", "at").read("-")


@pytest.mark.parametrize(("kind", "name", "answer", "why"), [
    ("hover", "mean_current_a", "11,0", "write a point as decimal sign: 11.0"),
    ("hover", "mean_current_a", "1,234.5", "has commas; write 1234.5"),
    ("hover", "height_m", "5 mm", "the name height_m says m: write the number in that unit, without mm"),
    ("hover", "height_m", "16 feet", "the name height_m says m: write the number in that unit, without feet"),
    ("hover", "height_m", "5m", "the unit stands in the name height_m: write 5"),
    ("hover", "mean_voltage_v", "24,1V", "the unit stands in the name mean_voltage_v: write 24.1"),
    ("hover", "mean_current_a", "900mA", "the name mean_current_a says A: write the number in that unit, without mA"),
    ("rotor_speeds", "rpm", "5000 6k 5000 5000", "front-right: write the number alone, without k"),
    ("voltage_comparison", "table", "16670mV 16.68", "write the number alone, without mV"),
    ("hover", "height_m", "five", '"five" is not a number'),
    ("hover", "height_m", "05", "begins with a zero"),
    ("hover", "height_m", ".5", "write 0.5"),
    ("hover", "height_m", "nan", '"nan" is not a number'),
    ("hover", "height_m", "1e2", "write 100"),
    ("hover", "height_m", "501", "it must be from 0 to 500; 501 is written"),
    ("hover", "mean_current_a", "0", "it must be more than 0 and at most 1000; 0 is written"),
    ("hover", "height_m", "9" * 400, "a number of 400 characters"),
    ("hover", "pack", "C3", '"C3" is not known here; write one of: A1, B2'),
    ("voltage_comparison", "loaded", "perhaps", '"perhaps" is neither yes nor no'),
    ("voltage_comparison", "table", "24.1", "a row has indicated_v reference_v; here is one number"),
    ("voltage_comparison", "table", "24,1 24,2", "write a point as decimal sign: 24.1"),
    ("current_comparison", "table", "0 0\n1 1 1", "some rows have more numbers than others"),
    ("spin_test", "props", "off", '"off" is not known here; write one of: removed, fitted'),
    ("spin_test", "seen", "cw ccw", "4 values are needed, for front-left front-right rear-left rear-right; here are 2"),
    ("spin_test", "seen", "cw ccw ccw left", 'rear-right: "left" is not known here; write one of: cw, ccw'),
    ("spin_test", "seen", "cw ccw ccw clockwise", "did you mean cw?"),
    ("spin_test", "seen", "cw cw ccw cw|ccw", 'rear-right: "cw|ccw" is not known here; write one of: cw, ccw'),
    ("spin_test", "seen", "- - - -", "no position has a value"),
    ("output_test", "turned", "front-left front-left frontright x", "rear-left: \"frontright\" is not known here; did"),
    ("walk_round", "looked_at", "arms arms", "one of them is written twice"),
    ("cell_voltages", "cells_v", "3.85 5.1", "it must be from 0 to 5; 5.1 is written"),
    ("compass_rotation", "in_force.hard_iron_ut", "1 2", "in_force.hard_iron_ut has 3 numbers; here are 2"),
    ("spin_test", "date", "21.5.2026", "is no date; write 2026-04-18 or 2026-04-18 14:30"),
    ("spin_test", "date", "2026-02-30", "is no date"),
    ("log", "kind", "replced", "did you mean replaced"),
    ("log", "note", "x" * 2001, "a text of 2001 characters; at most 2000"),
    ("log", "note", "turned \u202eround", "unseen character"),
])  # fmt: skip
def test_nonsense_is_refused_with_a_reason(kind: str, name: str, answer: str, why: str) -> None:
    with pytest.raises(NoSense) as refused:
        of(kind, name).read(answer)
    assert why in str(refused.value)


def test_the_logbook_asks_what_applies() -> None:
    def names(**given: str) -> list[str]:
        return [one.name for one in questions("log", FACTS, given)]

    assert names() == ["kind", "part", "at", "note"]
    assert names(kind="replaced", part="motor") == ["at", "note"]
    assert names(kind="replaced", part="receiver") == ["note"]
    assert names(kind="settings-changed", part="flight-controller") == ["touches", "note"]
    assert names(kind="crashed") == ["note"]


def test_either_of_two_readings_answers_the_question() -> None:
    assert "station_pressure_hpa" in [one.name for one in questions("barometer_check", FACTS)]
    other = questions("barometer_check", FACTS, {"sea_level_pressure_hpa": Decimal(1013)})
    assert "station_pressure_hpa" not in [one.name for one in other]


def test_unit_and_way_to_learn_it_are_told() -> None:
    one = of("voltage_comparison", "reference.accuracy_percent")
    assert (one.unit, one.how) == ("%", "read the accuracy in the instrument's manual, in per cent of the reading")
    assert of("interference_run", "in_force.interference_offset_ut_per_a").unit == "µT/A"
