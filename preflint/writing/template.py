"""The lines of a record or of a logbook entry, ready to paste, with all that the manifest tells filled in."""

from collections.abc import Iterable, Mapping

from preflint.writing.asked import LOG
from preflint.writing.entry import Value, entries
from preflint.writing.facts import Facts
from preflint.writing.yaml_text import entry_lines


def template(
    kind: str, facts: Facts, answers: Mapping[str, Value] | None = None, left_out: Iterable[str] = ()
) -> tuple[str, ...]:
    """Lines to stand below ``records:``, the kind's key first, each without its line end.

    ``answers`` and what is ``left_out`` by their dotted names, as questions ask for them.

    What a person must choose or read is blank (``cw|ccw``, ``___``) and not legal as it is. Where it is a look at
    every rotor there is an entry for each. Raises KeyError for a kind that is none.
    """
    lines = [line for entry in entries(kind, facts, answers or {}, left_out) for line in entry_lines(entry, "    ")]
    return (f"  {kind}:", *lines)


def log_template(
    facts: Facts, *, kind: str | None = None, part: str | None = None, at: str | None = None
) -> tuple[str, ...]:
    """Lines to stand below ``logbook:``, with what is given filled in."""
    given = {name: value for name, value in {"kind": kind, "part": part, "at": at}.items() if value is not None}
    return tuple(line for entry in entries(LOG, facts, given) for line in entry_lines(entry, "  "))
