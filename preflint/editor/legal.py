"""What may stand at a place of a manifest, by its schema."""

from collections.abc import Mapping
from typing import Any

import preflint_schemas

from preflint.editor.outline import Steps

Schema = Mapping[str, Any]


def schema_at(steps: Steps) -> Schema:
    """The schema of what stands at these steps, references followed; {} where nothing is declared."""
    here = _followed(preflint_schemas.airframe())
    for step in steps:
        if isinstance(step, int):
            here = here.get("items", {})
        else:
            by_position = here.get("additionalProperties")
            here = here.get("properties", {}).get(step) or (by_position if isinstance(by_position, dict) else {})
        here = _followed(here)
    return here


def words_at(steps: Steps) -> tuple[str, ...]:
    """The words that a value there may be; none where it is a number or a text of its own."""
    here = schema_at(steps)
    words = [*here.get("enum", ()), *here.get("items", {}).get("enum", ())]
    words += [here["const"]] if "const" in here else []
    words += ["true", "false"] if here.get("type") == "boolean" else []
    words += ["none"] if here.get("may be none") else []
    return tuple(map(str, words))


def is_position(schema: Schema) -> bool:
    """Whether the name of a rotor's position stands there."""
    return bool(schema.get("title") == "Position" and schema.get("pattern"))


def _followed(schema: Schema) -> dict[str, Any]:
    definitions = preflint_schemas.airframe()["$defs"]
    made = dict(schema)
    if "else" in made and "then" in made and "properties" not in made:  # a group, or a word in its place
        word = _followed(made["then"])
        none = word.get("const") == "none" or "none" in str(word.get("pattern", ""))
        made = {**_followed(made["else"]), "may be none": none}
    while "$ref" in made:
        reference = made.pop("$ref").removeprefix("#/$defs/")
        made = {**definitions[reference], **made}
    return made
