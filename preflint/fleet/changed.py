"""Which aircraft are concerned by files that changed."""

import os
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path

from preflint.errors import Line, NotRead, Problem
from preflint.findings.report import Note
from preflint.fleet.find import location
from preflint.fleet.plan import Plan, Task
from preflint.load.limits import MAX_YAML_BYTES
from preflint.load.names import POLICY_NAME, SUFFIX
from preflint.load.node import Node
from preflint.load.opening import describe_failure
from preflint.load.quoting import show
from preflint.load.shared import resolve
from preflint.load.yaml.events import load_yaml
from preflint.places import Place

MAX_BYTES = 16 * 1024 * 1024

_FROM_HERE = "name changed files from the current folder"


def read_names(data: bytes, source: str) -> list[Path]:
    """The names in a list, one a line or each before a NUL. Raises NotRead where it is no such list, or empty.

    An empty list is what a command that failed leaves behind, and is not taken for "nothing changed".
    """
    if len(data) > MAX_BYTES:
        raise NotRead(source, [Problem(f"the list of names is longer than {MAX_BYTES} bytes")])
    by_nul = b"\0" in data
    parts = data.split(b"\0") if by_nul else [line.removesuffix(b"\r") for line in data.split(b"\n")]
    names = [os.fsdecode(part) for part in parts if part]
    if not names:
        raise NotRead(source, [Problem("the list of names is empty: nothing was judged")])
    if not by_nul:
        for number, name in enumerate(map(os.fsdecode, parts), 1):
            if name.startswith('"') and name.endswith('"') and name:
                why = f"the name {show(name)} is in quotes, which leaves open how it is meant; separate names by NUL"
                place = Place(show(source), number, 1, number, len(name) + 1)
                raise NotRead(source, [Problem(why, place, Line.about(name, place))])
    return [Path(name) for name in names]


def concerned(
    work: Plan, changed: Sequence[Path], policy: Path | None
) -> tuple[tuple[Task, ...], tuple[Note, ...], tuple[NotRead, ...]]:
    """The tasks that use a changed file, a note for each name that no aircraft uses, and the names that miss.

    A manifest whose text cannot be read may use any file that is no manifest, and is concerned by all of them.
    """
    wanted = {location(path): path for path in changed}
    used: set[Path] = set()
    chosen = []
    for task in work.tasks:
        mine = _concerning(task, wanted, policy)
        used |= mine
        if mine:
            chosen.append(task)
    roots = {*work.looked_in, *(task.tree.root for task in work.tasks)}
    inside = {whole for whole in wanted if not roots.isdisjoint((whole, *whole.parents))}
    told = {error.file for error in work.failed}
    notes, missed = [], []
    for whole, path in sorted(wanted.items(), key=lambda item: item[1]):
        shown = show(str(path))
        if whole in used or shown in told:
            continue
        if why := _why_missed(whole, whole in inside, bool(used | inside)):
            missed.append(NotRead(shown, [Problem(why)]))
        else:
            notes.append(Note(f"{shown} changed, and no aircraft here uses it"))
    return tuple(chosen), tuple(notes), tuple(missed)


def _why_missed(whole: Path, inside: bool, others_inside: bool) -> str | None:
    """Why a name that no aircraft uses may have been meant from another folder; None where it is a file, or was.

    A list made in another folder looks like one of files that no aircraft uses, and would spare them all.
    """
    try:
        os.lstat(whole)
        there = True
    except (FileNotFoundError, NotADirectoryError):
        there = False
    except (OSError, ValueError) as error:
        return describe_failure(error)
    if not there and not os.path.isdir(whole.parent):
        return f"{_FROM_HERE}: there is no such folder; where it was removed, inspect without a list"
    if not inside and not (there and others_inside):
        return f"{_FROM_HERE}: it is not in what is inspected"
    return None


def _concerning(task: Task, wanted: Mapping[Path, Path], policy: Path | None) -> set[Path]:
    names, complete = _names(task)
    files = {task.tree.path(name) for name in names}
    if policy is not None:
        files.add(location(policy))
    if task.policy and task.policy.source.site_file:
        files.add(task.policy.source.documents.tree.path(task.policy.source.site_file))
    # A policy that was there and is gone concerns all below it, as does one that is new.
    files |= {folder / POLICY_NAME for folder in task.file.parents}
    if not complete:
        files |= {whole for whole in wanted if not whole.name.endswith(SUFFIX)}
    return files & set(wanted)


def _names(task: Task) -> tuple[set[str], bool]:
    """Files that the manifest names, there or not, in its tree; and whether its text could be read."""
    tree = task.tree
    names = {task.manifest}

    def read(referrer: str, reference: str) -> Node:
        name = tree.resolve(referrer, reference)
        names.add(name)
        return load_yaml(tree.read(name, MAX_YAML_BYTES), name)

    try:
        written = load_yaml(tree.read(task.manifest, MAX_YAML_BYTES), task.manifest)
    except (NotRead, MemoryError, RecursionError):
        return names, False
    for node in _files(written):
        try:
            names.add(tree.resolve(task.manifest, str(node.value)))
        except NotRead:
            continue  # it leads out of the tree, and judging will say so
    with suppress(NotRead):  # the names are known all the same
        resolve(written, read)
    return names, True


def _files(node: Node) -> list[Node]:
    """Every value of a key ``file``: the tables of records."""
    if isinstance(node.value, Mapping):
        own = [child for key, child in node.value.items() if key == "file" and isinstance(child.value, str)]
        return own + [found for child in node.value.values() for found in _files(child)]
    return [found for child in node.value for found in _files(child)] if isinstance(node.value, tuple) else []
