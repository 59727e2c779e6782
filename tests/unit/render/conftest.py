"""A small pack of rules with outcomes of every kind, run on real manifests through all stages."""

import datetime as dt
from collections.abc import Callable
from pathlib import Path

import pytest

from preflint.api import (
    ADVISORY,
    CAUTION,
    NO_GO,
    PACK_UNPLUGGED,
    PROPS_REMOVED,
    RESTRAINED,
    Clear,
    Context,
    Figure,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Related,
    RuleModule,
    Staling,
    figure,
    name,
    need,
    records,
    rule,
)
from preflint.engine.rule_module import Registry
from preflint.errors import NotRead
from preflint.findings.report import Report
from preflint.inspection import Inspected, inspect_manifest

DAY = dt.date(2026, 5, 21)


@rule(
    "retention/nut-hand", each="rotor", severity=NO_GO, job=Job.MECHANICAL, needed_for_flight=True,
    precaution=PACK_UNPLUGGED, source="a clause", shown_by=records.NutTest,
)  # fmt: skip
def nut_hand(rotor, on: Context) -> Outcome:
    """Does the nut tighten against the spin?"""
    nut, spin = need(rotor.fixing.nut_tightens), need(rotor.spin)
    if nut.value != spin.value:
        return Clear("opposite")
    must = "ccw" if spin.value == "cw" else "cw"
    return Finding(
        place=nut.place, message=f"nut tightens {nut.value}; this shaft needs {must}",
        evidence=f"spin {spin.value} seen from above", do=f"fit an adapter whose nut tightens {must}",
        related=(Related(spin.place, "spin recorded here"),),
    )


@rule(
    "rotation/spin-seen", each="rotor", severity=NO_GO, job=Job.PROPS_OFF, needed_for_flight=True,
    precaution=PROPS_REMOVED, source="common practice, no source", shown_by=records.SpinTest,
)  # fmt: skip
def spin_seen(rotor, on: Context) -> Outcome:
    """Was the spin looked at?"""
    how = "let each motor turn briefly and write down which way it turns, seen from above"
    on.freshest("spin_test", on.aircraft.records.spin_test, how, at=name(rotor))
    return Clear("seen")


@rule(
    "interference/offset", each="aircraft", severity=NO_GO, job=Job.LOAD, needed_for_flight=True,
    precaution=RESTRAINED, source="common practice, no source", shown_by=records.InterferenceRun,
)  # fmt: skip
def offset(aircraft, on: Context) -> Outcome:
    """Was the interference measured?"""
    if not aircraft.records.interference_run and not aircraft.records.hover:
        return NotApplicable("nothing is asked of an aircraft that never ran")
    on.freshest("interference_run", aircraft.records.interference_run, "log the field at three throttles")
    return Clear("measured")


@rule(
    "power_sensing/scale", each="aircraft", severity=NO_GO, job=Job.PACK_IN, needed_for_flight=True,
    precaution=RESTRAINED, source="common practice, no source", shown_by=records.CurrentComparison,
)  # fmt: skip
def scale(aircraft, on: Context) -> Outcome:
    """Does the display tell the current?"""
    records = aircraft.records.current_comparison
    if not records and not aircraft.records.hover:
        return NotApplicable("nothing is asked of an aircraft that never ran")
    on.freshest("current_comparison", records, "compare the display with a clamp meter at half throttle")
    return Clear("compared")


@rule(
    "mass_and_hover/throttle", each="aircraft", severity=CAUTION, job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED, source="common practice, no source",
)  # fmt: skip
def throttle(aircraft, on: Context) -> Outcome:
    """Is it too heavy?"""
    mass = need(aircraft.about.takeoff_mass_g)
    if mass.value < 3000:
        return Clear("light")
    evidence = f"{mass.value:.0f} g ± 1 g, 9.81 m/s²"
    return Finding(place=mass.place, message="heavy", evidence=evidence, do="take something off")


@rule(
    "papers/owner", each="aircraft", severity=ADVISORY, job=Job.RECORD, precaution=PACK_UNPLUGGED,
    source="common practice, no source",
)  # fmt: skip
def owner(aircraft, on: Context) -> Outcome:
    """Does somebody answer for it?"""
    need(aircraft.about.owner)
    return Clear("owned")


@figure("heavy")
def weight(on: Context):
    mass = need(on.aircraft.about.takeoff_mass_g)
    yield Figure("weight", None, mass.value * 9.80665e-3, None, "N", None, mass.place)
    yield Figure("lightness", "unbounded", float("inf"), 0.5, "1", None, mass.place)


RULES = (nut_hand, spin_seen, offset, scale, throttle, owner)
STALE = Staling("interference_run", "battery-tray", frozenset({"moved"}), False)


@pytest.fixture
def judge(tmp_path: Path) -> Callable[..., Inspected]:
    """judge(text, *more_rules) reads the manifest from a real file and judges it by the pack above."""

    def judged(text: str, *more, file: str = "trial.airframe.yaml") -> Inspected:
        path = tmp_path / file
        path.write_text(text, encoding="utf-8")
        return inspect_manifest(path, DAY, Registry.of([RuleModule(1, "trial", (*RULES, *more), (weight,), (STALE,))]))

    return judged


@pytest.fixture
def report() -> Callable[..., Report]:
    """report(*aircraft, not_read=...) of one run."""

    def made(*aircraft: Inspected, not_read: tuple[NotRead, ...] = ()) -> Report:
        return Report(DAY, "preflint 0.1.0", None, aircraft, not_read)

    return made


@pytest.fixture
def dotterel() -> str:
    """Ten lines: one nut of the wrong hand, two unknown, and no record at all."""
    return """\
preflint: 1
aircraft: {name: Dotterel, layout: quad-x, takeoff_mass_g: 3100}
rotors:
  - {at: front-left, spin: cw, fixing: {nut_tightens: ccw}}
  - {at: front-right, spin: ccw, fixing: {nut_tightens: ccw}}
  - {at: rear-left, spin: ccw}
  - {at: rear-right, spin: cw}
"""
