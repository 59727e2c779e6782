"""Which test files concern a module: those that name it, its rules, or the rules of modules that import it."""

import re
from functools import cache
from pathlib import Path

TOP = Path(__file__).parents[2]
SCOPE = ("preflint/engine", "preflint/compute", "preflint/findings", "preflint/policy", "rules")

# Long runs over many aircraft, terminals and documents: too slow to be asked for each fault.
SLOW = ("whole_aircraft", "evening", "fuzz", "clients", "bench", "render", "cli", "fleet", "making")

OF_EVERY_RULE = ["tests/cases/test_stricter.py", "tests/cases/test_manual_pages.py"]


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
    """Test files that concern a module, the likeliest first, at most so many; then those of every rule."""
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
    return [test for _, test in sorted(ranked)][:most] + (OF_EVERY_RULE if path.startswith("rules/") else [])


def _rules(text: str) -> set[str]:
    return set(re.findall(r"@rule\(\s*\"([a-z/-]+)\"", text))


def _imports(other: str, text: str, path: str) -> bool:
    """Whether a module imports another one, by the last two parts of its name."""
    folder, stem = path.removesuffix(".py").split("/")[-2:]
    ways = [rf"\b{folder}\.{stem} import", rf"\b{folder} import [^\n]*\b{stem}\b"]
    if Path(other).parent == Path(path).parent:
        ways += [rf"from \.{stem} import", rf"from \. import [^\n]*\b{stem}\b"]
    return other != path and any(re.search(way, text) for way in ways)
