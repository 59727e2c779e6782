"""Whatever is typed or sent, the server goes on; a closed input ends it quietly."""

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import click
import pytest
from making.language_server import Server
from making.manifests import manifest

import preflint

PREFLINT = Path(sys.executable).with_name("preflint")
SOUND = manifest()


@pytest.fixture
def file(tmp_path: Path) -> Path:
    made = tmp_path / "trial.airframe.yaml"
    made.write_text(SOUND)
    return made


def goes_on(server: Server, file: Path) -> None:
    """It still judges and answers."""
    server.change(file, SOUND.replace("quad-x", "quad-y"), 9)
    (one,) = server.said_of(file)
    assert one["range"]["start"]["line"] == 1
    assert server.at("hover", file, 1, 2)["contents"]["value"].startswith("aircraft, a group")


@pytest.mark.parametrize("text", [
    "", "\t", "preflint: 1\n\taircraft: {name: x}\n", "\x00\x01\x7f\x80", "\ufeff" + SOUND, SOUND.replace("\n", "\r\n"),
    "a: {b: [c, {", "- - - - - [", "{" * 5000, "- " * 5000, "a:\n" * 3000, '"', "'", "&a [*a]",
    "!!python/object:os.system x",
    "key: |\n  text\n   more", "records:\n  spin_test:\n    - date: 2026-99-99\n      seen: {",
    "\u2028preflint: 1\u2029",
    "preflint: 1\naircraft: {name: \U0001f681, layout: quad-x\n", "#" * 300_000, "\r\r\r", "x: " + "y" * 70_000,
])  # fmt: skip
def test_nothing_typed_ends_it(server: Server, file: Path, text: str) -> None:
    server.open(file, text)
    for line, character in [(0, 0), (0, 3), (1, 10), (2, 0), (10**6, 10**6)]:
        server.at("completion", file, line, character)
        server.at("hover", file, line, character)
    server.ask("textDocument/codeAction", {
        "textDocument": {"uri": file.as_uri()}, "context": {"diagnostics": []},
        "range": {"start": {"line": 0, "character": 0}, "end": {"line": 10**6, "character": 0}},
    })  # fmt: skip
    goes_on(server, file)


def test_ten_megabytes_are_refused_at_once(server: Server, file: Path) -> None:
    (one,) = server.open(file, "a: b\n" * 2_000_000)
    assert "at most 262144 are read" in one["message"]
    assert server.at("completion", file, 1_000_000, 2)["items"] is not None
    assert server.at("hover", file, 1_000_000, 2) is None
    goes_on(server, file)


def test_every_beginning_of_a_manifest_can_be_completed_and_explained(server: Server, file: Path) -> None:
    text = manifest(rotors={"front-left": "spin: cw, prop: {hand: cw}"}, records={"spin_test": "date: 2026-05-01"})
    server.open(file, text)
    for end in range(0, len(text), 3):
        begun = text[:end]
        server.change(file, begun, end + 2)
        line, character = begun.count("\n"), len(begun) - begun.rfind("\n") - 1
        server.at("completion", file, line, character)
        server.at("hover", file, line, character)
    goes_on(server, file)


def test_what_is_no_message_or_no_method_is_passed_over(server: Server, file: Path) -> None:
    server.open(file)
    for body in (b"{", b"[]", b"null", b"\xff\xfe", b'{"jsonrpc": "2.0"}', b'{"jsonrpc": "2.0", "method": 5}',
                 b'{"jsonrpc": "2.0", "id": "x", "method": "textDocument/hover", "params": []}',
                 b'{"jsonrpc": "2.0", "method": "textDocument/didOpen", "params": {"textDocument": 3}}'):  # fmt: skip
        server.raw(b"Content-Length: %d\r\n\r\n%s" % (len(body), body))
    server.raw(b"Content-Length: none\r\n\r\n")
    assert server.refused("no/such/method", {})["code"] == -32601
    server.tell("$/cancelRequest", {"id": 12345})
    server.tell("no/such/notification", {})
    goes_on(server, file)


def test_a_request_that_is_called_off_is_answered_one_way_or_the_other(server: Server, file: Path) -> None:
    server.open(file)
    place = {"textDocument": {"uri": file.as_uri()}, "position": {"line": 1, "character": 2}}
    server._send({"id": "off", "method": "textDocument/hover", "params": place})
    server.tell("$/cancelRequest", {"id": "off"})
    goes_on(server, file)


