"""How a run under load is asked for: by which routes, and what to mind on each of them."""

from preflint.api import ANY_LOADED_RUN, PRECAUTION_OF_ROUTE, Known, records

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
