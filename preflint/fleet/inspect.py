"""Judges many manifests, here or on any executor; one that cannot be read keeps none of the others back."""

import datetime as dt
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from preflint.engine.rule_module import Registry, builtin_and, load_rule_module
from preflint.errors import NotRead, PreflintError, Problem, RuleModuleError, told
from preflint.findings.inspected import Inspected
from preflint.findings.report import Note, Report
from preflint.findings.rule_info import RuleInfo
from preflint.fleet.changed import concerned
from preflint.fleet.legible import legible
from preflint.fleet.notes import notes
from preflint.fleet.packs import with_packs
from preflint.fleet.plan import Plan, Task, field_day, plan
from preflint.fleet.roster import missing, strangers
from preflint.inspection import inspect_in
from preflint.load.opening import describe_failure
from preflint.load.quoting import show
from preflint.load.tables.readings import Reading
from preflint.version import __version__

if TYPE_CHECKING:
    from concurrent.futures import Executor, Future

_PATIENCE_S = 1.0

MANY = 16
"""Aircraft from which on each is packed once it is judged: a report of many is told from little of each."""

CHUNK = 8
"""Manifests sent to a worker at a time: each costs some hundredths of a second, sending far less."""

Progress = Callable[[int, int], None]
"""Called with the manifests judged and those in all; about once a second even while nothing is done."""

Answer = Inspected | NotRead

_Rules = dict[tuple[RuleInfo, ...], tuple[RuleInfo, ...]]

_Chunk = tuple[tuple[int, Task], ...]


def inspect_many(
    paths: Iterable[Path],
    executor: "Executor | None" = None,
    *,
    judged_on: dt.date | None,
    rules: Sequence[str] = (),
    policy: Path | None = None,
    changed: Sequence[Path] | None = None,
    progress: Progress = lambda done, total: None,
    reading: Reading | None = None,
    at_once: int = CHUNK,
    unsaved: Mapping[Path, bytes] | None = None,
    packs: Sequence[str] = (),
) -> Report:
    """Finds the manifests in ``paths`` and judges them; the report is the same to the byte on any executor.

    Args:
        executor: runs chunks of manifests; it must see the same files. None judges one after the other: here by the
            built-in rules alone, else in one process apart, since what ends that one must not end the run.
        judged_on: None for the field day of the policies.
        rules: modules of further rules, loaded where the judging is done.
        policy: takes the place of the trees' own policies.
        changed: judges only the aircraft that use one of these files.
        reading: told how far the reading of each log has come, where the judging is done here.
        at_once: manifests sent to a worker at a time.
        unsaved: manifests as an editor holds them, read in place of what is on the disk.
        packs: labels of the packs that are flown today.

    Raises:
        UsageError: a rule module or policy is wrong, or no aircraft has a pack of such a label.
    """
    if executor is None and rules:
        from preflint.fleet.processes import Processes

        with Processes(1) as apart:
            return inspect_many(
                paths, apart, judged_on=judged_on, rules=rules, policy=policy, changed=changed, progress=progress,
                at_once=1, unsaved=unsaved, packs=packs,
            )  # fmt: skip
    registry = builtin_and(()) if executor is None or not rules else _offered(rules, executor)
    work = plan(paths, registry, policy, unsaved)
    at_field_day = judged_on is None
    day = field_day(work.tasks) if judged_on is None else judged_on
    tasks = work.tasks
    about_names: tuple[Note, ...] = ()
    if changed is not None:
        tasks, about_names, missed = concerned(work, changed, policy)
        work = replace(work, failed=(*work.failed, *missed))
    answers: dict[int, Answer] = {}
    interrupted = False
    chunks = [tuple(enumerate(tasks))[i : i + at_once] for i in range(0, len(tasks), at_once)]
    try:
        for numbered in _answers(chunks, executor, day, registry, rules, at_field_day, reading, packs):
            answers.update(numbered)
            progress(len(answers), len(tasks))
    except KeyboardInterrupt:
        interrupted = True
    report = _report(work, tasks, answers, day, interrupted, about_names, changed is not None, registry.modules)
    return with_packs(report, packs)


