"""The fragments of the rules' manual pages, each made a whole manifest."""

import re

from making.manifests import manifest
from preflint.findings.rule_info import RuleInfo

ABOUT = manifest()
# Some topics show only what they judge, on an ordinary aircraft that relies on all it has.
QUAD = manifest(
    rotors={"front-left": "spin: cw", "front-right": "spin: ccw", "rear-left": "spin: ccw", "rear-right": "spin: cw"},
    more="relies_on: [compass, barometer]",
)
ON_A_QUAD = {"barometer", "control", "failsafe", "freshness", "papers"}


def whole(topic: str, fragment: str) -> str:
    """The fragment of a page of that topic, with the lines of a manifest that it leaves out."""
    about = QUAD if topic in ON_A_QUAD else ABOUT
    if re.search(r"^aircraft:", fragment, re.MULTILINE):
        about = about.replace(about.split("\n")[1] + "\n", "")
    if re.search(r"^rotors:", fragment, re.MULTILINE):
        about = about.partition("rotors:")[0]
    return about + fragment


def asks_only(rule: RuleInfo) -> bool:
    """Whether it never finds anything, and only asks; its page says so."""
    return "It finds nothing" in rule.manual or rule.id == "retention/bells-pulled"
