"""The manifest's schema: made of the declarations, valid in itself, and complete for editors."""

import types
import typing
from collections.abc import Iterator, Mapping
from importlib.resources import files
from pathlib import Path
from typing import Any

import preflint_schemas
import pytest
from jsonschema import Draft202012Validator
from referencing import Registry

from preflint.aircraft import layouts
from preflint.aircraft.dated import Dated
from preflint.aircraft.declare import Kind
from preflint.aircraft.declared import declarations, group_of, groups_of, is_group
from preflint.aircraft.field import Absent, Known
from preflint.aircraft.model import Aircraft
from preflint.aircraft.moment import Moment
from preflint.aircraft.records import KINDS
from preflint.aircraft.schema import text
from preflint.aircraft.session import Session
from preflint.check import check_manifest
from preflint.load.yaml.events import load_yaml

SCHEMA = preflint_schemas.airframe()
DEFINITIONS: dict[str, Any] = SCHEMA["$defs"]
GROUPS = {name: group for name, group in DEFINITIONS.items() if "properties" in group}
RECORDS = {cls.__name__: cls for cls in (*groups_of(Aircraft), Dated, Session)}
TABLE = {"columns", "rows", "file"}
# A group that stands for another class, and the fields of that class that it leaves out.
OTHER_NAMES = {"EveryRotor": ("Rotor", {"at", "place_mm"})}


def subschemas(schema: Any, path: str = "#") -> Iterator[tuple[str, dict[str, Any]]]:
    if isinstance(schema, dict):
        yield path, schema
        for key, inner in schema.items():
            if key not in ("examples", "enum", "const"):
                yield from subschemas(inner, f"{path}/{key}")
    elif isinstance(schema, list):
        for index, inner in enumerate(schema):
            yield from subschemas(inner, f"{path}/{index}")


def class_of(group: str) -> tuple[type, set[str]]:
    name, left_out = OTHER_NAMES.get(group, (group, set()))
    return RECORDS[name], left_out


def test_the_file_is_what_the_declarations_make() -> None:
    """To make it again: see DEVELOPERS.md, "Add a field"."""
    written = files("preflint_schemas").joinpath("airframe.schema.json").read_bytes()
    assert written.decode() == text()


