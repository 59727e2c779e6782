"""The lines to paste for a key: where it stands in a manifest, what somebody must fill in left blank."""

from collections.abc import Iterator
from typing import Any

from preflint.aircraft.declared import declarations, hints_of, is_group
from preflint.aircraft.model import Aircraft
from preflint.aircraft.moment import Moment
from preflint.meanings.keys import Key, group_in
from preflint.writing.asked import Asked
from preflint.writing.entry import blank
from preflint.writing.facts import Facts
from preflint.writing.template import log_template, template
from preflint.writing.yaml_text import flow

_LABELS = ("at", "label")  # keys that tell one entry of a list from another


def lines_to_paste(key: Key, today: Moment) -> tuple[str, ...]:
    """From the start of a line, never legal where a person must choose or read; a quad-x where positions are named."""
    facts = Facts.of_layout("quad-x", today)
    path = key.first
    if path[0] == "logbook":
        return ("logbook:", *log_template(facts))
    if path[0] == "records":
        return ("records:", *template(path[1], facts)) if len(path) > 1 else ()
    return tuple(_down(Aircraft, path, key, "", facts))


def _down(group: Any, path: tuple[str, ...], key: Key, indent: str, facts: Facts) -> Iterator[str]:
    """The lines of ``path`` in the group, and below its last step those of the key."""
    name = next(name for name, said in declarations(group).items() if (said.key or name) == path[0])
    inner = group_in(hints_of(group)[name])
    if inner is None:
        yield f"{indent}{path[0]}: {_blank(group, name, facts)}"
        return
    yield f"{indent}{path[0]}:"
    listed = bool(declarations(group)[name].entry) and not is_group(hints_of(group)[name])
    start = f"{indent}  - " if listed else f"{indent}  "
    deeper = " " * len(start)
    label = next((one for one in _LABELS if listed and one in declarations(inner)), None)
    if len(path) > 1 and path[1] != label:
        if label is not None:
            yield f"{start}{label}: {flow(declarations(inner)[label].examples[0])}"
            start = deeper
        first, *rest = _down(inner, path[1:], key, deeper, facts)
        yield start + first.lstrip()
        yield from rest
        return
    own = [one for one in declarations(inner) if group_in(hints_of(inner)[one]) is None]
    for one in own if len(path) == 1 else [str(label)]:
        told = flow(declarations(inner)[one].examples[0]) if one == label else _blank(inner, one, facts)
        yield f"{start}{declarations(inner)[one].key or one}: {told}"
        start = deeper


def _blank(group: Any, name: str, facts: Facts) -> str:
    return flow(blank(Asked((name,), group), facts))
