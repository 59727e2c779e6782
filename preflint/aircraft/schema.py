"""Makes the JSON Schema of the manifest from the declarations of its fields and groups (draft 2020-12)."""

import json
import types
import typing
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from preflint.aircraft.dated import Dated
from preflint.aircraft.declare import Kind, Said
from preflint.aircraft.declared import declarations, group_of, groups_of, hints_of, is_group, is_needed, meaning_of
from preflint.aircraft.field import Known, NotFitted
from preflint.aircraft.model import Aircraft
from preflint.aircraft.moment import Moment
from preflint.aircraft.records import Records
from preflint.aircraft.rotor import Rotor
from preflint.aircraft.schema_parts import CSV_FILE, EVERY_ROTOR, FORMAT, SHARED, SHORT
from preflint.aircraft.session import Session
from preflint.aircraft.words import Position, Turning

_BY_NAME: Mapping[Any, str] = {Turning: "turning", Position: "position", Moment: "date"}
_NUMBERS: Mapping[Any, str] = {float: "number", int: "integer"}
_LONGEST = 200  # characters of a text of which no more is said
_IN_FILE = " Written here, or the name of a YAML file that holds it."
_OR_NONE = " Write none where it is not fitted; leave it out where you do not know."


def write(path: str) -> None:
    """Writes the schema to a file, for whoever changed a declaration."""
    Path(path).write_bytes(text().encode())


def text() -> str:
    """The schema as it stands in ``schemas/airframe.schema.json``."""
    return json.dumps(document(), indent=2, ensure_ascii=False) + "\n"


def document() -> dict[str, Any]:
    """The schema of a whole manifest."""
    whole = _group(Aircraft)
    groups = {cls.__name__: _group(cls) for cls in groups_of(Aircraft)}
    groups["EveryRotor"] = EVERY_ROTOR | {"properties": _properties(Rotor, left_out=("at", "place_mm"))}
    groups["Session"] = _group(Session)
    groups["Session"]["properties"] |= _properties(Records)  # the session has the date
    groups["Dated"] = _group(Dated)
    del groups["Dated"]["type"], groups["Dated"]["additionalProperties"]  # the record's own schema says them
    for kind in groups["Records"]["properties"].values():
        kind["items"] = {"allOf": [{"$ref": "#/$defs/Dated"}], **kind["items"]}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "https://preflint.example/schemas/airframe-1.json",
        **whole,
        "required": ["preflint", "aircraft"],
        "properties": FORMAT | whole["properties"],
        "$defs": SHARED | groups,
    }


def _group(cls: type) -> dict[str, Any]:
    said = group_of(cls)
    made: dict[str, Any] = {
        "title": said.title,
        "description": meaning_of(cls),
        "type": "object",
        "properties": _properties(cls),
        "additionalProperties": False,
    }
    elsewhere = ("date",) if isinstance(said, Kind) else ()  # of a record in a session
    needed = [name for name in declarations(cls) if is_needed(cls, name) and name not in elsewhere]
    made |= {"required": needed} if needed else {}
    if table := declarations(cls).get("table"):
        made |= _MAY_HAVE_TABLE if table.optional else _WITH_TABLE
    made |= said.also
    return made | ({"examples": list(said.examples)} if said.examples else {})


def _properties(cls: type, left_out: tuple[str, ...] = ()) -> dict[str, Any]:
    made: dict[str, Any] = {}
    for name, said in declarations(cls).items():
        hint = hints_of(cls)[name]
        if said.columns:
            made |= _table(said)
        elif name not in left_out:
            made[said.key or name] = _property(hint, said)
    return made


def _property(hint: Any, said: Said) -> dict[str, Any]:
    if not said.title:  # a kind of record, of which its class says all
        cls = typing.get_args(hint)[0]
        return {"title": group_of(cls).title, "description": meaning_of(cls)} | _value(hint, said)
    made = {"title": said.title, "description": _description(hint, said)} | _value(hint, said)
    return made | {"examples": list(said.examples)}


def _description(hint: Any, said: Said) -> str:
    told = said.meaning + (_IN_FILE if said.file and typing.get_origin(hint) is not tuple else "")
    return told + (_OR_NONE if _may_be_none(hint) else _how(said))


