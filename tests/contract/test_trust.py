"""A whole run watched from inside: no program started, no socket, nothing opened elsewhere, nothing written."""

import json
import os
import shutil
import subprocess
import sys
import sysconfig
from pathlib import Path

import pytest
from making.manifests import CLUB, opening
from making.program import started

ROOT = Path(__file__).parents[2]

WATCHED = """
import json, os, sys
seen = []
def watch(event, arguments):
    if event == "open" and isinstance(arguments[0], (str, bytes)):
        flags = arguments[2] if isinstance(arguments[2], int) else 0
        seen.append(["open", os.fsdecode(arguments[0]), flags])
    elif event.split(".")[0] in ("socket", "subprocess", "webbrowser", "ftplib", "urllib", "smtplib") or event in (
        "os.exec", "os.fork", "os.forkpty", "os.posix_spawn", "os.spawn", "os.system", "pty.spawn", "exec_module",
        "os.remove", "os.rename", "os.mkdir", "os.rmdir", "os.link", "os.symlink", "os.truncate", "os.chmod",
    ):
        seen.append([event, str(arguments)[:200], 0])
sys.addaudithook(watch)
from preflint.cli.main import run
sys.argv = ["preflint", *json.loads(sys.argv[1])]
try:
    run()
finally:
    sys.stderr.write("WATCHED" + json.dumps(seen))
"""


def watched(arguments: list[str], cwd: Path) -> tuple[int, list[tuple[str, str, int]]]:
    done = subprocess.run(
        [sys.executable, "-I", "-B", "-c", WATCHED, json.dumps(arguments)], cwd=cwd, capture_output=True, text=True,
        timeout=120,
    )
    events = json.loads(done.stderr.partition("WATCHED")[2])
    return done.returncode, [(event, what, flags) for event, what, flags in events]


@pytest.mark.parametrize("form", ["text", "json"])
def test_a_run_reads_its_tree_and_nothing_else(form: str, tmp_path: Path) -> None:
    code, events = watched(["inspect", str(CLUB), "--as-of", "2026-05-21", "--format", form], tmp_path)
    assert code == 1
    assert [event for event in events if event[0] != "open"] == []
    own = {Path(path).resolve() for path in sysconfig.get_paths().values()}
    own |= {Path(sys.base_prefix).resolve(), ROOT / "preflint", ROOT / "rules", ROOT / "schemas"}
    tree = {path.name for path in CLUB.rglob("*")} | {CLUB.name, CLUB.parent.name, ROOT.name}
    for _, name, flags in events:
        path = Path(name)
        ours = any(folder in (path.resolve(), *path.resolve().parents) for folder in own)
        system = name.startswith(
            ("/etc/ld.so", "/proc/self", "/dev/null", "/sys/devices/system/cpu", "/usr/share/zoneinfo")
        )
        # Files of the tree are opened step by step from a folder handle, so only their last names are seen.
        assert ours or system or path.name in tree or str(path) in ("/", ".") or CLUB in (path, *path.parents), name
        if not ours:
            assert flags & 0b11 == 0, f"{name} was opened for writing"


def test_a_refused_file_outside_is_never_opened(tmp_path: Path) -> None:
    secret = tmp_path / "secret.csv"
    secret.write_text("current_a,field_x_ut,field_y_ut,field_z_ut\n1,2,3,4\n")
    inner = tmp_path / "inner"
    inner.mkdir()
    (inner / "link.csv").symlink_to(secret)
    for reference in ("../secret.csv", str(secret), "link.csv", "sub/../../secret.csv"):
        (inner / "x.airframe.yaml").write_text(
            f"{opening('X')}records: {{interference_run: [{{date: 2026-05-01, file: {json.dumps(reference)}}}]}}\n"
        )
        code, events = watched(["inspect", str(inner)], tmp_path)
        assert code == 3
        assert [name for _, name, _ in events if name.endswith("secret.csv")] == []


EVERY = (
    ("inspect", "club", "--jobs", "2", "--as-of", "2026-05-21", "--detail", "none"),
    ("inspect", ".", "--jobs", "2", "--rules", "stranger"),
    ("inspect", "club/siskin.airframe.yaml", "--report", "sarif=out.sarif", "--report", "junit=out.xml",
     "--report", "annotations=out.txt", "--report", "markdown=out.md", "--report", "lines=-", "--format", "json"),
    ("inspect", "--files-from", "names.txt", "--policy", "club/preflint.yaml", "--cluster", "tcp://127.0.0.1:9"),
    ("catalogue", "--rules", "stranger"),
    ("draft", "--layout", "quad-x", "--cells", "4", "--output", "-"),
    ("schema", "report"),
)


@pytest.fixture(scope="module")
def strangers(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A tree with a module of every name, each of which leaves a mark when it is imported."""
    folder = tmp_path_factory.mktemp("strangers")
    names = {*sys.stdlib_module_names, *(name.partition(".")[0] for name in sys.modules), "stranger", "distributed"}
    names |= {"sitecustomize", "usercustomize", "rules", "schemas", "readline", "colorama", "simplejson"}
    names |= {path.stem for path in Path(sysconfig.get_path("purelib")).iterdir()}
    for name in names:
        if name.isidentifier() and not name.startswith("__"):
            (folder / f"{name}.py").write_text(f"open({str(folder / 'RAN')!r}, 'a').write({name!r} + ' ')\n")
    shutil.copytree(CLUB, folder / "club")
    (folder / "names.txt").write_text("club/siskin.airframe.yaml\n")
    return folder


@pytest.mark.parametrize("arguments", EVERY)
def test_nothing_is_imported_from_the_current_folder(arguments: tuple[str, ...], strangers: Path) -> None:
    """A file of the inspected tree may bear the name of any module that any process needs."""
    done = started(*arguments, cwd=strangers)
    assert not (strangers / "RAN").exists(), (strangers / "RAN").read_text()
    assert "Traceback" not in done.stderr
    if "stranger" in arguments:
        assert (done.returncode, done.stdout) == (2, "")
        assert "No module named 'stranger'" in done.stderr


@pytest.mark.parametrize("path", ["", "lib:./../{}", "{}"])
def test_an_entry_of_pythonpath_that_is_the_current_folder_is_left_out(path: str, tmp_path: Path) -> None:
    """Of what Python loads before the program, nothing is here; of what the program loads, everything."""
    for name in ("stranger", "click", "yaml", "numpy", "jsonschema", "multiprocessing", "concurrent", "preflint_rules"):
        (tmp_path / f"{name}.py").write_text("import os; open(os.environ['RAN'], 'w').close()\n")
    ran = tmp_path / "RAN"
    named = path.replace("{}", tmp_path.name if "/" in path else str(tmp_path))
    done = started(
        "inspect", CLUB / "siskin.airframe.yaml", "--jobs", "2", "--as-of", "2026-05-21", cwd=tmp_path,
        PYTHONPATH=named or os.pathsep, RAN=str(ran),
    )  # fmt: skip
    assert (done.returncode, done.stderr, ran.exists()) == (1, "", False)


def test_what_python_took_from_there_before_is_said(tmp_path: Path) -> None:
    (tmp_path / "sitecustomize.py").write_text("")
    done = started("catalogue", cwd=tmp_path, PYTHONPATH=".")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == "preflint: PYTHONPATH names the current folder, and Python took sitecustomize from it\n"
