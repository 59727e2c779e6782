"""What the declarations make, against schemas written by hand: one for each way in which a field is declared."""

from typing import Any

import pytest

from preflint.aircraft.schema import document

SCHEMA = document()
GROUPS = SCHEMA["$defs"]
HINT = " How to learn it: "


def of(group: str, field: str) -> dict[str, Any]:
    found: dict[str, Any] = GROUPS[group]["properties"][field]
    return found


@pytest.mark.parametrize(
    ("group", "field", "wanted"),
    [
        ("Pack", "label", {"type": "string", "minLength": 1, "maxLength": 40}),
        ("Deferral", "rule", {"type": "string", "pattern": "^[a-z0-9_-]+/[a-z0-9_-]+$", "maxLength": 100}),
        ("Pack", "chemistry", {"type": "string", "enum": ["lipo", "lipo-hv", "li-ion", "life"]}),
        ("Move", "did", {"type": "string", "enum": ["nose-down", "nose-up", "right-down", "left-down", "turned-right",
                                                    "turned-left"]}),
        ("Pack", "cells", {"type": "integer", "minimum": 1, "maximum": 30}),
        ("Motor", "max_thrust_g", {"type": "number", "exclusiveMinimum": 0, "maximum": 100000}),
        ("BellPull", "moved", {"type": "boolean"}),
        ("BellPull", "date", {"$ref": "#/$defs/date"}),
        ("BellPull", "at", {"$ref": "#/$defs/position"}),
        ("Prop", "hand", {"$ref": "#/$defs/turning"}),
        ("Motor", "screws", {"$ref": "#/$defs/MotorScrews"}),
        ("Rotor", "motor", {"if": {"type": "string"}, "then": {"$ref": "#/$defs/file_name"},
                            "else": {"$ref": "#/$defs/Motor"}}),
        ("Rotor", "place_mm", {"type": "array", "minItems": 3, "maxItems": 3,
                               "items": {"type": "number", "minimum": -10000, "maximum": 10000}}),
        ("Compass", "soft_iron", {"type": "array", "minItems": 3, "maxItems": 3,
                                  "items": {"type": "array", "minItems": 3, "maxItems": 3,
                                            "items": {"type": "number", "minimum": -10, "maximum": 10}}}),
        ("CellVoltages", "cells_v", {"type": "array", "minItems": 1, "maxItems": 30,
                                     "items": {"type": "number", "minimum": 0, "maximum": 5}}),
        ("Move", "sped_up", {"if": {"type": "string"}, "then": {"title": "Short form", "enum": ["all"]},
                             "else": {"type": "array", "uniqueItems": True, "items": {"$ref": "#/$defs/position"}}}),
        ("TiltTest", "moves", {"type": "array", "minItems": 1, "items": {"$ref": "#/$defs/Move"}}),
        ("SpinTest", "seen", {"type": "object", "additionalProperties": {"$ref": "#/$defs/turning"},
                              "minProperties": 1}),
        ("Records", "bell_pull", {"type": "array",
                                  "items": {"allOf": [{"$ref": "#/$defs/Dated"}], "$ref": "#/$defs/BellPull"}}),
        ("Session", "bell_pull", {"type": "array", "items": {"$ref": "#/$defs/BellPull"}}),
    ],
)  # fmt: skip
def test_a_value(group: str, field: str, wanted: dict[str, Any]) -> None:
    made = of(group, field)
    assert {key: made[key] for key in made if key not in ("title", "description", "examples")} == wanted


def test_what_is_not_fitted_is_none() -> None:
    made = {key: SCHEMA["properties"][key] for key in ("compass", "barometer")}
    assert made["compass"]["then"] == {"$ref": "#/$defs/file_name_or_none"}
    assert made["barometer"]["then"] == {"const": "none"}
    assert made["barometer"]["description"].endswith("Write none where it is not fitted; leave it out where you do not "
                                                     "know.")  # fmt: skip


def test_a_description_tells_how_the_value_is_learnt() -> None:
    assert of("Prop", "blades")["description"] == f"Number of blades.{HINT}count the blades."
    assert of("Fixing", "latched")["description"].endswith(f"{HINT}look and pull: is every clip latched?")
    assert of("Airframe", "name")["description"] == "What you call the aircraft."
    assert of("Rotor", "prop")["description"] == "The prop. Written here, or the name of a YAML file that holds it."


def test_a_table_is_columns_and_rows_or_a_file() -> None:
    made, group = of("CurrentComparison", "columns"), GROUPS["CurrentComparison"]
    assert made["items"]["enum"] == ["throttle_percent", "indicated_a", "reference_a"]
    assert made["allOf"] == [{"contains": {"const": "indicated_a"}}, {"contains": {"const": "reference_a"}}]
    assert of("CompassRotation", "columns")["allOf"][0] == {"contains": {"enum": ["field_x_ut", "field_x_mgauss"]}}
    assert group["if"] == {"required": ["file"]}
    assert group["then"] == {"not": {"anyOf": [{"required": ["columns"]}, {"required": ["rows"]}]}}
    assert group["else"] == {"required": ["columns", "rows"]}
    rows = of("HeadingCheck", "rows")["description"]
    assert rows.endswith(f"{HINT}point the nose along eight directions, 45° apart, by a map line and read the heading.")


def test_what_a_group_cannot_be_without() -> None:
    assert SCHEMA["required"] == ["preflint", "aircraft"]
    assert GROUPS["NutTest"]["required"] == ["at", "nut"]
    assert GROUPS["TiltTest"]["required"] == ["moves"]
    assert GROUPS["Dated"]["required"] == GROUPS["Session"]["required"] == ["date"]
    assert GROUPS["Rotor"]["required"] == ["at"]
    assert "required" not in GROUPS["EveryRotor"]
    assert GROUPS["NutTest"]["oneOf"] == [{"required": ["motor_turned"]}, {"required": ["nut_turned"]}]
    assert GROUPS["LogEntry"]["then"] == {"required": ["part"]}


def test_what_all_rotors_share_is_what_a_rotor_has_but_its_place() -> None:
    assert set(GROUPS["Rotor"]["properties"]) - set(GROUPS["EveryRotor"]["properties"]) == {"at", "place_mm"}