def _how(said: Said) -> str:
    return f" How to learn it: {said.do}{'' if said.do.endswith('?') else '.'}" if said.do else ""


def _may_be_none(hint: Any) -> bool:
    return NotFitted in typing.get_args(hint)


def _value(hint: Any, said: Said) -> dict[str, Any]:
    """The schema of a value of the type that ``hint`` names, or of the word that stands for it."""
    if said.short:
        whole = _value(hint, replace(said, short=""))
        return {"if": {"type": "string"}, "then": {"title": SHORT, "enum": [said.short]}, "else": whole}
    origin, args = typing.get_origin(hint), typing.get_args(hint)
    if hint in _BY_NAME:
        return {"$ref": f"#/$defs/{_BY_NAME[hint]}"}
    if is_group(hint):
        return _or_file(hint, "file_name") if said.file else _reference(hint)
    if origin in (typing.Union, types.UnionType):
        if _may_be_none(hint):
            held = typing.get_args(args[0])[0]
            if is_group(held):
                return _or_file(held, "file_name_or_none" if said.file else None)
            return {"if": {"type": "string"}, "then": {"const": "none"}, "else": _value(held, said)}
        return _value(args[0], said)
    if origin is Known:
        return _value(args[0], said)
    if origin is tuple:
        return {"type": "array", **_count(args[0], said), "items": _value(args[0], said)}
    if origin is Mapping:
        return {"type": "object", "additionalProperties": _value(args[1], said), "minProperties": 1}
    if origin is typing.Literal:
        return {"type": "string", "enum": list(args)}
    if hint is bool:
        return {"type": "boolean"}
    return _word(said) if hint is str else {"type": _NUMBERS[hint], **said.limits}


def _reference(cls: type) -> dict[str, Any]:
    return {"$ref": f"#/$defs/{cls.__name__}"}


def _or_file(cls: type, name: str | None) -> dict[str, Any]:
    """Written as a group, or as a word: the name of a file, or (without ``name``) only none."""
    word = {"const": "none"} if name is None else {"$ref": f"#/$defs/{name}"}
    return {"if": {"type": "string"}, "then": word, "else": _reference(cls)}


def _count(inner: Any, said: Said) -> dict[str, Any]:
    if said.count is not None:
        fewest, most = said.count
        return ({"minItems": fewest} if fewest else {}) | ({} if most is None else {"maxItems": most})
    return {} if is_group(inner) else {"uniqueItems": True}  # words


def _word(said: Said) -> dict[str, Any]:
    if said.one_of:
        return {"type": "string", "enum": list(said.one_of)}
    shortest = {} if "pattern" in said.limits else {"minLength": 1}
    return {"type": "string", **shortest, "maxLength": _LONGEST, **said.limits}


_WITH_TABLE = {
    "if": {"required": ["file"]},
    "then": {"not": {"anyOf": [{"required": ["columns"]}, {"required": ["rows"]}]}},
    "else": {"required": ["columns", "rows"]},
}
_MAY_HAVE_TABLE = _WITH_TABLE | {
    "else": {
        "if": {"anyOf": [{"required": ["columns"]}, {"required": ["rows"]}]},
        "then": {"required": ["columns", "rows"]},
    },
}


def _table(said: Said) -> dict[str, Any]:
    """The columns and rows of a record, or the file that holds both."""
    alternatives = [name.removesuffix("?").split("|") for name in said.columns]
    always = [one for one, name in zip(alternatives, said.columns, strict=True) if not name.endswith("?")]
    known = [one[0] for one in alternatives] + [name for one in alternatives for name in one[1:]]
    return {
        "columns": {
            "title": "Columns",
            "description": "What each column of rows holds; the unit is in the name.",
            "type": "array",
            "uniqueItems": True,
            "items": {"type": "string", "enum": known},
            "allOf": [{"contains": {"const": one[0]} if len(one) == 1 else {"enum": one}} for one in always],
            "examples": [[one[0] for one in always]],
        },
        "rows": {
            "title": "Rows",
            "description": f"The readings, one list of numbers a row, in the order of columns.{_how(said)}",
            "$ref": "#/$defs/rows",
        },
        "file": CSV_FILE | {"description": CSV_FILE["description"] + _how(said)},
    }
