"""The real program, run as anybody runs it."""

import os
import subprocess
import sys
from pathlib import Path

PROGRAM = Path(sys.executable).with_name("preflint")
DAY = ("--as-of", "2026-05-21")


def run(
    *arguments: object, given: str | None = None, cwd: Path | None = None, **environment: str
) -> subprocess.CompletedProcess[str]:
    """``given``: what stands on its standard input."""
    return subprocess.run(
        [str(PROGRAM), *map(str, arguments)], input=given, capture_output=True, text=True, cwd=cwd, timeout=120,
        env={**os.environ, **environment}, encoding="utf-8", errors="surrogateescape",
    )  # fmt: skip
