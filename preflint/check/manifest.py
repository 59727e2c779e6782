"""A manifest, or a shared part of one, checked whole: every problem in one go, in the order of the file."""

from functools import partial
from itertools import chain
from typing import Literal

from preflint.aircraft.short import write_out
from preflint.check.complaint import Complaint, child, in_words
from preflint.check.positions import check_positions
from preflint.check.sense import check_sense
from preflint.check.violations import violations
from preflint.errors import Problem
from preflint.load.node import Node

FORMAT = 1

PartKind = Literal["site", "motor", "esc", "prop", "fixing", "lead", "pack", "power_sensing", "compass"]
_DEFINITIONS: dict[PartKind, str] = {
    "site": "Site",
    "motor": "Motor",
    "esc": "Esc",
    "prop": "Prop",
    "fixing": "Fixing",
    "lead": "Lead",
    "pack": "Pack",
    "power_sensing": "PowerSensing",
    "compass": "Compass",
}


def check_manifest(node: Node) -> list[Problem]:
    """All problems of a manifest, before or after its shared parts have been put in their places.

    Of a manifest in another format only that is said. An empty list means that typed records can be
    built from it.
    """
    version = child(node, "preflint")
    if version and type(version.value) is int and version.value != FORMAT:
        return [Problem(_other_format(version.text), version.place)]
    written = write_out(node)
    found = [Complaint(problem.place or node.place, partial(str, problem.message)) for problem in written.problems]
    said = {complaint.place for complaint in found}
    found += [complaint for complaint in violations(node) if complaint.place not in said]
    taken = {complaint.place for complaint in found}
    more = chain(check_positions(written.document), check_sense(written.document))
    found += [complaint for complaint in more if complaint.place not in taken]
    return in_words(found, node.place.file)


def check_part(node: Node, kind: PartKind) -> list[Problem]:
    """All problems of a file that holds one part or site."""
    return in_words(violations(node, _DEFINITIONS[kind]), node.place.file)


def _other_format(written: str) -> str:
    return (
        f"this manifest is written in format {written}; this preflint reads format {FORMAT}. "
        f"Install a preflint that reads format {written}, or rewrite the manifest and put preflint: {FORMAT}"
    )
