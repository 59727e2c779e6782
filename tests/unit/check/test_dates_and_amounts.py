"""Dates and numbers written in another way: each is told the right form, and rewritten where it can mean one only.

That 2026-W05-6 and 2026-031 are the 31st of January follows from ISO 8601 (weeks begin on Monday, the first holds the
4th of January); the rest is how people write, common practice without a source.
"""

from collections.abc import Callable

import pytest

from preflint.check.amounts import number_alone
from preflint.errors import Problem

HEAD = "preflint: 1\naircraft: {name: Wren, layout: quad-x}\n"
FORM = "a date begins with the year, with hyphens and two digits for month and day; "

Problems = Callable[[str], list[Problem]]
Marked = Callable[[str, Problem], str]


@pytest.mark.parametrize(("written", "said"), [
    ("31.01.2026", "write 2026-01-31"),
    ("31. 1. 2026", "write 2026-01-31"),
    ("31-01-2026", "write 2026-01-31"),
    ("01/31/2026", "write 2026-01-31"),
    ("03.03.2026", "write 2026-03-03"),
    ("03.04.2026", "write 2026-04-03 if the day stands first, 2026-03-04 if the month does"),
    ("4/3/2026", "write 2026-03-04 if the day stands first, 2026-04-03 if the month does"),
    ("2026-1-31", "write 2026-01-31"),
    ("2026/01/31", "write 2026-01-31"),
    ("20260131", "write 2026-01-31"),
    ("2026-W05-6", "write 2026-01-31"),
    ("2026-031", "write 2026-01-31"),
    ("31 Jan 2026", "write 2026-01-31"),
    ('"January 31, 2026"', "write 2026-01-31"),
    ("31.01.26", "write the year with four digits, and before the month: 2026-04-18 or 2026-04-18 14:30"),
    ('"2026-01-31T14:30"', "write 2026-01-31 14:30"),
    ('"2026-01-31 9:05:12.5"', "write 2026-01-31 09:05"),
    ('"31.01.2026 14:30"', "write 2026-01-31 14:30"),
    ('"2026-01-31T14:30:00Z"', "this is universal time; write the local date and time, as in 2026-04-18 14:30"),
    ('"2026-01-31T14:30+02:00"', "write 2026-01-31 14:30 if that is the time on the field's clock"),
])  # fmt: skip
def test_a_date_in_another_form(written: str, said: str, problems: Problems, marked: Marked) -> None:
    text = f"{HEAD}logbook: [{{kind: flown, date: {written}}}]"
    (problem,) = problems(text)
    assert (problem.message, marked(text, problem)) == (FORM + said, written)


@pytest.mark.parametrize("written", ["31.02.2026", "2026-13-01", "2026-366", "2026-W54-1", "yesterday", "13/13/2026",
                                     '"2026-01-31 25:00"', "1.2.3.4", "2026-01"])  # fmt: skip
def test_what_is_no_day_of_the_calendar_is_not_rewritten(written: str, problems: Problems) -> None:
    (problem,) = problems(f"{HEAD}logbook: [{{kind: flown, date: {written}}}]")
    plain = written.strip('"')
    assert problem.message in (
        f'a date is needed here, written 2026-04-18 or 2026-04-18 14:30; this is text: "{plain}"',
        f'"{plain}" is not in the calendar; write 2026-04-18 or 2026-04-18 14:30',
    )


STANDS = "a number is needed here; the unit stands in the name"


@pytest.mark.parametrize(("entry", "said"), [
    ("packs: [{capacity_mah: 1300 mAh}]", f"{STANDS} capacity_mah: write 1300"),
    ("packs: [{capacity_mah: 1300mah}]", f"{STANDS} capacity_mah: write 1300"),
    ("packs: [{capacity_mah: 1'300}]", "a number is needed here; write 1300"),
    ("packs: [{capacity_mah: 1 300}]", "a number is needed here; write 1300"),
    ('packs: [{capacity_mah: "1300"}]', "a number is needed here; write 1300 without quotes"),
    ('packs: [{capacity_mah: "1,300"}]', ('a number is needed here; "1,300" has a comma; '
     "write 1.300 if it is the decimal sign, 1300 if it sets off thousands")),
    ("packs: [{capacity_mah: 1.3 Ah}]",
     "a number is needed here; the name capacity_mah says mAh: write the number in that unit, without Ah"),
    ("packs: [{cells: 4S}]", "a whole number is needed here; the name says that cells are counted: write 4"),
    ("packs: [{cells: 4 cells}]", "a whole number is needed here; write the number alone, without cells"),
    ('every_rotor: {prop: {diameter_in: 14"}}', f"{STANDS} diameter_in: write 14"),
    ('every_rotor: {prop: {pitch_in: "4,8 in"}}', f"{STANDS} pitch_in: write 4.8"),
    ("every_rotor: {motor: {kv_rpm_per_v: 420 kv}}", "a number is needed here; write the number alone, without kv"),
    ("every_rotor: {motor: {shaft_mm: 5 mm}}", f"{STANDS} shaft_mm: write 5"),
    ("every_rotor: {motor: {shaft_mm: 0.5 cm}}",
     "a number is needed here; the name shaft_mm says mm: write the number in that unit, without cm"),
    ("site: {latitude_deg: 47.2°, longitude_deg: 8.5}", f"{STANDS} latitude_deg: write 47.2"),
    ("every_rotor: {esc: {active_braking: 'yes'}}", "true or false is needed here; write true without quotes"),
    ("every_rotor: {motor: {shaft_mm: 5-6}}", 'a number is needed here, without a unit; this is text: "5-6"'),
    ("every_rotor: {motor: {shaft_mm: five}}", 'a number is needed here, without a unit; this is text: "five"'),
])  # fmt: skip
def test_a_number_with_something_else(entry: str, said: str, problems: Problems) -> None:
    assert [problem.message for problem in problems(HEAD + entry)] == [said]


def test_a_million_is_no_thousandth() -> None:
    assert number_alone("5 mV", "offset_mv") == "the unit stands in the name offset_mv: write 5"
    assert number_alone("5 MV", "offset_mv") == "the name offset_mv says mV: write the number in that unit, without MV"


def test_a_list_that_a_decimal_comma_made_too_long(problems: Problems, marked: Marked) -> None:
    text = "preflint: 1\naircraft: {name: Wren, layout: custom}\nrotors: [{at: nose, place_mm: [220,5, -220, 0]}]\n"
    (problem,) = problems(text)
    said = "a list makes two numbers of 220,5; write a point as decimal sign: 220.5"
    assert (problem.message, marked(text, problem)) == (said, "[220,5, -220, 0]")
    (problem,) = problems(text.replace("220,5, -220, 0", "220,5,-220,0"))
    assert problem.message == "place_mm needs a list of three; this one has 4"
