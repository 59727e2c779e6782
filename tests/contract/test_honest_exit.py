"""Exit codes of the real program: nothing is 0 because nothing was looked at."""

import json
import os
import signal
import subprocess
from pathlib import Path

import pytest
from making.manifests import CLUB
from making.program import DAY, PROGRAM, run, started

ROOT = Path(__file__).parents[2]


def no_traceback(done: subprocess.CompletedProcess[str]) -> None:
    assert "Traceback" not in done.stderr + done.stdout


def test_a_clean_aircraft_is_0() -> None:
    assert started("inspect", CLUB / "wheatear.airframe.yaml", *DAY).returncode == 0


def test_a_grounded_aircraft_is_1() -> None:
    assert started("inspect", CLUB / "siskin.airframe.yaml", *DAY).returncode == 1


def test_an_unproven_aircraft_is_1() -> None:
    assert run("inspect", CLUB / "knot.airframe.yaml", *DAY).returncode == 1


@pytest.mark.parametrize("arguments", [
    ("inspect",),
    ("inspect", CLUB, "--format", "pretty"),
    ("inspect", CLUB, "--as-of", "tomorrow"),
    ("inspect", CLUB, "--as-of", "20260521"),
    ("inspect", CLUB, "--rules", "no_such_rules"),
    ("frobnicate",),
    ("inspect", CLUB, "--rules", "json"),
    ("catalogue", "retention/nut-hnad"),
    ("draft",),
    ("draft", "--layout", "quad-x", "--output", "kestrel.yaml"),
])
def test_wrong_use_is_2(arguments: tuple[object, ...]) -> None:
    done = run(*arguments)
    assert done.returncode == 2
    assert done.stderr.strip()
    no_traceback(done)


def test_a_mistyped_rule_gets_a_suggestion() -> None:
    assert (
        run("catalogue", "retention/nut-hnad").stderr
        == "preflint: no rule or topic retention/nut-hnad; did you mean retention/nut-hand?\n"
    )


def test_nothing_to_inspect_is_3(tmp_path: Path) -> None:
    done = started("inspect", tmp_path, *DAY)
    assert done.returncode == 3
    assert "nothing was judged" in " ".join(done.stdout.split())


def test_a_missing_path_is_3_and_the_others_are_judged(tmp_path: Path) -> None:
    done = run("inspect", tmp_path / "gone.airframe.yaml", CLUB / "wheatear.airframe.yaml", *DAY, "--format", "json")
    report = json.loads(done.stdout)
    assert done.returncode == 3
    assert [one["name"] for one in report["aircraft"]] == ["Wheatear"]
    assert [one["problems"][0]["message"] for one in report["not_read"]] == ["there is no such file or folder"]


START = b"preflint: 1\naircraft: {name: X, layout: quad-x}\n"
HOSTILE = {
    "not yaml": b"a: [1, 2",
    "empty": b"",
    "binary": bytes(range(256)),
    "a list": b"- 1\n",
    "another version": b"preflint: 2\naircraft: {name: X, layout: quad-x}\n",
    "a tag": b"preflint: 1\naircraft: !!python/object/apply:os.system ['id']\n",
    "deep": b"a: " + b"[" * 5000,
    "a missing log": START + b"records: {interference_run: [{date: 2026-01-01, file: gone.csv}]}\n",
    "a log outside": START + b"records: {interference_run: [{date: 2026-01-01, file: ../../etc/passwd}]}\n",
    "a missing site": b"preflint: 1\naircraft: {name: X, layout: quad-x}\nsite: sites/gone.yaml\n",
}


@pytest.mark.parametrize("name", HOSTILE)
def test_what_cannot_be_read_is_3_and_never_clean(name: str, tmp_path: Path) -> None:
    manifest = tmp_path / "x.airframe.yaml"
    manifest.write_bytes(HOSTILE[name])
    done = run("inspect", manifest, *DAY, "--format", "json")
    report = json.loads(done.stdout)
    assert done.returncode == 3
    assert report["aircraft"] == []
    assert report["counts"]["manifests_not_assessed"] == 1
    no_traceback(done)


def test_a_link_a_pipe_and_a_device_are_not_read(tmp_path: Path) -> None:
    (tmp_path / "link.airframe.yaml").symlink_to(CLUB / "wheatear.airframe.yaml")
    os.mkfifo(tmp_path / "pipe.airframe.yaml")
    done = run("inspect", tmp_path, "/dev/zero", *DAY, "--format", "json")
    assert done.returncode == 3
    assert len(json.loads(done.stdout)["not_read"]) == 3


