"""The package list agrees with the tree, start-up stays light, and rules keep to the public API."""

import ast
import subprocess
import sys
import tomllib
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text())

SOURCES = {"preflint": "preflint", "rules": "preflint_rules", "schemas": "preflint_schemas"}


def module_of(path: Path) -> str:
    """The name that a file of the tree is imported by."""
    folder, *inner = path.relative_to(ROOT).with_suffix("").parts
    return ".".join([SOURCES[folder], *inner]).removesuffix(".__init__")


FILES = {module_of(path): path for folder in SOURCES for path in sorted((ROOT / folder).rglob("*.py"))}


def test_every_package_of_the_tree_is_listed() -> None:
    found = {name for name, path in FILES.items() if path.name == "__init__.py"}
    assert set(PROJECT["tool"]["setuptools"]["packages"]) == found


@pytest.mark.parametrize("statement", [
    "import preflint", "from preflint.cli.main import main\nmain(['--help'], standalone_mode=False)",
    "from preflint.cli.main import main\nmain(['inspect', '--help'], standalone_mode=False)",
])
def test_help_loads_nothing_heavy(statement: str) -> None:
    code = f"{statement}\nimport sys\nprint(sorted({{'numpy', 'jsonschema', 'yaml', 'pygeomag'}} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


@cache
def imports(name: str) -> set[str]:
    """The modules of ours that a module imports, wherever in it: in functions and for type checking only, too."""
    path = FILES[name]
    package = name.split(".") if path.name == "__init__.py" else name.split(".")[:-1]
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else []
            source = ".".join([*base, *([node.module] if node.module else [])])
            inner = {f"{source}.{alias.name}" for alias in node.names} & set(FILES)
            found |= inner or {source}
    return {module for module in found if module in FILES}


# From the ground up: what stands in one row may import its own folder and any row before it.
FLOORS = (
    ("frozen", "arrays"),
    ("version", "places", "precautions", "glossary"),
    ("errors",),
    ("compute",),
    ("load",),
    ("aircraft",),
    ("check",),
    ("writing",),
    ("findings",),
    ("engine",),
    ("policy",),
    ("inspection",),
    ("fleet",),
    ("meanings",),
    ("render",),
    ("interface",),
    ("editor",),
    ("testing", "cli"),
)
FLOOR = {room: i for i, rooms in enumerate(FLOORS) for room in rooms}


def room_of(name: str) -> str:
    """The folder or single module below preflint/ that a module belongs to; "" for the package itself."""
    return name.split(".")[1] if "." in name else ""


def test_every_room_has_its_floor() -> None:
    rooms = {room_of(name) for name in FILES if name.startswith("preflint.")}
    assert rooms - {"api"} == set(FLOOR)


@pytest.mark.parametrize("name", [name for name in FILES if name.startswith("preflint.")])
def test_no_arrow_runs_up(name: str) -> None:
    own = room_of(name)
    for imported in imports(name):
        room = room_of(imported)
        if own == "api":
            assert FLOOR[room] <= FLOOR["engine"], f"{name} imports {imported}"
        elif imported.startswith("preflint."):
            assert room == own or FLOOR[room] < FLOOR[own], f"{name} imports {imported}"


def test_no_circle_of_imports() -> None:
    waiting = {name: imports(name) - {name} for name in FILES}
    while ground := {name for name, arrows in waiting.items() if not arrows}:
        waiting = {name: arrows - ground for name, arrows in waiting.items() if name not in ground}
    assert waiting == {}


@pytest.mark.parametrize("name", [name for name in FILES if name.startswith("preflint_rules")])
def test_rules_import_only_the_public_api(name: str) -> None:
    allowed = ("preflint.api", "preflint.compute.", "preflint.frozen", "preflint.arrays", "preflint_rules.")
    assert not {module for module in imports(name) if not module.startswith(allowed)}


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
