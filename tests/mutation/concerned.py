"""Which test files concern a module: those that name it, its rules, or the rules of modules that import it."""

import re
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
    "rules": ["tests/cases/test_stricter.py", "tests/cases/test_manual_pages.py"],
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


def tests_of(path: str, most: int) -> list[str]:
    """Test files that concern a module, the likeliest first, at most so many; then those for its whole folder."""
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
    named = [test for _, test in sorted(ranked)][:most]
    return named + [test for start, tests in BESIDE.items() if path.startswith(f"{start}/") for test in tests]


def _rules(text: str) -> set[str]:
    return set(re.findall(r"@rule\(\s*\"([a-z/-]+)\"", text))


def _imports(other: str, text: str, path: str) -> bool:
    """Whether a module imports another one, by the last two parts of its name."""
    folder, stem = path.removesuffix(".py").split("/")[-2:]
    ways = [rf"\b{folder}\.{stem} import", rf"\b{folder} import [^\n]*\b{stem}\b"]
    if Path(other).parent == Path(path).parent:
        ways += [rf"from \.{stem} import", rf"from \. import [^\n]*\b{stem}\b"]
    return other != path and any(re.search(way, text) for way in ways)
