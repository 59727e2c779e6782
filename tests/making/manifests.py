"""The beginning of every manifest that a test writes, what many of them need besides, and what is asked of them.

Tests look at lines and columns, so a manifest is text: its first two lines come from here, the rest is the test's own.
"""

from pathlib import Path
from typing import TypeVar

from preflint.findings.outcome import Outcome
from preflint.testing import inspect_text, outcome

Kind = TypeVar("Kind")
CLUB = Path(__file__).parents[2] / "examples" / "club"
# The club's files that manifests name: parts, sites and logs.
FILES = {
    path.relative_to(CLUB).as_posix(): path.read_text(encoding="utf-8")
    for path in CLUB.rglob("*")
    if path.is_file() and path.suffix in (".yaml", ".csv") and ".airframe" not in path.name
}
# Those of its aircraft that have no fault.
GO = ("wheatear", "curlew", "heron", "gannet", "tern", "avocet", "turnstone")

SITE = "site: {latitude_deg: 54.4, longitude_deg: -2.9, elevation_m: 150}\n"
MOTORS = "every_rotor: {motor: {full_throttle_draw_a: 21}}\n"
QUAD = (  # the rotors of a quad-x, with their spins
    "rotors:\n"
    "  - {at: front-left,  spin: cw}\n  - {at: front-right, spin: ccw}\n"
    "  - {at: rear-left,   spin: ccw}\n  - {at: rear-right,  spin: cw}\n"
)


def opening(name: str = "Trial", layout: str = "quad-x", more: str = "") -> str:
    """The first two lines of a manifest; ``more`` is what else stands under ``aircraft``, as it is written there."""
    return f"preflint: 1\naircraft: {{name: {name}, layout: {layout}{', ' if more else ''}{more}}}\n"


def answer(text: str, rule: str, at: str | None = None, judged_on: str = "2026-05-21") -> Outcome:
    """What one rule answers about a manifest given as text."""
    return outcome(inspect_text(text, judged_on), rule, at)


def answers(text: str, rule: str, judged_on: str = "2026-05-21") -> list[Outcome]:
    """What one rule answers about each of its subjects, in the order asked."""
    return [result.outcome for result in inspect_text(text, judged_on).results if result.rule.id == rule]


def expect(kind: type[Kind], told: object) -> Kind:
    """``told``, which must be of this kind."""
    assert isinstance(told, kind), told
    return told
