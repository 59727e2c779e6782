"""Shared parts put in place of their names, and groups merged, with every place kept."""

import pytest
from making.manifests import expect

from preflint.errors import NotRead, Problem
from preflint.load.node import Node
from preflint.load.shared import Read, expand_rotors, merge, resolve
from preflint.load.yaml.events import load_yaml

FILES = {
    "site.yaml": "latitude_deg: 54.6\n",
    "parts/motor.yaml": "\nkv_rpm_per_v: 420\nshaft_mm: 5\n",
    "parts/pack.yaml": "label: A1\nlead: ../leads/short.yaml\n",
    "leads/short.yaml": "gauge_awg: 12\n",
    "loop.yaml": "label: A1\nlead: loop.yaml\n",
    "bad.yaml": "cells: 012\nlabel: no\n",
}


def read(referrer: str, reference: str) -> Node:
    folder = referrer.rpartition("/")[0]
    name = "/".join(filter(None, (folder, reference))).replace("parts/../", "")
    if name not in FILES:
        raise NotRead(name, [Problem("there is no such file")])
    return load_yaml(FILES[name].encode(), name)


def resolved(text: str, reader: Read = read) -> Node:
    return resolve(load_yaml(text.encode(), "wren.airframe.yaml"), reader)


def problems(text: str, reader: Read = read) -> tuple[Problem, ...]:
    with pytest.raises(NotRead) as caught:
        resolved(text, reader)
    assert caught.value.file == "wren.airframe.yaml"
    return caught.value.problems


def at(node: Node, *steps: str | int) -> Node:
    for step in steps:
        node = node.value[step]  # type: ignore[index, call-overload]
    return node


def test_a_site_keeps_the_places_of_its_file_and_the_key_of_the_manifest() -> None:
    site = at(resolved("preflint: 1\nsite: site.yaml\n"), "site")
    assert site.key is not None
    assert (site.key.file, site.key.line) == ("wren.airframe.yaml", 2)
    latitude = at(site, "latitude_deg")
    assert (latitude.value, latitude.place.file, latitude.place.line) == (54.6, "site.yaml", 1)
    assert latitude.place.pointer == "/latitude_deg"


@pytest.mark.parametrize("part", ["motor", "esc", "prop", "fixing"])
@pytest.mark.parametrize(("text", "steps"), [
    ("every_rotor: {@: parts/motor.yaml}", ("every_rotor",)),
    ("rotors: [{at: rear}, {@: parts/motor.yaml}]", ("rotors", 1)),
])  # fmt: skip
def test_parts_of_rotors(part: str, text: str, steps: tuple[str | int, ...]) -> None:
    found = at(resolved(text.replace("@", part)), *steps, part, "kv_rpm_per_v")
    assert (found.value, found.place.file, found.place.line) == (420, "parts/motor.yaml", 2)


@pytest.mark.parametrize("name", ["power_sensing", "compass", "site"])
def test_what_is_fitted_once(name: str) -> None:
    assert at(resolved(f"{name}: parts/motor.yaml"), name, "shaft_mm").value == 5


def test_a_file_may_name_a_lead_from_its_own_folder() -> None:
    lead = at(resolved("packs: [parts/pack.yaml]"), "packs", 0, "lead")
    assert at(lead, "gauge_awg").place.file == "leads/short.yaml"
    assert lead.key is not None
    assert lead.key.file == "parts/pack.yaml"


@pytest.mark.parametrize("text", [
    "barometer: site.yaml", "aircraft: {owner: site.yaml}", "compass: none", "site: home.yml",
    "rotors: [site.yaml]", "every_rotor: {motor: {make: site.yaml}}",
    "logbook: site.yaml", "site: 5", "packs: none",
])  # fmt: skip
def test_all_else_is_left_as_it_is(text: str) -> None:
    document = load_yaml(text.encode(), "wren.airframe.yaml")
    assert resolve(document, read) == document


def test_a_missing_file_is_told_where_it_is_named() -> None:
    (problem,) = problems("preflint: 1\nsite: nowhere.yaml\n")
    assert problem.message == "nowhere.yaml: there is no such file"
    assert problem.place is not None
    assert (problem.place.file, problem.place.line, problem.place.column) == ("wren.airframe.yaml", 2, 7)


def test_a_name_that_is_refused_is_told_where_it_is_written() -> None:
    def refuse(referrer: str, reference: str) -> Node:
        raise NotRead(referrer, [Problem(f'"{reference}" leads out')])

    (problem,) = problems("site: ../x.yaml", refuse)
    assert problem.message == '"../x.yaml" leads out'
    assert problem.place is not None
    assert problem.place.column == 7


def test_problems_of_a_file_stand_in_that_file_and_once() -> None:
    found = problems("packs: [bad.yaml, bad.yaml]\nsite: nowhere.yaml\n")
    assert [(p.place.file, p.place.line) for p in found if p.place] == [
        ("bad.yaml", 1), ("bad.yaml", 2), ("wren.airframe.yaml", 2),
    ]  # fmt: skip


def test_a_circle_is_refused() -> None:
    (problem,) = problems("packs: [loop.yaml]")
    assert problem.message == ("files name one another in a circle: wren.airframe.yaml names loop.yaml names loop.yaml")
    assert problem.place is not None
    assert (problem.place.file, problem.place.line) == ("loop.yaml", 2)


