"""Which built-in rules read which key, from the table that is made by watching them judge."""

import json
from collections.abc import Iterable, Mapping
from functools import cache
from importlib.resources import files

from preflint.engine.rule_module import BUILT_IN
from preflint.meanings.keys import in_full, keys


def readers(fields: Iterable[str]) -> tuple[str, ...]:
    """The rules that read any of these fields, each named as Group.field, in order of their ids."""
    wanted = frozenset(fields)
    return tuple(rule for rule, read in _table().items() if read & wanted)


def read_by(rule: str) -> tuple[str, ...]:
    """The keys that a rule reads, in the order of the format; none for a rule that is not built in."""
    read = _table().get(rule, frozenset())
    own = [key for key in keys() if key.holds is None]
    return tuple(dict.fromkeys(in_full(path) for key in own for path, field in key.paths.items() if field in read))


@cache
def _table() -> Mapping[str, frozenset[str]]:
    read = json.loads((files(BUILT_IN) / "reads.json").read_text("utf-8"))
    return {rule: frozenset(names) for rule, names in read.items()}
