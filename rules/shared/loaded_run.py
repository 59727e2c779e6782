"""How a run under load is asked for: by which routes, and what to mind on each of them."""

from typing import TypeVar

from preflint.api import ANY_LOADED_RUN, PRECAUTION_OF_ROUTE, Known, records

D = TypeVar("D", bound=records.Dated)

_IN_WORDS = {
    "restrained": "tied down in the flight rig (restrained)",
    "inverted-load": "with every prop exchanged and turned over (inverted-load)",
    "hover-log": "from a hover-log",
}
ROUTES = "{restrained}, {inverted-load}, or {hover-log}".format_map(_IN_WORDS)


def again(record: records.Dated | None) -> str:
    """What to mind while a record is taken again: by its own route, or by any where it does not say."""
    route = getattr(record, "route", None)
    return PRECAUTION_OF_ROUTE[route.value] if isinstance(route, Known) else ANY_LOADED_RUN


def loaded(what: str, before: records.Dated | None) -> str:
    """What is to be done, with its load: as for the record before where that says how, else by any route."""
    route = getattr(before, "route", None)
    load = f"load as before: {_IN_WORDS[route.value]}" if isinstance(route, Known) else f"load: {ROUTES}"
    return f"{what}; {load}"


_COMPARE = records.KINDS["current_comparison"].take


def compare_again(record: records.CurrentComparison | None) -> str:
    """The current comparison in words, with the load of the one before where there was one."""
    return loaded(_COMPARE, record)


def only_for(what: str, precaution: str) -> str:
    """Where a remedy asks for a run and for something quieter: which of the two it is that is quieter."""
    return f"For {what}: {precaution[0].lower()}{precaution[1:]}"