def test_a_manifest_that_names_itself_is_refused() -> None:
    def itself(referrer: str, reference: str) -> Node:
        return load_yaml(b"site: wren.airframe.yaml", reference)

    (problem,) = problems("site: wren.airframe.yaml", itself)
    assert problem.message == ("files name one another in a circle: wren.airframe.yaml names wren.airframe.yaml")


def test_a_file_named_often_is_read_once() -> None:
    seen: list[str] = []

    def counted(referrer: str, reference: str) -> Node:
        seen.append(reference)
        return read(referrer, reference)

    resolved("every_rotor: {motor: parts/motor.yaml, esc: parts/motor.yaml}\nsite: site.yaml", counted)
    assert seen == ["parts/motor.yaml", "site.yaml"]


def test_many_small_names_cannot_make_a_large_document() -> None:
    big = "".join(f"k{number}: 1\n" for number in range(5000))
    (problem,) = problems(f"packs: [{', '.join(['big.yaml'] * 1000)}]", lambda _, name: load_yaml(big.encode(), name))
    assert problem.message == "with the files it names the manifest holds more than 20000 values"


def test_a_manifest_names_a_hundred_files_at_most() -> None:
    names = ", ".join(f"p{number}.yaml" for number in range(101))
    (problem,) = problems(f"packs: [{names}]", lambda _, name: load_yaml(b"cells: 6", name))
    assert problem.message == "the manifest names more than 100 files of parts"


def test_merging_lays_the_rotor_over_what_all_share() -> None:
    document = load_yaml(
        b"shared: {prop: {blades: 2, mass_g: 21}, spin: cw, place_mm: [1, 2, 3]}\n"
        b"own: {prop: {mass_g: 22, hand: cw}, place_mm: [4], at: rear}\n",
        "wren.airframe.yaml",
    )
    own = at(document, "own")
    merged = merge(at(document, "shared"), own)
    assert merged.plain() == {
        "prop": {"blades": 2, "mass_g": 22, "hand": "cw"}, "spin": "cw", "place_mm": [4], "at": "rear",
    }  # fmt: skip
    assert (merged.place, merged.key) == (own.place, own.key)
    lines = {name: at(merged, "prop", name).place.line for name in ("blades", "mass_g", "hand")}
    assert lines == {"blades": 1, "mass_g": 2, "hand": 2}
    assert at(merged, "spin").place.line == 1


def test_merging_with_nothing() -> None:
    own = load_yaml(b"at: rear\n", "wren.airframe.yaml")
    assert merge(None, own) is own


def test_a_scalar_replaces_a_group_and_a_group_a_scalar() -> None:
    document = load_yaml(b"a: {x: {z: 1}}\nb: {x: 5}\n", "wren.airframe.yaml")
    a, b = at(document, "a"), at(document, "b")
    assert merge(a, b).plain() == {"x": 5}
    assert merge(b, a).plain() == {"x": {"z": 1}}


BICOPTER = {"bicopter": ("left", "right")}


def rotors(text: str) -> tuple[Node, ...]:
    document = load_yaml(text.encode(), "wren.airframe.yaml")
    found = expect(tuple, at(expand_rotors(document, lambda layout: BICOPTER.get(layout, ())), "rotors").value)
    return found


def test_every_rotor_of_the_layout_is_there_in_its_order_with_what_all_share() -> None:
    left, right = rotors(
        "preflint: 1\naircraft: {layout: bicopter}\nevery_rotor: {motor: {shaft_mm: 5, kv_rpm_per_v: 420}}\n"
        "rotors:\n  - {at: right, motor: {shaft_mm: 4}}\n"
    )
    assert left.plain() == {"at": "left", "motor": {"shaft_mm": 5, "kv_rpm_per_v": 420}}
    assert right.plain() == {"at": "right", "motor": {"shaft_mm": 4, "kv_rpm_per_v": 420}}
    assert (right.place.line, right.place.pointer) == (5, "/rotors/0")
    assert (at(right, "motor", "shaft_mm").place.line, at(right, "motor", "kv_rpm_per_v").place.line) == (5, 3)


@pytest.mark.parametrize(("written", "pointer", "line"), [
    ("rotors: [{at: right}]\n", "/rotors", 3), ("", "/preflint", 1),
])  # fmt: skip
def test_a_rotor_that_nobody_wrote_stands_where_the_rotors_do(written: str, pointer: str, line: int) -> None:
    left, _ = rotors(f"preflint: 1\naircraft: {{layout: bicopter}}\n{written}")
    assert left.plain() == {"at": "left"}
    assert {(place.pointer, place.line) for place in (left.place, at(left, "at").place)} == {(pointer, line)}


def test_a_layout_without_names_keeps_the_rotors_as_written() -> None:
    found = rotors("preflint: 1\naircraft: {layout: custom}\nrotors: [{at: b}, {at: a}]\n")
    assert [node.plain() for node in found] == [{"at": "b"}, {"at": "a"}]


def test_nothing_but_the_rotors_changes() -> None:
    text = b"preflint: 1\naircraft: {layout: bicopter}\nevery_rotor: {spin: cw}\nsite: {elevation_m: 3}\n"
    document = load_yaml(text, "wren.airframe.yaml")
    expanded = expand_rotors(document, BICOPTER.__getitem__)
    assert isinstance(document.value, dict)
    assert isinstance(expanded.value, dict)
    assert {**expanded.value} == {**document.value, "rotors": expanded.value["rotors"]}
    assert (expanded.place, expanded.key) == (document.place, document.key)