@pytest.mark.parametrize("uri", [
    "untitled:one.airframe.yaml", "file:///no/such/folder/x.airframe.yaml", "http://x/y.airframe.yaml", "x", "file://",
    "file:///%00.airframe.yaml", "file:///dev/null",
])  # fmt: skip
def test_a_document_that_is_no_file_is_let_be(server: Server, file: Path, uri: str) -> None:
    document: dict[str, Any] = {"uri": uri, "languageId": "yaml", "version": 1, "text": SOUND}
    server.tell("textDocument/didOpen", {"textDocument": document})
    for method in ("hover", "completion"):
        server.ask(f"textDocument/{method}", {"textDocument": {"uri": uri}, "position": {"line": 0, "character": 1}})
    server.open(file)
    goes_on(server, file)


def test_nothing_is_imported_from_the_folder_it_is_started_in(tmp_path: Path, file: Path) -> None:
    for name in ("pygls", "lsprotocol", "cattrs", "asyncio", "preflint_club", "json"):
        (tmp_path / f"{name}.py").write_text("raise SystemExit('imported')")
    server = Server([str(PREFLINT), "language-server"], tmp_path, cwd=tmp_path)
    server.open(file)
    goes_on(server, file)
    server.end()


def test_what_a_rule_prints_does_not_get_into_the_talk(tmp_path: Path, file: Path) -> None:
    """The user's own rule module, named on the command line; whose folder PYTHONPATH names absolutely."""
    module = tmp_path / "installed" / "loud_rules.py"
    module.parent.mkdir()
    module.write_text(
        "from preflint.api import *\n\n"
        "@rule('loud/rule', each='aircraft', severity=CAUTION, job=Job.RECORD, precaution='None.', source='derived')\n"
        "def loud(aircraft, on):\n    'Prints.'\n    print('Content-Length: 5', flush=True)\n"
        "    return Finding(place=aircraft.place, message='heard', evidence='', do='hush')\n\n"
        "MODULE = RuleModule(api=1, name='loud', rules=(loud,))\n"
    )
    environment = {**os.environ, "PYTHONPATH": str(module.parent)}
    command = [str(PREFLINT), "language-server", "--rules", "loud_rules"]
    server = Server(command, tmp_path, errors=subprocess.DEVNULL, environment=environment)
    assert "loud/rule" in {one["code"] for one in server.open(file)}
    goes_on(server, file)
    server.end()


def test_a_rule_module_that_is_wrong_is_told_at_once() -> None:
    done = subprocess.run([str(PREFLINT), "language-server", "--rules", "no_such"], input=b"", capture_output=True)
    assert done.returncode == 2
    assert b"rule module no_such does not load" in done.stderr


def test_a_closed_input_ends_it_quietly(tmp_path: Path) -> None:
    done = subprocess.run([str(PREFLINT), "language-server"], input=b"", capture_output=True, timeout=60)
    assert (done.returncode, done.stdout, done.stderr) == (0, b"", b"")


def test_shutting_it_down_in_order_ends_it(tmp_path: Path) -> None:
    server = Server([str(PREFLINT), "language-server"], tmp_path)
    assert server.ask("shutdown", None) is None
    server.tell("exit", None)
    server.process.communicate(timeout=60)
    assert server.process.returncode == 0


def test_without_the_extra_it_says_what_to_install(tmp_path: Path) -> None:
    for folder in {Path(package.__file__ or "").parents[1] for package in (click, preflint)}:
        for entry in folder.iterdir():
            if not entry.name.startswith("pygls") and not (tmp_path / entry.name).exists():
                (tmp_path / entry.name).symlink_to(entry)
    code = f"""
import sys
sys.path[:] = [entry for entry in sys.path if "site-packages" not in entry] + [{str(tmp_path)!r}]
sys.argv = ["preflint", "language-server"]
from preflint.cli.main import run
run()
"""
    done = subprocess.run([sys.executable, "-S", "-c", code], capture_output=True, text=True, timeout=60, cwd="/")
    assert done.returncode == 2
    assert done.stderr == 'preflint: language-server needs one more package: pip install "preflint[editor]"\n'
