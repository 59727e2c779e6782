"""What a record is asked for answers what flight needs of it, down to the last kind of record."""

import re
from functools import cache
from typing import Any

import pytest
from making.manifests import CLUB, FILES, GO, answers, manifest
from making.silence import club_aircraft, text_of

from preflint.aircraft.declared import declarations, is_needed
from preflint.aircraft.records import KINDS
from preflint.findings.inspected import Inspected
from preflint.findings.outcome import Clear, Unproven
from preflint.testing import inspect_text
from preflint.writing.asked import CLASSES, LOG, asked, find, known_names

SPINS = {"front-left": "spin: cw", "front-right": "spin: ccw", "rear-left": "spin: ccw", "rear-right": "spin: cw"}
EVERY = sorted(path.name.partition(".")[0] for path in CLUB.glob("*.airframe.yaml"))


def inspected(document: dict[str, Any]) -> Inspected:
    text = text_of(document)
    return inspect_text(text, files={file: held for file, held in FILES.items() if ".yaml" in file or file in text})


def as_asked(kind: str, record: dict[str, Any]) -> dict[str, Any]:
    """The record with its date and exactly the fields that are asked for, as far as it has them."""
    asks = {one.path for one in asked(kind)} | {tuple(other.split(".")) for one in asked(kind) for other in one.either}
    kept: dict[str, Any] = {"date": record["date"]}
    for key, value in record.items():
        if (key,) in asks or (key in ("columns", "rows", "file") and ("table",) in asks):
            kept[key] = value
        elif isinstance(value, dict):
            kept[key] = {inner: told for inner, told in value.items() if (key, inner) in asks}
        elif key == "moves":
            kept[key] = [
                {"did": move["did"]} | {name: held for name, held in move.items() if (key, move["did"], name) in asks}
                for move in value
                if any(path[:2] == (key, move["did"]) for path in asks)
            ]
    return {key: value for key, value in kept.items() if value != {}}


def records_as_asked(document: dict[str, Any]) -> dict[str, Any]:
    records = {kind: [as_asked(kind, one) for one in each] for kind, each in document["records"].items()}
    return document | {"records": records}


@cache
def as_it_is(name: str) -> Inspected:
    return inspected(club_aircraft(name))


@cache
def as_is_asked(name: str) -> Inspected:
    """With exactly what is asked for."""
    return inspected(records_as_asked(club_aircraft(name)))


def needs(name: str, kind: str) -> bool:
    """Whether something needed is open without the records of this kind that was clear."""
    document = club_aircraft(name)
    without = {key: each for key, each in document["records"].items() if key != kind}
    left_out = document["records"].keys() - without.keys()
    return bool(left_out) and not shown(as_it_is(name)) <= shown(inspected(document | {"records": without}))


def shown(aircraft: Inspected) -> set[tuple[str, str | None]]:
    """What flight needs and is clear."""
    results = [result for result in aircraft.results if result.rule.needed_for_flight]
    return {(result.rule.id, result.at) for result in results if isinstance(result.outcome, Clear)}


@pytest.mark.parametrize("name", GO)
def test_records_of_just_what_is_asked_let_a_sound_aircraft_fly(name: str) -> None:
    assert as_is_asked(name).verdict == "go"


@pytest.mark.parametrize("name", EVERY)
def test_records_of_just_what_is_asked_leave_nothing_needed_unrecorded(name: str) -> None:
    if "records" not in club_aircraft(name):
        pytest.skip("it has no records")
    before, after = as_it_is(name), as_is_asked(name)
    assert shown(before) <= shown(after)
    open_in_full = {told(result) for result in before.results}
    open_now = [told(result) for result in after.results if result.rule.needed_for_flight]
    assert [one for one in open_now if one and one not in open_in_full] == []


def told(result: Any) -> str | None:
    """What is not recorded, with the rule that misses it."""
    missed = isinstance(result.outcome, Unproven) and result.outcome.message.endswith("is not recorded")
    return f"{result.rule.id} {result.at}: {result.outcome.message}" if missed else None


@pytest.mark.parametrize("kind", [
    "barometer_check", "current_comparison", "cut_off_test", "heading_check", "interference_run",
    "link_loss_test", "output_test", "position_check", "rig_check", "spin_test", "stick_check", "tilt_test",
    "voltage_comparison",
])  # fmt: skip
def test_one_of_the_aircraft_that_are_tried_shows_every_kind_that_a_needed_rule_judges(kind: str) -> None:
    assert any(needs(name, kind) for name in GO)


@pytest.mark.parametrize(
    ("rule", "happened", "asked_for"),
    [
        ("retention/nut-hand", "kind: replaced, part: adapter, at: front-left", "nut_test"),
        ("freshness/walk-round", "kind: crashed", "walk_round"),
        ("props/looked", "kind: crashed", "prop_look"),
    ],
)
def test_after_work_or_a_mishap_the_record_asked_for_is_enough(rule: str, happened: str, asked_for: str) -> None:
    looked = {
        "nut_test": "date: 2026-05-20 12:00, at: front-left, nut: runs-on, motor_turned: cw",
        "walk_round": "date: 2026-05-20 12:00, looked_at: [arms, mounts, wires, pack, bells, props], damaged: []",
        "prop_look": "date: 2026-05-20 12:00, at: all, found: nothing",
    }[asked_for]
    kept = {one.name for one in asked(asked_for)} | {"date"}
    assert set(re.findall(r"(\w+): ", looked)) == kept
    log = f"date: 2026-05-20 10:00, {happened}"
    every = "every_rotor: {fixing: {kind: nut}}\n"
    without = answers(manifest(every, rotors=SPINS, logbook=log), rule)
    with_it = answers(manifest(every, rotors=SPINS, records={asked_for: looked}, logbook=log), rule)
    assert sum(isinstance(one, Clear) for one in with_it) > sum(isinstance(one, Clear) for one in without)


@pytest.mark.parametrize("kind", [*KINDS, LOG])
def test_all_that_a_kind_cannot_be_without_is_asked(kind: str) -> None:
    asks = {one.path[0] for one in asked(kind)} | {"date"}
    assert {name for name in declarations(CLASSES[kind]) if is_needed(CLASSES[kind], name)} <= asks


@pytest.mark.parametrize("kind", [*KINDS, LOG])
def test_every_name_that_is_asked_or_offered_is_one_of_the_kind(kind: str) -> None:
    names = [one.name for one in asked(kind)]
    assert len(set(names)) == len(names)
    for name in (*names, *known_names(kind), *(other for one in asked(kind) for other in one.either)):
        assert find(kind, name).name == name
    with pytest.raises(KeyError):
        find(kind, "nonsense")