def test_it_is_a_schema_of_draft_2020_12() -> None:
    assert SCHEMA["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(SCHEMA)


def test_it_refers_to_nothing_outside_itself() -> None:
    for path, schema in subschemas(SCHEMA):
        if isinstance(reference := schema.get("$ref"), str):
            assert reference.removeprefix("#/$defs/") in DEFINITIONS, path


def test_every_definition_is_used() -> None:
    used = {schema["$ref"] for _, schema in subschemas(SCHEMA) if isinstance(schema.get("$ref"), str)}
    assert used == {f"#/$defs/{name}" for name in DEFINITIONS}


def test_every_record_has_a_definition_and_the_reverse() -> None:
    assert {class_of(group)[0].__name__ for group in GROUPS} == set(RECORDS)


@pytest.mark.parametrize("group", GROUPS)
def test_properties_are_the_fields_of_the_record(group: str) -> None:
    cls, left_out = class_of(group)
    names = set(declarations(cls)) | (set(KINDS) if cls is Session else set())
    assert set(GROUPS[group]["properties"]) == names - {"table"} - left_out | (TABLE if "table" in names else set())


def inner_type(hint: Any) -> Any:
    """What a field holds when it is known: the argument of Known."""
    if typing.get_origin(hint) in (typing.Union, types.UnionType):
        known = next(arg for arg in typing.get_args(hint) if typing.get_origin(arg) is Known)
        assert Absent in typing.get_args(hint)
        return typing.get_args(known)[0]
    return typing.get_args(hint)[0] if typing.get_origin(hint) is Known else hint


def target(schema: Mapping[str, Any]) -> Mapping[str, Any]:
    if "else" in schema:
        schema = schema["else"]
    return DEFINITIONS[schema["$ref"].removeprefix("#/$defs/")] if "$ref" in schema else schema


def fits(schema: Mapping[str, Any], kind: Any) -> bool:
    schema = target(schema)
    origin, args = typing.get_origin(kind), typing.get_args(kind)
    if kind is Moment:
        return schema is DEFINITIONS["date"]
    if origin is typing.Literal:
        return schema.get("enum") == list(args)
    if origin is tuple:
        return schema.get("type") == "array" and fits(schema["items"], inner_type(args[0]))
    if origin is Mapping:
        return schema.get("type") == "object" and fits(schema["additionalProperties"], inner_type(args[1]))
    if is_group(kind):
        return "properties" in schema
    return schema.get("type") == {float: "number", int: "integer", bool: "boolean", str: "string"}[kind]


@pytest.mark.parametrize("group", GROUPS)
def test_types_are_those_of_the_fields(group: str) -> None:
    cls, _ = class_of(group)
    hints = typing.get_type_hints(cls)
    properties = GROUPS[group]["properties"]
    for name in set(properties) & set(hints):
        assert fits(properties[name], inner_type(hints[name])), name


@pytest.mark.parametrize("group", GROUPS)
def test_what_a_record_cannot_be_without_is_required(group: str) -> None:
    cls, left_out = class_of(group)
    hints = typing.get_type_hints(cls)
    always = {name for name, hint in hints.items() if typing.get_origin(hint) is Known} - left_out
    required = set(GROUPS[group].get("required", ()))
    if isinstance(group_of(cls), Kind):
        always.remove("date")  # under records Dated requires it; in a session the session has it
    assert always <= required | ({"at"} if group == "Rotor" else set())


def test_a_record_needs_a_date_but_in_a_session() -> None:
    assert GROUPS["Dated"]["required"] == ["date"]
    for kind in KINDS:
        inside = GROUPS["Session"]["properties"][kind]["items"]
        assert GROUPS["Records"]["properties"][kind]["items"] == {"allOf": [{"$ref": "#/$defs/Dated"}], **inside}


def test_columns_are_those_that_the_records_want() -> None:
    for name, cls in RECORDS.items():
        if "table" in declarations(cls):
            wanted = declarations(cls)["table"].columns
            columns = GROUPS[name]["properties"]["columns"]
            needed = [rule["contains"] for rule in columns["allOf"]]
            always = [want for want in wanted if not want.endswith("?")]
            assert ["|".join(need.get("enum", [need.get("const")])) for need in needed] == always
            known = {part for want in wanted for part in want.removesuffix("?").split("|")}
            assert known <= set(columns["items"]["enum"])


def test_layouts_are_those_that_are_known() -> None:
    assert GROUPS["Airframe"]["properties"]["layout"]["enum"] == list(layouts.NAMES)


def test_nothing_unknown_gets_in() -> None:
    for path, schema in subschemas(SCHEMA):
        if isinstance(schema.get("properties"), dict) and "type" in schema:
            assert schema["additionalProperties"] is False, path


def fields_of_groups() -> Iterator[tuple[str, dict[str, Any]]]:
    for group in ("", *GROUPS):
        for name, schema in (GROUPS[group] if group else SCHEMA)["properties"].items():
            yield f"{group}.{name}", schema


def test_every_field_is_documented_for_editors() -> None:
    for path, schema in fields_of_groups():
        assert schema["title"], path
        assert len(schema["description"]) >= 6, path
        if not path.startswith(("Records.", "Session.")):
            assert schema.get("examples") or target(schema).get("examples"), path


def test_every_number_has_both_bounds() -> None:
    for path, schema in subschemas(SCHEMA):
        if schema.get("type") in ("number", "integer"):
            assert {"minimum", "exclusiveMinimum"} & set(schema), path
            assert "maximum" in schema, path


def test_the_unit_is_in_the_key_and_in_the_description() -> None:
    units = {"_mm": "mm", "_g": " g", "_in": "inches", "_a": " A", "_v": " V", "_mah": "mAh", "_hpa": "hPa"}
    for path, schema in fields_of_groups():
        for ending, unit in units.items():
            if path.endswith(ending) and "residual" not in path:
                assert unit.lower() in schema["description"].lower(), path


def test_every_example_is_valid() -> None:
    for path, schema in subschemas(SCHEMA):
        if isinstance(schema.get("examples"), list):
            validator = Draft202012Validator({**schema, "$defs": DEFINITIONS}, registry=Registry())
            for example in schema["examples"]:
                assert validator.is_valid(example), (path, example)


def test_logbook_words_are_the_closed_lists() -> None:
    entry = GROUPS["LogEntry"]
    work = ["fitted", "replaced", "moved", "rewired", "removed", "reset", "settings-changed", "firmware"]
    assert entry["properties"]["kind"]["enum"] == [*work, "crashed", "hard-landing", "tipped-over", "stored", "flown"]
    assert entry["if"]["properties"]["kind"]["enum"] == work
    parts = (
        "motor esc prop nut adapter arm frame power-lead battery-tray pack power-sensor compass"
        " flight-controller receiver antenna satellite-receiver barometer regulator payload"
    )
    assert entry["properties"]["part"]["enum"] == parts.split()


def test_a_whole_manifest_passes() -> None:
    path = Path(__file__).with_name("lapwing.airframe.yaml")
    assert check_manifest(load_yaml(path.read_bytes(), path.name)) == []


def test_ten_lines_pass() -> None:
    text = b"preflint: 1\naircraft: {name: Wren, layout: y6}\n"
    assert check_manifest(load_yaml(text, "wren.airframe.yaml")) == []
