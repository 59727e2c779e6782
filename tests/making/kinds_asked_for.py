"""The kinds of record that answers ask for in words, which must be those of their fields."""

import re

from preflint.aircraft.records import KINDS
from preflint.api import Finding, Unproven
from preflint.findings.inspected import Inspected

ASKED = re.compile(r"\bwrite an? ([a-z]+_[a-z_]+)|\brepeat the ([a-z]+ [a-z]+(?: test)?)(?: of [\w-]+)?[:,;]")
TWO_IN_ONE = ("compass/hard-iron", "compass/soft-iron")  # a rotation first, and then a heading check


def check(inspected: Inspected) -> set[str]:
    """All kinds that are asked for; what an answer asks for is read from its words alone."""
    seen: set[str] = set()
    for result in inspected.results:
        if not isinstance(result.outcome, Finding | Unproven) or result.rule.id in TWO_IN_ONE:
            continue
        if isinstance(result.outcome, Unproven) and result.outcome.cause == "order-open":
            assert result.record is None  # the time of day is to be written first
            continue
        found = ["_".join((one or other).split()) for one, other in ASKED.findall(result.do)]
        kinds = {kind for kind in found if kind in KINDS}
        if kinds:
            assert result.record in kinds, (result.rule.id, result.do)
            seen |= kinds
    return seen
