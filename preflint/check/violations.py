"""Runs a document against the schema and pins every error to the key or value that it is about."""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cache, partial
from itertools import islice
from typing import TYPE_CHECKING, Any, Literal, cast

from preflint.check.complaint import Complaint, key_of
from preflint.check.near import nearest, unknown_key
from preflint.load.node import Node
from preflint.load.quoting import in_quotes, shorten

if TYPE_CHECKING:
    from jsonschema import ValidationError
    from jsonschema.protocols import Validator

    from preflint.check.wording import Violation

_TABLE = {"columns", "rows"}
_UNKNOWN = "additionalProperties"


def violations(
    root: Node, definition: str | None = None, format: Literal["airframe", "policy"] = "airframe"
) -> list[Complaint]:
    """All that the schema of the format, or one of its definitions by name, has against ``root``."""
    document = root.plain()
    if (passes := _fast(format, definition)) and passes(document):
        return []
    by_keyword: dict[tuple[tuple[str | int, ...], str], list[Violation]] = {}
    for raw in _validator(format, definition).iter_errors(document):
        error = _violation(raw)
        by_keyword.setdefault((error.path, error.keyword), []).append(error)
    if not by_keyword:
        return []
    from preflint.check.wording import words_for  # whose patterns take longer to compile than a manifest to pass

    inside = {path[:depth] for path, _ in by_keyword for depth in range(len(path))}
    complaints: list[Complaint] = []
    wrong_values = set()
    for (path, keyword), errors in by_keyword.items():
        if keyword != "type" and (path, "type") in by_keyword:
            continue  # whatever else the schema asks of it makes no sense of a value of the wrong type
        node = _at(root, path)
        if keyword == _UNKNOWN:
            complaints += _unknown_keys(node, errors[0], format == "airframe")
        elif keyword == "required":
            complaints += _missing_keys(node, errors, _meant(node, by_keyword.get((path, _UNKNOWN))))
        elif keyword in ("not", "oneOf"):
            complaints += _not_together(node, errors[0], _meant(node, by_keyword.get((path, _UNKNOWN))))
        elif keyword == "contains":
            if path not in inside:  # else a misspelt column has been named already
                complaints.append(Complaint(node.place, partial(_missing_columns, errors)))
        elif keyword == "uniqueItems":
            complaints += (_twice(item) for item in _repeated(node))
        elif node.place not in wrong_values:  # of several faults of one value the first says enough
            wrong_values.add(node.place)
            # One slip of the pen in one entry: its messages differ in the values only.
            alike = f"{keyword} {errors[0].name}" if keyword in ("type", "pattern") else ""
            complaints.append(Complaint(node.place, partial(words_for, errors[0], node), alike))
    return complaints


def _violation(error: "ValidationError") -> "Violation":
    from preflint.check.wording import Violation

    schema = cast(Mapping[str, Any], error.schema)  # no schema of ours is a bare true or false
    return Violation(tuple(error.absolute_path), str(error.validator), error.validator_value, schema)


def _schema(format: str, definition: str | None) -> dict[str, Any]:
    import preflint_schemas

    schema: dict[str, Any] = preflint_schemas.policy() if format == "policy" else preflint_schemas.airframe()
    if definition is None:
        return schema
    return {"$schema": schema["$schema"], "$ref": f"#/$defs/{definition}", "$defs": schema["$defs"]}


@cache
def _fast(format: str, definition: str | None) -> Callable[[Any], bool] | None:
    """What tells a document with nothing against it, by the extra ``fast``; None where that is not installed.

    A hundred times as fast as jsonschema, whose import alone takes longer than judging an aircraft. Whatever it does
    not pass is left to jsonschema: what is wrong, and the words for it, never depend on the extra.
    """
    try:
        from jsonschema_rs import Draft202012Validator
    except ImportError:
        return None
    return Draft202012Validator(_schema(format, definition)).is_valid


@cache
def _validator(format: str, definition: str | None) -> "Validator":
    from jsonschema import Draft202012Validator
    from jsonschema.validators import extend
    from referencing import Registry

    # The library compares every pair of a list of mixed items, a long one for minutes; its $ passes a line's end.
    ours = {"uniqueItems": _unique_items, "pattern": _pattern}
    checker = extend(Draft202012Validator, ours)  # type: ignore[no-untyped-call]
    # An empty registry: a reference that is not in the schema fails and nothing is fetched.
    validator: Validator = checker(_schema(format, definition), registry=Registry())
    return validator


