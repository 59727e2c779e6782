"""Schema errors about a value, in words for people who do not program."""

import re
from collections.abc import Mapping
from typing import Any

from preflint.aircraft.schema_parts import SHORT
from preflint.check.amounts import cut_number, number_alone, two_numbers
from preflint.check.dates import WAY, other_date
from preflint.check.near import nearest, one_of, suggestion
from preflint.frozen import dataclass
from preflint.load.node import Node
from preflint.load.numbers import plain_decimal
from preflint.load.quoting import in_quotes, shorten


@dataclass(frozen=True, slots=True)
class Violation:
    """One error as the schema library gives it: where, which keyword with which value, of which schema."""

    path: tuple[str | int, ...]
    keyword: str
    wanted: Any
    schema: Mapping[str, Any]

    @property
    def name(self) -> str:
        """The last key on the way to the value, for items of a list that of the list; "" at the top."""
        return next((step for step in reversed(self.path) if isinstance(step, str)), "")


_NEEDED = {
    "number": "a number is needed here",
    "integer": "a whole number is needed here",
    "boolean": "true or false is needed here",
    "string": "text is needed here",
    "object": "a group of entries is needed here, as in {name: value}",
    "array": "a list is needed here, as in [first, second]",
}
_YES_OR_NO = {"yes": "true", "on": "true", "no": "false", "off": "false"}
_NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?")
_COUNTS = {1: "one", 2: "two", 3: "three"}


def words_for(error: Violation, node: Node) -> str:
    """What is wrong with the value of ``node``, and what to write instead."""
    schema = error.schema
    match error.keyword:
        case "type":
            return _wrong_type(str(error.wanted), error, node)
        case "enum":
            if schema.get("title") == SHORT:
                return f"{in_quotes(shorten(str(node.value)))} is not known here; write {error.wanted[0]}, or name each"
            return _wrong_word(node, [str(word) for word in error.wanted])
        case "const":
            return _wrong_constant(error.wanted, node)
        case "pattern":
            return _wrong_form(schema, node)
        case "minimum" | "maximum" | "exclusiveMinimum" | "exclusiveMaximum":
            return _out_of_range(error.name or "this", schema, node)
        case "minItems" | "maxItems" | "minProperties":
            return _wrong_count(error.name or "this", schema, node)
        case "minLength":
            return "nothing is written between the quotes; write the text, or leave the entry out"
        case "maxLength":
            return f"a text of {len(str(node.value))} characters; at most {schema['maxLength']} are read here"
    return _wrong_form(schema, node)


def what_it_is(node: Node) -> str:
    """``this is text: "14 in"`` and the like."""
    if isinstance(node.value, Mapping):
        return "this is a group of entries"
    if isinstance(node.value, tuple):
        return "this is a list"
    if isinstance(node.value, str):
        return f"this is text: {in_quotes(shorten(node.value))}"
    kind = "" if isinstance(node.value, bool) else "the number "
    return f"this is {kind}{shorten(node.text)}"


def example_of(schema: Mapping[str, Any]) -> str:
    """The first example of a field, as it would be written."""
    return _written(schema["examples"][0])


def _written(value: Any) -> str:
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{name}: {_written(inner)}" for name, inner in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_written, value)) + "]"
    if isinstance(value, bool):
        return str(value).lower()
    return str(value)


def _wrong_type(needed: str, error: Violation, node: Node) -> str:
    schema = error.schema
    if schema.get("title") in ("Date", "Day") and (instead := other_date(node.text)):
        return _date(instead)
    if needed == "string" and "enum" in schema:
        return f"{one_of(schema['enum'])} is needed here; {what_it_is(node)}"
    if needed == "string" and isinstance(node.value, bool | int | float):
        return f"text is needed here; write it in quotes: {in_quotes(shorten(node.text))}"
    if isinstance(node.value, str):
        text = node.value.strip()
        if needed in ("number", "integer") and _NUMBER.fullmatch(text):
            return f"a number is needed here; write {shorten(text)} without quotes"
        if needed in ("number", "integer"):
            if instead := number_alone(text, error.name):
                return f"{_NEEDED[needed]}; {instead}"
            if instead := plain_decimal(text):
                return f"a number is needed here; {instead}"
        if needed == "boolean" and text.lower() in _YES_OR_NO:
            return f"true or false is needed here; write {_YES_OR_NO[text.lower()]} without quotes"
        if needed == "boolean" and text.lower() in ("true", "false"):
            return f"true or false is needed here; write {text.lower()} without quotes"
    if needed == "array" and isinstance(node.value, Mapping):
        return "a list is needed here; put a hyphen and a space before the first line of each of its groups"
    bare = ", without a unit" if needed == "number" else ""
    return f"{_NEEDED[needed]}{bare}; {what_it_is(node)}"


def _date(instead: str) -> str:
    return f"a date begins with the year, with hyphens and two digits for month and day; {instead}"


def _wrong_word(node: Node, words: list[str]) -> str:
    if not isinstance(node.value, str):
        return f"{one_of(words)} is needed here; {what_it_is(node)}"
    known = "" if nearest(node.value, words) is None else f" Known: {', '.join(words)}"
    return f"{in_quotes(shorten(node.value))} is not known here; {suggestion(node.value, words)}{known}"


def _wrong_constant(value: Any, node: Node) -> str:
    if value == "none":
        return f"none or a group of entries is needed here; {what_it_is(node)}"
    if node.value == str(value):
        return f"a number is needed here; write {value} without quotes"
    return f"{_written(value)} is needed here; {what_it_is(node)}"


def _wrong_form(schema: Mapping[str, Any], node: Node) -> str:
    title = schema.get("title", "")
    if title in ("Date", "Day"):
        if instead := other_date(node.text):
            return _date(instead)
        needed = f"a date is needed here, written {WAY if title == 'Date' else example_of(schema)}"
    elif title == "File name":
        needed = "a group of entries, or the name of a file that ends in .yaml, is needed here"
    elif title == "File name, or none":
        needed = "none, a group of entries, or the name of a file that ends in .yaml is needed here"
    elif title == "File":
        needed = "the name of a file that ends in .csv is needed here, such as " + example_of(schema)
    elif title == "Position":
        needed = "a position is written in small letters, digits and hyphens, such as " + example_of(schema)
    elif "examples" in schema:
        needed = "something such as " + example_of(schema) + " is needed here"
    else:
        needed = "this is not written as expected"
    return f"{needed}; {what_it_is(node)}"


def _out_of_range(name: str, schema: Mapping[str, Any], node: Node) -> str:
    above = "exclusiveMinimum" in schema
    least = schema["exclusiveMinimum"] if above else schema["minimum"]
    between = f"more than {least:g} and at most" if above else f"from {least:g} to"
    return f"{name} must be {between} {schema['maximum']:g}; {shorten(node.text)} is written"


def _wrong_count(name: str, schema: Mapping[str, Any], node: Node) -> str:
    if "minProperties" in schema:
        return f"{name} is empty; write at least one entry, or leave it out"
    least, most = schema.get("minItems", 0), schema.get("maxItems")
    size = len(node.value) if isinstance(node.value, tuple) else 0
    if least == most:
        if cut := cut_number(node, size - least):
            return two_numbers(cut[1])
        return f"{name} needs a list of {_COUNTS.get(least, str(least))}; this one has {size}"
    if size < least:
        return f"{name} holds an empty list; write at least one entry"
    return f"{name} has {size} entries; at most {most} are read"
