"""Finds all that a name means."""

import difflib
from collections.abc import Iterable, Iterator

from preflint.aircraft.moment import Moment
from preflint.engine.rule_module import Registry
from preflint.errors import UsageError
from preflint.glossary import GLOSSARY
from preflint.load.quoting import shorten
from preflint.meanings.keys import column_names, format_keys, keys
from preflint.meanings.meaning import (
    Meaning,
    of_choice,
    of_column,
    of_format,
    of_key,
    of_limit,
    of_rule,
    of_term,
    of_topic,
    words_of,
)

_NEAREST = 5


def look_up(name: str, registry: Registry, today: Moment) -> tuple[Meaning, ...]:
    """Words of reports first, then keys, columns, rules and limits; a topic or a choice only where these lack the name.

    Where nothing has it, what has it with an s is told: a session stands under sessions.

    Raises UsageError with the nearest names where nothing has it.
    """
    asked = _plain(name)
    found = tuple(_named(name, registry, today)) or tuple(_named(f"{name}s", registry, today))
    if not found and (topic := [rule.info for rule in registry.rules if asked == _plain(rule.info.topic)]):
        found = (of_topic(topic),)
    if not found:
        held = [key for key in keys() if asked in map(_plain, words_of(key))]
        found = (of_choice(asked, held),) if held else ()
    if not found:
        raise UsageError(f"nothing is called {shorten(name)}{_nearest(asked, registry)}")
    return found


def meaning_of_path(path: Iterable[str], registry: Registry, today: Moment) -> Meaning | None:
    """What stands at a path of keys from the start of a manifest; None where nothing is declared there."""
    wanted = tuple(path)
    if wanted[:1] == ("every_rotor",) and len(wanted) > 1:
        wanted = ("rotors", *wanted[1:])
    if len(wanted) == 1 and wanted[0] in format_keys():
        return of_format(wanted[0], format_keys()[wanted[0]])
    if wanted[-1:] in (("rows",), ("file",)):
        wanted = (*wanted[:-1], "columns")
    return next((of_key(key, today, registry) for key in keys() if wanted in key.paths), None)


def _named(name: str, registry: Registry, today: Moment) -> Iterator[Meaning]:
    asked = _plain(name)
    rules = [rule.info for rule in registry.rules]
    if asked in GLOSSARY:
        yield of_term(GLOSSARY[asked])
    steps = tuple(asked.split("."))
    for key in keys():
        if any(_ends(path, steps) for path in key.paths):
            yield of_key(key, today, registry)
    for column, paths in column_names().items():
        if asked in (_plain(column), *(_plain(f"{path[-1]}.{column}") for path in paths)):
            yield of_column(column, paths)
    for format_key, schema in format_keys().items():
        if _plain(format_key) == asked:
            yield of_format(format_key, schema)
    for rule in rules:
        if asked == _plain(rule.id) or (asked == _plain(rule.name) and "_" not in name):  # a limit's name has these
            yield of_rule(rule)
    for limit in registry.tolerances.values():
        if _plain(limit.name) == asked:
            yield of_limit(limit, rules)


def _ends(path: tuple[str, ...], steps: tuple[str, ...]) -> bool:
    return tuple(map(_plain, path[-len(steps) :])) == steps


def names(registry: Registry) -> tuple[str, ...]:
    """Everything that can be asked for, as it is written."""
    every = [
        *(term.name for term in GLOSSARY.values()),
        *(key.key for key in keys()),
        *column_names(),
        *format_keys(),
        *(rule.info.topic for rule in registry.rules),
        *(rule.info.id for rule in registry.rules),
        *registry.tolerances,
        *(word for key in keys() for word in words_of(key)),
    ]
    return tuple(dict.fromkeys(every))


def _nearest(asked: str, registry: Registry) -> str:
    known = {_plain(name): name for name in names(registry)}
    known |= {_plain(rule.info.name): rule.info.id for rule in registry.rules if _plain(rule.info.name) not in known}
    last = asked.rpartition(".")[2][:100]
    close = difflib.get_close_matches(last, known, n=_NEAREST, cutoff=0.7)
    close += [name for name in known if len(last) > 2 and last in name.split("-") and name not in close]
    if not close:
        return "; preflint catalogue lists the rules, preflint schema every key"
    return f"; nearest: {', '.join(known[name] for name in close[:_NEAREST])}"


def _plain(name: str) -> str:
    return "-".join(name.casefold().replace("_", " ").replace("-", " ").split())
