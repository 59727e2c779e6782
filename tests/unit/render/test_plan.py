"""The plan view: every rotor stands where its name says, as seen from above with the nose up."""

import re

import pytest

from preflint.render.plan import LARGE, SMALL, Mark, plan

LAYOUTS = ["quad-x", "quad-plus", "hexa-x", "hexa-plus", "octo-x", "octo-plus", "x8", "y6"]


def drawing(judge, layout: str, marks=None, width: int = 80, rotors: str = "") -> list[str]:
    text = f"preflint: 1\naircraft: {{name: Trial, layout: {layout}}}\n{rotors}"
    return plan(judge(text).aircraft, marks or {}, width)


def sign_of(lines: list[str], rotor: str) -> tuple[int, int]:
    """Row and column of the sign beside a rotor's name (its own row or, for a lower rotor, the one above)."""
    for row, line in enumerate(lines):
        if found := re.search(rf"(?<![\w-]){rotor} spin\?", line):
            start, end = found.span()
            for r in (row, row - 1):
                for column in (end + 1, start - 2):
                    if lines[r][column : column + 1] == "o":
                        return r, column
    raise LookupError(rotor)


@pytest.mark.parametrize("rows", [LARGE, SMALL])
@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_rotor_stands_where_the_words_of_its_name_say(judge, layout: str, rows: int) -> None:
    text = f"preflint: 1\naircraft: {{name: Trial, layout: {layout}}}\n"
    aircraft = judge(text).aircraft
    lines = plan(aircraft, {}, 80, rows)
    centre = next((r, line.index("+")) for r, line in enumerate(lines) if "+" in line)
    nose = next(r for r, line in enumerate(lines) if line.strip() == "nose")
    for rotor in aircraft.positions:
        row, column = sign_of(lines, rotor)
        words = rotor.split("-")
        assert ("front" in words) == (row < centre[0])
        assert ("rear" in words) == (row > centre[0])
        assert ("left" in words) == (column < centre[1])
        assert ("right" in words) == (column > centre[1])
        assert row > nose


def test_the_outermost_word_comes_first_on_an_octo(judge) -> None:
    lines = drawing(judge, "octo-x")
    assert sign_of(lines, "front-right")[0] < sign_of(lines, "right-front")[0]
    assert sign_of(lines, "front-right")[1] < sign_of(lines, "right-front")[1]
    assert sign_of(lines, "rear-left")[0] > sign_of(lines, "left-rear")[0]


def test_a_drawing_in_full(judge) -> None:
    rotors = "rotors: [{at: front, spin: cw}, {at: right, spin: ccw}, {at: rear, spin: cw}]\n"
    marks = {"front": Mark("X", (1, 3)), "left": Mark("?"), "rear": Mark("!", (2,))}
    assert drawing(judge, "quad-plus", marks, rotors=rotors) == [
        "                                      nose", "", "                                        X front cw [1,3]",
        "                                        .", "                                        .",
        "                                        .", "                                        .",
        "                   left spin? ? . . . . + . . . . o right ccw", "                                        .",
        "                                        .", "                                        .",
        "                                        .", "                                        ! rear cw [2]",
        "  Seen from above, nose up: X no-go, ! caution or advisory, ? not proven, o",
        "  nothing found; [n] finding n.",
    ]


def test_a_coaxial_arm_names_the_upper_rotor_first(judge) -> None:
    lines = drawing(judge, "y6")
    upper = next(i for i, line in enumerate(lines) if "rear-upper" in line)
    assert "rear-lower" in lines[upper + 1]


def test_a_coaxial_arm_shows_its_worst_sign(judge) -> None:
    lines = drawing(judge, "y6", {"rear-lower": Mark("X", (1,)), "rear-upper": Mark("?")})
    assert any("X rear-upper spin?" in line for line in lines)
    assert any(line.strip() == "rear-lower spin? [1]" for line in lines)


def custom(*places: str) -> str:
    return "rotors:\n" + "".join(f"  - {{at: rotor-{i}, {place}}}\n" for i, place in enumerate(places))


def test_a_custom_frame_is_drawn_by_its_measures(judge) -> None:
    rotors = custom("place_mm: [300, 0, 0]", "place_mm: [-100, 200, 0]", "place_mm: [-100, -200, 0]")
    lines = drawing(judge, "custom", rotors=rotors)
    tops = {at: next(i for i, line in enumerate(lines) if at in line) for at in ("rotor-0", "rotor-1", "rotor-2")}
    assert tops["rotor-0"] < tops["rotor-1"] == tops["rotor-2"]
    line = lines[tops["rotor-1"]]
    assert line.index("rotor-2") < line.index("rotor-1")


def test_of_two_rotors_in_one_place_the_upper_is_named_first(judge) -> None:
    rotors = custom("place_mm: [-200, 0, 30]", "place_mm: [-200, 0, -30]", "place_mm: [200, 0, 0]")
    lines = [line.strip() for line in drawing(judge, "custom", rotors=rotors)]
    assert lines.index("o rotor-1 spin?") + 1 == lines.index("rotor-0 spin?")


def test_rotors_too_close_for_their_names_get_letters_and_none_is_left_out(judge) -> None:
    rotors = custom(*(f"place_mm: [0, {right}, 0]" for right in (-300, -200, -100, 100, 200, 300)))
    lines = drawing(judge, "custom", rotors=rotors)
    text = "\n".join(lines)
    assert all(text.count(f"rotor-{i} spin?") == 1 for i in range(6))
    assert "  a: rotor-1 spin?" in lines


def test_the_letter_of_one_rotor_never_hides_the_sign_of_another(judge) -> None:
    rotors = custom(*(f"place_mm: [0, {right}, 0]" for right in range(-200, 220, 20)))
    lines = drawing(judge, "custom", {f"rotor-{i}": Mark("X", (i,)) for i in range(21)}, rotors=rotors)
    assert "X" * 21 in "\n".join(lines)
    assert all("\n".join(lines).count(f"rotor-{i} spin? [{i}]") == 1 for i in range(21))


def test_where_there_is_no_room_to_draw_the_rotors_are_listed(judge) -> None:
    rotors = custom("spin: cw, place_mm: [100, 0, 0]", "spin: ccw, place_mm: [-100, 0, 0]")
    assert drawing(judge, "custom", {"rotor-1": Mark("X", (1,))}, width=40, rotors=rotors) == [
        "  o rotor-0 cw", "  X rotor-1 ccw [1]", "  Rotors: X no-go, o nothing found; [n]",
        "  finding n.",
    ]


@pytest.mark.parametrize("width", [30, 49, 50, 64, 80, 132])
@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_rotor_is_named_within_the_width(judge, layout: str, width: int) -> None:
    text = f"preflint: 1\naircraft: {{name: Trial, layout: {layout}}}\n"
    aircraft = judge(text).aircraft
    lines = plan(aircraft, {}, width)
    assert max(map(len, lines)) <= width
    assert all(sum(f" {rotor} spin?" in f" {line}" for line in lines) == 1 for rotor in aircraft.positions)
