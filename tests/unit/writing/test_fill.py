"""One value written over the line that a draft left open, or where there is none; every other byte stays."""

from pathlib import Path

import pytest
from making.manifests import CLUB

from preflint.errors import NotRead
from preflint.load.yaml.events import load_yaml
from preflint.writing.begun import begun, with_begun, without_begun
from preflint.writing.fill import fill

FILE = "trial.airframe.yaml"
DRAFT = """\
preflint: 1
aircraft:
  name: Trial
  layout: quad-x
  # relies_on: [compass|barometer]   ## of them
# site: {latitude_deg: ___}

# every_rotor:
#   fixing: {kind: nut|clip}
#   motor: {full_throttle_draw_a: ___}
rotors:
  - at: front-left
    # spin: cw|ccw
    # prop: {hand: cw|ccw, face: up|down}
  - {at: front-right}
# compass: none|{}
"""


@pytest.mark.parametrize(
    ("path", "value", "before", "after"),
    [
        (("aircraft", "relies_on"), "[]", "  # relies_on: [compass|barometer]   ## of them\n", "  relies_on: []\n"),
        (("site", "latitude_deg"), "54.4", "# site: {latitude_deg: ___}\n", "site: {latitude_deg: 54.4}\n"),
        (("rotors", 0, "spin"), "cw", "    # spin: cw|ccw\n", "    spin: cw\n"),
        (("rotors", 0, "prop", "hand"), "cw", "    # prop: {hand: cw|ccw, face: up|down}\n", "    prop: {hand: cw}\n"),
        (("rotors", 1, "spin"), "ccw", "{at: front-right}", "{at: front-right, spin: ccw}"),
        (("compass",), "none", "# compass: none|{}\n", "compass: none\n"),
        (
            ("every_rotor", "fixing", "kind"), "nut",
            "# every_rotor:\n#   fixing: {kind: nut|clip}\n", "every_rotor:\n  fixing: {kind: nut}\n",
        ),
        (("barometer",), "{}", "# compass: none|{}\n", "# compass: none|{}\nbarometer: {}\n"),
        (("aircraft", "arm_mm"), "310", "  name: Trial\n", "  name: Trial\n  arm_mm: 310\n"),
    ],
)  # fmt: skip
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_a_value_stands_where_a_draft_left_it_open(
    path: tuple[str | int, ...], value: str, before: str, after: str, end: str
) -> None:
    text = DRAFT.replace("\n", end).encode()
    assert DRAFT.count(before) == 1
    wanted = DRAFT.replace(before, after).replace("\n", end).encode()
    if end == "\r\n" and path[0] == "every_rotor":  # a draft has no such line ends; a group between braces is as good
        assert b"every_rotor: {fixing: {kind: nut}}" in fill(text, FILE, path, value)
        return
    assert fill(text, FILE, path, value) == wanted


def test_a_second_value_joins_the_first() -> None:
    once = fill(DRAFT.encode(), FILE, ("every_rotor", "fixing", "kind"), "nut")
    twice = fill(once, FILE, ("every_rotor", "motor", "full_throttle_draw_a"), "14")
    assert b"every_rotor:\n  fixing: {kind: nut}\n  motor: {full_throttle_draw_a: 14}\nrotors:" in twice
    prop = fill(once, FILE, ("rotors", 0, "prop", "hand"), "cw")
    assert b"    prop: {hand: cw, face: up}\n" in fill(prop, FILE, ("rotors", 0, "prop", "face"), "up")


@pytest.mark.parametrize("path", sorted(CLUB.glob("*.airframe.yaml")), ids=lambda path: path.stem)
def test_any_manifest_takes_one_or_says_why_not(path: Path) -> None:
    data = path.read_bytes()
    for place in (("flight_controller", "expects_spin"), ("aircraft", "wing_mm"), ("rotors", 0, "note"), ("extra",)):
        try:
            after = fill(data, path.name, place, "5")
        except NotRead:
            continue
        held = load_yaml(after, path.name).plain()
        for step in place:
            held = held[step]  # type: ignore[index, call-overload]
        assert held == 5
        kept = set(data.decode().split("\n")) - set(after.decode().split("\n"))
        assert len(kept) <= 1  # the line that it joined


def test_what_is_written_in_another_file_is_not_written_to() -> None:
    text = b"preflint: 1\naircraft: {name: X, layout: quad-x}\ncompass: parts/compass.yaml\n"
    with pytest.raises(NotRead, match="write it by hand"):
        fill(text, FILE, ("compass", "noise_ut"), "0.2")
    with pytest.raises(NotRead, match="write it by hand"):
        fill(text, FILE, ("rotors", 0, "spin"), "cw")


def test_answers_of_a_record_that_is_not_finished_are_comments_and_come_back() -> None:
    text = DRAFT.encode()
    more = with_begun(with_begun(text, "tilt_test", "props=removed"), "nut_test", "nut=runs-on runs-off - -")
    more = with_begun(more, "tilt_test", "moves.nose-down.sped_up=none")
    assert load_yaml(more, FILE).plain() == load_yaml(text, FILE).plain()
    assert begun(more, "tilt_test") == ("props=removed", "moves.nose-down.sped_up=none")
    assert begun(more, "nut_test") == ("nut=runs-on runs-off - -",)
    assert without_begun(without_begun(more, "tilt_test"), "nut_test") == text
