"""A whole run watched from inside: no program started, no socket, nothing opened elsewhere, nothing written."""

import json
import shutil
import subprocess
import sys
import sysconfig
from pathlib import Path

import pytest
from making.manifests import CLUB, opening

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


def test_no_worker_imports_from_the_current_folder(tmp_path: Path) -> None:
    """A file of the inspected tree may bear the name of any module that a worker needs."""
    standard = {name for name in sys.stdlib_module_names if name.isidentifier() and not name.startswith("__")}
    ours = {"preflint", "preflint_rules", "preflint_schemas", "numpy", "yaml", "jsonschema", "click", "pygeomag"}
    for name in standard | ours:
        (tmp_path / f"{name}.py").write_text(f"open({str(tmp_path / 'RAN')!r}, 'a').write({name!r})\n")
    shutil.copytree(CLUB, tmp_path / "club")
    program = Path(sys.executable).with_name("preflint")
    done = subprocess.run(
        [str(program), "inspect", ".", "--jobs", "2", "--as-of", "2026-05-21"],
        cwd=tmp_path, capture_output=True, text=True, timeout=120,
    )  # fmt: skip
    assert not (tmp_path / "RAN").exists(), (tmp_path / "RAN").read_text()
    assert (done.returncode, done.stderr) == (1, "")
