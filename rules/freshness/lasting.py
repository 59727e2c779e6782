"""How long each kind of record lasts, as `lasting.yaml` says, and which records are asked about at all."""

import pkgutil

from preflint.api import (
    PRECAUTION_OF_ROUTE,
    Context,
    Known,
    Staling,
    Tolerance,
    read_lasting,
    records,
)

_FILE = "lasting.yaml"
_COMPASS = ("interference_run", "heading_check", "compass_rotation")

UNTIL_REPEATED = "Pack unplugged and props removed until the test is repeated, by its own precautions."
LASTING = read_lasting(pkgutil.get_data(__package__, _FILE) or b"", _FILE)
ROWS: tuple[Staling, ...] = tuple(row for lasting in LASTING.values() for row in lasting.rows)


def one(named: str) -> str:
    """With its article; what is several (six positions, rotor speeds, cell voltages) has none."""
    if named.endswith("s"):
        return named
    return f"{'an' if named[0] in 'aeiou' else 'a'} {named}"


def in_days(count: int) -> str:
    """So many days, in words."""
    return f"{count} {'day' if count == 1 else 'days'}"


AGE = {
    kind: Tolerance(
        f"{kind}_age",
        "days",
        float(lasting.good_for_days),
        "lower",
        "common practice, no source",
        f"how old {one(records.named(kind))} may get with nothing done to the aircraft",
        age_of=kind,
    )
    for kind, lasting in LASTING.items()
}


def out_of_question(kind: str, record: records.Dated, on: Context) -> str | None:
    """Why nobody asks about this record today; None where somebody does."""
    if record.date.value.date > on.judged_on:
        return "it is dated after the day judged at"
    if kind in _COMPASS and on.aircraft.relies_on("compass") is False:
        return "the aircraft does not rely on a compass"
    if kind == "barometer_check" and on.aircraft.relies_on("barometer") is False:
        return "the aircraft does not rely on a barometer"
    if kind == "position_check" and on.aircraft.relies_on("satellite") is False:
        return "the aircraft does not rely on position by satellite"
    if LASTING[kind].good_for_days == 0 and on.too_old(kind, record):
        return "it counted on its own day only"
    return None


def care(kind: str, record: records.Dated) -> str:
    """The precaution of taking it again, by the route that it was taken by."""
    route = getattr(record, "route", None)
    if isinstance(route, Known):
        return PRECAUTION_OF_ROUTE[route.value]
    return records.KINDS[kind].mind
