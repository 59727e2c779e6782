"""Which test files concern a fault: those that run through its line, as far as that was recorded; else those that
name its module, its rules, or the rules of modules that import it.
"""

import ast
import re
from collections import Counter
from functools import cache
from pathlib import Path

TOP = Path(__file__).parents[2]
SCOPE = ("preflint/engine", "preflint/compute", "preflint/findings", "preflint/policy", "rules")

# Long runs over many aircraft, terminals and documents: too slow to be asked for each fault.
SLOW = ("whole_aircraft", "evening", "fuzz", "clients", "bench", "render", "cli", "fleet", "making")

# What nearly every test goes through is named by few: these look at what it decides.
BESIDE = {
    "preflint/engine": [
        "tests/cases/freshness", "tests/cases/mass/test_lifts.py", "tests/cases/whole_aircraft/test_failed_stays.py",
    ],
    "preflint/findings": [
        "tests/cases/papers", "tests/unit/fleet/test_compare.py", "tests/unit/policy/test_club_policy.py",
        "tests/unit/render/test_counts.py", "tests/unit/render/test_jobs.py",
    ],
    "preflint/policy": [
        "tests/cases/day/test_club.py", "tests/cases/papers", "tests/unit/fleet/test_find.py",
        "tests/contract/test_policy.py",
    ],
    "preflint/compute": ["tests/golden"],
    "rules": ["tests/cases/test_stricter.py", "tests/cases/test_manual_pages.py", "tests/golden"],
}  # fmt: skip


@cache
def texts(folder: str) -> dict[str, str]:
    """The Python files below a folder of the project, by their paths within the project."""
    return {
        path.relative_to(TOP).as_posix(): path.read_text(encoding="utf-8")
        for path in sorted(TOP.joinpath(folder).rglob("*.py"))
    }


def modules() -> dict[str, str]:
    """The modules that faults are put into, and their texts."""
    return {
        path: text for folder in SCOPE for path, text in texts(folder).items() if not path.endswith("__init__.py")
    }


def tests_of(path: str, most: int, line: int, recorded: Path | None) -> list[str]:
    """Test files that concern a line of a module, the likeliest first, at most so many; then those of its folder.

    ``recorded``: what coverage wrote with ``dynamic_context = test_function``. Where it knows no test that runs through
    the line, nor through what uses the constant made there, every test that concerns the module counts.
    """
    named = _naming(path)
    if recorded and (through := _running_through(recorded, path, line)):
        named = [test for test in named if test in through] + [test for test in through if test not in named]
    return named[:most] + [test for start, tests in BESIDE.items() if path.startswith(f"{start}/") for test in tests]


def _running_through(recorded: Path, path: str, line: int) -> list[str]:
    """Those that run through least of the judging code first."""
    found = {test for at, number in _lines(path, line) for test in _tests_by_line(recorded, at).get(number, ())}
    return sorted(found, key=lambda test: (_sizes(recorded)[test], test))


def _lines(path: str, line: int) -> list[tuple[str, int]]:
    """The line, or all that use the constant which it makes outside of any function."""
    for node in ast.parse(modules()[path]).body:
        if isinstance(node, ast.Assign | ast.AnnAssign) and node.lineno <= line <= (node.end_lineno or line):
            names = "|".join(name.id for name in ast.walk(node) if isinstance(name, ast.Name) and name.id.isupper())
            uses = re.compile(rf"\b({names or 'None of them'})\b")
            return [
                (other, number)
                for other, text in modules().items()
                if other == path or _imports(other, text, path)
                for number, words in enumerate(text.splitlines(), 1)
                if uses.search(words)
            ]
    return [(path, line)]


@cache
def _tests_by_line(recorded: Path, path: str) -> dict[int, set[str]]:
    from coverage import CoverageData

    data = CoverageData(str(recorded))
    data.read()
    file = next((name for name in data.measured_files() if name.endswith(f"/{path}")), path)
    by_line = data.contexts_by_lineno(file)
    return {line: {test for one in contexts if (test := _file_of(one))} for line, contexts in by_line.items()}


def _file_of(context: str) -> str | None:
    """``tests.cases.mass.test_lifts.test_a_case`` stands in ``tests/cases/mass/test_lifts.py``."""
    file = "/".join(context.split(".")[:-1]) + ".py"
    return file if file in texts("tests") and not any(part in SLOW for part in file.split("/")) else None


@cache
def _sizes(recorded: Path) -> Counter[str]:
    """How many lines of the judging code each test file runs through."""
    return Counter(test for path in modules() for tests in _tests_by_line(recorded, path).values() for test in tests)


def _naming(path: str) -> list[str]:
    """Test files that name a module or its rules, those that name most first."""
    own = _rules(modules()[path])
    users = [other for other, text in modules().items() if _imports(other, text, path)]
    further = {rule for user in users for rule in _rules(modules()[user])} - own
    topic = path.split("/")[1]
    ranked = []
    for test, text in texts("tests").items():
        if not Path(test).name.startswith("test_") or any(part in SLOW for part in test.split("/")):
            continue
        stem = Path(path).stem
        points = 20 * bool(re.search(rf"(preflint|preflint_rules)[.\w]*\.{stem}\b", text))
        points += 10 * (stem in Path(test).stem and (topic in test.split("/") or "outside" in test.split("/")))
        points += 6 * sum(rule in text for rule in own) + sum(rule in text for rule in further)
        points += topic in test.split("/")
        if points:
            ranked.append((-points, test))
    return [test for _, test in sorted(ranked)]


def _rules(text: str) -> set[str]:
    return set(re.findall(r"@rule\(\s*\"([a-z/-]+)\"", text))


def _imports(other: str, text: str, path: str) -> bool:
    """Whether a module imports another one, by the last two parts of its name."""
    folder, stem = path.removesuffix(".py").split("/")[-2:]
    ways = [rf"\b{folder}\.{stem} import", rf"\b{folder} import [^\n]*\b{stem}\b"]
    if Path(other).parent == Path(path).parent:
        ways += [rf"from \.{stem} import", rf"from \. import [^\n]*\b{stem}\b"]
    return other != path and any(re.search(way, text) for way in ways)
