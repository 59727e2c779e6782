"""Topics point one way, no import runs in a circle, and every rule has its cases and its line in the changelog."""

import ast
import re
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

from preflint.aircraft.records import Records
from preflint.engine.rule_module import builtin_and

ROOT = Path(__file__).parents[2]
CASES = ROOT / "tests" / "cases"
SOURCES = {"preflint": "preflint", "rules": "preflint_rules"}

_POWER = ("power", "power.sensing", "power.hover", "power.packs", "power.sag")
# What a topic may import besides its own modules. A line names only topics of the lines above it.
MAY_IMPORT = {
    "shared": (),
    "power": ("shared",),
    "power.sensing": ("shared", "power"),
    "power.hover": ("shared", "power", "power.sensing"),
    "power.packs": ("shared", "power", "power.sensing", "power.hover"),
    "power.sag": ("shared", "power", "power.sensing", "power.hover"),
    "power_train": ("shared", "power"),
    "clearance": ("shared", "power"),
    "endurance": ("shared", *_POWER),
    "warnings": ("shared", *_POWER, "endurance"),
    "interference": ("shared", *_POWER),
    "inertial": ("shared",),
    "compass": ("shared", *_POWER, "interference", "inertial"),
    "barometer": ("shared",),
    "rotors": ("shared", *_POWER),
    "vibration": ("shared", "rotors"),
    "props": ("shared",),
    "position": ("shared",),
    "packs": ("shared", *_POWER),
    "home": ("shared", "power"),
    "day": ("shared", *_POWER),
    "freshness": ("shared", *_POWER, "interference", "compass", "barometer"),
    "retention": ("shared",),
    "rotation": ("shared",),
    "mass": ("shared", "power"),
    "authority": ("shared", "power", "mass"),
    "control": ("shared",),
    "failsafe": ("shared",),
    "first_hover": ("shared", *_POWER),
    "after_flight": ("shared", "mass"),
    "papers": ("shared",),
}
# Tests of several topics together stand beside the topics, or in this folder.
WHOLE_AIRCRAFT = "whole_aircraft"

RULES = {rule.info.id: rule for rule in builtin_and([]).rules}


def module_of(path: Path) -> str:
    """The name that a file of the tree is imported by."""
    folder, *inner = path.relative_to(ROOT).with_suffix("").parts
    return ".".join([SOURCES[folder], *inner]).removesuffix(".__init__")


FILES = {module_of(path): path for folder in SOURCES for path in sorted((ROOT / folder).rglob("*.py"))}


@cache
def tree(module: str) -> ast.Module:
    return ast.parse(FILES[module].read_text())


def imported(module: str) -> set[str]:
    """The modules of the project that a module names, wherever in the file: for types or in a function, too."""
    found = set()
    for node in ast.walk(tree(module)):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            package = module if FILES[module].name == "__init__.py" else module.rpartition(".")[0]
            base = ".".join(package.split(".")[: len(package.split(".")) - node.level + 1]) if node.level else ""
            base = ".".join(filter(None, (base, node.module)))
            for alias in node.names:
                inner = f"{base}.{alias.name}"
                found.add(inner if inner in FILES else base)
    return found & FILES.keys() - {module}


def topic_of(module: str) -> str:
    """``power.sensing`` of a module there; nothing for the rule module that gathers all topics."""
    package = module if FILES[module].name == "__init__.py" else module.rpartition(".")[0]
    return package.removeprefix("preflint_rules").removeprefix(".")


OF_RULES = [module for module in FILES if module.startswith("preflint_rules")]


def test_every_topic_has_its_line_in_the_order() -> None:
    assert {topic_of(module) for module in OF_RULES} - {""} == set(MAY_IMPORT)
    topics = list(MAY_IMPORT)
    assert [
        (topic, other)
        for topic, others in MAY_IMPORT.items()
        for other in others
        if topics.index(other) >= topics.index(topic)
    ] == []


@pytest.mark.parametrize("topic", MAY_IMPORT)
def test_a_topic_imports_only_what_is_below_it(topic: str) -> None:
    inside = [module for module in OF_RULES if topic_of(module) == topic]
    allowed = {topic, *MAY_IMPORT[topic]}
    ways = [
        (module, other)
        for module in inside
        for other in imported(module)
        if other.startswith("preflint_rules")
        and topic_of(other) not in allowed
        # A topic gathers the modules of the topics within it.
        and not (FILES[module].name == "__init__.py" and topic_of(other).startswith(f"{topic}."))
    ]
    assert ways == []


