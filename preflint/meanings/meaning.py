"""What is told of one thing that has a name: the same for a terminal and for an editor."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from preflint.aircraft.declared import declarations, hints_of, is_needed, meaning_of
from preflint.aircraft.field import NotFitted
from preflint.aircraft.moment import Moment
from preflint.engine.freshness import LATER_RECORD, Staling
from preflint.engine.rule_module import Registry
from preflint.findings.rule_info import RuleInfo, Tolerance
from preflint.frozen import dataclass
from preflint.glossary import Term
from preflint.meanings.keys import Key, Path
from preflint.meanings.paste import lines_to_paste
from preflint.meanings.reads import readers
from preflint.writing.shape import shape_of
from preflint.writing.units import unit_of
from preflint.writing.yaml_text import flow

_MOST, _MOST_RULES = 6, 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Meaning:
    """``name``: what to ask for to be told of this alone. ``sort``: what it is, such as "a kind of record".

    ``facts``: further sentences by their label. ``lines``: YAML to paste. ``page``: a rule's manual page, whole.
    """

    name: str
    sort: str
    text: str
    facts: tuple[tuple[str, str], ...] = ()
    lines: tuple[str, ...] = ()
    rule: RuleInfo | None = None


def of_key(key: Key, today: Moment, registry: Registry) -> Meaning:
    """A key of the manifest: a field, a group of fields, or a kind of record."""
    if key.kind is not None:
        return _of_kind(key, today, registry)
    said, holds = key.said, key.holds
    table = "the readings, one list of numbers a row of the table, and columns names them; or file: a CSV file"
    parents = list(dict.fromkeys(".".join(path[:-1]) for path in key.paths))
    several = f", and of {_listed(parents[1:])}" if len(parents) > 1 else ""
    where = f"of {parents[0]}{several}" if parents[0] else "at the start of a line"
    facts = [
        ("Unit", _unit(key)),
        ("Choices", ", ".join(words_of(key)) or _position(key)),
        ("Bounds", _bounds(said.limits, said.count)),
        ("Example", _example(key)),
        ("Holds", _keys_of(holds) if holds else ""),
        ("Columns", ", ".join(name.replace("|", " or ") for name in said.columns)),
        ("Or", "none, where it is not fitted; left out where you do not know" if _may_be_none(key) else ""),
        ("Learn it", said.do),
        ("First", said.mind if said.do and not said.on_paper else ""),
        *_judged(key),
    ]
    return Meaning(
        name=key.name_in_full,
        sort=f"a key {where}" if not holds else f"a group {where}",
        text=said.meaning or (table if said.columns else meaning_of(holds)),
        facts=_told(facts),
        lines=lines_to_paste(key, today),
    )


def _of_kind(key: Key, today: Moment, registry: Registry) -> Meaning:
    kind = key.kind
    assert kind is not None
    limits = [limit for limit in registry.tolerances.values() if limit.age_of == key.key]
    ends = dict.fromkeys(_end(row) for row in registry.freshness if row.record == key.key)
    facts = [
        ("Take it", kind.take),
        ("First", kind.mind),
        ("Holds", _keys_of(key.holds)),
        ("Lasts", ", ".join(f"{limit.with_unit(limit.default)} at most" for limit in limits)),
        ("Ended by", "; ".join(ends)),
        *_judged(key),
    ]
    return Meaning(
        name=key.name_in_full, sort="a kind of record", text=meaning_of(key.holds), facts=_told(facts),
        lines=lines_to_paste(key, today),
    )  # fmt: skip


def _end(row: Staling) -> str:
    work = ", ".join(sorted(row.work))
    if row.part == LATER_RECORD:
        return f"a later record taken in {work}"
    return f"any part {work}" if row.part == "any" else f"{row.part} {work}"


def of_column(name: str, paths: Sequence[Path]) -> Meaning:
    """A column of a table, named with the first kind of record that has it."""
    kinds = [".".join(path) for path in paths]
    return Meaning(
        name=f"{paths[0][-1]}.{name}",
        sort="a column of a table",
        text=f"A column of {_listed(kinds)}.",
        facts=_told([("Unit", unit_of(name))]),
    )


def of_format(name: str, schema: Mapping[str, Any]) -> Meaning:
    """A key that belongs to the format."""
    return Meaning(
        name=name, sort="a key at the start of a line", text=schema["description"],
        lines=(f"{name}: {flow(schema['examples'][0])}",) if "examples" in schema else (),
    )  # fmt: skip


def of_rule(rule: RuleInfo) -> Meaning:
    """A rule, by its manual page."""
    return Meaning(name=rule.id, sort="a rule", text=rule.title, rule=rule)


def of_topic(rules: Sequence[RuleInfo]) -> Meaning:
    """A topic of rules."""
    topic = rules[0].topic
    return Meaning(name=topic, sort="a topic of rules", text=f"Its rules: {', '.join(rule.name for rule in rules)}. "
                   f"More: preflint catalogue {topic}.")  # fmt: skip


def of_limit(limit: Tolerance, rules: Iterable[RuleInfo]) -> Meaning:
    """A limit that rules judge by."""
    by = [rule.id for rule in rules if limit in rule.tolerances]
    facts = [("Value", f"{limit.with_unit(limit.default)}; {limit.stricter} is stricter"), ("Origin", limit.origin)]
    return Meaning(
        name=limit.name, sort="a limit, which a club's policy may move",
        text=f"{limit.meaning[0].upper()}{limit.meaning[1:]}.", facts=_told([*facts, ("Used by", ", ".join(by))]),
    )  # fmt: skip


def of_term(term: Term) -> Meaning:
    """A word of reports."""
    shown = f", written {term.shown}" if term.shown else ""
    return Meaning(name=term.name, sort=f"a word of reports{shown}", text=term.meaning)


def of_choice(word: str, keys: Iterable[Key]) -> Meaning:
    """A word that some keys may hold, and that no glossary has."""
    held = list(keys)
    facts = [(key.name_in_full, key.said.meaning) for key in held[:_MOST]]
    return Meaning(name=word, sort=f"a word that {_listed([key.name_in_full for key in held])} may hold", text="",
                   facts=tuple(facts))  # fmt: skip


def _told(facts: Iterable[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    return tuple((label, text) for label, text in facts if text)


def _judged(key: Key) -> list[tuple[str, str]]:
    if key.said.unjudged is not None:
        why = "it is a name or a note" if key.said.unjudged == "label" else "no rule reads it yet"
        return [("Not judged", why)]
    rules = readers(key.paths.values())
    if not rules:
        return [("Read by", "what all rules share: figures, and whether a record is in force")]
    topics = dict.fromkeys(rule.partition("/")[0] for rule in rules)
    many = f"{len(rules)} rules, of {', '.join(topics)}"
    return [("Read by", many if len(rules) > _MOST_RULES else ", ".join(rules))]


def _unit(key: Key) -> str:
    if key.holds or key.said.columns:
        return ""
    return unit_of(key.key) or ("none, a plain number" if shape_of(key.group, key.name).form == "number" else "")


def words_of(key: Key) -> tuple[str, ...]:
    """The words that the key may hold, or each entry of it; none where it holds anything else."""
    if key.holds or key.said.columns:
        return ()
    shape = shape_of(key.group, key.name)
    return ("true", "false") if shape.form == "yes-no" else shape.words


def _position(key: Key) -> str:
    place = not key.holds and shape_of(key.group, key.name).form == "position"
    return "a position of the layout" if place else ""


def _example(key: Key) -> str:
    """None of a choice: it would suggest one."""
    if key.holds or key.said.columns or shape_of(key.group, key.name).form not in ("number", "text", "moment"):
        return ""
    return f"{key.key}: {flow(key.said.examples[0])}"


def _may_be_none(key: Key) -> bool:
    return NotFitted in getattr(hints_of(key.group)[key.name], "__args__", ())


def _bounds(limits: Mapping[str, Any], count: tuple[int, int | None] | None) -> str:
    told = []
    if "minimum" in limits:
        told.append(f"{limits['minimum']:g} or more")
    if "exclusiveMinimum" in limits:
        told.append(f"more than {limits['exclusiveMinimum']:g}")
    if "maximum" in limits:
        told.append(f"at most {limits['maximum']:g}")
    if "maxLength" in limits:
        told.append(f"at most {limits['maxLength']} characters")
    if count is not None:
        fewest, most = count
        told.append(f"{fewest} in a list" if fewest == most else f"at least {fewest} in the list" if most is None
                    else f"{fewest} to {most} in the list")  # fmt: skip
    return ", ".join(told)


def _keys_of(group: Any) -> str:
    said = declarations(group)
    names = [(("columns", "rows", "or file") if one.columns else (one.key or name,), is_needed(group, name))
             for name, one in said.items()]  # fmt: skip
    return ", ".join(f"{each} (needed)" if needed else each for several, needed in names for each in several)


def _listed(names: list[str]) -> str:
    more = f" and {len(names) - _MOST} more" if len(names) > _MOST else ""
    return ", ".join(names[:_MOST]) + more
