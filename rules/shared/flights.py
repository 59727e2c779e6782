"""When the aircraft flew, and when somebody looked at it after a flight."""

from preflint.api import Aircraft, Known, records


def flights(aircraft: Aircraft) -> list[records.Dated]:
    """All that shows a flight, in no order of dates; of several on one day, an entry of the logbook comes last.

    An entry `flown`, a hover, any record taken from a hover, and a look after a flight.
    """
    flown: list[records.Dated] = list(looks_after_flight(aircraft))
    for kind in aircraft.records.kinds():
        for record in aircraft.records.of_kind(kind):
            route = getattr(record, "route", None)
            if isinstance(record, records.Hover) or (isinstance(route, Known) and route.value == "hover-log"):
                flown.append(record)
    return [*flown, *(entry for entry in aircraft.logbook if entry.kind.value == "flown")]


def looks_after_flight(aircraft: Aircraft) -> list[records.AfterFlightLook]:
    """The looks after a flight; one after a run in ties is none."""
    return [
        look
        for look in aircraft.records.after_flight_look
        if not (isinstance(look.after, Known) and look.after.value == "tied-down")
    ]
