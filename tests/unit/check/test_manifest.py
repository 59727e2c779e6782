"""A manifest as a whole, other formats of it, and shared parts."""

from collections.abc import Callable

import pytest

from preflint.check import check_manifest, check_part
from preflint.check.manifest import PartKind
from preflint.errors import Problem
from preflint.load.shared import resolve
from preflint.load.yaml.events import load_yaml

HEAD = "preflint: 1\naircraft: {name: Wren, layout: quad-x}\n"

Problems = Callable[[str], list[Problem]]
Marked = Callable[[str, Problem], str]


def test_the_second_of_two_is_marked(problems: Problems) -> None:
    text = HEAD + "packs: [{label: A1}, {label: A1}]"
    place = problems(text)[0].place
    assert place is not None
    assert text.splitlines()[2].rindex("A1") == place.column - 1


def test_a_missing_key_is_told_at_the_key_of_its_group(problems: Problems, marked: Marked) -> None:
    text = "preflint: 1\naircraft: {name: Wren}\n"
    (problem,) = problems(text)
    assert (problem.message, marked(text, problem)) == ('"layout" is missing, as in layout: quad-x', "aircraft")


def test_a_misspelt_key_is_not_missed_as_well(problems: Problems, marked: Marked) -> None:
    text = "preflint: 1\naircraft: {name: Wren, layuot: quad-x}\n"
    assert [marked(text, problem) for problem in problems(text)] == ["layuot"]


def test_problems_of_a_part_come_after_those_of_the_manifest() -> None:
    text = HEAD + "site: a.yaml\nlogbook: 5\n"
    part = load_yaml(b"latitude_deg: 91\n", "a.yaml")
    whole = resolve(load_yaml(text.encode(), "wren.airframe.yaml"), lambda referrer, name: part)
    places = [problem.place for problem in check_manifest(whole)]
    assert [(place.file, place.line) for place in places if place] == [("wren.airframe.yaml", 4), ("a.yaml", 1)]


def test_a_missing_top_key_is_told_at_the_start(problems: Problems) -> None:
    (problem,) = problems("preflint: 1\n")
    assert problem.message == '"aircraft" is missing, as in aircraft: {name: Lapwing, layout: quad-x}'
    assert problem.place is not None
    assert (problem.place.line, problem.place.column, problem.place.pointer) == (1, 1, "")


def test_another_format_is_refused_and_nothing_else_said(problems: Problems, marked: Marked) -> None:
    text = "preflint: 2\nengines: [x]\n"
    (problem,) = problems(text)
    assert problem.message == (
        "this manifest is written in format 2; this preflint reads format 1. "
        "Install a preflint that reads format 2, or rewrite the manifest and put preflint: 1"
    )
    assert marked(text, problem) == "2"


@pytest.mark.parametrize(("written", "message"), [
    ('"1"', "a number is needed here; write 1 without quotes"),
    ("true", "1 is needed here; this is true"),
    ("1.5", "1 is needed here; this is the number 1.5"),
])
def test_a_format_that_is_no_number(written: str, message: str, problems: Problems) -> None:
    found = problems(f"preflint: {written}\naircraft: {{name: Wren, layout: quad-x}}\n")
    assert [problem.message for problem in found] == [message]


@pytest.mark.parametrize("rotors", [
    "every_rotor: {fixing: {bag_means: motor}}\nrotors: [{at: front-left, fixing: {bag_says: cw}}]",
    "every_rotor: {fixing: {bag_says: cw}}\nrotors: [{at: front-left, fixing: {bag_means: motor}}]",
    "every_rotor: {fixing: {bag_says: cw}}",
    "every_rotor: {fixing: parts/kit.yaml}\nrotors: [{at: front-left, fixing: {bag_means: motor}}]",
])
def test_bag_and_meaning_may_stand_apart(rotors: str, problems: Problems) -> None:
    assert problems(HEAD + rotors) == []


TWENTY = """\
preflint: 1
aircraft: {name: Wren, layout: quad-x, arm_mm: 31000, owner: 6}
site: {latitude_deg: north, elevation: 180}
every_rotor:
  prop: {diameter_in: "14 in", hand: right, face: upward}
  fixing: {kind: nutt, tightens: cw}
rotors:
  - {at: front-lift, spin: CW, place_mm: [1, 2]}
  - {spin: ccw}
packs:
  - {label: A1, cells: 5.5}
records:
  spin_tests: []
  nut_test:
    - {date: 2026-04-31, at: front-left, nut: tight, motor_turned: cw}
logbook:
  - {date: 2026-05-09, kind: replace, part: motors}
  - {date: yesterday, kind: flown}
"""


def test_twenty_mistakes_give_twenty_problems_in_file_order(problems: Problems, marked: Marked) -> None:
    marks = [(problem.place.line, marked(TWENTY, problem)) for problem in problems(TWENTY) if problem.place]
    assert marks == [
        (2, "31000"), (2, "6"), (3, "north"), (3, "elevation"), (5, '"14 in"'), (5, "right"), (5, "upward"),
        (6, "nutt"), (6, "tightens"), (8, "front-lift"), (8, "CW"), (8, "[1, 2]"), (9, "{spin: ccw}"),
        (11, "5.5"), (13, "spin_tests"), (15, "2026-04-31"), (15, "tight"), (17, "replace"), (17, "motors"),
        (18, "yesterday"),
    ]  # fmt: skip
    assert len(marks) == 20


def test_a_hundred_problems_are_named_and_the_rest_counted(problems: Problems) -> None:
    text = HEAD + "".join(f"wrong_{number}: 1\n" for number in range(130))
    found = problems(text)
    assert len(found) == 101
    assert found[-1] == Problem("and 30 more problems in this file")


def test_what_an_alias_repeats_is_said_once(problems: Problems) -> None:
    text = HEAD + "packs: [&a {cells: many}, *a]\n"
    assert [problem.message for problem in problems(text)] == ['a whole number is needed here; this is text: "many"']


@pytest.mark.parametrize(("kind", "text", "message"), [
    ("lead", "gauge_awg: twelve", 'a whole number is needed here; this is text: "twelve"'),
    ("motor", "kv: 420", '"kv" is not known here; did you mean "kv_rpm_per_v"?'),
    ("site", "latitude_deg: 91", "latitude_deg must be from -90 to 90; 91 is written"),
    ("compass", "noise_ut: 101", "noise_ut must be from 0 to 100; 101 is written"),
])
def test_a_shared_part(kind: PartKind, text: str, message: str) -> None:
    found = check_part(load_yaml(text.encode(), "parts/x.yaml"), kind)
    assert [problem.message for problem in found] == [message]
    assert found[0].place is not None
    assert found[0].place.file == "parts/x.yaml"


def test_a_shared_part_that_is_right() -> None:
    text = b"gauge_awg: 12\none_way_length_mm: 130\n"
    assert check_part(load_yaml(text, "parts/x.yaml"), "lead") == []
