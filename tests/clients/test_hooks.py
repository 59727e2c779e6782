"""The hooks as the program that runs them installs and starts them."""

import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from .conftest import ROOT

GIT = ("git", "-c", "user.name=Trial", "-c", "user.email=trial@example.org", "-c", "commit.gpgsign=false")


def git(folder: Path, *words: str) -> str:
    return subprocess.run([*GIT, *words], cwd=folder, check=True, capture_output=True, text=True).stdout.strip()


@pytest.fixture(scope="module")
def hook(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """preflint as a repository that others name."""
    folder = tmp_path_factory.mktemp("hook") / "preflint"
    names = git(ROOT, "ls-files", "-z", "--cached", "--others", "--exclude-standard").split("\0")
    for name in filter(None, names):
        if (ROOT / name).is_file():
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(ROOT / name, folder / name)
    git(folder, "init", "--quiet")
    git(folder, "add", "--all")
    git(folder, "commit", "--quiet", "--message", "All")
    return folder


@pytest.fixture
def repository(tmp_path: Path) -> Path:
    """A club's repository."""
    folder = Path(shutil.copytree(ROOT / "examples" / "club", tmp_path / "club"))
    git(folder, "init", "--quiet")
    git(folder, "add", "--all")
    return folder


def pre_commit(clients: Path, folder: Path, cache: Path, *words: str) -> tuple[int, str]:
    done = subprocess.run(
        [str(clients / "venv/bin/pre-commit"), *words], cwd=folder, capture_output=True, text=True, timeout=600,
        env={**os.environ, "PRE_COMMIT_HOME": str(cache)},
    )  # fmt: skip
    return done.returncode, done.stdout + done.stderr


def test_its_list_of_hooks_is_valid(clients: Path, tmp_path: Path) -> None:
    assert pre_commit(clients, ROOT, tmp_path, "validate-manifest", ".pre-commit-hooks.yaml") == (0, "")


def test_a_changed_manifest_that_grounds_its_aircraft_stops_the_commit(
    clients: Path, hook: Path, repository: Path, tmp_path: Path
) -> None:
    code, said = pre_commit(
        clients, repository, tmp_path / "cache", "try-repo", str(hook), "preflint", "--verbose", "--color", "never",
        "--files", "siskin.airframe.yaml", "sites/tarn-meadow.yaml",
    )  # fmt: skip
    assert code == 1
    assert "exit code: 1" in said
    assert "all adapters are of one hand" in said
    assert re.findall(r"^[A-Z-]+  \w+, .*$", said, re.MULTILINE) == ["NO-GO  Siskin, quad-x (siskin.airframe.yaml)"]


def test_the_whole_tree_is_judged_whatever_changed(clients: Path, hook: Path, repository: Path, tmp_path: Path) -> None:
    config = f"""\
repos:
  - repo: {hook.as_uri()}
    rev: {git(hook, "rev-parse", "HEAD")}
    hooks:
      - {{id: preflint-tree, args: [--as-of, "2026-05-21"], verbose: true}}
"""
    (repository / ".pre-commit-config.yaml").write_text(config)
    words = ("run", "preflint-tree", "--color", "never", "--files", "sites/tarn-meadow.yaml")
    code, said = pre_commit(clients, repository, tmp_path / "cache", *words)
    assert (code, "21 manifests seen, 21 assessed" in said) == (1, True), said
    grounded = (
        "bittern", "dotterel", "dunlin", "knot", "phalarope", "pipit", "plover", "redshank", "sanderling", "sandpiper",
        "shoveler", "siskin", "stint", "whimbrel",
    )  # fmt: skip
    for name in grounded:
        (repository / f"{name}.airframe.yaml").unlink()
    code, said = pre_commit(clients, repository, tmp_path / "cache", *words)
    assert (code, "7 manifests seen, 7 assessed" in said) == (0, True), said
