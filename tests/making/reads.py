"""What each built-in rule reads of an aircraft, watched while it judges; ``rules/reads.json`` is made of it."""

import json
import sys
from collections import defaultdict
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any, get_args

import pytest

from making.fragments import whole
from making.manifests import CLUB, FILES, manifest
from preflint import inspection
from preflint.aircraft.declared import declarations, hints_of, is_group
from preflint.aircraft.model import Aircraft
from preflint.engine import context, runner
from preflint.engine.rule import Rule
from preflint.engine.rule_module import builtin_and
from preflint.findings.manual import failing, passing
from preflint.findings.outcome import Outcome
from preflint.testing import inspect_text

TABLE = Path(__file__).parents[2] / "rules" / "reads.json"

Reads = set[tuple[type, str]]

_TURNED = [[x, y, z] for x in (-40, 0, 40) for y in (-20, 20) for z in (-30, 5)]
_ROTATION = f"columns: [field_x_ut, field_y_ut, field_z_ut], rows: {_TURNED}"
# What neither the club nor a manual page has, though a rule would read it.
MORE = manifest(
    "site: {latitude_deg: 54.4, longitude_deg: -2.9, elevation_m: 150}\nbarometer: {}\n"
    "compass: {hard_iron_ut: [1, 2, 3], soft_iron: [[1, 0, 0], [0, 1, 0], [0, 0, 1]]}\n",
    records={
        "compass_rotation": f"date: 2026-05-18, field_is: compensated, {_ROTATION}, "
        "in_force: {hard_iron_ut: [1, 2, 3], soft_iron: [[1, 0, 0], [0, 1, 0], [0, 0, 1]]}",
        "barometer_check": "date: 2026-05-18, indicated_hpa: 1000, sea_level_pressure_hpa: 1018, "
        "reference: {accuracy_hpa: 1}",
    },
)


def groups_in(hint: Any, found: set[type]) -> set[type]:
    """Every declared group that a value of this type can hold."""
    if is_group(hint) and hint not in found:
        found.add(hint)
        for inner in hints_of(hint).values():
            groups_in(inner, found)
    for inner in get_args(hint):
        groups_in(inner, found)
    return found


GROUPS = groups_in(Aircraft, set())


def judge_all() -> None:
    """Judges the club's aircraft, the fragments of every manual page, and what neither has."""
    for path in sorted(CLUB.glob("*.airframe.yaml")):
        inspect_text(path.read_text(encoding="utf-8"), files=FILES)
    for info in (rule.info for rule in builtin_and([]).rules):
        inspect_text(whole(info.topic, failing(info.manual)))
        inspect_text(whole(info.topic, passing(info.manual)))
    inspect_text(MORE)


@contextmanager
def watched() -> Iterator[dict[str, Reads]]:
    """(group, field) for all that is asked meanwhile, by the rule that asks ("" where none does).

    What one computation read for the first rule that asked for it counts for each that asks again. What the engine
    reads for every rule alike (when a record was taken, what work came after it) counts for none.
    """
    told: dict[str, Reads] = defaultdict(set)
    reading: list[Reads] = []  # empty where nothing is judged
    kept: dict[context.Context, dict[tuple[object, ...], Reads]] = defaultdict(lambda: defaultdict(set))

    def ask(rule: Rule, subject: Any, on: context.Context) -> Outcome:
        reading.append(told[rule.info.id])
        try:
            return really_ask(rule, subject, on)
        finally:
            reading.pop()

    def judge(*given: Any) -> Any:
        reading.append(told[""])
        try:
            return really_judge(*given)
        finally:
            reading.pop()

    def once(on: context.Context, function: Any, *arguments: Any, **named: Any) -> Any:
        key = context._key(function, (*arguments, *named.values()), tuple(named))
        reading.append(kept[on][key])
        try:
            return really_once(on, function, *arguments, **named)
        finally:
            read = reading.pop()
            reading[-1].update(read)

    def watch(group: type) -> None:
        fields = frozenset(declarations(group))

        def get(self: Any, name: str) -> Any:
            if reading and name in fields:
                (told[""] if _asked_by_the_engine() else reading[-1]).add((group, name))
            return object.__getattribute__(self, name)

        patch.setattr(group, "__getattribute__", get, raising=False)

    really_once, really_ask, really_judge = context.Context.once, runner._ask, runner.judge
    with pytest.MonkeyPatch.context() as patch:
        for group in GROUPS:
            watch(group)
        patch.setattr(context.Context, "once", once)
        patch.setattr(runner, "_ask", ask)
        patch.setattr(inspection, "judge", judge)
        yield told


def _asked_by_the_engine() -> bool:
    frame = sys._getframe(2)
    while frame.f_back and frame.f_globals["__name__"].startswith("preflint.aircraft"):
        frame = frame.f_back
    return bool(frame.f_globals["__name__"].startswith("preflint.engine"))


@cache
def all_read() -> dict[str, Reads]:
    """What each rule reads of all that is judged here, and what is read for none of them ("")."""
    with watched() as told:
        judge_all()
    return told


def text() -> str:
    """The table as it stands in ``rules/reads.json``: for each rule what it reads, as Group.field."""
    told = all_read()
    own = [rule.info.id for rule in builtin_and([]).rules]
    names = {id: sorted(f"{group.__name__}.{field}" for group, field in told[id]) for id in own}
    return json.dumps(names, indent=1) + "\n"


def write() -> None:
    """Writes the table, for whoever changed what a rule reads."""
    TABLE.write_text(text(), encoding="utf-8")
