"""The real server over its real pipes: an open manifest is judged as it is typed."""

import datetime as dt
import shutil
import sys
from pathlib import Path
from typing import Any

import pytest
from making.language_server import Server
from making.manifests import CLUB, manifest

import preflint

PREFLINT = Path(sys.executable).with_name("preflint")
ERROR, WARNING, INFORMATION, HINT = 1, 2, 3, 4
SOUND = manifest(rotors={"front-left": "spin: cw", "front-right": "spin: ccw"})


@pytest.fixture
def file(tmp_path: Path) -> Path:
    made = tmp_path / "trial.airframe.yaml"
    made.write_text(SOUND)
    return made


def marked(text: str, one: dict[str, Any]) -> str:
    """The text that a diagnostic on one line marks, counted in UTF-16 units."""
    line = text.split("\n")[one["range"]["start"]["line"]].encode("utf-16-le")
    assert one["range"]["start"]["line"] == one["range"]["end"]["line"]
    return line[2 * one["range"]["start"]["character"] : 2 * one["range"]["end"]["character"]].decode("utf-16-le")


def apply(text: str, edit: dict[str, Any]) -> str:
    """The text with an edit made, positions counted in UTF-16 units."""
    lines = text.split("\n")

    def index(at: dict[str, int]) -> int:
        inside = lines[at["line"]].encode("utf-16-le")[: 2 * at["character"]].decode("utf-16-le")
        return sum(len(line) + 1 for line in lines[: at["line"]]) + len(inside)

    span = edit["range"]
    return text[: index(span["start"])] + str(edit["newText"]) + text[index(span["end"]) :]


def labels(items: list[dict[str, Any]]) -> list[str]:
    return [item["label"] for item in items]


def test_the_club_is_judged_as_on_the_command_line(server: Server, tmp_path: Path) -> None:
    folder = tmp_path / "club"
    shutil.copytree(CLUB, folder)
    for path in sorted(folder.glob("*.airframe.yaml")):
        said = server.open(path)
        judged = preflint.inspect(path)
        wanted = {
            result.rule.id for result in judged.results
            if isinstance(result.outcome, preflint.Finding | preflint.Unproven)
        }  # fmt: skip
        assert {one["code"] for one in said} == wanted
        worst = {one["code"] for one in said if one["severity"] == ERROR}
        assert worst == {
            result.rule.id for result in judged.results
            if isinstance(result.outcome, preflint.Finding) and result.rule.severity == preflint.Severity.NO_GO
        }  # fmt: skip


def test_what_is_typed_counts_and_not_what_is_saved(server: Server, file: Path) -> None:
    server.open(file)
    typed = SOUND.replace("spin: ccw", "spin: left")
    server.change(file, typed)
    (one,) = server.said_of(file)
    assert (marked(typed, one), one["severity"], one["source"]) == ("left", ERROR, "preflint")
    assert 'did you mean' in one["message"] or "write cw or ccw" in one["message"]
    server.change(file, SOUND, 3)
    assert "preflint/not-read" not in {one["code"] for one in server.said_of(file)}


@pytest.mark.parametrize("name", ["my quad", "Müller", "50%", "a+b#c?d"])
def test_a_file_of_any_name_is_judged_and_explained(server: Server, name: str, tmp_path: Path) -> None:
    """An editor writes a blank as %20, and its like."""
    path = tmp_path / name / f"{name}.airframe.yaml"
    path.parent.mkdir()
    path.write_text(SOUND.replace("quad-x", "quad-y"))
    (one,) = server.open(path)
    assert "quad-y" in one["message"]
    assert server.at("hover", path, 1, 2)["contents"]["value"].startswith("aircraft, a group")
    server.change(path, SOUND)
    assert "preflint/not-read" not in {one["code"] for one in server.said_of(path)}
    server.tell("textDocument/didSave", {"textDocument": {"uri": path.as_uri()}})
    assert len(server.said_of(path)) > 1


def test_a_finding_tells_what_to_do_and_what_to_mind_and_points_on(server: Server, file: Path) -> None:
    text = manifest(
        rotors={"front-left": "spin: cw, prop: {hand: cw, face: up}, fixing: {kind: nut, nut_tightens: cw}"},
        records={"spin_test": "date: 2026-05-18, props: removed, seen: {front-left: ccw}"},
        more="relies_on: []",
    )
    said = server.open(file, text)
    nut = next(one for one in said if one["code"] == "retention/nut-hand")
    assert nut["severity"] == ERROR
    assert nut["message"].index("First: ") < nut["message"].index("Then: ")
    related = [one for one in said if one["relatedInformation"]]
    assert related
    assert all(one["location"]["uri"] == file.as_uri() for each in related for one in each["relatedInformation"])


def test_places_are_counted_as_the_protocol_does_beside_an_emoji(server: Server, file: Path) -> None:
    text = 'preflint: 1\naircraft: {name: "\U0001f681\U0001f681 é", layout: quad-y, colour: red}\n'
    said = server.open(file, text)
    assert {marked(text, one) for one in said} == {"quad-y", "colour"}
    found = server.at("completion", file, 1, text.split("\n")[1].index("quad-y") + 2 + 4)["items"]
    item = next(item for item in found if item["label"] == "quad-x")
    assert apply(text, item["textEdit"]) == text.replace("quad-y", "quad-x-y")  # before the cursor only


