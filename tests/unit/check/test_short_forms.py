"""What is wrong with a short form is said in full, at the short line."""

from collections.abc import Callable

import pytest

from preflint.aircraft.declared import declarations, hints_of
from preflint.aircraft.records import KINDS, Records
from preflint.aircraft.short import UNITS
from preflint.errors import Problem
from preflint.load.quoting import in_quotes

Problems = Callable[[str], list[Problem]]
Marked = Callable[[str, Problem], str]

QUAD = "preflint: 1\naircraft: {name: Wren, layout: quad-x}\n"
CUSTOM = "preflint: 1\naircraft: {name: Wren, layout: custom}\n"
POSITIONS = "front-left, front-right, rear-left, rear-right"
CUT_OFF = "cut_off_test: [{motors_stopped: true}]"
SPINS = "front-left: cw, front-right: ccw, rear-left: ccw, rear-right: cw"
READINGS = "readings are taken at one rotor: write its position, and a record for each"
NO_RECORD = "no record stands in this session; write one, or take it out"
NO_REFERENCE = (
    "no record of this session takes this reference; it needs a last digit or a fixed accuracy in the unit of the "
    "readings, as in resolution_v: 0.01, and a recharge writes its own"
)
AS_WRITTEN = (
    "as-written would say something else as soon as a spin is corrected; write what was seen, as in "
    "{front-left: cw, others: ccw}"
)


def session(lines: str) -> str:
    return f"{QUAD}sessions:\n  - {{{lines}}}\n"


def records(lines: str) -> str:
    return f"{QUAD}records: {{{lines}}}\n"


def seen(lines: str) -> str:
    return records(f"spin_test: [{{date: 2026-05-16, props: removed, seen: {lines}}}]")


@pytest.mark.parametrize(
    "text",
    [
        session(f"date: 2026-05-16, {CUT_OFF}"),
        session(f"date: 2026-05-16 18:30, props: removed, {CUT_OFF}"),
        session("date: 2026-05-16, cut_off_test: [{date: 2026-05-17 00:20, motors_stopped: true}]"),
        session("date: 2026-05-16, bell_pull: [{at: all, moved: false}]"),
        session("date: 2026-05-16, reference: {resolution_v: 0.01}, cell_voltages: [{cells_v: [4.1]}]"),
        seen("{front-left: cw, others: ccw}"),
        records("output_test: [{date: 2026-05-16, turned: as-commanded}]"),
        records("stick_check: [{date: 2026-05-16, moves: [{did: throttle-down, slowed_down: all}]}]"),
        f"{QUAD}logbook: [{{date: 2026-05-16, kind: replaced, part: prop, at: all}}]\n",
        (
            f"{CUSTOM}rotors: [{{at: a, place_mm: [9, 9, 0]}}, {{at: b, place_mm: [-9, -9, 0]}}]\n"
            "records: {bell_pull: [{date: 2026-05-16, at: all, moved: false}]}\n"
        ),
        f"{QUAD}sessions: []\n",
    ],
)
def test_these_are_right(text: str, problems: Problems) -> None:
    assert problems(text) == []


