"""Every problem of a manifest, in full words and at its exact place."""

from collections.abc import Callable

import pytest

from preflint.errors import Problem

HEAD = "preflint: 1\naircraft: {name: Wren, layout: quad-x}\n"

Problems = Callable[[str], list[Problem]]
Marked = Callable[[str, Problem], str]


KINDS = "nut, collet, set-screw, screws, clip, threaded-hub"
TABLE = "records: {voltage_comparison: [{date: 2026-04-18, %s}]}"
NUT = "records: {nut_test: [{date: 2026-04-18, at: front-left, nut: runs-on, %s}]}"

# What is written below the head, what is marked, what is said.
CASES = [
    # Unknown and missing keys
    ("loogbook: []", "loogbook", '"loogbook" is not known here; did you mean "logbook"?'),
    ("every_rotor: {prop: {diameter_cm: 35}}", "diameter_cm",
     '"diameter_cm" is not known here; did you mean "diameter_in"? preflint explain prop lists all'),
    ("every_rotor: {motor: {kv: 420}}", "kv",
     '"kv" is not known here; did you mean "kv_rpm_per_v"? preflint explain motor lists all'),
    ("rotors: [{at: front-left, hand: cw}]", "hand", '"hand" is not known here; it belongs in prop'),
    ("flight_controller: {barometer: none}", "barometer",
     '"barometer" is not known here; it belongs in no group but at the start of a line'),
    ("barometer: {xyz: 1}", "xyz", '"xyz" is not known here; write accuracy_hpa'),
    ("rotors: [{spin: cw}]", "{spin: cw}", '"at" is missing, as in at: front-left'),
    ("logbook: [{kind: flown}]", "{kind: flown}", '"date" is missing, as in date: 2026-04-18'),
    ("logbook: [{date: 2026-05-09, kind: replaced}]", "{date: 2026-05-09, kind: replaced}", '"part" is missing'),
    # Words
    ("every_rotor: {fixing: {kind: nutt}}", "nutt", f'"nutt" is not known here; did you mean "nut"? Known: {KINDS}'),
    ("every_rotor: {fixing: {kind: glue}}", "glue", f'"glue" is not known here; write one of {KINDS}'),
    ("every_rotor: {spin: clockwise}", "clockwise", '"clockwise" is not known here; did you mean "cw"? Known: cw, ccw'),
    ("every_rotor: {spin: Anti-Clockwise}", "Anti-Clockwise",
     '"Anti-Clockwise" is not known here; did you mean "ccw"? Known: cw, ccw'),
    ("every_rotor: {spin: cw|ccw}", "cw|ccw", '"cw|ccw" is not known here; write cw or ccw'),
    ("every_rotor: {spin: cw or ccw}", "cw or ccw", '"cw or ccw" is not known here; write cw or ccw'),
    ("packs: [{chemistry: LiPo}]", "LiPo",
     '"LiPo" is not known here; did you mean "lipo"? Known: lipo, lipo-hv, li-ion, life'),
    ("every_rotor: {spin: 1}", "1", "cw or ccw is needed here; this is the number 1"),
    ("barometer: yess", "yess", 'none or a group of entries is needed here; this is text: "yess"'),
    ("compass: fitted", "fitted",
     ('none, a group of entries, or the name of a file that ends in .yaml is needed here; this is text: "fitted"')),
    ("site: home.yml", "home.yml",
     ('a group of entries, or the name of a file that ends in .yaml, is needed here; this is text: "home.yml"')),
    # Types
    ('every_rotor: {prop: {diameter_in: "14 in"}}', '"14 in"',
     "a number is needed here; the unit stands in the name diameter_in: write 14"),
    ("every_rotor: {prop: {diameter_in: 14 in}}", "14 in",
     "a number is needed here; the unit stands in the name diameter_in: write 14"),
    ('every_rotor: {prop: {pitch_in: "4.80"}}', '"4.80"', "a number is needed here; write 4.80 without quotes"),
    ("every_rotor: {prop: {pitch_in: true}}", "true", "a number is needed here, without a unit; this is true"),
    ("packs: [{cells: 5.50}]", "5.50", "a whole number is needed here; this is the number 5.50"),
    ("packs: [{label: 7}]", "7", 'text is needed here; write it in quotes: "7"'),
    ("every_rotor: {esc: {active_braking: maybe}}", "maybe", 'true or false is needed here; this is text: "maybe"'),
    ('every_rotor: {esc: {active_braking: "true"}}', '"true"',
     "true or false is needed here; write true without quotes"),
    ("packs: {label: A1}", "{label: A1}",
     "a list is needed here; put a hyphen and a space before the first line of each of its groups"),
    ("records: [1]", "[1]", "a group of entries is needed here, as in {name: value}; this is a list"),
    ("records: {voltage_comparison: [5]}", "5",
     "a group of entries is needed here, as in {name: value}; this is the number 5"),
    # Ranges and sizes
    (f"records: {{cell_voltages: [{{date: 2026-04-18, cells_v: [{', '.join(['3.85'] * 31)}]}}]}}",
     f"[{', '.join(['3.85'] * 31)}]", "cells_v has 31 entries; at most 30 are read"),
    (
        f"rotors: [{{at: {'X' * 41}}}]", "X" * 41,
        (
            "a position is written in small letters, digits and hyphens, such as front-left;"
            f' this is text: "{"X" * 39}…"'
        ),
    ),
    ("site: {latitude_deg: 95.10}", "95.10", "latitude_deg must be from -90 to 90; 95.10 is written"),
    ("packs: [{rated_c: 0}]", "0", "rated_c must be more than 0 and at most 500; 0 is written"),
    ("compass: {hard_iron_ut: [1, 2]}", "[1, 2]", "hard_iron_ut needs a list of three; this one has 2"),
    ("compass: {hard_iron_ut: [1, 2, 3000]}", "3000", "hard_iron_ut must be from -1000 to 1000; 3000 is written"),
    ("compass: {soft_iron: [[1, 0, 0], [0, 1], [0, 0, 1]]}", "[0, 1]",
     "soft_iron needs a list of three; this one has 2"),
    ("flight_controller: {expects_spin: {}}", "{}", "expects_spin is empty; write at least one entry, or leave it out"),
    ('packs: [{label: ""}]', '""', "nothing is written between the quotes; write the text, or leave the entry out"),
    (f"packs: [{{label: {'x' * 41}}}]", "x" * 41, "a text of 41 characters; at most 40 are read here"),
    # Either, or
    ("site: {station_pressure_hpa: 990, sea_level_pressure_hpa: 1010}", "sea_level_pressure_hpa",
     "station_pressure_hpa and sea_level_pressure_hpa cannot both stand here; keep one of them"),
    (NUT % "motor_turned: cw, nut_turned: cw", "nut_turned",
     "motor_turned and nut_turned cannot both stand here; keep one of them"),
    ("records: {nut_test: [{date: 2026-04-18, at: front-left, nut: runs-on}]}",
     "{date: 2026-04-18, at: front-left, nut: runs-on}", "one of motor_turned and nut_turned is needed here"),
    (NUT % "motor_turnd: cw", "motor_turnd",
     '"motor_turnd" is not known here; did you mean "motor_turned"? preflint explain nut_test lists all'),
    ("every_rotor: {fixing: {glue: 1}}", "glue",
     ('"glue" is not known here; there is latched, bag_means, nut_tightens, seat_mm, thread_past_locknut, nut_kind; '
     "preflint explain fixing lists all")),
    # Tables
    ("records: {voltage_comparison: [{date: 2026-04-18}]}", "{date: 2026-04-18}",
     "the readings are missing; write columns and rows, or file: with the name of a .csv file"),
    (TABLE % "columns: [indicated_v, reference_v]", "{date: 2026-04-18, columns: [indicated_v, reference_v]}",
     '"rows" is missing'),
    (TABLE % "columns: [indicated_v, reference_v], rows: [[1, 2]], file: a.csv", "columns",
     "the readings stand here and in a file; keep either file, or columns and rows"),
    (
        TABLE % "file: a.txt", "a.txt",
        (
            "the name of a file that ends in .csv is needed here, such as logs/lapwing-2026-04-18.csv;"
            ' this is text: "a.txt"'
        ),
    ),
    (TABLE % "columns: [indicated_v], rows: [[1]]", "[indicated_v]", "a column is missing: reference_v"),
    ("records: {compass_rotation: [{date: 2026-04-18, columns: [field_x_ut], rows: [[1]]}]}", "[field_x_ut]",
     "a column is missing: field_y_ut (or field_y_mgauss), field_z_ut (or field_z_mgauss)"),
    (TABLE % "columns: [indicated_v, referense_v], rows: [[1, 2]]", "referense_v",
     '"referense_v" is not known here; did you mean "reference_v"? Known: indicated_v, reference_v'),
    (TABLE % "columns: [indicated_v, reference_v, indicated_v], rows: [[1, 2, 3]]", "indicated_v",
     '"indicated_v" stands twice in this list'),
    (TABLE % "columns: [indicated_v, reference_v], rows: [[1, 2], [3]]", "[3]",
     "this row has one number; columns names 2: write every reading"),
    (TABLE % "columns: [indicated_v, reference_v], rows: [[24,2, 24.1]]", "24,2",
     "a list makes two numbers of 24,2; write a point as decimal sign: 24.2"),
    (TABLE % "columns: [indicated_v, reference_v], rows: [[24,2,24]]", "[24,2,24]",
     ("this row has 3 numbers; columns names 2: write a point as decimal sign, as in 11.0, "
     "or take out what is too many")),
    (TABLE % "columns: [indicated_v, reference_v], rows: [[1, 2], [3, 4 V]]", "4 V",
     "a number is needed here; write the number alone, without V"),
    (TABLE % "columns: [indicated_v, reference_v], rows: []", "[]",
     "rows holds an empty list; write at least one entry"),
    (
        (
            "records: {compass_rotation: [{date: 2026-04-18, columns: [field_x_ut, field_x_mgauss,"
            " field_y_ut, field_z_ut], rows: [[1, 2, 3, 4]]}]}"
        ),
        "field_x_mgauss",
        '"field_x_mgauss" stands here in µT as well; keep one of the two columns',
    ),
    # Dates
    ("logbook: [{date: 18.4.2026, kind: flown}]", "18.4.2026",
     "a date begins with the year, with hyphens and two digits for month and day; write 2026-04-18"),
    ("logbook: [{date: 2026-02-29, kind: flown}]", "2026-02-29",
     '"2026-02-29" is not in the calendar; write 2026-04-18 or 2026-04-18 14:30'),
    ("logbook: [{date: 2026-02-28 24:00, kind: flown}]", "2026-02-28 24:00",
     '"2026-02-28 24:00" is not in the calendar; write 2026-04-18 or 2026-04-18 14:30'),
    (r'logbook: [{date: "2026-02-28\n", kind: flown}]', r'"2026-02-28\n"',
     'a date is needed here, written 2026-04-18 or 2026-04-18 14:30; this is text: "2026-02-28"'),
    ("deferred_defects: [{rule: a/b, until: 2026-06-31, by: R, because: so}]", "2026-06-31",
     '"2026-06-31" is not in the calendar; write 2026-04-18 or 2026-04-18 14:30'),
    (
        (
            "logbook: [{date: 2026-05-09, kind: flown}]\n"
            "deferred_defects: [{rule: a/b, until: 2026-13-01, by: R, because: so}]"
        ),
        "2026-13-01",
        '"2026-13-01" is not in the calendar; write 2026-04-18 or 2026-04-18 14:30',
    ),
    # Things that stand once
    ("packs: [{label: A1}, {label: A1}]", "A1", 'a pack labelled "A1" stands on line 3; give each its own label'),
    ("rotors: [{at: rear-left}, {at: rear-left}]", "rear-left",
     "a rotor at rear-left stands on line 3 already; keep one of them"),
    ("every_rotor: {fixing: {bag_means: motor}}", "bag_means",
     "bag_means needs bag_says: write what the bag says, cw or ccw"),
]

