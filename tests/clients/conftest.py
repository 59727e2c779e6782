"""Real readers, installed by ``install`` into a folder that PREFLINT_CLIENTS names; and what they are to read."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from ..unit.render.hostile import ATTACKS, manifest

ROOT = Path(__file__).parents[2]
FORMATS = ("json", "sarif", "junit", "markdown", "annotations", "lines")
NAMES = ("a b", "50%", "::error::x", "[l](x)", "@all #1", "<img src=x>", "![i](y)", "ü", "##[error]z", "{0}")


@pytest.fixture(scope="session")
def clients() -> Path:
    """The folder of the readers. Where it is named, whatever is missing in it is an error, never a skip."""
    named = os.environ.get("PREFLINT_CLIENTS")
    if not named:
        pytest.skip("PREFLINT_CLIENTS names no folder of real readers; tests/clients/install FOLDER makes one")
    return Path(named).absolute()


@pytest.fixture(scope="session")
def club(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The example club, with manifests of hostile words and names, and one that cannot be read."""
    folder = Path(shutil.copytree(ROOT / "examples" / "club", tmp_path_factory.mktemp("tree") / "club"))
    for name, text in ATTACKS.items():
        (folder / f"{name}.airframe.yaml").write_text(manifest(text))
    for name in NAMES:
        (folder / f"{name}.airframe.yaml").write_text(manifest(name))
    (folder / "broken.airframe.yaml").write_text("preflint: 1\naircraft: {name: [}\n")
    return folder


@pytest.fixture(scope="session")
def told(club: Path, clients: Path) -> dict[str, Path]:
    """One run's report in every format."""
    files = {form: club.parent / f"report.{form}" for form in FORMATS}
    options = [part for form, file in files.items() for part in ("--report", f"{form}={file}")]
    command = [Path(sys.executable).parent / "preflint", "inspect", club, "--as-of", "2026-05-21", *options]
    assert subprocess.run(command, capture_output=True, timeout=300).returncode == 3
    return files


def run(*command: object, cwd: Path | None = None, code: int = 0, input: str | None = None) -> str:
    """What the program prints; it must end with ``code``."""
    done = subprocess.run(
        [str(part) for part in command], cwd=cwd, input=input, capture_output=True, text=True, timeout=600,
    )  # fmt: skip
    assert done.returncode == code, done.stdout + done.stderr
    return done.stdout
