"""Puts faults into the judging code, one at a time, and tells which of them no test notices.

    python tests/mutation/mutate.py --seed 7 --count 40 rules/mass preflint/compute

Each fault is made in the memory of a process of its own, forked from one that has imported everything; no file is
changed. It runs the test files that concern the module (concerned.py) until one fails. A fault that survives needs a
sharper test, or has a reason why it changes nothing. Tests that start processes do not see the fault in them.
Exit code 1 where a fault survived.
"""

import argparse
import ast
import copy
import gc
import importlib
import os
import random
import resource
import sys
import tempfile
import types
from dataclasses import replace
from importlib.machinery import SourceFileLoader
from pathlib import Path

sys.dont_write_bytecode = True
sys.path.insert(0, str(Path(__file__).parents[1]))

import pytest  # noqa: E402
from mutation.concerned import TOP, modules, tests_of  # noqa: E402
from mutation.faults import Fault, fault_of, numbers_of, with_fault  # noqa: E402

for name in ("hypothesis", "scipy.optimize", "preflint_rules", "preflint.inspection", "preflint.testing"):
    importlib.import_module(name)  # once for all, before the forks

SECONDS = 90  # of processor time for one fault
OPTIONS = ("-x", "-q", "-p", "no:cacheprovider", "-p", "no:xdist", "-W", "ignore::pytest.PytestAssertRewriteWarning")
NOT_RUN = 70  # exit code of a child that did not come to run the tests
NO_FAULT = -2  # the index of what is no fault


