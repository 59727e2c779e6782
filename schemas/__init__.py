"""The JSON Schemas of preflint (draft 2020-12): airframe manifest, club policy, report."""

import json
import pkgutil
from functools import cache
from typing import Any


def airframe() -> dict[str, Any]:
    """The schema of an airframe manifest."""
    return _load("airframe.schema.json")


def policy() -> dict[str, Any]:
    """The schema of a club policy."""
    return _load("policy.schema.json")


def report() -> dict[str, Any]:
    """The schema of the JSON report."""
    return _load("report.schema.json")


@cache
def _load(name: str) -> dict[str, Any]:
    schema: dict[str, Any] = json.loads(pkgutil.get_data(__name__, name) or b"")
    return schema
