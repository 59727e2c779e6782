"""What is to be judged, and by which policy: settled before the first aircraft is judged."""

import datetime as dt
import os
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from preflint.engine.rule_module import Registry
from preflint.errors import NotRead, Problem, UsageError
from preflint.findings.report import Note
from preflint.fleet.find import Found, find_manifests
from preflint.frozen import dataclass
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
        return self.tree.path(self.manifest)


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
    failed = list(found.failed.values())
    files: list[tuple[Path, Path, Tree, str]] = []
    for where, path in _as_come_by(found):
        try:
            if where in found.nearly:
                tree = Tree.of_folder(where.parent, show(str(path)))
            else:
                tree = Tree.around(path, held.get(path))
            files.append((where, path, tree, tree.name(where)))
        except NotRead as error:
            failed.append(error)
    above = _above({tree.root: tree.policy for _, _, tree, _ in files}, found.folders)
    own = _made(named_policy(named, above), registry) if named else None
    policies: dict[Path, Policy | None] = {}
    tasks: list[Task] = []
    misnamed: list[NotRead] = []
    excluded: dict[Path, int] = {}
    for where, path, plain, below in files:
        tree = plain.named_from(above)
        if tree.root not in policies:
            policies[tree.root] = own or _made(read_policy(tree), registry)
        policy, name = policies[tree.root], tree.prefix + below
        if where in found.nearly:
            if policy is None or not policy.excludes(below):
                misnamed.append(NotRead(show(name), [Problem(found.nearly[where][1] + _OR_EXCLUDE)]))
        elif where not in found.outright and policy and policy.excludes_folder(below):
            excluded[policy.source.path] = excluded.get(policy.source.path, 0) + 1
        else:
            tasks.append(Task(tree, name, path, policy))
    if named is None:
        try:
            refuse_misnamed({folder for task in tasks for folder in task.file.parents})
        except NotRead as error:  # another policy may hold, so nothing is judged by this one
            failed.append(error)
            tasks.clear()
    return Plan(tuple(tasks), (*failed, *misnamed), tuple(found.folders), tuple(_not_judged(found, excluded)))


def _as_come_by(found: Found) -> list[tuple[Path, Path]]:
    """Where each file is that is judged, or told, and how it was come by; in the order of the latter."""
    nearly = {where: path for where, (path, _) in found.nearly.items()}
    return sorted((found.manifests | nearly).items(), key=lambda item: item[1])


def _above(policies: Mapping[Path, str | None], searched: Iterable[Path]) -> Path:
    """The folder from which all files are named: that of the one policy, else the one that holds all.

    So no two files of a report have one name, and from there each name leads to its file. ``policies`` has the policy
    of each tree by its folder.
    """
    if len(policies) == 1 and None not in policies.values():
        return next(iter(policies))
    try:
        return Path(os.path.commonpath([*policies, *searched]))
    except ValueError:  # of nothing at all, or on two drives
        return Path()


def _not_judged(found: Found, excluded: Mapping[Path, int]) -> Iterator[Note]:
    for folder, held in sorted(found.passed_over.items()):
        said = f"{show(folder.as_posix())} was not searched and holds {show(held.name)}"
        yield Note(f"{said}; name the folder to have it judged")
    for policy, count in sorted(excluded.items()):
        many = "manifest" if count == 1 else "manifests"
        yield Note(f"{count} {many} not judged: exclude in {show(policy.name)} names the folder")


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