CRASHING = '''
from preflint.api import *
def bad(subject, on):
    """Always fails. It does not check anything."""
    raise RuntimeError("broken on purpose")
def rubbish(subject, on):
    """Answers with rubbish. It does not check anything."""
    return 7
def declare(id, judge):
    return rule(id, each="aircraft", severity=NO_GO, job=Job.RECORD, precaution="none", source="none")(judge)
MODULE = RuleModule(api=1, name="crashing", rules=(declare("broken/raises", bad), declare("broken/rubbish", rubbish)))
'''


def test_a_crashed_rule_is_3_by_name_and_the_others_go_on(tmp_path: Path) -> None:
    (tmp_path / "crashing_rules.py").write_text(CRASHING)
    done = started(
        "inspect", CLUB / "wheatear.airframe.yaml", *DAY, "--format", "json", "--rules", "crashing_rules",
        PYTHONPATH=str(tmp_path),
    )
    aircraft = json.loads(done.stdout)["aircraft"][0]
    assert done.returncode == 3
    assert aircraft["verdict"] == "unproven"
    assert [one["rule"] for one in aircraft["crashed"]] == ["broken/raises", "broken/rubbish"]
    assert aircraft["rules"]["clear"] > 0


@pytest.mark.parametrize(("text", "complaint"), [
    ("MODULE = 7", "has no MODULE"),
    ("raise ValueError('x')", "does not load"),
    ("from preflint.api import RuleModule\nMODULE = RuleModule(api=2, name='late')", "written for api 2"),
    ("from preflint_rules import MODULE", "exists already"),
    (
        (
            "from preflint.api import *\n"
            "@rule('a/b', each='aircraft', severity=NO_GO, job=Job.RECORD, precaution='p', source='s')\n"
            "def f(a, b): ..."
        ),
        "lacks a manual page",
    ),
])
def test_a_pack_that_is_wrong_is_2(text: str, complaint: str, tmp_path: Path) -> None:
    (tmp_path / "wrong_rules.py").write_text(text)
    done = started("inspect", CLUB, *DAY, "--rules", "wrong_rules", PYTHONPATH=str(tmp_path))
    assert done.returncode == 2
    assert complaint in done.stderr
    no_traceback(done)


def test_a_manifest_folder_cannot_bring_code(tmp_path: Path) -> None:
    for name in ("yaml.py", "sitecustomize.py", "conftest.py", "click.py"):
        (tmp_path / name).write_text("open('ran', 'w').write('x')\n")
    (tmp_path / "x.airframe.yaml").write_bytes((CLUB / "knot.airframe.yaml").read_bytes())
    assert started("inspect", ".", *DAY, cwd=tmp_path).returncode == 1
    assert not (tmp_path / "ran").exists()


def test_output_that_cannot_be_written_is_4(tmp_path: Path) -> None:
    with open("/dev/full", "w") as full:
        done = subprocess.run(
            [str(PROGRAM), "inspect", str(CLUB / "knot.airframe.yaml"), *DAY], stdout=full, stderr=subprocess.PIPE,
            text=True,
        )
    assert (done.returncode, "Traceback" in done.stderr) == (4, False)
    assert run("inspect", CLUB / "knot.airframe.yaml", *DAY, "--output", tmp_path / "no" / "such.txt").returncode == 4


def shell(command: str) -> tuple[str, str]:
    """What a shell says of the program's exit code, and what the program said on standard error."""
    done = subprocess.run(
        ["bash", "-c", command], capture_output=True, text=True, timeout=120,
        env={**os.environ, "P": str(PROGRAM), "KNOT": str(CLUB / "knot.airframe.yaml")},
    )  # fmt: skip
    return done.stdout.split()[-1], done.stderr


