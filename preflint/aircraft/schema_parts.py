"""The parts of the manifest's schema that no single field of a record declares."""

from typing import Any, get_args

from preflint.aircraft.words import Turning

SHORT = "Short form"  # the title of the word that may stand for a whole list or mapping

SHARED: dict[str, Any] = {
    "turning": {
        "title": "Turning",
        "description": "cw (clockwise) or ccw (counter-clockwise). The key says from where it is seen.",
        "type": "string",
        "enum": list(get_args(Turning)),
        "examples": ["cw"],
    },
    "position": {
        "title": "Position",
        "description": (
            "The name of a rotor's place, never a motor number: for quad-x front-left, front-right, rear-left, "
            "rear-right; a coaxial arm adds -upper or -lower; layout custom takes the names given under rotors."
        ),
        "type": "string",
        "pattern": "^[a-z0-9]+(-[a-z0-9]+)*$",
        "maxLength": 40,
        "examples": ["front-left", "rear-right-lower"],
    },
    "date": {
        "title": "Date",
        "description": "A local date, with a time of day where the order of one day's work matters.",
        "type": "string",
        "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}( [0-9]{2}:[0-9]{2})?$",
        "examples": ["2026-04-18", "2026-04-18 14:30"],
    },
    "file_name": {
        "title": "File name",
        "description": (
            "A YAML file, named relative to the file that refers to it, with forward slashes; with a slash at its "
            "beginning, from the folder of the club's preflint.yaml."
        ),
        "type": "string",
        "pattern": "\\.yaml$",
        "maxLength": 300,
        "examples": ["parts/motor-420.yaml"],
    },
    "file_name_or_none": {
        "title": "File name, or none",
        "description": (
            "A YAML file named relative to the file that refers to it, or none where the thing is not fitted."
        ),
        "type": "string",
        "pattern": "^none$|\\.yaml$",
        "maxLength": 300,
        "examples": ["none", "parts/power.yaml"],
    },
    "rows": {
        "title": "Rows",
        "description": "The readings, one list of numbers a row, in the order of columns.",
        "type": "array",
        "minItems": 1,
        "items": {
            "type": "array",
            "minItems": 1,
            "items": {"type": "number", "minimum": -1000000000.0, "maximum": 1000000000.0},
        },
        "examples": [[[24.02, 24.11], [22.9, 22.98]]],
    },
}

EVERY_ROTOR: dict[str, Any] = {
    "title": "Every rotor",
    "description": "What all rotors share. A rotor's own entry wins; groups merge, lists replace.",
    "type": "object",
    "additionalProperties": False,
    "examples": [{"motor": {"kv_rpm_per_v": 420}}],
}

# Top-level keys that become no field of an aircraft.
FORMAT: dict[str, Any] = {
    "preflint": {
        "title": "Format version",
        "description": "The version of this format: 1.",
        "const": 1,
        "examples": [1],
    },
    "every_rotor": {
        "title": "Every rotor",
        "description": "What all rotors share. A rotor's own entry wins; groups merge, lists replace.",
        "$ref": "#/$defs/EveryRotor",
        "examples": [{"motor": {"kv_rpm_per_v": 420}}],
    },
    "sessions": {
        "title": "Sessions",
        "description": (
            "Records as under records, together with what those of one evening share: date, props, pack, route, "
            "reference and settings in force. One entry an evening."
        ),
        "type": "array",
        "items": {"$ref": "#/$defs/Session"},
        "examples": [[{"date": "2026-04-18", "props": "removed", "cut_off_test": [{"motors_stopped": True}]}]],
    },
}

CSV_FILE: dict[str, Any] = {
    "title": "File",
    "description": "A CSV file with the same columns, named relative to this file, instead of columns and rows.",
    "type": "string",
    "pattern": "\\.csv$",
    "maxLength": 300,
    "examples": ["logs/lapwing-2026-04-18.csv"],
}
