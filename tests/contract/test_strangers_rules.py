"""Rule modules that exit, raise or answer anything: a crashed rule, or wrong use, and never a verdict of their own."""

import datetime as dt
import json
import os
import signal
import subprocess
import time
from pathlib import Path

import pytest
from making.manifests import CLUB, opening
from making.program import DAY, PROGRAM, started

import preflint
from preflint.fleet.inspect import CHUNK

WHEATEAR = CLUB / "wheatear.airframe.yaml"

HEAD = '''
import os, signal, sys, threading
from preflint.api import *
ELSEWHERE = Tolerance("elsewhere_a", "A", 1.0, "lower", "common practice, no source", "a limit of another rule")
class Text(str):
    def __str__(self): sys.exit(0)
class Hostile(Exception):
    def __str__(self): raise SystemExit(0)
class Equal:
    __class__ = property(lambda self: sys.exit(0))
    def __eq__(self, other): sys.exit(0)
    def __bool__(self): sys.exit(0)
    __hash__ = None
class OwnClear(Clear):
    evidence = property(lambda self: sys.exit(0))
    def __init__(self): pass
def throw(failure): raise failure
def swallow(aircraft, on):
    try: on.limit(ELSEWHERE)
    except Exception: return Clear("nothing was wrong")
def found(aircraft, **changed):
    return Finding(**{"place": aircraft.records.place, "message": "m", "evidence": "e", "do": "d", **changed})
def declared(id, judge, each="aircraft"):
    def asked(aircraft, on):
        """Behaves as no rule should. It does not check anything."""
        return judge(aircraft, on)
    return rule(id, each=each, severity=NO_GO, job=Job.RECORD, precaution="none", source="none")(asked)
'''

JUDGES = {
    "exits": "lambda a, on: sys.exit(0)",
    "interrupts": "lambda a, on: throw(KeyboardInterrupt())",
    "base": "lambda a, on: throw(BaseException('base'))",
    "generator-exit": "lambda a, on: throw(GeneratorExit())",
    "hostile-error": "lambda a, on: throw(Hostile())",
    "open-with-text": "lambda a, on: throw(Open('text'))",
    "none": "lambda a, on: None",
    "hostile-answer": "lambda a, on: Equal()",
    "own-clear": "lambda a, on: OwnClear()",
    "clear-of-number": "lambda a, on: Clear(7)",
    "clear-of-text": "lambda a, on: Clear(Text('fine'))",
    "message": "lambda a, on: found(a, message=Equal())",
    "place": "lambda a, on: found(a, place='here')",
    "long-place": "lambda a, on: found(a, place=tuple.__new__(type(a.records.place), (*a.records.place, 'x')))",
    "short-place": "lambda a, on: found(a, place=tuple.__new__(type(a.records.place), a.records.place[:2]))",
    "related": "lambda a, on: found(a, related=[7])",
    "compared": "lambda a, on: found(a, related=(Related(a.records.place, 'm', Equal()),))",
    "mind": "lambda a, on: found(a, mind=Text('x'))",
    "again": "lambda a, on: found(a, again=Equal())",
    "record": "lambda a, on: found(a, record='$(shutdown)')",
    "record-class": "lambda a, on: found(a, record=Text('nut_test'))",
    "cause": "lambda a, on: Unproven(place=a.records.place, message='m', do='d', cause='whim')",
    "swallows": "swallow",
}
BAD_FIGURES = (
    "sys.exit(0)", "7", "[Equal()]",
    "[Figure('q', None, float('nan'), None, 'V', None, on.aircraft.records.place)]",
    "[Figure('q', None, 1.0, 0.1, 'V', None, on.aircraft.records.place, 'three')]",
)


def module(folder: Path, name: str, text: str) -> str:
    (folder / f"{name}.py").write_text(text, encoding="utf-8")
    return name