@pytest.mark.parametrize(("command", "code", "said"), [
    ("$P catalogue | head -1 >/dev/null; echo ${PIPESTATUS[0]}", "0 4", ""),
    ("$P inspect $KNOT >&-; echo $?", "4", "preflint: the report could not be written: Bad file descriptor\n"),
    ("$P inspect $KNOT --jobs 2 --report json=/dev/stderr >&- 2>&-; echo $?", "4", ""),
    ("$P inspect $KNOT <&- >/dev/null 2>&-; echo $?", "1", ""),
    ("$P frobnicate 2>/dev/full; echo $?", "2", ""),
    ("$P inspect gone 2>/dev/full >/dev/null; echo $?", "3", ""),
    ("$P inspect --files-from - <&- >/dev/null; echo $?", "3", None),
    ("$P --version >/dev/full; echo $?", "4", None),
])
def test_closed_streams_end_quietly(command: str, code: str, said: str | None) -> None:
    given, complained = shell(command)
    assert given in code.split()
    assert said is None or complained == said
    assert "Traceback" not in complained
    assert "Exception ignored" not in complained


def test_a_closed_pipe_is_4_and_says_nothing() -> None:
    reader, writer = os.pipe()
    os.close(reader)
    done = subprocess.run([str(PROGRAM), "inspect", str(CLUB), *DAY], stdout=writer, stderr=subprocess.PIPE, text=True)
    helped = subprocess.run([str(PROGRAM), "--help"], stdout=writer, stderr=subprocess.PIPE, text=True)
    os.close(writer)
    assert (done.returncode, done.stderr) == (4, "")
    assert (helped.returncode, helped.stderr) == (4, "")


def test_a_report_never_replaces_a_manifest(tmp_path: Path) -> None:
    manifest = tmp_path / "x.airframe.yaml"
    manifest.write_bytes((CLUB / "knot.airframe.yaml").read_bytes())
    done = run("inspect", tmp_path, *DAY, "--output", manifest)
    assert done.returncode == 4
    assert manifest.read_bytes() == (CLUB / "knot.airframe.yaml").read_bytes()


def test_a_report_file_is_whole(tmp_path: Path) -> None:
    target = tmp_path / "report.json"
    target.write_text("old")
    assert run("inspect", CLUB, *DAY, "--format", "json", "--output", target).returncode == 1
    assert len(json.loads(target.read_text())["aircraft"]) == len(list(CLUB.glob("*.airframe.yaml")))
    assert os.listdir(tmp_path) == ["report.json"]


def test_interrupted_is_130(tmp_path: Path) -> None:
    (tmp_path / "slow_rules.py").write_text("import time\nprint('loading', flush=True)\ntime.sleep(600)\n")
    with subprocess.Popen(
        [str(PROGRAM), "inspect", str(CLUB), "--rules", "slow_rules"], stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        text=True, env={**os.environ, "PYTHONPATH": str(tmp_path)},
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
    ) as process:
        assert process.stdout
        assert process.stdout.readline() == "loading\n"
        process.send_signal(signal.SIGINT)
        _, said = process.communicate(timeout=60)
    assert (process.returncode, "Traceback" in said) == (130, False)


def test_two_policies_on_one_way_up_are_2(tmp_path: Path) -> None:
    inner = tmp_path / "inner"
    inner.mkdir()
    for folder in (tmp_path, inner):
        (folder / "preflint.yaml").write_text("preflint: 1\n")
    (inner / "x.airframe.yaml").write_bytes((CLUB / "knot.airframe.yaml").read_bytes())
    assert run("inspect", inner, *DAY).returncode == 2


@pytest.mark.parametrize(("text", "complaint"), [
    ("limits: {}", """
    preflint.yaml:2:9 limits is empty; write at least one entry, or leave it out
          limits: {}
                  == here
"""),
    ("limit: {takeoff_mass_g: 7000}", """
    preflint.yaml:2:1 "limit" is not known here; did you mean "limits"?
          limit: {takeoff_mass_g: 7000}
          ===== here
"""),
    ("tolerances: {voltage_scale: 1}", """
    preflint.yaml:2:14 no tolerance is named "voltage_scale"; did you mean
        "voltage_scale_percent"?
          tolerances: {voltage_scale: 1}
                       ============= here
"""),
])
def test_a_policy_that_asks_what_cannot_be_applied_is_2(text: str, complaint: str, tmp_path: Path) -> None:
    (tmp_path / "preflint.yaml").write_text(f"preflint: 1\n{text}\n")
    (tmp_path / "x.airframe.yaml").write_bytes((CLUB / "knot.airframe.yaml").read_bytes())
    done = run("inspect", tmp_path, *DAY)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == f"preflint: the policy is wrong, nothing was judged:{complaint}"
