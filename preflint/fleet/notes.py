"""What is worth knowing about a folder of aircraft: names that stand twice, shared files that nobody uses."""

import os
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from preflint.errors import NotRead
from preflint.findings.inspected import Inspected
from preflint.findings.report import Note
from preflint.fleet.plan import Plan, Task
from preflint.load.quoting import in_quotes, shorten, show
from preflint.load.tree import Tree
from preflint.places import Place

_SHARED = ("parts", "sites")


def notes(work: Plan, told: Sequence[tuple[Task, Inspected | NotRead]]) -> list[Note]:
    """In the order of the files. Unused files are named only where every aircraft of the tree was read."""
    judged = [answer for _, answer in told if isinstance(answer, Inspected)]
    found = list(_one_name(judged))
    trees: dict[Path, list[tuple[Task, Inspected | NotRead]]] = {}
    for task, answer in told:
        trees.setdefault(task.tree.root, []).append((task, answer))
    for root in sorted(trees):
        files = _used(trees[root])
        lying = set(_lying(trees[root][0][0].tree))
        found += _two_files(files | lying)
        complete = all(isinstance(answer, Inspected) for _, answer in trees[root])
        if complete and any(root.is_relative_to(folder) for folder in work.looked_in):
            found += (Note(f"no aircraft uses {show(name)}", _start(name)) for name in sorted(lying - files))
    return found


def _one_name(judged: Iterable[Inspected]) -> Iterator[Note]:
    named: dict[str, list[Inspected]] = {}
    for one in judged:
        named.setdefault(" ".join(one.about.name.value.casefold().split()), []).append(one)
    for same in named.values():
        for one in same[1:]:
            name, first = one.about.name, same[0].about.name
            yield Note(
                f"two aircraft are named {in_quotes(shorten(name.value))}: this one and that of "
                f"{show(first.place.file)}; give each its own name",
                name.place,
            )


def _used(answers: Iterable[tuple[Task, Inspected | NotRead]]) -> set[str]:
    """Shared files of one tree: all that was read but manifests and tables, and the policy's site."""
    used: set[str] = set()
    for task, answer in answers:
        if isinstance(answer, Inspected):
            used.update(name for name in answer.files if name.endswith(".yaml") and name != task.manifest)
        source = task.policy.source if task.policy else None
        if source and source.site_file and source.path.parent == task.tree.root:
            used.add(source.site_file)
    return used


def _lying(tree: Tree) -> Iterator[str]:
    for top in _SHARED:
        if (tree.root / top).is_symlink():
            continue
        for folder, folders, files in os.walk(tree.root / top):
            folders.sort()
            for file in sorted(files):
                if file.endswith(".yaml"):
                    yield tree.prefix + Path(folder, file).relative_to(tree.root).as_posix()


def _two_files(names: Iterable[str]) -> Iterator[Note]:
    by_name: dict[str, list[str]] = {}
    for name in sorted(names):
        by_name.setdefault(name.rpartition("/")[2].casefold(), []).append(name)
    for same in by_name.values():
        for name in same[1:]:
            yield Note(f"{show(name)} has the name of {show(same[0])}; one is easily taken for the other", _start(name))


def _start(name: str) -> Place:
    return Place(show(name), 1, 1, 1, 1)