RELIES = "preflint: 1\naircraft: {name: Wren, layout: quad-x, relies_on: [compass, barometer, satellite]}\n"


@pytest.mark.parametrize(
    ("key", "thing"), [("compass", "compass"), ("barometer", "barometer"), ("satellite_receiver", "satellite")]
)
def test_relying_on_what_is_not_fitted(key: str, thing: str, problems: Problems, marked: Marked) -> None:
    text = f"{RELIES}{key}: none\n"
    (problem,) = problems(text)
    assert marked(text, problem) == thing
    assert problem.message == (
        f"flight cannot rely on what is not fitted: line 3 says {key}: none; correct one of the two"
    )


def test_relying_on_what_is_fitted_or_on_nothing(problems: Problems) -> None:
    assert problems(RELIES + "barometer: {}\n") == []
    assert problems(RELIES.replace("compass, barometer, satellite", "") + "compass: none\n") == []


@pytest.mark.parametrize(("below", "mark", "message"), CASES, ids=[f"{c[0][:40]}" for c in CASES])
def test_problem(below: str, mark: str, message: str, problems: Problems, marked: Marked) -> None:
    text = HEAD + below
    found = problems(text)
    assert [problem.message for problem in found] == [message]
    assert marked(text, found[0]) == mark


@pytest.mark.parametrize("kind", ["reset", "settings-changed", "firmware"])
def test_settings_of_a_part_that_has_none(kind: str, problems: Problems, marked: Marked) -> None:
    opening = "preflint: 1\naircraft: {name: Wren, layout: quad-x}\nlogbook:\n"
    text = f"{opening}  - {{date: 2026-05-09, kind: {kind}, part: arm}}\n"
    (problem,) = problems(text)
    assert marked(text, problem) == "arm"
    assert problem.message == (
        f"{kind} needs a part with settings, and arm has none: name the part that was meant "
        "(arming is set in the flight-controller)"
    )
    assert [one.message for one in problems(text.replace("arm}", "nut}"))] == [
        f"{kind} needs a part with settings, and nut has none: name the part that was meant"
    ]
    assert problems(text.replace("arm}", "motor}")) == []
    assert problems(text.replace(kind, "replaced")) == []


@pytest.mark.parametrize(("kind", "line"), [
    ("stored", "minutes: 6"),
    ("replaced, part: motor, at: rear-left", "put_back_mah: 900"),
    ("crashed", "pack: A1"),
])
def test_what_belongs_to_a_flight_stands_with_nothing_else(kind, line, problems, marked):
    entry = f"{{date: 2026-05-01, kind: {kind}, {line}}}"
    text = f"preflint: 1\naircraft: {{name: W, layout: quad-x}}\nlogbook: [{entry}]\n"
    (found,) = problems(text)
    name = line.partition(":")[0]
    assert marked(text, found) == name
    assert found.message == (
        f"{name} belongs to a flight, and {kind.partition(',')[0]} is none: write it with kind: flown, or take it out"
    )
    assert problems(text.replace(kind, "flown")) == []