def main() -> None:
    """Draws, tries and tells."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("paths", nargs="*", help="folders or files to draw from; the whole judging code otherwise")
    parser.add_argument("--seed", type=int, default=random.SystemRandom().randrange(10**6))
    parser.add_argument("--count", type=int, default=40, help="how many faults to draw")
    parser.add_argument("--files", type=int, default=24, help="at most so many test files for each")
    parser.add_argument("--recorded", type=Path, help="what coverage recorded: which test runs through which line")
    parser.add_argument("--plan", type=Path, help="lines of FILE, OLD and NEW text between tabs, instead of a draw")
    parser.add_argument("--also", action="append", default=[], help="a test file or folder to run for each fault, too")
    parser.add_argument("--jobs", type=int, default=2)
    given = parser.parse_args()
    os.chdir(TOP)
    if given.plan:
        drawn = [_planned(line) for line in given.plan.read_text(encoding="utf-8").splitlines() if line.strip()]
    else:
        drawn = _draw(given.paths, given.seed, given.count)
        print(f"seed {given.seed}")
    if drawn:  # the tests must pass without a fault
        _started(replace(drawn[0], index=NO_FAULT), tests_of(drawn[0].path, 1, drawn[0].line, None))
        if os.waitstatus_to_exitcode(os.wait()[1]) != pytest.ExitCode.OK:
            sys.exit(f"the tests of {drawn[0].path} fail without any fault")
    survived = 0
    running: dict[int, Fault] = {}
    waiting = list(reversed(drawn))
    while waiting or running:
        while waiting and len(running) < given.jobs:
            fault = waiting.pop()
            tests = tests_of(fault.path, given.files, fault.line, given.recorded)
            running[_started(fault, [*tests, *given.also])] = fault
        ended, status = os.wait()
        fault = running.pop(ended)
        outcome = "killed"
        if os.WIFSIGNALED(status):
            outcome = "endless"
        elif os.WEXITSTATUS(status) == pytest.ExitCode.OK:
            outcome = "SURVIVED"
            survived += 1
        elif os.WEXITSTATUS(status) not in (pytest.ExitCode.TESTS_FAILED, pytest.ExitCode.INTERRUPTED):
            outcome = "no import" if os.WEXITSTATUS(status) == NOT_RUN else "NOT RUN"
        print(f"{outcome:9} {fault.path}:{fault.line}: {fault.was!r}  ->  {fault.now!r}", flush=True)
    print(f"{len(drawn)} drawn, {len(drawn) - survived} killed, {survived} survived")
    sys.exit(bool(survived))


def _draw(paths: list[str], seed: int, count: int) -> list[Fault]:
    """Faults by a seed: a module by the root of how many it can have, so that long ones do not take all, then one."""
    chosen = [path for path in modules() if not paths or any(path.startswith(start.rstrip("/")) for start in paths)]
    faults = {path: found for path in chosen if (found := numbers_of(modules()[path]))}
    draw = random.Random(seed)
    drawn: dict[Fault, None] = {}
    for _ in range(20 * count if faults else 0):
        if len(drawn) == count:
            break
        path = draw.choices(list(faults), [len(found) ** 0.5 for found in faults.values()])[0]
        fault = fault_of(path, modules()[path], *draw.choice(faults[path]))
        if fault.was != fault.now:
            drawn[fault] = None
    return sorted(drawn, key=lambda fault: (fault.path, fault.line))


def _planned(line: str) -> Fault:
    """A fault written by hand; its index is -1. The old text must stand in the file exactly once."""
    path, old, new = (part.replace("\\n", "\n") for part in line.split("\t"))
    text = modules()[path]
    if text.count(old) != 1:
        sys.exit(f"{path}: {text.count(old)} times {old!r}")
    return Fault(path, -1, 0, text[: text.index(old)].count("\n") + 1, old, new)


def _started(fault: Fault, tests: list[str]) -> int:
    """Forks a child that puts the fault in and runs the tests, silently; its process id."""
    child = os.fork()
    if child:
        return child
    code = NOT_RUN
    try:
        resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))
        with tempfile.TemporaryFile() as output:
            os.dup2(output.fileno(), 1)
            os.dup2(output.fileno(), 2)
            _put_in(fault)
            code = int(pytest.main([*OPTIONS, *tests])) if tests else 0
    finally:
        os._exit(code)


def _put_in(fault: Fault) -> None:
    """Into the functions that are there, or by importing all anew where the fault stands outside of functions."""
    source = modules()[fault.path]
    if fault.index == NO_FAULT:
        return
    if fault.index < 0:
        tree = ast.parse(source.replace(fault.was, fault.now))
    else:
        tree, _ = with_fault(source, fault.index, fault.variant)
    was, now = (_functions(one) for one in (ast.parse(source), tree))
    changed = [name for name in was if ast.dump(was[name]) != ast.dump(now[name])]
    # Whatever a function made while the module was imported holds a function within it as it was.
    makes = any(isinstance(inner, ast.FunctionDef) for name in changed for inner in list(ast.walk(was[name]))[1:])
    file = str(TOP / fault.path)
    # What the module itself asks for, such as limits of one form, was made with it as it was.
    asked = {node.id for node in ast.walk(_emptied(tree)) if isinstance(node, ast.Name)}
    same_outside = ast.dump(_emptied(ast.parse(source))) == ast.dump(_emptied(tree))
    if changed and not makes and not asked.intersection(changed) and same_outside:
        codes = _codes(compile(tree, file, "exec"))
        for function in [each for each in gc.get_objects() if isinstance(each, types.FunctionType)]:
            name = function.__code__.co_qualname
            if function.__code__.co_filename == file and name in changed:
                function.__code__ = codes[name]
                changed.remove(name)
        if not changed:
            return
    get_code = SourceFileLoader.get_code
    SourceFileLoader.get_code = lambda self, name: (  # type: ignore[method-assign]
        compile(tree, file, "exec") if self.path == file else get_code(self, name)
    )
    for name in [name for name in sys.modules if name.split(".")[0] in ("preflint", "preflint_rules")]:
        del sys.modules[name]
    importlib.import_module("preflint_rules")


def _functions(tree: ast.Module) -> dict[str, ast.FunctionDef]:
    """Functions and methods by qualified name, without their decorators and defaults, which run on import."""
    found = {}
    for node in tree.body:
        for inner in node.body if isinstance(node, ast.ClassDef) else [node]:
            if isinstance(inner, ast.FunctionDef):
                name = f"{node.name}.{inner.name}" if isinstance(node, ast.ClassDef) else inner.name
                found[name] = inner
    return found


def _emptied(tree: ast.Module) -> ast.Module:
    """All that runs on import: the module without what stands in its functions."""
    emptied = copy.deepcopy(tree)
    for function in _functions(emptied).values():
        function.body = []
    return emptied


def _codes(module: types.CodeType) -> dict[str, types.CodeType]:
    """Code of functions and methods by qualified name."""
    found = {}
    for code in [each for each in module.co_consts if isinstance(each, types.CodeType)]:
        found[code.co_qualname] = code
        found.update({each.co_qualname: each for each in code.co_consts if isinstance(each, types.CodeType)})
    return found


if __name__ == "__main__":
    main()