@pytest.mark.parametrize("source", SOURCES.values())
def test_no_import_runs_in_a_circle(source: str) -> None:
    graph = {module: imported(module) for module in FILES if module.split(".")[0] == source}
    assert len(graph) > 40
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as circle:
        pytest.fail(" imports ".join(reversed(circle.args[1])))


def judges(module: str) -> bool:
    """Whether a rule stands in the module."""
    return any(
        isinstance(node, ast.FunctionDef)
        and any(isinstance(call, ast.Call) and ast.unparse(call.func) == "rule" for call in node.decorator_list)
        for node in tree(module).body
    )


def test_only_its_topic_imports_a_module_of_rules() -> None:
    judging = {module for module in OF_RULES if judges(module)}
    assert judging == {rule.judge.__module__ for rule in RULES.values()}
    assert [
        (module, other)
        for module in FILES
        for other in imported(module) & judging
        if not (FILES[module].name == "__init__.py" and other.startswith(f"{module}."))
    ] == []


def folder_of_cases(module: str) -> Path:
    """Where the cases of a topic's module are."""
    return CASES.joinpath(*topic_of(module).split("."))


def test_cases_stand_in_the_folders_of_the_topics() -> None:
    tests = [path.parent for path in CASES.rglob("test_*.py")]
    folders = {str(path.relative_to(CASES)) for path in tests if path not in (CASES, CASES / WHOLE_AIRCRAFT)}
    topics = {topic.replace(".", "/") for topic in MAY_IMPORT if topic != "shared"}
    judging = {topic_of(rule.judge.__module__).replace(".", "/") for rule in RULES.values()}
    assert (judging - folders, folders - topics) == (set(), set())


def written_at(path: Path) -> dict[str, str]:
    """Each name that a file of tests defines, with its text and that of all it uses, so with the ids in constants."""
    text = path.read_text()
    own: dict[str, str] = {}
    for node in ast.parse(text).body:
        names = [node.name] if isinstance(node, ast.FunctionDef | ast.ClassDef) else []
        if isinstance(node, ast.Assign):
            names = [name.id for target in node.targets for name in ast.walk(target) if isinstance(name, ast.Name)]
        start = min([node.lineno, *(call.lineno for call in getattr(node, "decorator_list", ()))])
        for name in names:
            own[name] = "\n".join(text.split("\n")[start - 1 : node.end_lineno])

    def whole(name: str, seen: set[str]) -> str:
        seen.add(name)
        used = [word for word in re.findall(r"\w+", own[name]) if word in own and word not in seen]
        return "\n".join([own[name], *(whole(word, seen) for word in used if word not in seen)])

    return {name: whole(name, set()) for name in own if name.startswith("test_")}


@cache
def cases_in(folder: Path) -> tuple[str, ...]:
    return tuple(text for path in sorted(folder.glob("test_*.py")) for text in written_at(path).values())


@pytest.mark.parametrize("id", RULES)
def test_a_rule_has_a_case_that_is_clear_and_one_that_is_not(id: str) -> None:
    """As far as a search of the text can tell: a test names the rule, in full or short, and the kind of answer."""
    short = id.partition("/")[2]
    named = re.compile(rf"""["']{short}["']|\b{id}(?![\w-])""")
    told = [text for text in cases_in(folder_of_cases(RULES[id].judge.__module__)) if named.search(text)]
    assert told, f"no case names {id}"
    assert [text for text in told if re.search(r"\bClear\b", text)], f"no case of {id} is clear"
    assert [text for text in told if re.search(r"\b(Finding|Unproven|message)\b", text)], f"no case of {id} is found"


CHANGELOG = (ROOT / "CHANGELOG.md").read_text()


def test_the_changelog_lists_every_rule() -> None:
    lines = re.findall(r"^- `(\w+)`: (.+)$", CHANGELOG, re.MULTILINE)
    assert {f"{topic}/{name}" for topic, names in lines for name in names.split(", ")} == set(RULES)


def test_the_changelog_lists_every_kind_of_record() -> None:
    lines = re.findall(r"^Kinds of record: (.+)\.$", CHANGELOG, re.MULTILINE)
    assert {kind.strip("`") for line in lines for kind in line.split(", ")} == set(Records.kinds())