def _answers(
    chunks: Sequence[_Chunk], executor: "Executor | None", day: dt.date, registry: Registry,
    rules: Sequence[str], at_field_day: bool, reading: Reading | None, packs: Sequence[str],
) -> Iterator[dict[int, Answer]]:  # fmt: skip
    """Those of one manifest after the other here, else of each chunk as it is done; none where that takes long."""
    asked = _Rules()
    if executor is None:
        many = sum(map(len, chunks)) >= MANY
        for chunk in chunks:
            for i, task in chunk:
                yield {i: _judge(task, day, registry, at_field_day, packs, asked if many else None, reading)}
        return
    from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Future, wait

    def send(chunk: _Chunk) -> "Future[list[Answer]]":
        try:
            return executor.submit(
                judge_chunk, [task for _, task in chunk], day, tuple(rules), at_field_day, tuple(packs)
            )
        except BrokenExecutor as end:
            lost: Future[list[Answer]] = Future()
            lost.set_exception(end)
            return lost

    waiting = {send(chunk): chunk for chunk in chunks}
    judged_again: set[int] = set()
    try:
        while waiting:
            done, _ = wait(waiting, _PATIENCE_S, FIRST_COMPLETED)
            if not done:
                yield {}
            for future in done:
                chunk = waiting.pop(future)
                numbers = [i for i, _ in chunk]
                if _ended(future) and judged_again.isdisjoint(numbers):
                    # One of them may have ended the process: each gets one more, and keeps none of the others back.
                    judged_again.update(numbers)
                    waiting |= {send((entry,)): (entry,) for entry in chunk}
                    yield {}
                else:
                    # Packed already; their rules are those of the others here.
                    yield {
                        i: answer.packed(asked) if isinstance(answer, Inspected) else answer
                        for i, answer in zip(numbers, _result(future, chunk), strict=True)
                    }
    finally:
        for future in waiting:
            future.cancel()


def _ended(future: "Future[list[Answer]]") -> bool:
    from concurrent.futures import BrokenExecutor

    return not future.cancelled() and isinstance(future.exception(), BrokenExecutor)


def _result(future: "Future[list[Answer]]", chunk: _Chunk) -> Sequence[Answer]:
    from concurrent.futures import BrokenExecutor

    try:
        return future.result()
    except PreflintError:
        raise
    except BrokenExecutor:
        gone = "the process that was to judge it ended before it answered"
    except Exception as error:  # of the executor, whichever it is
        gone = f"the process that was to judge it failed: {told(error)}"
    return [NotRead(show(task.manifest), [Problem(gone)]) for _, task in chunk]


def _offered(rules: Sequence[str], executor: "Executor") -> Registry:
    """What is known of all rules, from where they will be asked: no code of theirs runs here. Raises RuleModuleError.

    A stranger's module that ends the process in which it is loaded, or whose exit code it sets, then ends another.
    """
    module = rules[0]
    try:
        for module in rules:
            executor.submit(_load, module).result()
        return executor.submit(_known, tuple(rules)).result()
    except PreflintError:
        raise
    except Exception as error:  # of the executor, whichever it is
        raise RuleModuleError(f"rule module {module} does not load where it would judge: {told(error)}") from None


def _load(module: str) -> None:
    load_rule_module(module)


def _known(rules: tuple[str, ...]) -> Registry:
    return builtin_and(rules).without_functions()


def judge_chunk(
    tasks: Sequence[Task], day: dt.date, rules: tuple[str, ...], at_field_day: bool, packs: tuple[str, ...] = ()
) -> list[Answer]:
    """What a worker does: the rules are loaded where they run, since functions do not travel."""
    registry, asked = builtin_and(rules), _Rules()
    return [_judge(task, day, registry, at_field_day, packs, asked) for task in tasks]


def _judge(
    task: Task, day: dt.date, registry: Registry, at_field_day: bool, packs: Sequence[str], asked: _Rules | None,
    reading: Reading | None = None,
) -> Answer:  # fmt: skip
    """One aircraft; packed where the rules that were asked of those before it are given."""
    try:
        judged = inspect_in(task.tree, task.manifest, day, registry, task.policy, at_field_day, reading, packs)
        judged = replace(judged, reached_by=str(task.path))
        return judged if asked is None else judged.packed(asked)
    except NotRead as error:
        return NotRead(error.file, error.problems, legible(task.tree, task.manifest))
    except RecursionError:
        why = "this is nested too deeply to be read"
    except MemoryError:
        why = "the memory did not suffice to judge it"
    except OSError as error:
        why = describe_failure(error)
    return NotRead(task.tree.shown(task.manifest), [Problem(why)])


def _report(
    work: Plan, tasks: Sequence[Task], answers: dict[int, Answer], day: dt.date, interrupted: bool,
    about_names: Sequence[Note], chosen: bool, modules: Sequence[str],
) -> Report:  # fmt: skip
    told = [answers.get(i) or NotRead(show(task.manifest), [Problem("the run was interrupted before it was judged")])
            for i, task in enumerate(tasks)]  # fmt: skip
    judged = tuple(answer for answer in told if isinstance(answer, Inspected))
    failed = tuple(answer for answer in told if isinstance(answer, NotRead))
    policies = sorted({one.policy for one in judged if one.policy})
    beside = list(zip(tasks, told, strict=True))
    about = (*work.notes, *(about_names if chosen else (*notes(work, beside), *strangers(work, beside))))
    expected = () if chosen or interrupted else missing(work, beside)
    return Report(
        day, _tool(modules), "; ".join(policies) or None, judged, (*work.failed, *failed), tuple(about),
        chosen and bool(work.tasks) and not tasks, interrupted, tuple(modules), missing=expected,
    )  # fmt: skip


def _tool(modules: Sequence[str]) -> str:
    """The tool, and whose rules were asked where others than the built-in ones were."""
    tool = f"preflint {__version__}"
    return f"{tool} (rules: {', '.join(map(show, modules))})" if len(modules) > 1 else tool