def hostile(folder: Path) -> str:
    rules = "".join(f"declared('bad/{name}', {judge}), " for name, judge in JUDGES.items())
    figures = "".join(f"figure('f{i}')(lambda on: {value}), " for i, value in enumerate(BAD_FIGURES))
    return module(folder, "hostile_rules", f"{HEAD}MODULE = RuleModule(1, 'hostile', ({rules}), ({figures}))\n")


def test_every_bad_answer_is_a_crashed_rule(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(tmp_path)
    report = preflint.inspect_many(WHEATEAR, judged_on=dt.date(2026, 5, 21), rules=[hostile(tmp_path)])
    (one,) = report.aircraft
    crashed = {r.rule.id for r in one.results if isinstance(r.outcome, preflint.Crashed)}
    assert crashed == {f"bad/{name}" for name in JUDGES}
    assert len(one.broken) == len(BAD_FIGURES)
    assert (one.verdict, report.interrupted) == ("unproven", False)
    for form in preflint.FORMATS:
        assert preflint.render_report(report, form)


@pytest.mark.parametrize("jobs", ["1", "2"])
def test_bad_answers_are_3_with_and_without_jobs(jobs: str, tmp_path: Path) -> None:
    done = started(
        "inspect", WHEATEAR, *DAY, "--format", "json", "--jobs", jobs, "--rules", hostile(tmp_path),
        PYTHONPATH=str(tmp_path),
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (3, "")
    assert len(json.loads(done.stdout)["aircraft"][0]["crashed"]) == len(JUDGES) + len(BAD_FIGURES)


GOOD = "(declared('a/b', lambda a, on: Clear('c')),)"
WRONG_MODULES = {
    "exits": "sys.exit(0)",
    "interrupts": "raise KeyboardInterrupt",
    "base": "raise BaseException",
    "hostile": "raise Hostile",
    "empty": "MODULE = RuleModule(1, 'empty')",
    "no rules": "MODULE = RuleModule(1, 'empty', ())",
    "api true": f"MODULE = RuleModule(True, 'x', {GOOD})",
    "rules a number": "MODULE = RuleModule(1, 'x', 7)",
    "rules of texts": "MODULE = RuleModule(1, 'x', ('a', 'b'))",
    "name a number": f"MODULE = RuleModule(1, 7, {GOOD})",
    "figures": f"MODULE = RuleModule(1, 'x', {GOOD}, (7,))",
    "freshness": f"MODULE = RuleModule(1, 'x', {GOOD}, (), ('x',))",
    "freshness of settings": "from preflint.engine.freshness import Staling\n"
    f"MODULE = RuleModule(1, 'x', {GOOD}, (), (Staling('hover', 'motor', frozenset(), True, 'spin'),))",
    "each": "MODULE = RuleModule(1, 'x', (declared('a/b', swallow, 'rotors'),))",
    "hostile object": "MODULE = Equal()",
    "attribute": "def __getattr__(name): sys.exit(0)",
}


@pytest.mark.parametrize("name", WRONG_MODULES)
def test_a_module_that_is_wrong_is_wrong_use(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(tmp_path)
    named = module(tmp_path, f"wrong_{list(WRONG_MODULES).index(name)}", f"{HEAD}{WRONG_MODULES[name]}\n")
    with pytest.raises(preflint.RuleModuleError, match=named):
        preflint.inspect_many(WHEATEAR, judged_on=dt.date(2026, 5, 21), rules=[named])


@pytest.mark.parametrize("text", ["sys.exit(0)", "os._exit(0)"])
@pytest.mark.parametrize("jobs", ["1", "2"])
def test_a_module_that_exits_while_it_loads_is_2(text: str, jobs: str, tmp_path: Path) -> None:
    module(tmp_path, "leaving_rules", HEAD + text)
    done = started("inspect", CLUB, *DAY, "--rules", "leaving_rules", "--jobs", jobs, PYTHONPATH=str(tmp_path))
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("preflint: rule module leaving_rules does not load")


DEADLY = HEAD + '''
def ends(aircraft, on):
    if aircraft.about.name.value == "Wheatear": os._exit(0)
    mark = os.path.join(os.environ["MARKS"], "killed")
    if aircraft.about.name.value == "Knot" and not os.path.exists(mark):
        open(mark, "w").close()
        os.kill(os.getpid(), signal.SIGKILL)
    return Clear("asked")
MODULE = RuleModule(1, "deadly", (declared("deadly/ends", ends),))
'''


@pytest.mark.parametrize("jobs", ["1", "2"])
def test_a_rule_that_ends_the_process_loses_only_what_ends_it_twice(jobs: str, tmp_path: Path) -> None:
    module(tmp_path, "deadly_rules", DEADLY)
    manifests = [CLUB / f"{name}.airframe.yaml" for name in ("knot", "siskin", "wheatear")]
    done = started(
        "inspect", *manifests, *DAY, "--format", "json", "--rules", "deadly_rules", "--jobs", jobs,
        PYTHONPATH=str(tmp_path), MARKS=str(tmp_path),
    )  # fmt: skip
    report = json.loads(done.stdout)
    assert (done.returncode, done.stderr) == (3, "")
    assert sorted(one["name"] for one in report["aircraft"]) == ["Knot", "Siskin"]
    assert [(one["file"], one["problems"][0]["message"]) for one in report["not_read"]] == [
        ("wheatear.airframe.yaml", "the process that was to judge it ended before it answered")
    ]


LATE = HEAD + """
import atexit
def well(aircraft, on): return Clear("asked")
MODULE = RuleModule(1, "late", (declared("late/well", well),))
%s
"""
LATER = {
    "at the end": "atexit.register(os._exit, 0)",
    "from a thread": "threading.Thread(target=lambda: (threading.main_thread().join(), os._exit(0))).start()",
}


@pytest.mark.parametrize("how", LATER)
@pytest.mark.parametrize("jobs", ["1", "2"])
def test_a_module_cannot_set_the_exit_code(how: str, jobs: str, tmp_path: Path) -> None:
    module(tmp_path, "late_rules", LATE % LATER[how])
    siskin = CLUB / "siskin.airframe.yaml"
    done = started("inspect", siskin, *DAY, "--rules", "late_rules", "--jobs", jobs, PYTHONPATH=str(tmp_path))
    assert (done.returncode, done.stderr) == (1, "")
    assert done.stdout.startswith("NO-GO  Siskin")


SLOW = HEAD + '''
import time
def naps(aircraft, on):
    open(os.path.join(os.environ["MARKS"], f"pid-{os.getpid()}"), "w").close()
    for _ in range(600): time.sleep(0.1)
    return Clear("asked")
MODULE = RuleModule(1, "slow", (declared("slow/naps", naps),))
'''


@pytest.mark.parametrize("jobs", [1, 2])
@pytest.mark.parametrize("sent", [signal.SIGTERM, signal.SIGKILL, signal.SIGINT])
def test_no_worker_outlives_the_run(sent: signal.Signals, jobs: int, tmp_path: Path) -> None:
    module(tmp_path, "slow_rules", SLOW)
    for i in range(CHUNK + 1):
        (tmp_path / f"{i}.airframe.yaml").write_text(opening(f"Trial {i}"))
    with subprocess.Popen(
        [str(PROGRAM), "inspect", str(tmp_path), *DAY, "--jobs", str(jobs), "--rules", "slow_rules"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        env={**os.environ, "PYTHONPATH": str(tmp_path), "MARKS": str(tmp_path)},
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
    ) as process:  # fmt: skip
        while len(marks := list(tmp_path.glob("pid-*"))) < jobs:
            assert process.poll() is None
            time.sleep(0.05)
        process.send_signal(sent)
        _, said = process.communicate(timeout=60)  # also waits until no worker holds its output any more
    assert (process.returncode, said) == (130 if sent == signal.SIGINT else -sent, "")
    for mark in marks:
        assert not Path("/proc", mark.name.removeprefix("pid-"), "exe").exists()
