"""The harness by which the built-in rule module is tested, for anybody's rule module.

A manifest is text; it is written to a real file and goes through the same stages as on the command line. What comes
of it is asked for by rule id and position::

    judged = inspect_text(MANIFEST, rules=["preflint_sample"])
    found = outcome(judged, "club/mass-limit")
    assert isinstance(found, Finding)
    assert marked(MANIFEST, found.place) == "7400"
"""

import datetime as dt
import tempfile
from collections.abc import Iterable, Mapping
from pathlib import Path

from preflint.engine.rule_module import builtin_and
from preflint.findings.inspected import Inspected
from preflint.findings.outcome import Finding, Outcome, Unproven
from preflint.findings.result import Figure
from preflint.inspection import inspect_manifest
from preflint.places import Place

MANIFEST = "trial.airframe.yaml"
"""The name under which the manifest is written, and under which places name it."""


def inspect_text(
    manifest: str,
    judged_on: str = "2026-05-21",
    rules: Iterable[str] = (),
    files: Mapping[str, str] | None = None,
    packs: Iterable[str] = (),
) -> Inspected:
    """Judges a manifest given as text, in a folder of its own.

    Args:
        manifest: the whole text, in YAML.
        judged_on: the day judged at, such as "2026-05-21".
        rules: importable names of rule modules, whose rules are asked beside the built-in ones.
        files: the texts of further files by their names in that folder: logs, parts, sites, a policy preflint.yaml.
        packs: labels of the packs flown today.

    Raises:
        NotRead: the manifest or a file that it names cannot be read as it should.
        UsageError: a rule module or the policy is wrong.
    """
    with tempfile.TemporaryDirectory() as folder:
        for file, text in {MANIFEST: manifest, **(files or {})}.items():
            path = Path(folder, file)
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
        day = dt.date.fromisoformat(judged_on)
        return inspect_manifest(Path(folder, MANIFEST), day, builtin_and(rules), tuple(packs))


def outcome(inspected: Inspected, rule: str, at: str | None = None) -> Outcome:
    """What one rule answered about one subject; ``at`` is its position or pack label, None for the whole aircraft.

    Raises LookupError where it was not asked about that. Where it was asked about several (records), the first.
    """
    for result in inspected.results:
        if (result.rule.id, result.at) == (rule, at):
            return result.outcome
    raise LookupError(f"no result of {rule} at {at}")


def findings(inspected: Inspected) -> list[tuple[str, str | None, Finding]]:
    """All findings as (rule, at, finding), in the order judged."""
    return [(r.rule.id, r.at, r.outcome) for r in inspected.results if isinstance(r.outcome, Finding)]


def open_questions(inspected: Inspected) -> list[tuple[str, str | None, Unproven]]:
    """All that is unproven as (rule, at, unproven), in the order judged."""
    return [(r.rule.id, r.at, r.outcome) for r in inspected.results if isinstance(r.outcome, Unproven)]


def computed(inspected: Inspected, quantity: str, case: str | None = None, at: str | None = None) -> Figure:
    """One computed figure, its value and standard uncertainty in its unit.

    Raises LookupError where it could not be computed.
    """
    for item in inspected.computed:
        if (item.quantity, item.case, item.at) == (quantity, case, at):
            return item
    raise LookupError(f"no figure {quantity}, case {case}, at {at}")


def marked(manifest: str, place: Place) -> str:
    """The text of the manifest that a place marks; of a place on several lines, its first line to the end."""
    line = manifest.split("\n")[place.line - 1]
    return (
        line[place.column - 1 : place.end_column - 1]
        if place.line == place.end_line
        else line[place.column - 1 :]
    )
