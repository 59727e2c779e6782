"""The README's recipes for CI and for commits, run as written in a repository as a club may have it.

The services' own steps (``uses:``) cannot run here; what they are given is looked at. A run of pipx is a pip install
into an environment of its own, which sees the packages that preflint needs from the one of the tests.
"""

import json
import os
import re
import shlex
import shutil
import subprocess
import sys
import sysconfig
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest
import yaml

from preflint.version import __version__

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
CLUB = ROOT / "examples" / "club"
AIRCRAFT = ("knot", "redshank", "curlew")
SHELL = ("bash", "--noprofile", "--norc", "-eo", "pipefail", "-c")


def recipes(heading: str) -> list[Any]:
    """What the YAML blocks of a section hold."""
    section = README.partition(f"\n## {heading}\n")[2].partition("\n## ")[0]
    return [yaml.safe_load(block) for block in re.findall(r"^```yaml\n(.*?)^```$", section, re.DOTALL | re.MULTILINE)]


WORKFLOW, PIPELINE = recipes("In CI")
[HOOKS] = recipes("Editors and hooks")
STEPS: Sequence[Mapping[str, Any]] = WORKFLOW["jobs"]["preflint"]["steps"]


@pytest.fixture
def club(tmp_path: Path) -> Path:
    """A club's repository: a few manifests at its top, and a checkout of the tool below it."""
    folder = tmp_path / "club"
    for name in ("parts", "sites", "logs"):
        shutil.copytree(CLUB / name, folder / name)
    for name in ("preflint.yaml", *(f"{one}.airframe.yaml" for one in AIRCRAFT)):
        shutil.copy(CLUB / name, folder / name)
    listed = ("git", "ls-files", "-z", "--cached", "--others", "--exclude-standard")
    names = subprocess.run(listed, cwd=ROOT, check=True, capture_output=True, text=True).stdout.split("\0")
    for name in filter(None, names):
        if (ROOT / name).is_file():
            (folder / "tools/preflint" / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(ROOT / name, folder / "tools/preflint" / name)
    subprocess.run(("git", "init", "--quiet"), cwd=folder, check=True)
    subprocess.run(("git", "add", "--all"), cwd=folder, check=True)
    return folder


@pytest.fixture
def environment(tmp_path: Path) -> dict[str, str]:
    """Of a runner: pip and pipx install into an empty environment, whose programs are found first."""
    made = tmp_path / "machine"
    subprocess.run((sys.executable, "-m", "venv", "--without-pip", str(made)), check=True)
    inner = subprocess.run(
        (str(made / "bin/python"), "-c", "import sysconfig; print(sysconfig.get_path('purelib'))"),
        check=True, capture_output=True, text=True,
    ).stdout.strip()  # fmt: skip
    Path(inner, "packages.pth").write_text(sysconfig.get_path("purelib") + "\n")
    for name in ("pip", "pipx"):
        pip = shlex.join((sys.executable, "-m", "pip", "--python", str(made / "bin/python"), "--quiet"))
        (made / "bin" / name).write_text(f'#!/bin/sh\nexec {pip} "$@"\n')
        (made / "bin" / name).chmod(0o755)
    paths = [path for path in os.environ["PATH"].split(os.pathsep) if not Path(path, "preflint").exists()]
    return {
        **os.environ, "PATH": os.pathsep.join([str(made / "bin"), *paths]), "CI": "true",
        "PIP_DISABLE_PIP_VERSION_CHECK": "1", "GITHUB_STEP_SUMMARY": str(tmp_path / "summary.md"),
    }  # fmt: skip


def shell(line: str, folder: Path, environment: Mapping[str, str]) -> subprocess.CompletedProcess[str]:
    return subprocess.run((*SHELL, line), cwd=folder, env=environment, capture_output=True, text=True, timeout=300)


def workflow(folder: Path, environment: Mapping[str, str]) -> list[subprocess.CompletedProcess[str]]:
    """The steps in order; once one has failed, only those that always run."""
    done: list[subprocess.CompletedProcess[str]] = []
    for step in STEPS:
        failed = any(one.returncode for one in done)
        if "run" in step and (not failed or step.get("if") == "always()"):
            done.append(shell(step["run"], folder, environment))
    return done


def seen(sarif: Path) -> tuple[int, int]:
    properties = json.loads(sarif.read_text(encoding="utf-8"))["runs"][0]["properties"]
    return properties["manifests_assessed"], properties["manifests_not_assessed"]


def test_the_workflow_judges_the_clubs_aircraft_and_no_others(club: Path, environment: dict[str, str]) -> None:
    done = workflow(club, environment)
    said = "\n".join(f"{one.args[-1]}\n{one.stdout}{one.stderr}" for one in done)
    codes = {one.args[-1].split()[0]: one.returncode for one in done}
    assert codes == {"pipx": 0, "rm": 0, "preflint": 1, "cat": 0}, said
    [judged] = [one for one in done if one.args[-1].startswith("preflint")]
    assert judged.stdout.startswith("::error ")
    [upload] = [step["with"]["sarif_file"] for step in STEPS if "sarif" in step.get("uses", "")]
    assert seen(club / upload) == (len(AIRCRAFT), 0)
    summary = Path(environment["GITHUB_STEP_SUMMARY"]).read_text(encoding="utf-8")
    assert summary.startswith("## ")
    assert f"Manifests: {len(AIRCRAFT)} seen" in summary.replace("\\", "")

    # Once more, with a manifest that nobody would see.
    (club / "stint.airframe.yml").write_text("preflint: 1\n")
    again = shell(next(one.args[-1] for one in done if one is judged), club, environment)
    assert again.returncode == 3
    assert "stint.airframe.yml" in again.stdout
    assert seen(club / upload) == (len(AIRCRAFT), 1)

    # And the command above the recipes.
    [command] = re.findall(r"^## In CI\n\n    (preflint .*)$", README, re.MULTILINE)
    (club / "stint.airframe.yml").unlink()
    assert shell(command, club, environment).returncode == 1
    assert seen(club / "preflint.sarif") == (len(AIRCRAFT), 0)


def test_the_pipeline_too(club: Path, environment: dict[str, str]) -> None:
    job = PIPELINE["preflint"]
    done = shell("\n".join(job["script"]), club, environment)
    assert done.returncode == 1, done.stdout + done.stderr
    kept = job["artifacts"]["reports"]["junit"]
    assert job["artifacts"]["when"] == "always"
    suites = [suite.get("name") for suite in ET.parse(club / kept).getroot().findall("testsuite")]
    assert suites == ["preflint", *sorted(f"{one}.airframe.yaml" for one in AIRCRAFT)]


def test_the_hooks_that_the_readme_names_exist_and_judge(club: Path) -> None:
    listed = {hook["id"]: hook for hook in yaml.safe_load((ROOT / ".pre-commit-hooks.yaml").read_text())}
    [repository] = HOOKS["repos"]
    assert repository["rev"] == __version__
    shutil.rmtree(club / "tools")  # who names the tool by its address keeps no checkout of it
    programs = {**os.environ, "PATH": os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]])}
    [named] = repository["hooks"]
    done = shell(listed[named["id"]]["entry"], club, programs)
    assert done.returncode == 1
    assert f"{len(AIRCRAFT)} manifests seen, {len(AIRCRAFT)} assessed" in " ".join(done.stdout.split())
