"""``preflint draft`` as people run it: the file it writes, its name, and what is said of it."""

import json
import re
import shlex
from pathlib import Path

import pexpect
import pytest
from making.manifests import CLUB
from making.program import PROGRAM, run


def test_the_file_is_named_as_the_aircraft_and_found_by_inspect(tmp_path: Path) -> None:
    done = run("draft", "--layout", "quad-x", "--name", "Kestrel", "--fitted", "none", cwd=tmp_path)
    assert (done.returncode, done.stdout) == (0, "")
    assert done.stderr == (
        "kestrel.airframe.yaml is written: 0 of 10 needed things shown; next step: bench\nlook, about 30 minutes.\n"
        "Fill it in, then run: preflint inspect kestrel.airframe.yaml\n"
    )
    judged = run("inspect", ".", "--format", "json", cwd=tmp_path)
    [aircraft] = json.loads(judged.stdout)["aircraft"]
    assert (aircraft["name"], aircraft["verdict"]) == ("Kestrel", "unproven")


def test_the_command_that_it_names_works_whatever_the_name(tmp_path: Path) -> None:
    done = run("draft", "--layout", "y6", "--output", tmp_path / "my $(touch x); 'one.airframe.yaml", cwd=tmp_path)
    command = done.stderr.splitlines()[-1].removeprefix("Fill it in, then run: ")
    assert run(*shlex.split(command)[1:], cwd=tmp_path).returncode == 1
    assert len(list(tmp_path.iterdir())) == 1


@pytest.mark.parametrize(
    ("output", "right"),
    [("kestrel.yaml", "kestrel"), ("Kestrel.airframe.yml", "kestrel"), (".airframe.yaml", "aircraft")],
)
def test_a_name_that_inspect_would_not_find_is_refused_with_the_right_one(
    output: str, right: str, tmp_path: Path
) -> None:
    done = run("draft", "--layout", "quad-x", "--output", output, cwd=tmp_path)
    assert done.returncode == 2
    assert f"write --output {right}.airframe.yaml" in done.stderr
    assert list(tmp_path.iterdir()) == []


def test_nothing_is_ever_replaced(tmp_path: Path) -> None:
    ours = tmp_path / "my-aircraft.airframe.yaml"
    ours.write_text("mine")
    link = tmp_path / "link.airframe.yaml"
    link.symlink_to("gone.airframe.yaml")
    for output in ((), ("--output", link)):
        done = run("draft", "--layout", "quad-x", *output, cwd=tmp_path)
        assert done.returncode == 2
        assert "exists already; a draft never replaces a file" in done.stderr
    assert ours.read_text() == "mine"
    assert not link.exists()


def test_a_name_does_nothing_to_the_terminal(tmp_path: Path) -> None:
    done = run("draft", "--layout", "quad-x", "--output", "a\x01\x1b[2Jb.airframe.yaml", cwd=tmp_path)
    assert done.returncode == 0
    assert done.stderr.count("a\\x01\\x1b[2Jb.airframe.yaml") == 2
    assert done.stderr.replace("\n", "").isprintable()


def test_standard_output_has_the_same_text_and_nothing_is_said(tmp_path: Path) -> None:
    run("draft", "--layout", "x8", "--cells", "6", "--fitted", "power", cwd=tmp_path)
    told = run("draft", "--layout", "x8", "--cells", "6", "--fitted", "power", "--output", "-", cwd=tmp_path)
    assert told.stderr == ""
    assert told.stdout == (tmp_path / "my-aircraft.airframe.yaml").read_text()


@pytest.mark.parametrize(
    ("fitted", "said"),
    [
        ("pwer", 'did you mean "power"?'),
        ("power, sonar", '"sonar" is not known here; write one of power, compass, barometer, satellite'),
        ("none,power", '"none" is not known here'),
        ("", "is not known here"),
    ],
)
def test_what_cannot_be_fitted_is_refused(fitted: str, said: str, tmp_path: Path) -> None:
    done = run("draft", "--layout", "quad-x", "--fitted", fitted, cwd=tmp_path)
    assert (done.returncode, said in done.stderr) == (2, True), done.stderr
    assert list(tmp_path.iterdir()) == []


def test_without_a_terminal_the_layout_is_needed(tmp_path: Path) -> None:
    done = run("draft", cwd=tmp_path, given="quad-x\n")
    assert done.returncode == 2
    assert "name the layout: --layout and one of quad-x, quad-plus" in done.stderr


def test_on_a_terminal_the_layout_is_asked_for(tmp_path: Path) -> None:
    child = pexpect.spawn(str(PROGRAM), ["draft", "--name", "Tern"], cwd=str(tmp_path), encoding="utf-8", timeout=60)
    child.expect("How are the rotors placed")
    child.sendline("quadx")
    child.expect("is not one of")
    child.sendline("hexa-plus")
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0
    assert re.search(r"^  layout: hexa-plus$", (tmp_path / "tern.airframe.yaml").read_text(), re.MULTILINE)


def test_sheets_for_a_new_aircraft(tmp_path: Path) -> None:
    done = run("draft", "--layout", "quad-x", "--fitted", "power", "--paper", "bench.html", cwd=tmp_path)
    assert (done.returncode, done.stdout) == (0, "")
    assert done.stderr == "bench.html is written: print it from a browser, a page for each step.\n"
    text = (tmp_path / "bench.html").read_text()
    assert text.count("<section") == 3
    assert "Barometer check" not in text


def test_sheets_for_what_is_open_of_a_manifest(tmp_path: Path) -> None:
    redshank = CLUB / "redshank.airframe.yaml"  # its interference run is outdated since its battery tray was moved
    done = run("draft", redshank, "--paper", tmp_path / "redshank.html")
    assert done.returncode == 0
    assert "Redshank" in (tmp_path / "redshank.html").read_text()
    assert "Interference run, 20 min" in (tmp_path / "redshank.html").read_text()


@pytest.mark.parametrize(
    ("options", "said"),
    [
        (("--paper", "bench.pdf"), "write --paper bench.html"),
        (("--paper", "there.html"), "there.html exists already"),
        (("--paper", "bench.html", "--output", "x.airframe.yaml"), "leave --output out"),
        (("x.airframe.yaml",), "a draft is written with --output x.airframe.yaml"),
    ],
)
def test_sheets_never_replace_anything(options: tuple[str, ...], said: str, tmp_path: Path) -> None:
    (tmp_path / "there.html").write_text("mine")
    done = run("draft", "--layout", "quad-x", *options, cwd=tmp_path)
    assert done.returncode == 2
    assert said in done.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["there.html"]
    assert (tmp_path / "there.html").read_text() == "mine"


def test_a_manifest_that_cannot_be_read_has_no_sheets(tmp_path: Path) -> None:
    (tmp_path / "x.airframe.yaml").write_text("preflint: 1\n")
    done = run("draft", "x.airframe.yaml", "--paper", "x.html", cwd=tmp_path)
    assert done.returncode == 3
    assert not (tmp_path / "x.html").exists()
