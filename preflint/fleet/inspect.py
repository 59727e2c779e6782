"""Judges many manifests, one after the other; one that cannot be read keeps none of the others back."""

import datetime as dt
from collections.abc import Iterable
from pathlib import Path

from preflint import __version__
from preflint.engine.pack import Registry
from preflint.errors import NotRead, Problem
from preflint.findings.report import Report
from preflint.fleet.find import find_manifests
from preflint.inspection import Inspected, inspect_manifest


def inspect_paths(paths: Iterable[Path], judged_on: dt.date, registry: Registry) -> Report:
    """Finds and judges. Raises UsageError for two policies on one way up."""
    manifests, failed = find_manifests(paths)
    judged: list[Inspected] = []
    for manifest in manifests:
        try:
            judged.append(inspect_manifest(manifest, judged_on, registry))
        except NotRead as error:
            failed.append(error)
        except RecursionError:
            failed.append(NotRead(str(manifest), [Problem("this is nested too deeply to be read")]))
    policies = sorted({one.policy for one in judged if one.policy})
    return Report(judged_on, f"preflint {__version__}", "; ".join(policies) or None, tuple(judged), tuple(failed))
