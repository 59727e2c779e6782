"""Each built-in rule, what its manual page claims, the cases that judge it, and the outside values that it rests on.

``tests/trace.json`` is made of it: ``cd tests && python -m making.trace``. It is read from the code without running
it: a case judges a rule that it names, itself or by what it uses of its module, and counts for each kind of answer
that it names. What the fragments of a page claim, ``cases/test_manual_pages.py`` tries.
"""

import ast
import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from making.fragments import asks_only
from preflint.engine.rule_module import builtin_and

TESTS = Path(__file__).parents[1]
TABLE = TESTS / "trace.json"
KINDS = {"passing": {"Clear"}, "failing": {"Finding", "findings"}, "missing": {"Unproven", "NotApplicable"}}
NOT_NEEDED = {("freshness/future-entry", "missing")}  # no entry and no record can be without its date
_RULES = builtin_and([]).rules
_ASKING = {rule.info.id for rule in _RULES if asks_only(rule.info)}
_IDS = {rule.info.id for rule in _RULES}


@dataclass(frozen=True)
class Said:
    """What a part of a case file says: names that it uses, strings, and beginnings of strings that it puts together."""

    names: frozenset[str]
    words: frozenset[str]
    topics: frozenset[str]
    is_function: bool


def trace() -> dict[str, dict[str, Any]]:
    """Rule by rule; of each case the kinds of answer, all in the order of the files."""
    cases = list(_cases())
    return {rule.info.id: {
        "claims": [rule.info.title, *(limit.told for limit in rule.info.tolerances)],
        "source": rule.info.source,
        "cases": _by_file((case, kinds) for case, ids, kinds in cases if rule.info.id in ids and kinds),
        "outside": ", ".join(_outside(_modules(_file(rule.judge.__module__)))),
    } for rule in sorted(_RULES, key=lambda rule: rule.info.id)}  # fmt: skip


def without(table: dict[str, dict[str, Any]]) -> list[str]:
    """The rules that have no case of some kind, each with that kind; one that only asks fails by what is missing."""
    needed = [(rule, kind) for rule in table for kind in KINDS
              if (rule, kind) not in NOT_NEEDED and not (rule in _ASKING and kind == "failing")]  # fmt: skip
    return [f"{rule}: no {kind} case" for rule, kind in needed
            if not any(kind in cases for cases in table[rule]["cases"].values())]  # fmt: skip


def _by_file(cases: Iterable[tuple[str, list[str]]]) -> dict[str, dict[str, str]]:
    """For each file and kind of answer the cases, in the order of the file."""
    found: dict[str, dict[str, str]] = {}
    for case, kinds in cases:
        file, _, name = case.partition("::")
        for kind in kinds:
            told = found.setdefault(file, {})
            told[kind] = f"{told[kind]}, {name}" if kind in told else name
    return found


def _cases() -> Iterator[tuple[str, frozenset[str], list[str]]]:
    """Each case, the rules that it names and the kinds of answer."""
    for path in sorted((TESTS / "cases").rglob("test_*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        parts = {name: _said(part) for node in tree.body for name, part in _defined(node)}
        for name in parts:
            if name.startswith("test_"):
                used = _used(name, parts)
                names = frozenset().union(*(part.names for part in used))
                kinds = [kind for kind, words in KINDS.items() if names & words]
                yield f"{path.relative_to(TESTS).as_posix()}::{name}", _rules_named(used), kinds


def _defined(node: ast.stmt) -> Iterator[tuple[str, ast.AST]]:
    """Each name that a statement of a module gives, and what it gives it; of "A, B = 1, 2" each its own."""
    if isinstance(node, ast.FunctionDef):
        yield node.name, node
    for target in node.targets if isinstance(node, ast.Assign) else []:
        assert isinstance(node, ast.Assign)
        if isinstance(target, ast.Tuple) and isinstance(node.value, ast.Tuple):
            pairs: list[tuple[ast.expr, ast.expr]] = list(zip(target.elts, node.value.elts, strict=True))
        else:
            pairs = [(target, node.value)]
        for to, value in pairs:
            yield from ((one.id, value) for one in ast.walk(to) if isinstance(one, ast.Name))


def _said(node: ast.AST) -> Said:
    inside = list(ast.walk(node))
    firsts = [one.values[0] for one in inside if isinstance(one, ast.JoinedStr)]
    return Said(
        frozenset(one.id for one in inside if isinstance(one, ast.Name)),
        frozenset(one.value for one in inside if isinstance(one, ast.Constant) and isinstance(one.value, str)),
        frozenset(str(one.value) for one in firsts if isinstance(one, ast.Constant)),
        isinstance(node, ast.FunctionDef),
    )


def _used(name: str, parts: dict[str, Said]) -> list[Said]:
    """A case and all of its module that it uses, by way of others too."""
    found = [name]
    for one in found:
        found += [used for used in sorted(parts[one].names) if used in parts and used not in found]
    return [parts[one] for one in found]


def _rules_named(used: list[Said]) -> frozenset[str]:
    """Those that the case names, itself or by constants; where it names none, those of the functions that it uses."""
    own = _ids_in([used[0], *(part for part in used if not part.is_function)])
    return own or _ids_in(used)


def _ids_in(said: list[Said]) -> frozenset[str]:
    """Whole ids; and where a topic is put in front (f"retention/{rule}"), the names of its rules."""
    words = frozenset().union(*(part.words for part in said))
    topics = [topic for part in said for topic in part.topics if topic.endswith("/")]
    return (words | {topic + word for topic in topics for word in words}) & _IDS


def _file(module: str) -> Path:
    return TESTS.parent / "rules" / Path(*module.split(".")[1:]).with_suffix(".py")


@cache
def _modules(start: Path) -> frozenset[str]:
    """The modules of ``preflint.compute`` that a module of rules uses, by way of its neighbours too."""
    found: set[str] = set()
    seen, ahead = {start}, [start]
    while ahead:
        path = ahead.pop()
        for node in _imports(path):
            if node.level:
                near = path.parents[node.level - 1] / Path(*(node.module or "").split("."))
                next_to = [near.with_suffix(".py"), *(near / f"{name.name}.py" for name in node.names)]
                new = [one for one in next_to if one.is_file() and one not in seen]
                seen |= set(new)
                ahead += new
            elif (node.module or "").startswith("preflint.compute"):
                found |= {node.module or ""} | {f"{node.module}.{name.name}" for name in node.names}
    return frozenset(found)


@cache
def _imports(path: Path) -> list[ast.ImportFrom]:
    inside = ast.walk(ast.parse(path.read_text(encoding="utf-8")))
    return [node for node in inside if isinstance(node, ast.ImportFrom)]


def _outside(modules: frozenset[str]) -> list[str]:
    """The tests of outside values that try one of them."""
    return [path for path, tried in _tried().items() if tried & modules]


@cache
def _tried() -> dict[str, set[str]]:
    """The modules that each test of outside values uses."""
    return {path.relative_to(TESTS).as_posix(): {node.module or "" for node in _imports(path)}
            for path in sorted((TESTS / "outside").glob("test_*.py"))}  # fmt: skip


def text() -> str:
    return json.dumps(trace(), indent=1, ensure_ascii=False) + "\n"


if __name__ == "__main__":
    TABLE.write_text(text(), encoding="utf-8")
