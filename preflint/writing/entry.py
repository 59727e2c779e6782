"""The entries that answers make: one record, one for each rotor where the kind is of one rotor, or one of the logbook.

What nobody answered is as the manifest tells it, else blank.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from preflint.aircraft.declared import declarations
from preflint.aircraft.words import WORK
from preflint.writing.asked import CLASSES, LOG, Asked, asked, find
from preflint.writing.facts import Facts
from preflint.writing.shape import Shape
from preflint.writing.yaml_text import Blank

Value = Any
"""A word, text, Decimal or float, truth, Blank, list, or mapping by position; of a table its columns and rows, or its
file.
"""

AT_A_ROTOR = ("motor", "esc", "prop", "nut", "adapter", "arm")  # parts of which an aircraft has one at each rotor
_OPEN = Blank("___")
_OPEN_TEXT = Blank("[___]")  # a text could be anything, so a blank one is none
_MOST_WORDS = 40  # characters of a choice written out


def one_for_each_rotor(kind: str) -> bool:
    """Whether a look at the whole aircraft makes a record of each rotor."""
    names = [one.name for one in asked(kind)]
    return kind != LOG and "at" in names and "table" not in names


def entries(
    kind: str, facts: Facts, answers: Mapping[str, Value], left_out: Iterable[str] = ()
) -> tuple[Mapping[str, Any], ...]:
    """Answers by their dotted names; of a kind that is of one rotor, without ``at``, each by position."""
    values = {"date": facts.now, **_open_values(kind, facts, answers, frozenset(left_out)), **answers}
    if not one_for_each_rotor(kind) or "at" in answers:
        return (_entry(kind, values),)
    made = []
    for at in facts.positions:
        own = {name: value.get(at) if isinstance(value, Mapping) else value for name, value in values.items()}
        if all(own[name] is not None for name, value in values.items() if isinstance(value, Mapping)):
            made.append(_entry(kind, {**own, "at": at}))
    return tuple(made)


def known(kind: str, one: Asked, facts: Facts) -> Value | None:
    """What the manifest tells of a value: the pack and the meter last used, the settings as installed."""
    match one.path:
        case ("pack",):
            return facts.pack
        case ("in_force", setting):
            return facts.installed.get(setting)
        case ("reference", name):
            return facts.references.get(kind, {}).get(name)
    return None


def applies(kind: str, one: Asked, answers: Mapping[str, Value]) -> bool:
    """Whether the value is asked for beside these answers."""
    if any(other in answers for other in one.either):
        return False
    if kind != LOG:
        return True
    happened, part = answers.get("kind"), answers.get("part")
    match one.name:
        case "part":
            return happened is None or happened in WORK
        case "at":
            return (happened is None or happened in WORK) and (part is None or part in AT_A_ROTOR)
        case "touches":
            return happened == "settings-changed"
    return True


def _open_values(kind: str, facts: Facts, answers: Mapping[str, Value], left_out: frozenset[str]) -> dict[str, Value]:
    made: dict[str, Value] = {}
    for one in asked(kind):
        if one.name in left_out or one.name in answers or not applies(kind, one, answers) or one.name == "note":
            continue
        told = known(kind, one, facts)
        made[one.name] = blank(one, facts) if told is None else told
        if one.path[0] == "reference" and told is not None:  # with it all that was written of that instrument
            made |= {f"reference.{name}": value for name, value in facts.references[kind].items()}
    return made


def blank(one: Asked, facts: Facts) -> Value:
    """What stands for a value that nobody told: never legal, and never a suggestion of one of several."""
    shape, said = one.shape, one.said
    if shape.form == "table":
        names = tuple(name.split("|")[0] for name in said.columns if not name.endswith("?"))
        if not said.rows:
            return {"file": Blank("logs/___.csv")}
        return {"columns": list(names), "rows": [[_OPEN] * len(names)] * said.rows}
    if one.path == ("pack",):
        return Blank("|".join(facts.packs)) if len(facts.packs) > 1 else _OPEN_TEXT
    single = _blank(shape)
    if shape.by_position:
        return dict.fromkeys(facts.positions, single)
    if shape.deep:
        count = facts.packs.get(facts.pack or "") if one.path == ("cells_v",) else (said.count or (1, 1))[0]
        row = [single] * (count or 1)
        return [row] * len(row) if shape.deep > 1 else row
    return single


def _blank(shape: Shape) -> Blank:
    choice = "true|false" if shape.form == "yes-no" else "|".join(shape.words)
    if shape.form == "text":
        return _OPEN_TEXT
    return Blank(choice) if 0 < len(choice) <= _MOST_WORDS and not shape.deep else _OPEN


def _entry(kind: str, values: Mapping[str, Value]) -> Mapping[str, Any]:
    """The values in the order in which the kind declares its fields."""
    made: dict[str, Any] = {}
    for name in declarations(CLASSES[kind]):
        inside = {key: value for key, value in values.items() if key.partition(".")[0] == name}
        if name in values:
            made |= values[name] if name == "table" else {name: values[name]}
        elif name == "moves" and inside:
            made[name] = _moves(kind, inside)
        elif inside:
            order = {find(kind, key).path[1]: value for key, value in inside.items()}
            made[name] = {key: order[key] for key in declarations(find(kind, next(iter(inside))).group) if key in order}
    return made


def _moves(kind: str, inside: Mapping[str, Value]) -> list[Mapping[str, Value]]:
    moves: dict[str, dict[str, Value]] = {}
    for key, value in inside.items():
        did, field = find(kind, key).path[1:]
        moves.setdefault(did, {"did": did})[field] = value
    return [dict(move) for move in moves.values()]
