"""What the plots ask of an aircraft that was judged: its figures, its limits, and which record they are of."""

from collections.abc import Iterable
from typing import TypeVar

from preflint.aircraft.dated import Dated
from preflint.aircraft.field import Known
from preflint.findings.inspected import Inspected
from preflint.findings.outcome import Unproven
from preflint.findings.result import Figure
from preflint.load.tables.table import Table
from preflint.render.sheet.plotting.canvas import shown

R = TypeVar("R", bound=Dated)


def value(one: Inspected, quantity: str, case: str | None = None, at: str | None = None) -> Figure | None:
    """The figure of that name, case and position; None where it could not be computed."""
    for item in one.computed:
        if (item.quantity, item.case, item.at) == (quantity, case, at):
            return item
    return None


def limit(one: Inspected, name: str) -> float | None:
    """The default of a limit that some rule asked about declares; None where none does."""
    for result in one.results:
        for tolerance in result.rule.tolerances:
            if tolerance.name == name:
                return tolerance.default
    return None


def called(one: Inspected) -> str:
    """What its line is called: a club may have set another, which the result does not hold."""
    return "limit" if one.policy is None else "usual limit"


def of_figure(records: Iterable[R], figure: Figure | None) -> R | None:
    """The record that a figure was computed from."""
    return next((record for record in records if figure and record.place == figure.place), None)


def latest(records: Iterable[R]) -> R | None:
    """The last one by date, and of one moment the last written."""
    return max(records, key=lambda record: record.date.value.latest, default=None)


def table_of(record: object) -> Table | None:
    """Its readings, where they are recorded."""
    table = getattr(record, "table", None)
    return table.value if isinstance(table, Known) else None


def ending(one: Inspected, record: Dated) -> Unproven | None:
    """The answer that says that work or age ended the record, if any rule gave it."""
    for result in one.results:
        outcome = result.outcome
        if not isinstance(outcome, Unproven) or outcome.cause not in ("stale", "order-open"):
            continue
        if outcome.place == record.date.place:
            return outcome
    return None


def with_ending(one: Inspected, record: Dated, said: str) -> str:
    """What is said of a plot, and what ended the record that it shows."""
    end = ending(one, record)
    return said if end is None else f"{said} But {shown(end.message)}."
