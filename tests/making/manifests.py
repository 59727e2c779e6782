"""The manifests that tests write, what many of them need, and what is asked of them.

Tests look at lines and columns, so a manifest is text, built line by line as given.
"""

from collections.abc import Iterable, Mapping
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
PROPPED = """\
rotors:
  - {at: front-left,  spin: cw,  prop: {hand: cw,  face: up}}
  - {at: front-right, spin: ccw, prop: {hand: ccw, face: up}}
  - {at: rear-left,   spin: ccw, prop: {hand: ccw, face: up}}
  - {at: rear-right,  spin: cw,  prop: {hand: cw,  face: up}}
"""
# Readings of each run under load.
LOADED = {
    "current_comparison": "columns: [indicated_a, reference_a], rows: [[0, 0.1], [20, 20.1]]",
    "interference_run": "columns: [current_a, field_x_ut, field_y_ut, field_z_ut], "
    "rows: [[0, 18, 1, 45], [20, 19, 1, 45]]",
    "sag_run": "columns: [current_a, voltage_v, used_mah], rows: [[1, 25.0, 10], [20, 24.2, 60]]",
}


def opening(name: str = "Trial", layout: str = "quad-x", more: str = "") -> str:
    """The first two lines of a manifest; ``more`` is what else stands under ``aircraft``, as it is written there."""
    return f"preflint: 1\naircraft: {{name: {name}, layout: {layout}{', ' if more else ''}{more}}}\n"


def manifest(
    *sections: str,
    rotors: Mapping[str, str] | None = None,
    records: Mapping[str, str | Iterable[str]] | None = None,
    logbook: str | Iterable[str] = (),
    name: str = "Trial",
    layout: str = "quad-x",
    more: str = "",
) -> str:
    """The opening; the sections as they are written, each with its line end; rotors, records and logbook as given.

    ``rotors`` has what is written beside each position. Records of a kind and the logbook are one entry or several: an
    entry of several lines is a block, one of a single line stands between braces. A kind without an entry is left out.
    """
    text = opening(name, layout, more) + "".join(sections)
    if rotors:
        text += "rotors:\n" + "".join(f"  - {{at: {at}{', ' if own else ''}{own}}}\n" for at, own in rotors.items())
    kept = {kind: lines for kind, entries in (records or {}).items() if (lines := _listed(entries, "    "))}
    if kept:
        text += "records:\n" + "".join(f"  {kind}:\n{lines}" for kind, lines in kept.items())
    entries = _listed(logbook, "  ")
    return f"{text}logbook:\n{entries}" if entries else text


def _listed(entries: str | Iterable[str], indent: str) -> str:
    """Entries of a list in YAML, at that depth."""
    text = ""
    for entry in [entries] if isinstance(entries, str) else entries:
        lines = entry.rstrip("\n").replace("\n", f"\n{indent}  ")
        text += f"{indent}- {lines}\n" if "\n" in lines else f"{indent}- {{{lines}}}\n"
    return text


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
