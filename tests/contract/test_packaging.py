"""The package list agrees with the tree, start-up stays light, and rules keep to the public API."""

import ast
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())
STAGES = ("load", "check", "aircraft", "compute", "engine", "findings", "fleet", "render", "cli")


def test_every_package_of_the_tree_is_listed() -> None:
    found = {
        p.parent.relative_to(ROOT).as_posix().replace("/", ".") for p in ROOT.glob("preflint/**/__init__.py")
    }
    assert set(PROJECT["tool"]["setuptools"]["packages"]) == found | {"preflint_rules", "preflint_schemas"}


@pytest.mark.parametrize(
    "statement",
    [
        "import preflint",
        "from preflint.cli.main import main\nmain(['--help'], standalone_mode=False)",
        "from preflint.cli.main import main\nmain(['inspect', '--help'], standalone_mode=False)",
    ],
)
def test_help_loads_nothing_heavy(statement: str) -> None:
    code = f"{statement}\nimport sys\nprint(sorted({{'numpy', 'jsonschema', 'yaml', 'pygeomag'}} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


def imports(path: Path) -> set[str]:
    names = set()
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            names.add("." * node.level + (node.module or ""))
    return names


@pytest.mark.parametrize("path", sorted(ROOT.glob("rules/*.py")), ids=lambda p: p.name)
def test_rules_import_only_the_public_api(path: Path) -> None:
    ours = {name for name in imports(path) if name.startswith(("preflint", "."))}
    allowed = {name for name in ours if name == "preflint.api" or name.startswith(("preflint.compute", "."))}
    assert ours == allowed


@pytest.mark.parametrize("path", sorted(ROOT.glob("preflint/compute/*.py")), ids=lambda p: p.name)
def test_compute_knows_no_aircraft(path: Path) -> None:
    assert not {n for n in imports(path) if n.startswith("preflint") and not n.startswith("preflint.compute")}


# What each stage may import; data flows one way.
MAY_IMPORT = {
    "load": {"load"},
    "check": {"load", "check", "aircraft"},
    "aircraft": {"load", "aircraft"},
    "compute": {"compute"},
    "findings": {"findings", "aircraft", "engine", "load"},
    "engine": {"engine", "findings", "aircraft", "check", "load"},
    "render": {"render", "findings", "engine", "aircraft", "compute"},
    "fleet": {"fleet", "findings", "engine", "load"},
}
ROOT_MODULES = {"places", "errors", "precautions", "inspection", "__init__"}


@pytest.mark.parametrize("stage", sorted(MAY_IMPORT))
def test_no_stage_reaches_back(stage: str) -> None:
    for path in (ROOT / "preflint" / stage).glob("*.py"):
        for name in imports(path):
            parts = name.split(".")
            if parts[0] == "preflint" and len(parts) > 1 and parts[1] in STAGES:
                assert parts[1] in MAY_IMPORT[stage], f"{path.name} imports {name}"


def test_files_stay_small() -> None:
    sizes = {
        p: len(p.read_text().splitlines())
        for folder in ("preflint", "rules", "schemas", "tests")
        for p in (ROOT / folder).rglob("*.py")
    }
    assert {str(p.relative_to(ROOT)): n for p, n in sizes.items() if n > 350} == {}


def test_only_agreed_names_at_the_top_level() -> None:
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.split("\n")
    agreed = {
        "README.md",
        "DEVELOPERS.md",
        "CHANGELOG.md",
        "LICENSE",
        "MANIFEST.in",
        "pyproject.toml",
        "preflint",
        "rules",
        "schemas",
        "tests",
        "examples",
        ".ci",
        ".gitignore",
        ".pre-commit-hooks.yaml",
    }
    assert {line.partition("/")[0] for line in listed if line} <= agreed
