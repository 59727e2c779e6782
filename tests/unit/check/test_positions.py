"""Position names against the layout, wherever a manifest uses one."""

from collections.abc import Callable

import pytest

from preflint.aircraft import layouts
from preflint.errors import Problem

Problems = Callable[[str], list[Problem]]
Marked = Callable[[str, Problem], str]

# Every way to use a position; @ stands for it.
USES = {
    "rotor": "rotors: [{at: @}]",
    "expected spin": "flight_controller: {expects_spin: {@: cw}}",
    "spin seen": "records: {spin_test: [{date: 2026-04-18, seen: {@: cw}}]}",
    "commanded": "records: {output_test: [{date: 2026-04-18, turned: {@: %}}]}",
    "turned": "records: {output_test: [{date: 2026-04-18, turned: {%: @}}]}",
    "nut test": "records: {nut_test: [{date: 2026-04-18, at: @, motor_turned: cw, nut: runs-on}]}",
    "bell pull": "records: {bell_pull: [{date: 2026-04-18, at: @, moved: false}]}",
    "balance": "records: {prop_balance: [{date: 2026-04-18, at: @}]}",
    "stand": "records: {thrust_stand: [{date: 2026-04-18, at: @, file: a.csv}]}",
    "speeds": "records: {rotor_speeds: [{date: 2026-04-18, rpm: {@: 5000}}]}",
    "tilt": "records: {tilt_test: [{date: 2026-04-18, moves: [{did: nose-up, sped_up: [@]}]}]}",
    "stick": "records: {stick_check: [{date: 2026-04-18, moves: [{did: nose-up, sped_up: [@]}]}]}",
    "start": "records: {stick_check: [{date: 2026-04-18, start_throttle_percent: {@: 5}}]}",
    "logbook": "logbook: [{date: 2026-04-18, kind: replaced, part: motor, at: @}]",
    "deferral": "deferred_defects: [{rule: a/b, until: 2026-06-01, by: R, because: so, at: @}]",
}


def manifest(layout: str, use: str, position: str) -> str:
    right = (layouts.positions(layout) or ("nose",))[0]
    below = USES[use].replace("@", position).replace("%", right)
    return f"preflint: 1\naircraft: {{name: Wren, layout: {layout}}}\n{below}\n"


@pytest.mark.parametrize("use", USES)
@pytest.mark.parametrize("layout", [name for name in layouts.NAMES if name != "custom"])
def test_every_position_of_a_layout_is_known_everywhere(layout: str, use: str, problems: Problems) -> None:
    for position in layouts.positions(layout):
        assert problems(manifest(layout, use, position)) == []


IT_HAS = "It has front-left, front-right, rear-left, rear-right"


@pytest.mark.parametrize("use", USES)
def test_a_misspelt_position_gets_a_suggestion(use: str, problems: Problems, marked: Marked) -> None:
    text = manifest("quad-x", use, "front-lift")
    (problem,) = problems(text)
    assert problem.message == 'layout quad-x has no position "front-lift"; did you mean "front-left"? ' + IT_HAS
    assert marked(text, problem) == "front-lift"


@pytest.mark.parametrize("use", USES)
def test_a_number_for_a_position_gets_the_names(use: str, problems: Problems) -> None:
    (problem,) = problems(manifest("quad-x", use, '"1"'))
    names = "front-left, front-right, rear-left, rear-right"
    assert problem.message == f'layout quad-x has no position "1"; write one of {names}'


@pytest.mark.parametrize("use", USES)
def test_an_arm_of_a_coaxial_aircraft_is_no_rotor(use: str, problems: Problems) -> None:
    (problem,) = problems(manifest("x8", use, "rear-left"))
    assert problem.message.startswith('layout x8 has no position "rear-left"; did you mean "rear-left-')


@pytest.mark.parametrize("use", [use for use in USES if use != "rotor"])
def test_a_custom_layout_knows_its_own_rotors(use: str, problems: Problems) -> None:
    rotors = "rotors: [{at: nose, place_mm: [300, 0, 0]}, {at: tail, place_mm: [-300, 0, 0]}]\n"
    assert problems(manifest("custom", use, "tail") + rotors) == []
    (problem,) = problems(manifest("custom", use, "tial") + rotors)
    assert problem.message == 'layout custom has no position "tial"; did you mean "tail"? It has nose, tail'


def test_a_custom_layout_needs_a_place_for_every_rotor(problems: Problems, marked: Marked) -> None:
    text = manifest("custom", "rotor", "nose")
    (problem,) = problems(text)
    needed = '"place_mm" is missing: layout custom needs it for every rotor, as in place_mm: [220, -220, 0]'
    assert (problem.message, marked(text, problem)) == (needed, "{at: nose}")


def test_a_custom_layout_needs_rotors(problems: Problems, marked: Marked) -> None:
    text = "preflint: 1\naircraft: {name: Wren, layout: custom}\n"
    (problem,) = problems(text)
    assert problem.message == "layout custom needs rotors, each with at and place_mm"
    assert marked(text, problem) == "custom"


def test_a_deferral_may_name_a_pack(problems: Problems) -> None:
    assert problems(manifest("quad-x", "deferral", "A1") + "packs: [{label: A1}]\n") == []


def test_a_wrong_layout_is_one_problem(problems: Problems) -> None:
    (problem,) = problems(manifest("quad-z", "nut test", "front-lift"))
    assert problem.message.startswith('"quad-z" is not known here; did you mean "quad-x"?')


def test_work_on_an_arm_may_name_the_arm_of_a_coaxial_aircraft(problems: Problems) -> None:
    head = "preflint: 1\naircraft: {name: Wren, layout: y6}\n"
    rotors = "front-left-upper, front-left-lower, front-right-upper, front-right-lower, rear-upper, rear-lower"
    for part, said in (("arm", []), ("motor", [f'layout y6 has no position "rear"; write one of {rotors}'])):
        text = f"{head}logbook: [{{date: 2026-04-18, kind: replaced, part: {part}, at: rear}}]\n"
        assert [problem.message for problem in problems(text)] == said
    (problem,) = problems(f"{head}logbook: [{{date: 2026-04-18, kind: replaced, part: arm, at: raer}}]\n")
    there = f"{rotors}, front-left, front-right, rear"
    assert problem.message == f'layout y6 has no position "raer"; did you mean "rear"? It has {there}'


def many_rotors(count: int) -> str:
    entries = "".join(f"  - {{at: r{i}, place_mm: [{i}, 0, 0]}}\n" for i in range(count))
    return f"preflint: 1\naircraft: {{name: Wren, layout: custom}}\nrotors:\n{entries}"


def test_a_manifest_of_hundreds_of_rotors_is_refused(problems: Problems) -> None:
    """No report of them could be read, or drawn in reasonable time; the number is ours."""
    assert problems(many_rotors(64)) == []
    (problem,) = problems(many_rotors(65))
    assert problem.message == "rotors has 65 entries; at most 64 are read"
    assert problem.place
    assert (problem.place.file, problem.place.line) == ("wren.airframe.yaml", 4)
