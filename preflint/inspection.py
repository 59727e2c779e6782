"""The stages in order, for one manifest: load, check, build, compute and judge. No printing, no clock."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from preflint.aircraft.build import build
from preflint.aircraft.model import Aircraft
from preflint.check import check_manifest
from preflint.engine.pack import Registry
from preflint.engine.runner import Judgement, judge
from preflint.errors import NotRead, Problem
from preflint.load.policy import policy_of
from preflint.findings.deferral import Deferred, deferred
from preflint.findings.result import Result, Verdict, verdict
from preflint.load.limits import MAX_YAML_BYTES
from preflint.load.node import Node
from preflint.load.readings import read_readings
from preflint.load.shared import merge, resolve
from preflint.load.table import Table
from preflint.load.tree import Tree
from preflint.load.yaml_events import load_yaml


@dataclass(frozen=True, slots=True)
class Inspected:
    """One aircraft that was read and judged; ``manifest`` is its file as shown to people."""

    manifest: str
    aircraft: Aircraft
    judgement: Judgement
    verdict: Verdict
    policy: str | None
    deferred: tuple[Deferred, ...]

    @property
    def results(self) -> tuple[Result, ...]:
        """Every rule's answer about every subject."""
        return self.judgement.results


def inspect_manifest(
    path: Path, judged_on: dt.date, registry: Registry, limits: Mapping[str, float] | None = None
) -> Inspected:
    """Reads and judges one manifest. Raises NotRead where it, or a file it names, cannot be read as it should."""
    tree = Tree.around(path)
    policy = policy_of(tree)
    manifest = tree.name(path)
    aircraft = read_aircraft(tree, manifest)
    judgement = judge(aircraft, judged_on, registry, limits or {})
    overall = verdict(judgement.results)
    if judgement.broken and overall != "no-go":
        overall = "unproven"
    put_off = deferred(judgement.results, aircraft.deferrals, judged_on)
    return Inspected(manifest, aircraft, judgement, overall, policy, put_off)


def read_aircraft(tree: Tree, manifest: str) -> Aircraft:
    """The aircraft with all its tables. Raises NotRead naming the manifest, with the problems of every table."""
    problems: list[Problem] = []

    def table(record: Node, wanted: Sequence[str]) -> Table | None:
        try:
            return read_readings(tree, record, wanted)
        except NotRead as error:
            problems.extend(error.problems)
            return None

    aircraft = build(read_document(tree, manifest), table, merge)
    if problems:
        raise NotRead(manifest, problems)
    return aircraft


def read_document(tree: Tree, manifest: str) -> Node:
    """The checked document, the files of parts and sites that it names put in place."""

    def read(referrer: str, reference: str) -> Node:
        name = tree.resolve(referrer, reference)
        return load_yaml(tree.read(name, MAX_YAML_BYTES), name)

    written = load_yaml(tree.read(manifest, MAX_YAML_BYTES), manifest)
    try:
        document = resolve(written, read)
    except NotRead as error:  # the rest is checked all the same: every problem in one go
        raise NotRead(manifest, [*check_manifest(written), *error.problems]) from None
    if problems := check_manifest(document):
        raise NotRead(manifest, problems)
    return document
