"""The stages in order, for one manifest: load, check, build, compute and judge. No printing, no clock."""

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from preflint.aircraft.build import build
from preflint.aircraft.field import Known
from preflint.aircraft.layouts import positions
from preflint.aircraft.model import Aircraft
from preflint.aircraft.short import write_out
from preflint.check import check_manifest
from preflint.engine.rule_module import Registry
from preflint.engine.runner import judge
from preflint.errors import NotRead, Problem
from preflint.findings.deferral import LONGEST_DEFERRAL, deferred
from preflint.findings.inspected import Answers, Inspected, Judged
from preflint.findings.result import verdict
from preflint.load.documents import Documents
from preflint.load.node import Node
from preflint.load.shared import expand_rotors, resolve
from preflint.load.tables.readings import Reading, read_readings
from preflint.load.tables.table import Table
from preflint.load.tree import Tree
from preflint.policy.flown import flown_at
from preflint.policy.policy import Policy, make_policy
from preflint.policy.source import read_policy


def inspect_manifest(path: Path, judged_on: dt.date, registry: Registry, packs: Sequence[str] = ()) -> Inspected:
    """Reads and judges one manifest by its tree's own policy; ``packs`` are the labels of those flown today.

    Raises NotRead where it, or a file it names, cannot be read as it should; UsageError where the policy cannot.
    """
    tree = Tree.around(path)
    source = read_policy(tree)
    policy = make_policy(source, registry) if source else None
    return inspect_in(tree, tree.name(path), judged_on, registry, policy, packs=packs)


def inspect_in(
    tree: Tree,
    manifest: str,
    judged_on: dt.date,
    registry: Registry,
    policy: Policy | None,
    field_day: bool = False,
    reading: Reading | None = None,
    packs: Sequence[str] = (),
) -> Inspected:
    """Judges the file ``manifest`` of the tree; ``field_day`` flies it at the site of the policy's field day.

    ``reading`` is told how far the reading of each log has come. ``packs``: labels of the packs flown today; those
    that it does not have are another aircraft's.
    """
    tree = replace(tree, asked_for=set())  # with a list of its own of the files asked for
    documents = Documents(tree)
    document = read_document(documents, manifest)
    there = policy.field_day.site if policy and policy.field_day and field_day else None
    document = flown_at(document, there, policy.days if policy else (), judged_on)
    aircraft = _built(documents, manifest, document, reading)
    rules = policy.in_force(registry, document) if policy else registry
    limits = policy.limits if policy else {}
    own = {pack.label.value for pack in aircraft.packs if isinstance(pack.label, Known)}
    flown_with = tuple(label for label in dict.fromkeys(packs) if label in own)
    judgement = judge(aircraft, judged_on, rules, limits, flown_with)
    overall = verdict(judgement.results)
    if judgement.broken and overall != "no-go":
        overall = "unproven"
    may_defer = policy is None or policy.deferrals
    longest_days = limits.get(LONGEST_DEFERRAL.name, LONGEST_DEFERRAL.default)
    put_off = deferred(judgement.results, aircraft.deferrals, judged_on, longest_days) if may_defer else ()
    files = tuple(sorted(tree.asked_for))
    return Inspected(
        manifest=manifest,
        held=Judged(aircraft, Answers(judgement.results, judgement.computed, judgement.broken, put_off)),
        verdict=overall,
        policy=str(policy) if policy else None,
        files=files,
        flown_with=flown_with,
    )


def read_aircraft(tree: Tree, manifest: str) -> Aircraft:
    """The aircraft of the file ``manifest``, with its tables, not judged. Raises NotRead with every problem."""
    documents = Documents(tree)
    return _built(documents, manifest, read_document(documents, manifest), None)


def _built(documents: Documents, manifest: str, document: Node, reading: Reading | None) -> Aircraft:
    """The aircraft with all its tables. Raises NotRead naming the manifest, with the problems of every table."""
    problems: list[Problem] = []

    def table(record: Node, wanted: Sequence[str]) -> Table | None:
        try:
            return read_readings(documents.tree, record, wanted, reading)
        except NotRead as error:
            problems.extend(error.problems)
            return None

    aircraft = build(document, table)
    if problems:
        raise NotRead(manifest, documents.quoted(problems))
    return aircraft


def read_document(documents: Documents, manifest: str) -> Node:
    """The checked document, with files of parts and sites in place, and every rotor and short form written out."""

    def read(referrer: str, reference: str) -> Node:
        return documents.read(documents.tree.resolve(referrer, reference))

    written = documents.read(manifest)
    try:
        document = resolve(written, read)
    except NotRead as error:  # the rest is checked all the same: every problem in one go
        raise NotRead(manifest, documents.quoted([*check_manifest(written), *error.problems])) from None
    if problems := check_manifest(document):
        raise NotRead(manifest, documents.quoted(problems))
    return expand_rotors(write_out(document).document, positions)