def _unique_items(_: Any, wanted: bool, instance: Any, __: Any) -> "Iterator[ValidationError]":
    from jsonschema import ValidationError

    if wanted and isinstance(instance, list):
        texts = [item for item in instance if isinstance(item, str)]
        if len(set(texts)) < len(texts):
            yield ValidationError("an item stands twice")


def _pattern(_: Any, wanted: str, instance: Any, __: Any) -> "Iterator[ValidationError]":
    """As JSON Schema has it (ECMA-262): ``$`` is the end of the text, where Python's passes a line's end before it."""
    from jsonschema import ValidationError

    if isinstance(instance, str) and not re.search(wanted.replace("$", r"\Z"), instance):
        yield ValidationError("the text does not match")


def _at(node: Node, path: Iterable[str | int]) -> Node:
    for step in path:
        if isinstance(node.value, dict):
            node = node.value[str(step)]
        elif isinstance(node.value, tuple):
            node = node.value[int(step)]
    return node


def _keys(node: Node) -> Mapping[str, Node]:
    return node.value if isinstance(node.value, dict) else {}


def _unknown(node: Node, properties: Mapping[str, Any]) -> Iterator[tuple[str, Node]]:
    return ((name, child) for name, child in _keys(node).items() if name not in properties)


def _unknown_keys(node: Node, error: "Violation", elsewhere: bool) -> Iterator[Complaint]:
    properties = error.schema["properties"]
    for name, child in _unknown(node, properties):
        group = error.name if elsewhere else ""
        yield Complaint(child.key or child.place, partial(unknown_key, name, tuple(properties), group, elsewhere))


def _meant(node: Node, errors: "Sequence[Violation] | None") -> set[str | None]:
    """The keys that misspelt ones stand for: they are named already, and go without saying as missing."""
    if errors is None:
        return set()
    properties = errors[0].schema["properties"]
    return {nearest(name, properties) for name, _ in islice(_unknown(node, properties), 20)}


def _missing_keys(node: Node, errors: "Sequence[Violation]", meant: set[str | None]) -> Iterator[Complaint]:
    for error in {id(error.wanted): error for error in errors}.values():
        missing = [name for name in error.wanted if name not in _keys(node)]
        if set(missing) == _TABLE and not meant.intersection(("file", *_TABLE)):
            yield Complaint(key_of(node), _no_readings)
            continue
        for name in missing:
            if name not in meant:
                schema = error.schema.get("properties", {}).get(name)
                yield Complaint(key_of(node), partial(_missing_key, name, schema))


def _missing_key(name: str, schema: Mapping[str, Any] | None) -> str:
    if name == "preflint":
        return "the format is missing: write preflint: 1 as the first line"
    from preflint.check.wording import example_of

    example = f", as in {name}: {example_of(schema)}" if schema else ""
    return f"{in_quotes(name)} is missing{example}"


def _no_readings() -> str:
    return "the readings are missing; write columns and rows, or file: with the name of a .csv file"


def _not_together(node: Node, error: "Violation", meant: set[str | None]) -> Iterator[Complaint]:
    """Keys of which exactly one, or not more than one, may stand; the schema says so by ``required``."""
    names = [name for part in _parts(error.wanted) for name in part["required"]]
    keys = _keys(node)
    present = [name for name in keys if name in names]
    if "anyOf" in error.wanted:  # readings in a file and here
        yield Complaint(keys[present[0]].key or node.place, _two_tables)
    elif present:
        both = " and ".join(present)
        place = keys[present[-1]].key or node.place
        yield Complaint(place, lambda: f"{both} cannot both stand here; keep one of them")
    elif not meant.intersection(names):
        yield Complaint(key_of(node), lambda: f"one of {' and '.join(names)} is needed here")


def _parts(rule: Any) -> list[Any]:
    if isinstance(rule, list):
        return rule
    parts: list[Any] = rule.get("anyOf", [rule])
    return parts


def _two_tables() -> str:
    return "the readings stand here and in a file; keep either file, or columns and rows"


def _missing_columns(errors: "Sequence[Violation]") -> str:
    wanted = (error.wanted for error in errors)
    names = [want["const"] if "const" in want else " (or ".join(want["enum"]) + ")" for want in wanted]
    return f"a column is missing: {', '.join(names)}"


def _repeated(node: Node) -> Iterator[Node]:
    seen = set()
    for item in node.value if isinstance(node.value, tuple) else ():
        if isinstance(item.value, str) and item.value in seen:
            yield item
        seen.add(item.value if isinstance(item.value, str) else None)


def _twice(item: Node) -> Complaint:
    return Complaint(item.place, lambda: f"{in_quotes(shorten(str(item.value)))} stands twice in this list")
