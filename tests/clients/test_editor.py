"""An editor's language server with what ``preflint schema`` prints, beside the manifest."""

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from making.language_server import Server

from .conftest import ROOT, run

SETTINGS = {"validate": True, "completion": True, "hover": True, "schemaStore": {"enable": False}}
MODELINE = "# yaml-language-server: $schema=./airframe.schema.json\n"


@pytest.fixture
def server(clients: Path, tmp_path: Path) -> Iterator[Server]:
    (tmp_path / "airframe.schema.json").write_text(run(Path(sys.executable).parent / "preflint", "schema"))
    program = clients / "node_modules/yaml-language-server/bin/yaml-language-server"
    started = Server(["node", str(program), "--stdio"], tmp_path, SETTINGS)
    yield started
    started.end()


def written(folder: Path, text: str) -> Path:
    file = folder / "trial.airframe.yaml"
    file.write_text(MODELINE + text)
    return file


def test_no_example_of_the_club_is_complained_about(server: Server, tmp_path: Path) -> None:
    for example in sorted((ROOT / "examples" / "club").glob("*.airframe.yaml")):
        file = tmp_path / example.name
        file.write_text(MODELINE + example.read_text())
        assert server.open(file) == [], example.name


def test_a_wrong_entry_is_marked_where_it_stands(server: Server, tmp_path: Path) -> None:
    aircraft, rotor = "aircraft: {name: Trial, layout: quad-x, colour: red}", "  - {at: front-left, spin: left}"
    file = written(tmp_path, f"preflint: 1\n{aircraft}\nrotors:\n{rotor}\n")
    found = {(d["range"]["start"]["line"], d["range"]["start"]["character"]) for d in server.open(file)}
    assert found == {(2, aircraft.index("colour")), (4, rotor.index("left}"))}


def test_it_completes_and_explains(server: Server, tmp_path: Path) -> None:
    file = written(tmp_path, "preflint: 1\naircraft: {name: Trial, layout: quad-x}\nrotors:\n"
                             "  - at: front-left\n    spin: \n")  # fmt: skip
    server.open(file)
    items = server.at("completion", file, 5, 10)["items"]
    assert {item["label"] for item in items} >= {"cw", "ccw"}
    told = str(server.at("hover", file, 5, 6)["contents"])
    assert "seen from above" in told
    keys = {item["label"] for item in server.at("completion", file, 5, 4)["items"]}
    assert {"prop", "fixing", "esc", "motor"} <= keys


def test_a_session_offers_its_lines_and_kinds_and_a_record_its_own(server: Server, tmp_path: Path) -> None:
    file = written(tmp_path, "preflint: 1\naircraft: {name: Trial, layout: quad-x}\nsessions:\n"
                             "  - date: 2026-05-16\n    \n    bell_pull:\n      - at: all\n        \n"
                             "records:\n  bell_pull:\n    - at: all\n      \n")  # fmt: skip
    missing = sorted((d["range"]["start"]["line"], d["message"].split('"')[1]) for d in server.open(file))
    assert missing == [(7, "moved"), (11, "date"), (11, "moved")]  # in a session the date is the session's
    assert {item["label"] for item in server.at("completion", file, 5, 4)["items"]} >= {"props", "pack", "spin_test"}
    assert {item["label"] for item in server.at("completion", file, 8, 8)["items"]} >= {"moved"}
    assert {item["label"] for item in server.at("completion", file, 12, 6)["items"]} >= {"moved", "date"}


def test_the_draft_is_legal_in_an_editor(server: Server, tmp_path: Path) -> None:
    preflint = Path(sys.executable).parent / "preflint"
    file = tmp_path / "draft.airframe.yaml"
    file.write_text(MODELINE + run(preflint, "draft", "--layout", "quad-x", "--cells", "4", "--output", "-"))
    assert server.open(file) == []
