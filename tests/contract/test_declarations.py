"""Nothing is declared by halves: each field, group and kind of record has all that people are told of it."""

import importlib
import pkgutil
import typing
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from making.manifests import CLUB

import preflint.aircraft
from preflint.aircraft.dated import Dated
from preflint.aircraft.declared import declarations, group_of, groups_of, hints_of, is_group, meaning_of
from preflint.aircraft.field import Absent
from preflint.aircraft.fitted import Compass, Lead, Pack, PowerSensing, Site
from preflint.aircraft.model import Aircraft
from preflint.aircraft.records import KINDS, Records
from preflint.aircraft.rotor import Esc, Fixing, Motor, Prop, Rotor
from preflint.aircraft.schema import document
from preflint.aircraft.session import Session
from preflint.load.yaml.events import load_yaml
from preflint.precautions import DESK

ROOT = Path(__file__).parents[2]
GROUPS = {cls.__name__: cls for cls in groups_of(Aircraft)}
CLASSES = [cls for cls in (Aircraft, Session, *GROUPS.values()) if cls is not Records]
FIELDS = [(cls, name) for cls in CLASSES for name in declarations(cls)]
IDS = [f"{cls.__name__}.{name}" for cls, name in FIELDS]
IN_FILES = (Compass, Esc, Fixing, Lead, Motor, Pack, PowerSensing, Prop, Site)


@cache
def plain(path: Path) -> Any:
    return load_yaml(path.read_bytes(), path.name).plain()


def classes() -> Iterator[type]:
    """All that is declared anywhere below preflint.aircraft."""
    for module in pkgutil.walk_packages(preflint.aircraft.__path__, "preflint.aircraft."):
        for found in vars(importlib.import_module(module.name)).values():
            if is_group(found):
                yield found


def test_every_group_and_kind_stands_somewhere_in_the_aircraft() -> None:
    """A kind of record that is not listed in Records fails here."""
    assert set(classes()) - {Dated, Session} == {Aircraft, *GROUPS.values()}


@pytest.mark.parametrize("group", GROUPS)
def test_a_group_has_title_and_meaning(group: str) -> None:
    assert group_of(GROUPS[group]).title
    meaning = meaning_of(GROUPS[group])
    assert meaning.endswith(".")
    assert not meaning.startswith(f"{group}(")  # what dataclasses write where there is no docstring


@pytest.mark.parametrize(("cls", "name"), FIELDS, ids=IDS)
def test_a_field_has_title_and_meaning_and_a_way_to_learn_it(cls: type, name: str) -> None:
    said, hint = declarations(cls)[name], hints_of(cls)[name]
    if not said.columns:
        assert said.title
        assert said.meaning.endswith(".")
        assert said.examples
    assert not said.do.endswith(".")
    assert said.mind or said.mind is DESK
    if Absent in typing.get_args(hint):
        assert said.do


@pytest.mark.parametrize(("cls", "name"), FIELDS, ids=IDS)
def test_the_examples_of_a_field_fit_its_own_schema(cls: type, name: str) -> None:
    schema, said = document(), declarations(cls)[name]
    group = schema if cls is Aircraft else schema["$defs"][cls.__name__]
    validator = Draft202012Validator({**group, "$defs": schema["$defs"]})
    for example in said.examples:
        wrong = [error.message for error in validator.iter_errors({said.key or name: example}) if error.path]
        assert wrong == []


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_says_how_it_is_taken(kind: str) -> None:
    said = KINDS[kind]
    assert kind == said.title.lower().replace(" ", "_").replace("-", "_")
    assert said.take
    assert not said.take.endswith(".")
    assert said.mind


@pytest.mark.parametrize("kind", KINDS)
def test_the_freshness_table_says_what_ends_a_kind(kind: str) -> None:
    assert kind in plain(ROOT / "rules" / "freshness" / "lasting.yaml")


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_is_recorded_on_an_example_aircraft(kind: str) -> None:
    manifests = [plain(path) for path in CLUB.glob("*.airframe.yaml")]
    assert any(held.get(kind) for one in manifests for held in (one.get("records", {}), *one.get("sessions", [])))


def written(hint: Any, value: Any) -> Iterator[tuple[type, str]]:
    """The fields that an example writes, by group."""
    if is_group(hint) and isinstance(value, dict):
        for name, said in declarations(hint).items():
            if said.columns and {"columns", "file"} & set(value):
                yield hint, name
            elif (said.key or name) in value:
                yield hint, name
                yield from written(hints_of(hint)[name], value[said.key or name])
    for inner in typing.get_args(hint):
        for each in value if isinstance(value, list) else [value]:
            yield from written(inner, each)


@cache
def shown() -> frozenset[tuple[type, str]]:
    found: set[tuple[type, str]] = set()
    for path in (*CLUB.glob("*.airframe.yaml"), Path(__file__).with_name("lapwing.airframe.yaml")):
        found |= set(written(Aircraft, plain(path))) | set(written(Rotor, plain(path).get("every_rotor")))
        found |= set(written(tuple[Session, ...], plain(path).get("sessions")))
        found |= set(written(tuple[Records, ...], plain(path).get("sessions")))
    for path in (*CLUB.glob("parts/*.yaml"), *CLUB.glob("sites/*.yaml")):
        held = next(cls for cls in IN_FILES if set(plain(path)) <= set(declarations(cls)))
        found |= set(written(held, plain(path)))
    return frozenset(found)


@pytest.mark.parametrize(("cls", "name"), FIELDS, ids=IDS)
def test_a_field_is_shown_in_an_example(cls: type, name: str) -> None:
    """In the club's folder, or else in lapwing.airframe.yaml beside this file."""
    assert (cls, name) in shown()
