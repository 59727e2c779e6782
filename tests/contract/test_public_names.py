"""The public names: loaded lazily, documented one by one, and known to a type checker."""

import ast
import inspect
import itertools
import re
import shutil
import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest

import preflint
import preflint.api
import preflint.interface
import preflint.testing

ROOT = Path(__file__).parents[2]

FILES = ("user.py", "their_rules.py")
USER = """\
import datetime as dt
import preflint
from preflint.api import NO_GO, Clear, Context, need
from preflint.testing import inspect_text

report = preflint.inspect_many(["a", "b"], judged_on=dt.date(2026, 5, 21))
reveal_type(preflint.inspect)
reveal_type(report.aircraft[0].results[0].outcome)
reveal_type(preflint.next_jobs(report.aircraft[0])[0].precaution)
reveal_type((NO_GO, Clear, Context.limit, need, inspect_text))
preflint.render_report(report, "no such format")
preflint.no_such_name
"""


def own_words(value: object) -> str:
    """The docstring written at a class or function; not the signature that a dataclass makes one of."""
    if isinstance(value, type) and "__doc__" not in vars(value):
        return ""
    text = inspect.getdoc(value) or ""
    return "" if isinstance(value, type) and text.startswith(f"{value.__name__}(") else text


def words_in_the_source(module: ModuleType) -> dict[str, str]:
    """By name: the comment beside it in ``__all__``, or the string below its assignment."""
    source = inspect.getsource(module)
    said = dict(re.findall(r'^    "(\w+)",  # (.+)$', source, re.MULTILINE))
    body = ast.parse(source).body
    for statement, after in itertools.pairwise(body):
        if isinstance(after, ast.Expr) and isinstance(statement, ast.AnnAssign | ast.Assign):
            target = statement.target if isinstance(statement, ast.AnnAssign) else statement.targets[0]
            said[ast.unparse(target)] = ast.unparse(after)
    return said


@pytest.mark.parametrize("module", [preflint.api, preflint.interface], ids=lambda module: module.__name__)
def test_every_name_is_documented(module: ModuleType) -> None:
    said = words_in_the_source(module)
    undocumented = []
    for name in module.__all__:
        value = getattr(module, name)
        has_a_docstring = inspect.isclass(value) or inspect.isfunction(value) or inspect.ismodule(value)
        if not (own_words(value) if has_a_docstring else said.get(name)):
            undocumented.append(name)
    assert undocumented == []


@pytest.mark.parametrize("module", [preflint.api, preflint.interface], ids=lambda module: module.__name__)
def test_no_name_is_imported_and_not_listed(module: ModuleType) -> None:
    assert len(module.__all__) == len(set(module.__all__))
    if module is preflint.api:
        imported = {
            alias.asname or alias.name
            for node in ast.parse(inspect.getsource(module)).body
            if isinstance(node, ast.ImportFrom)
            for alias in node.names
        }
        assert imported == set(module.__all__)


def test_every_function_of_the_harness_is_documented() -> None:
    functions = inspect.getmembers(preflint.testing, inspect.isfunction)
    ours = {name: own_words(value) for name, value in functions if value.__module__ == "preflint.testing"}
    assert ours.keys() == {"inspect_text", "outcome", "findings", "open_questions", "computed", "marked"}
    assert [name for name, words in ours.items() if not words] == []


def test_the_package_offers_what_the_interface_does() -> None:
    assert set(preflint.__all__) == {"__version__", *preflint.interface.__all__}
    checking = next(node for node in ast.parse(inspect.getsource(preflint)).body if isinstance(node, ast.If))
    (for_type_checkers,) = (node for node in checking.body if isinstance(node, ast.ImportFrom))
    assert {alias.name for alias in for_type_checkers.names} == set(preflint.interface.__all__)
    for name in preflint.interface.__all__:
        assert getattr(preflint, name) is getattr(preflint.interface, name)
    assert set(preflint.__all__) <= set(dir(preflint))
    assert not hasattr(preflint, "no_such_name")


def test_importing_the_package_loads_nothing_of_it() -> None:
    code = "import preflint, sys; print(sorted(m for m in sys.modules if m.startswith(('preflint.', 'numpy'))))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "['preflint.version']"


def test_nothing_in_the_package_imports_the_package_itself() -> None:
    for path in (*ROOT.glob("preflint/**/*.py"), *ROOT.glob("rules/**/*.py")):
        for node in ast.walk(ast.parse(path.read_text())):
            names = [node.module] if isinstance(node, ast.ImportFrom) else []
            names += [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            assert "preflint" not in names, path


def test_a_type_checker_knows_the_names_of_an_installed_preflint(tmp_path: Path) -> None:
    (tmp_path / "user.py").write_text(USER)
    shutil.copy(ROOT / "examples/sample_rules/preflint_sample/__init__.py", tmp_path / "their_rules.py")
    command = [sys.executable, "-m", "mypy", "--strict", "--config-file", "", "--no-color-output", *FILES]
    done = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, timeout=300)
    told = done.stdout.splitlines()
    errors = [line.split(": error: ")[1] for line in told if ": error: " in line]
    assert len(errors) == 2, done.stdout  # of the user's file, none of the rules
    assert "\"Literal['no such format']\"" in errors[0]
    assert errors[1] == 'Module has no attribute "no_such_name"  [attr-defined]'
    revealed = [line for line in told if "Revealed type" in line]
    assert len(revealed) == 4
    assert [line for line in revealed if re.search(r"\bAny\b", line)] == []
