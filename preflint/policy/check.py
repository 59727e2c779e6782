"""A club policy as far as it can be judged by itself: schema, real dates, and the schemas inside its rules."""

from collections.abc import Iterator, Mapping
from functools import partial
from urllib.parse import urlsplit

from preflint.aircraft.moment import Moment
from preflint.check.complaint import Complaint, child, entries, items
from preflint.check.near import suggestion
from preflint.check.sense import check_days
from preflint.check.violations import violations
from preflint.load.node import Node, Plain
from preflint.load.quoting import in_quotes, shorten
from preflint.places import Place

MAX_FRAGMENT = 200
"""Keywords and values of one rule's schema."""

_ONE = {"items", "contains", "additionalProperties", "propertyNames", "not", "if", "then", "else"}
_MANY = {"allOf", "anyOf", "oneOf", "prefixItems"}
_NAMED = {"properties", "dependentSchemas"}
_PLAIN = {
    "required", "dependentRequired", "enum", "const", "type", "minimum", "maximum", "exclusiveMinimum",
    "exclusiveMaximum", "minLength", "maxLength", "minItems", "maxItems", "minContains", "maxContains",
    "minProperties", "maxProperties", "title", "description",
}  # fmt: skip
# An unknown keyword would be passed over in silence, and a rule that judges nothing looks like one that passes.
KEYWORDS = tuple(sorted(_ONE | _MANY | _NAMED | _PLAIN))


# Alone it would judge nothing.
_ONLY_BESIDE = {"if": ("then", "else"), "then": ("if",), "else": ("if",), "minContains": ("contains",),
                "maxContains": ("contains",)}  # fmt: skip


def check_policy(document: Node, site: Node | None) -> list[Complaint]:
    """All that can be said without knowing the rules; ``site`` is the field day's, read from its file."""
    found = violations(document, format="policy")
    if site is not None:
        found += [*violations(site, "Site"), *check_days(child(site, "days"))]
    for day in items(child(document, "days")):
        found += violations(day, "Day")
    taken = {complaint.place for complaint in found}
    return found + [complaint for complaint in _sense(document) if complaint.place not in taken]


def _sense(document: Node) -> Iterator[Complaint]:
    for date in (child(document, "field_day", "date"), *(child(day, "date") for day in items(child(document, "days")))):
        if date and isinstance(date.value, str) and not _is_day(date.value):
            yield Complaint(date.place, partial(_no_such_day, date.value))
    yield from check_days(child(document, "days"))
    manual = child(document, "manual")
    if manual and isinstance(manual.value, str) and (why := _no_address(manual.value)):
        yield Complaint(manual.place, partial(_wrong_address, why))
    first: dict[str, Place] = {}
    for rule in items(child(document, "rules")):
        id = child(rule, "id")
        if id and isinstance(id.value, str):
            earlier = first.setdefault(id.value, id.place)
            if earlier is not id.place:
                yield Complaint(id.place, partial(_second_rule, id.value, earlier.line))
        needs = child(rule, "needs")
        if needs and isinstance(needs.value, Mapping):
            yield from _fragment(needs)


def _no_address(text: str) -> str:
    """Why the pages of rules cannot stand below this address; "" where they can."""
    if not text.isascii() or not text.isprintable() or set(text) & set(" \\<>\"{}|^`"):
        return "it holds letters that an address cannot hold"
    try:
        parts = urlsplit(text)
        host, user = parts.hostname, parts.username
        parts.port  # noqa: B018 - raises where it is no number
    except ValueError:
        return "it is no address"
    if parts.scheme not in ("http", "https") or not host:
        return "it must begin with https:// and a host"
    if user is not None or "@" in parts.netloc:
        return "it must hold no user name and no password: every report would show them"
    return "it must end before ? and #" if "?" in text or "#" in text else ""


def _wrong_address(why: str) -> str:
    # The address itself is not told: it may hold a password.
    return f"an address of pages is needed here, as https://club.example/manual/; {why}"


def _is_day(text: str) -> bool:
    try:
        Moment.parse(text)
    except ValueError:
        return False
    return True


def _no_such_day(text: str) -> str:
    return f"{in_quotes(shorten(text))} is not in the calendar; write 2026-05-23"


def _second_rule(id: str, line: int) -> str:
    return f"a rule {id} stands on line {line} already; give each its own id"


def _fragment(needs: Node) -> Iterator[Complaint]:
    if (size := _size(needs)) > MAX_FRAGMENT:
        yield Complaint(
            needs.key or needs.place,
            lambda: f"this schema has {size} entries; at most {MAX_FRAGMENT} are taken",
        )
        return
    found = list(_subschema(needs))
    yield from found
    if not found:
        yield from _by_metaschema(needs)


def _size(node: Node) -> int:
    if isinstance(node.value, Mapping):
        return 1 + sum(map(_size, node.value.values()))
    return 1 + sum(map(_size, node.value)) if isinstance(node.value, tuple) else 1


def _subschema(node: Node) -> Iterator[Complaint]:
    if isinstance(node.value, bool):
        return
    if not isinstance(node.value, Mapping):
        yield Complaint(node.place, lambda: "a schema is needed here: a group of entries, or true or false")
    for name, inner in entries(node):
        beside = _ONLY_BESIDE.get(name, ())
        if beside and not any(child(node, other) for other in beside):
            yield Complaint(inner.key or inner.place, partial(_judges_nothing, name, beside))
        if name in _ONE:
            yield from _subschema(inner)
        elif name in _MANY:
            for item in items(inner):
                yield from _subschema(item)
        elif name in _NAMED:
            for _, item in entries(inner):
                yield from _subschema(item)
        elif name not in _PLAIN:
            yield Complaint(inner.key or inner.place, partial(_no_keyword, name))


def _no_keyword(name: str) -> str:
    said = f"{in_quotes(shorten(name))} is no keyword that a club rule may use"
    if name in ("$ref", "pattern", "patternProperties", "format", "uniqueItems", "multipleOf"):
        return f"{said}; known: {', '.join(KEYWORDS)}"
    return f"{said}; {suggestion(name, KEYWORDS)}"


def _judges_nothing(name: str, beside: tuple[str, ...]) -> str:
    return f"{name} judges nothing without {' or '.join(beside)} beside it"


def _by_metaschema(needs: Node) -> Iterator[Complaint]:
    """Keywords with values that make no sense of them, such as ``minimum: heavy``."""
    plain = needs.plain()
    if isinstance(plain, dict) and _surely_sense(plain):
        return
    from jsonschema import Draft202012Validator
    from referencing import Registry

    meta = Draft202012Validator(Draft202012Validator.META_SCHEMA, registry=Registry())
    for error in meta.iter_errors(plain):
        node = needs
        for step in error.absolute_path:
            inner = node.value
            assert isinstance(inner, Mapping | tuple)  # it leads through groups and lists only
            node = inner[str(step)] if isinstance(inner, Mapping) else inner[int(step)]
        name = next((str(step) for step in reversed(error.absolute_path) if isinstance(step, str)), "needs")
        yield Complaint(node.place, partial(_no_sense, name, node))


def _surely_sense(schema: Mapping[str, Plain]) -> bool:
    """By the extra ``fast``, as in :mod:`preflint.check.violations`; what it does not pass is left to jsonschema."""
    try:
        from jsonschema_rs import meta
    except ImportError:
        return False
    return meta.is_valid({"$schema": "https://json-schema.org/draft/2020-12/schema", **schema})


def _no_sense(name: str, node: Node) -> str:
    from preflint.check.wording import what_it_is

    return f"JSON Schema cannot make sense of this as {shorten(name)}; {what_it_is(node)}"
