"""What is to be judged, and by which policy: settled before the first aircraft is judged."""

import datetime as dt
import os
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from preflint.engine.rule_module import Registry
from preflint.errors import NotRead, Problem, UsageError
from preflint.findings.report import Note
from preflint.fleet.find import Found, find_manifests
from preflint.load.names import POLICY_NAME
from preflint.load.quoting import show
from preflint.load.tree import Tree
from preflint.policy.policy import Policy, make_policy
from preflint.policy.source import PolicySource, named_policy, read_policy, refuse_misnamed

_OR_EXCLUDE = f", or name it under exclude in {POLICY_NAME}"


@dataclass(frozen=True, slots=True)
class Task:
    """One manifest, by its name in its tree; ``path`` is how the user came to it."""

    tree: Tree
    manifest: str
    path: Path
    policy: Policy | None

    @property
    def file(self) -> Path:
        """The manifest itself, wherever one works."""
        return self.tree.root / self.manifest


@dataclass(frozen=True, slots=True)
class Plan:
    """``failed`` are the paths and manifests that cannot even be opened; ``looked_in`` the folders searched.

    ``notes`` tell of manifests that are there and are not judged by the club's will or for the folder they lie in.
    """

    tasks: tuple[Task, ...]
    failed: tuple[NotRead, ...]
    looked_in: tuple[Path, ...]
    notes: tuple[Note, ...] = ()


def plan(
    paths: Iterable[Path], registry: Registry, named: Path | None, unsaved: Mapping[Path, bytes] | None = None
) -> Plan:
    """Raises UsageError for a policy that is wrong or misnamed, and for two on one way up.

    ``named`` wins over the trees' own. ``unsaved`` has manifests as an editor holds them.
    """
    held = unsaved or {}
    found = find_manifests(paths, held)
    failed = list({(error.file, error.problems): error for error in found.failed}.values())  # named twice it is one
    own = _made(named_policy(named), registry) if named else None
    policies: dict[Path, Policy | None] = {}

    def policy_over(tree: Tree) -> Policy | None:
        if tree.root not in policies:
            policies[tree.root] = own or _made(read_policy(tree), registry)
        return policies[tree.root]

    tasks: dict[Path, Task] = {}
    excluded: dict[Path, int] = {}
    for path in sorted(found.manifests):
        try:
            tree = Tree.around(path, held.get(path))
            task = Task(tree, tree.name(path), path, policy_over(tree))
        except NotRead as error:
            failed.append(error)
            continue
        if path not in found.outright and task.policy and task.policy.excludes_folder(task.manifest):
            by = task.policy.source.path
            excluded[by] = excluded.get(by, 0) + 1
            continue
        tasks.setdefault(task.file, task)
    if named is None:
        try:
            refuse_misnamed({folder for file in tasks for folder in file.parents})
        except NotRead as error:  # another policy may hold, so nothing is judged by this one
            failed.append(error)
            tasks.clear()
    failed += _misnamed(found.nearly, policy_over)
    folders = tuple(path.resolve() for path in found.folders)
    return Plan(tuple(tasks.values()), tuple(failed), folders, tuple(_not_judged(found, excluded)))


def _not_judged(found: Found, excluded: Mapping[Path, int]) -> Iterator[Note]:
    for folder, held in sorted(found.passed_over.items()):
        said = f"{show(folder.as_posix())} was not searched and holds {show(held.name)}"
        yield Note(f"{said}; name the folder to have it judged")
    for policy, count in sorted(excluded.items()):
        many = "manifest" if count == 1 else "manifests"
        yield Note(f"{count} {many} not judged: exclude in {show(policy.name)} names the folder")


def _misnamed(nearly: Mapping[Path, str], policy_over: Callable[[Tree], Policy | None]) -> list[NotRead]:
    """What is named nearly like a manifest, each once, but for what the policy over it excludes."""
    told: dict[Path, NotRead] = {}
    for path in sorted(nearly):
        shown = show(str(path))
        where = Path(os.path.realpath(path.parent), path.name)
        try:
            tree = Tree.of_folder(where.parent, shown)
            policy = policy_over(tree)
            name = where.relative_to(tree.root).as_posix()
            excluded = policy is not None and policy.excludes(name)
        except NotRead as error:
            told.setdefault(where, error)
            continue
        if not excluded:
            told.setdefault(where, NotRead(show(name), [Problem(nearly[path] + _OR_EXCLUDE)]))
    return list(told.values())


def _made(source: PolicySource | None, registry: Registry) -> Policy | None:
    return make_policy(source, registry) if source else None


def field_day(tasks: Iterable[Task]) -> dt.date:
    """The one field day of all policies in play. Raises UsageError where there is none, or where two differ."""
    days: Mapping[str, dt.date | None] = {
        str(task.tree.root): task.policy.field_day.date if task.policy and task.policy.field_day else None
        for task in tasks
    }
    without = [root for root, day in days.items() if day is None]
    if without or not days:
        where = f" over {without[0]}" if without else ""
        raise UsageError(f"--as-of field-day: no policy{where} names a field_day with its date")
    if len(set(days.values())) > 1:
        said = ", ".join(f"{day} in {root}" for root, day in days.items())
        raise UsageError(f"--as-of field-day: the policies name different days: {said}")
    return next(day for day in days.values() if day)
