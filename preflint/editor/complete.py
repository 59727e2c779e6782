"""What can be typed at the cursor: keys that are legal there, words, positions, labels, and whole records."""

import datetime as dt
from collections.abc import Iterator

from preflint.aircraft.layouts import arm_of, positions
from preflint.aircraft.moment import Moment
from preflint.aircraft.records import KINDS
from preflint.editor.legal import Schema, is_position, schema_at, words_at
from preflint.editor.outline import Cursor, Outline, Steps
from preflint.frozen import dataclass
from preflint.writing.facts import Facts
from preflint.writing.template import template


@dataclass(frozen=True, slots=True)
class Offer:
    """``text`` takes the place of the word before the cursor; ``about`` explains it shortly.

    ``lines``: more than a word, with blanks to fill in.
    """

    label: str
    text: str
    about: str = ""
    lines: bool = False


def offers(outline: Outline, today: dt.date) -> list[Offer]:
    """Everything legal at the cursor, in the order of the format."""
    cursor = outline.cursor
    if cursor is None:
        return []
    if cursor.as_value:
        return [Offer(word, word) for word in _values(outline, cursor.steps, today)]
    return [*_records(outline, cursor, today), *_keys(outline, cursor)]


def facts_of(outline: Outline, today: dt.date) -> Facts:
    """What the text tells of the aircraft, half typed as it may be."""
    layout = outline.values.get(("aircraft", "layout"), "")
    cells = {
        label: int(count) if (count := outline.values.get((*steps[:-1], "cells"), "")).isdecimal() else None
        for steps, label in outline.values.items()
        if len(steps) == 3 and steps[0] == "packs" and steps[-1] == "label" and label
    }
    return Facts.of_layout(layout if positions(layout) else "custom", Moment(today), cells)


def _keys(outline: Outline, cursor: Cursor) -> Iterator[Offer]:
    here, steps, hyphen = schema_at(cursor.steps), cursor.steps, ""
    if here.get("type") == "array":  # nothing but an entry may stand here
        here, steps, hyphen = schema_at((*steps, 0)), (*steps, -1), "- "
    written = [] if hyphen else [key for key in outline.keys(steps) if key != cursor.word]
    for key, schema in here.get("properties", {}).items():
        if key not in written:
            yield Offer(key, f"{hyphen}{key}: ", schema.get("title", ""))
    if isinstance(here.get("additionalProperties"), dict):
        for position in _positions(outline, arms=False):
            if position not in written:
                yield Offer(position, f"{hyphen}{position}: ", "Position")


def _values(outline: Outline, steps: Steps, today: dt.date) -> tuple[str, ...]:
    here = schema_at(steps)
    inner = schema_at((*steps, 0)) if here.get("type") == "array" else here
    if is_position(inner):
        return _positions(outline, arms=steps[0] == "logbook")
    every = outline.values.items()
    labels = tuple(value for at, value in every if at[:1] == ("packs",) and at[2:] == ("label",) and value)
    if steps[0] == "records" and steps[-1] == "pack":
        return labels
    if steps[0] == "deferred_defects" and steps[-1] == "at":
        return (*_positions(outline, arms=False), *labels)
    return (today.isoformat(),) if _is_date(inner) else words_at(steps)


def _is_date(schema: Schema) -> bool:
    return str(schema.get("pattern", "")).startswith("^[0-9]{4}-")


def _positions(outline: Outline, arms: bool) -> tuple[str, ...]:
    layout = outline.values.get(("aircraft", "layout"), "")
    named = [value for at, value in outline.values.items() if at[:1] == ("rotors",) and at[2:] == ("at",) and value]
    known = positions(layout) or tuple(dict.fromkeys(named))
    return (*known, *(arm for arm in dict.fromkeys(map(arm_of, known)) if arms and arm not in known))


def _records(outline: Outline, cursor: Cursor, today: dt.date) -> Iterator[Offer]:
    """Whole records, where a kind is due or an entry of one."""
    match cursor.steps:
        case ("records",):
            for kind, said in KINDS.items():
                if kind not in outline.keys(("records",)):
                    lines = template(kind, facts_of(outline, today))
                    yield Offer(f"{kind}: a whole record", _typed(lines, 2), said.take, lines=True)
        case ("records", str(kind)) if kind in KINDS:
            lines = template(kind, facts_of(outline, today))[1:]
            yield Offer(f"- a whole {kind}", _typed(lines, 4), KINDS[kind].take, lines=True)


def _typed(lines: tuple[str, ...], indent: int) -> str:
    """As an editor takes them, which indents all lines after the first as the line of the cursor is."""
    return "\n".join(line[indent:] for line in lines)