@pytest.mark.parametrize(
    ("text", "points_at", "message"),
    [
        (session(f"date: 2026-05-16, porps: removed, {CUT_OFF}"), "porps",
         '"porps" is not known here; did you mean "props"? preflint explain sessions lists all'),
        (session("date: 2026-05-16, props: removed, cut_of_test: [{motors_stopped: true}]"), "cut_of_test",
         '"cut_of_test" is not known here; did you mean "cut_off_test"? preflint explain sessions lists all'),
        (session(f"date: 2026-05-16, pack: A1, {CUT_OFF}"), "pack", "no record of this session has pack; take it out"),
        (session("date: 2026-05-16, reference: {accuracy_percent: 1}, cell_voltages: [{cells_v: [4.1]}]"),
         "reference", NO_REFERENCE),
        (session("date: 2026-05-16, reference: {accuracy_v: 0.1}, recharge: [{counted_mah: 9, put_back_mah: 9}]"),
         "reference", NO_REFERENCE),
        (session(f"props: removed, {CUT_OFF}"), f"{{props: removed, {CUT_OFF}}}",
         '"date" is missing, as in date: 2026-04-18'),
        (session("date: 2026-05-16, props: removed"), "{date: 2026-05-16, props: removed}", NO_RECORD),
        (session("date: 2026-05-16, bell_pull: []"), "{date: 2026-05-16, bell_pull: []}", NO_RECORD),
        (session(f"date: 2026-02-30, {CUT_OFF}"), "2026-02-30",
         '"2026-02-30" is not in the calendar; write 2026-04-18 or 2026-04-18 14:30'),
        (session("date: 2026-05-16, cut_off_test: [{date: 2026-05-18, motors_stopped: true}]"), "2026-05-18",
         "this session was on 2026-05-16; write a record of another day outside of it"),
        (session("date: 2026-05-16, cut_off_test: [{date: 2026-05-15 23:50, motors_stopped: true}]"),
         "2026-05-15 23:50", "this session was on 2026-05-16; write a record of another day outside of it"),
        (session("date: 2026-05-16, cut_off_test: {motors_stopped: true}"), "{motors_stopped: true}",
         "a list is needed here; put a hyphen and a space before the first line of each of its groups"),
        (session("date: 2026-05-16, pack: B2, voltage_comparison: [{file: a.csv}, {file: b.csv}]")
         + "packs: [{label: A1}]\n", "B2", 'no pack is labelled "B2"; write A1, or list the pack under packs'),
        (seen("as-written"), "as-written",
         AS_WRITTEN),
        (seen(f"{{{SPINS}, others: cw}}"), "others", "every rotor is named beside others; take others out"),
        (seen("{front-lift: cw, others: ccw}"), "front-lift",
         f'layout quad-x has no position "front-lift"; did you mean "front-left"? It has {POSITIONS}'),
        (seen("{front-left: cw, others: up}"), "up", '"up" is not known here; write cw or ccw'),
        (records("output_test: [{date: 2026-05-16, turned: as-written}]"), "as-written",
         '"as-written" is not known here; write as-commanded, or name each'),
        (records("stick_check: [{date: 2026-05-16, moves: [{did: throttle-up, sped_up: every}]}]"), "every",
         '"every" is not known here; write all, or name each'),
        (records("stick_check: [{date: 2026-05-16, moves: [{did: throttle-up, sped_up: [all]}]}]"), "all",
         f'layout quad-x has no position "all"; write one of {POSITIONS}'),
        (records("stick_check: [{date: 2026-05-16, start_throttle_percent: {others: 5}}]"), "others",
         f'layout quad-x has no position "others"; write one of {POSITIONS}'),
        (records("prop_balance: [{date: 2026-05-16, at: all, residual_g_mm: 3}]"), "all", READINGS),
        (records("thrust_stand: [{date: 2026-05-16, at: all, file: a.csv}]"), "all", READINGS),
        (records("bell_pull: [{date: 2026-05-16, at: all, moved: maybe}]"), "maybe",
         'true or false is needed here; this is text: "maybe"'),
        (records("bell_pull: [{at: all, moved: false}]"), "{at: all, moved: false}",
         '"date" is missing, as in date: 2026-04-18'),
        (f"{QUAD}logbook: [{{date: 2026-05-16, kind: crashed, at: all}}]\n", "all",
         "without a part it concerns the whole aircraft: leave out at"),
        (f"{QUAD}deferred_defects: [{{rule: a/b, at: all, until: 2026-05-16, by: me, because: so}}]\n", "all",
         f'layout quad-x has no position "all"; write one of {POSITIONS}'),
        (f"{CUSTOM}rotors: [{{at: all, place_mm: [1, 1, 0]}}]\n", "all",
         "all stands for several rotors; give this one another name"),
        (f"{CUSTOM}rotors: [{{at: others, place_mm: [1, 1, 0]}}]\n", "others",
         "others stands for several rotors; give this one another name"),
    ],
)  # fmt: skip
def test_one_fault_is_said_once(
    text: str, points_at: str, message: str, problems: Problems, marked: Marked
) -> None:
    assert [(marked(text, problem), problem.message) for problem in problems(text)] == [(points_at, message)]


def test_no_file_fills_the_memory(problems: Problems) -> None:
    rotors = ", ".join(f"{{at: r{n}, place_mm: [{n}, 1, 0]}}" for n in range(64))
    pulls = "  - {date: 2026-05-16, at: all, moved: false}\n"
    fits, over = 104, 105  # of 3 values at 64 rotors each
    for count in (fits, over):
        text = f"{CUSTOM}rotors: [{rotors}]\nrecords:\n  bell_pull:\n" + count * f"  {pulls}"
        said = [(problem.place.line if problem.place else 0, problem.message) for problem in problems(text)]
        wanted = "written out for every rotor the manifest holds more than 20000 values"
        assert said == ([] if count == fits else [(5 + over, wanted)])


def test_every_kind_compared_with_an_instrument_has_its_unit() -> None:
    """But a recharge: a charger is no instrument that anything else is compared with."""
    compared = {kind for kind in KINDS if "reference" in declarations(hints_of(Records)[kind].__args__[0])}
    assert compared == {*UNITS, "recharge"}


@pytest.mark.parametrize("word", ["all", "as-commanded", "others"])
def test_a_word_in_quotes_is_the_same_word(word: str, problems: Problems) -> None:
    quoted = in_quotes(word)
    text = {"all": records(f"bell_pull: [{{date: 2026-05-16, at: {quoted}, moved: false}}]"),
            "as-commanded": records(f"output_test: [{{date: 2026-05-16, turned: {quoted}}}]"),
            "others": seen(f"{{front-left: cw, {quoted}: ccw}}")}[word]  # fmt: skip
    assert problems(text) == []
