"""A manifest where and when it is flown: the field day's site, and the weather of the day in place of the site's."""

import datetime as dt
from collections.abc import Mapping, Sequence

from preflint.aircraft.moment import Moment
from preflint.check.complaint import child, entries, items
from preflint.load.node import Node

_PRESSURES = ("station_pressure_hpa", "sea_level_pressure_hpa")
# What every topic reads of the site: the density of the air hangs on it.
_WEATHER = ("temperature_c", "relative_humidity_percent", *_PRESSURES)


def flown_at(document: Node, site: Node | None, days: Sequence[Node], judged_on: dt.date) -> Node:
    """The checked ``document`` with its site as it is on the day that it is judged for.

    ``site``: that of the club's field day, in place of the manifest's; None where the manifest's own stands.
    ``days``: the weather that the club wrote down, a day each; of one day it goes before the manifest's own. The
    temperature, humidity and pressure of the day judged for take the place of the site's, one by one.
    """
    given = site or child(document, "site")
    every = [*days, *items(child(given, "days"))]
    if not every:
        return document if site is None else _with(document, "site", site)
    known = {_date(day): day for day in reversed(every)}
    return _with(document, "site", _on(known, judged_on, given, every))


def _on(known: Mapping[dt.date, Node], judged_on: dt.date, given: Node | None, every: Sequence[Node]) -> Node:
    """The site with all days, and with the weather of the one judged for."""
    site = given or Node({}, every[0].place)
    days = sorted(known)
    site = _with(site, "days", Node(tuple(known[day] for day in days), every[0].place))
    weather = {name: node for name, node in entries(known.get(judged_on)) if name in _WEATHER}
    if not weather:
        return site
    # Of two pressures one counts, and a day has one at most.
    gone = _PRESSURES if any(name in weather for name in _PRESSURES) else ()
    return site.holding({name: node for name, node in entries(site) if name not in gone} | weather)


def _date(day: Node) -> dt.date:
    date = child(day, "date")
    assert date is not None  # the schema requires it
    return Moment.parse(str(date.value)).date


def _with(mapping: Node, name: str, node: Node) -> Node:
    assert isinstance(mapping.value, Mapping)
    return mapping.holding({**mapping.value, name: node})