def test_closing_takes_the_marks_off(server: Server, file: Path) -> None:
    assert server.open(file)
    server.tell("textDocument/didClose", {"textDocument": {"uri": file.as_uri()}})
    assert server.said_of(file) == []


def test_saving_a_part_judges_the_aircraft_again(server: Server, tmp_path: Path) -> None:
    part = tmp_path / "motor.yaml"
    part.write_text("shaft_mm: 4.0\n")
    file = tmp_path / "trial.airframe.yaml"
    file.write_text(manifest("every_rotor: {motor: motor.yaml}\n"))
    assert "preflint/not-read" not in {one["code"] for one in server.open(file)}
    part.write_text("shaft: 4.0\n")
    server.tell("textDocument/didSave", {"textDocument": {"uri": part.as_uri()}})
    (one,) = server.said_of(file)
    assert one["code"] == "preflint/not-read"
    assert "motor.yaml:1:1" in one["message"]


def test_hovering_explains_the_key_the_value_and_the_kind(server: Server, file: Path) -> None:
    seen = "date: 2026-05-18, seen: {front-left: cw}"
    text = manifest(rotors={"front-left": "spin: cw"}, records={"spin_test": seen})
    server.open(file, text)
    lines = text.split("\n")

    def told(word: str, after: int = 1) -> str:
        row = next(i for i, line in enumerate(lines) if word in line)
        answer = server.at("hover", file, row, lines[row].index(word) + after)
        return str(answer["contents"]["value"])

    assert told("spin: cw").startswith("rotors.spin, a key of rotors\n")
    assert told("spin_test").startswith("records.spin_test, a kind of record\n")
    assert told("cw}").startswith("rotors.spin")
    assert told("seen").startswith("spin_test.seen")
    assert told("preflint").startswith("preflint, a key at the start of a line\n")
    assert server.at("hover", file, len(lines) + 5, 400) is None


def test_it_completes_keys_words_positions_labels_and_days(server: Server, file: Path) -> None:
    text = (
        "preflint: 1\naircraft: {name: Trial, layout: y6}\nrotors:\n  - at: rear-upper\n    spin: \n    \n"
        "packs:\n  - {label: A1, cells: 6}\n  - {label: B2, che}\nrecords:\n  hover:\n    - date: \n      pack: \n"
    )
    server.open(file, text)

    def at(line: int, character: int) -> list[str]:
        return labels(server.at("completion", file, line, character)["items"])

    assert at(4, 10) == ["cw", "ccw"]
    assert "prop" in at(5, 4)
    assert "spin" not in at(5, 4)
    assert "rear-lower" in at(3, 8)
    assert at(8, 19) == [
        "chemistry", "cells", "capacity_mah", "rated_c", "mass_g", "lead", "connector_continuous_a", "fuse_a",
    ]
    assert at(11, 12) == [dt.date.today().isoformat()]
    assert at(12, 12) == ["A1", "B2"]
    assert at(99, 0) is not None


def test_a_whole_record_is_offered_as_text_to_fill_in(server: Server, file: Path) -> None:
    text = SOUND + "records:\n  "
    server.open(file, text)
    items = server.at("completion", file, text.count("\n"), 2)["items"]
    item = next(item for item in items if item["label"] == "spin_test: a whole record")
    assert item["insertTextFormat"] == 2
    today = dt.date.today()
    assert item["textEdit"]["newText"] == (
        f"spin_test:\n  - date: {today}\n    props: ${{1|removed,fitted|}}\n    seen: {{front-left: ${{2|cw,ccw|}}, "
        "front-right: ${3|cw,ccw|}, rear-left: ${4|cw,ccw|},\n           rear-right: ${5|cw,ccw|}\\}"
    )


def test_a_record_that_answers_a_question_is_inserted_where_it_belongs(server: Server, file: Path) -> None:
    text = "# \U0001f681\n" + SOUND + "logbook:\n  - {date: 2026-05-01, kind: flown}  # \U0001f681\n"
    said = server.open(file, text)
    asked = next(one for one in said if one["code"] == "rotation/spin-seen")
    document = {"uri": file.as_uri()}
    found = server.ask("textDocument/codeAction", {
        "textDocument": document, "range": asked["range"], "context": {"diagnostics": [asked]},
    })  # fmt: skip
    action = next(one for one in found if one["title"] == "Insert a spin_test to fill in")
    (edit,) = action["edit"]["changes"][file.as_uri()]
    after = apply(text, edit)
    assert after.replace(edit["newText"], "") == text
    assert after.index("rotors:") < after.index("records:\n  spin_test:\n") < after.index("logbook:")
    assert "front-left: cw|ccw" in after
    server.change(file, after)
    assert "preflint/not-read" in {one["code"] for one in server.said_of(file)}
    server.change(file, after.replace("cw|ccw", "cw").replace("removed|fitted", "removed"), 3)
    assert "preflint/not-read" not in {one["code"] for one in server.said_of(file)}
