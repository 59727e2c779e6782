"""``preflint draft --ask`` of manifests that no draft began: without rotors, half told, with shared files."""

from pathlib import Path

import pytest
from making.benches import QUAD_X, somebody
from making.terminal import ENOUGH, Person, ctrl_c

import preflint

HEAD = "preflint: 1\naircraft: {name: Bare, layout: quad-x}\n"
FORMS = {
    "no rotors": "",
    "an empty list": "rotors: []\n",
    "one between brackets": "rotors: [{at: rear-left}]\n",
    "one, and a comment": "rotors:\n  # the last one first\n  - at: rear-right   # new motor\n    spin: cw\n\n",
    "indented by hand": "packs:\n- label: A1\nevery_rotor: {prop: {diameter_in: 9}}\nrotors:\n- at: front-left\n",
}


def asked(folder: Path, text: str, **knows: str) -> Person:
    (folder / "bare.airframe.yaml").write_text(HEAD + text)
    person = Person(folder, somebody({**QUAD_X, "Fitted": "none", **knows}, 2))
    person.types("preflint draft --ask bare.airframe.yaml")
    return person


@pytest.mark.parametrize("form", FORMS)
def test_rotors_that_nobody_listed_are_listed(form: str, tmp_path: Path) -> None:
    person = asked(tmp_path, FORMS[form])
    assert preflint.inspect(person.manifest).verdict == "go"
    text = person.manifest.read_text()
    assert text.startswith(HEAD.replace("quad-x}", "quad-x, takeoff_mass_g: 1420}"))  # joined to what was there
    assert text.count("spin: ") == 4
    for comment in ("# the last one first", "# new motor"):
        assert (comment in text) is (comment in FORMS[form])


def test_what_some_rotors_have_is_asked_of_the_others(tmp_path: Path) -> None:
    told = "rotors: [{at: front-right, prop: {hand: ccw}}, {at: rear-right, fixing: {kind: clip}}]\n"
    nuts = {"Nut test: Motor turned": "cw ccw ccw -", "Nut test: Nut": "runs-on runs-on runs-on -"}
    person = asked(tmp_path, told, Hand="cw ccw cw", Latched="yes", **nuts)
    text = person.manifest.read_text()
    assert "fixing: {kind: nut, latched: true}" in text
    assert "{at: rear-right, fixing: {kind: clip}, prop: {hand: cw, face: up}, spin: cw}" in text
    assert text.count("hand: ") == 4
    assert preflint.inspect(person.manifest).verdict == "go"


def test_a_group_in_a_shared_file_is_left_alone_and_the_rest_goes_on(tmp_path: Path) -> None:
    (tmp_path / "parts").mkdir()
    part = tmp_path / "parts" / "hub.yaml"
    part.write_text("thread_size: M5\n")
    person = Person(tmp_path, {**somebody(QUAD_X, 1), "Fitted": "none"})
    (tmp_path / "bare.airframe.yaml").write_text(f"{HEAD}every_rotor: {{fixing: parts/hub.yaml}}\n")
    child = person.begins("preflint draft --ask bare.airframe.yaml")
    for line in ("none", "nut"):
        child.expect("> ")
        child.sendline(line)
    child.expect("there is no place for kind here: write it by hand.*goes on without")
    child.sendline("-")
    child.expect("Hand. ")
    ctrl_c(child)
    child.wait()
    assert part.read_text() == "thread_size: M5\n"
    person.loads()


def test_flight_relies_on_nothing_that_is_not_fitted(tmp_path: Path) -> None:
    person = Person(tmp_path, {**somebody(QUAD_X, 1), "Name": "Tern", "Fitted": "compass", "Go on with load": ENOUGH})
    shown = person.types("preflint draft --ask")
    assert "  Any of: compass; or all, none\n" in shown
    assert "relies_on: [compass]" in person.manifest.read_text()
