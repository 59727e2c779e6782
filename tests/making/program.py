"""The real program, run as anybody runs it."""

import atexit
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from functools import cache
from pathlib import Path

PROGRAM = Path(sys.executable).with_name("preflint")
DAY = ("--as-of", "2026-05-21")
WARM = Path(__file__).with_name("warm.py")


def started(
    *arguments: object, given: str | None = None, cwd: Path | None = None, **environment: str
) -> subprocess.CompletedProcess[str]:
    """Started by an interpreter of its own. ``given``: what stands on its standard input."""
    return subprocess.run(
        [str(PROGRAM), *map(str, arguments)], input=given, capture_output=True, text=True, cwd=cwd, timeout=120,
        env={**os.environ, **environment}, encoding="utf-8", errors="surrogateescape",
    )  # fmt: skip


def run(*arguments: object, given: str = "", cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    """The same in a process forked from one that has loaded it before: a third of the time, and nothing of it shared.

    What depends on how an interpreter starts, its environment or its path of imports, needs one ``started``.
    """
    with tempfile.TemporaryDirectory() as name:
        files = {stream: Path(name, stream) for stream in ("stdin", "stdout", "stderr")}
        files["stdin"].write_text(given, encoding="utf-8", errors="surrogateescape")
        code = _forked([*map(str, arguments)], cwd or Path.cwd(), files)
        told = [files[stream].read_text(encoding="utf-8", errors="surrogateescape") for stream in ("stdout", "stderr")]
    return subprocess.CompletedProcess([str(PROGRAM), *map(str, arguments)], code, *told)


def _forked(arguments: Sequence[str], folder: Path, files: dict[str, Path]) -> int:
    server = warm("runs")
    assert server.stdin
    assert server.stdout
    asked = {"arguments": arguments, "folder": str(folder), **{stream: str(file) for stream, file in files.items()}}
    server.stdin.write(json.dumps(asked) + "\n")
    server.stdout.readline()  # which process it is
    return os.waitstatus_to_exitcode(int(server.stdout.readline()))


@cache
def warm(what: str) -> subprocess.Popen[str]:
    """Serves one kind of thing: it is busy from the begin of a run to its end."""
    kept = {name: value for name, value in os.environ.items() if name not in ("COLUMNS", "LINES", "NO_COLOR")}
    server = subprocess.Popen(
        [sys.executable, "-P", str(WARM)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1,
        env={**kept, "PYTHONIOENCODING": "utf-8"},
    )  # fmt: skip
    atexit.register(server.communicate)
    return server
