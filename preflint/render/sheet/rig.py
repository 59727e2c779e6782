"""The inverted-load rig and the way back from it: which prop goes where, and which way up."""

import math
from collections.abc import Mapping, Sequence

from preflint.aircraft.field import Known
from preflint.findings.inspected import Inspected
from preflint.precautions import RIG_CHANGE
from preflint.render.fold import fold
from preflint.render.sheet.exchange import exchange, inverted_records, stands_inverted
from preflint.render.sheet.stations import Station, Stations, stations
from preflint.render.sheet.svg import LEAN, Pen, Point, drawing, element

_ACROSS = 24  # heights of lettering across the discs of one view
_LINE = 1.35
_SHOWN = 3  # records named


def rig_drawing(one: Inspected) -> str:
    """An ``<svg>`` element of two views from above, for the load and back; "" where nothing tells of that rig.

    That is a record taken in it, a rig check that saw it, or props that are written as standing in it. Where spins
    are unknown, or not half cw and half ccw, no prop has another motor to go to, and the drawing says that alone.
    """
    aircraft = one.aircraft
    if not aircraft.rotors or not (any(inverted_records(aircraft)) or stands_inverted(aircraft)):
        return ""
    laid = stations(aircraft)
    left, top, right, bottom = laid.box
    pen = Pen(max(right - left, bottom - top) / _ACROSS)
    u, moves = pen.u, exchange(laid.every)
    home = {to: start for start, to in moves.items()}
    wide = right - left + 6 * u
    # Who stands in it already must not change the props a second time.
    there = [] if stands_inverted(aircraft) else [("For the load: domed side DOWN", moves)]
    views = [*there, ("The way back: domed side UP", home)] if moves else []
    made = [_view(pen, laid, title, goes, i * wide) for i, (title, goes) in enumerate(views)]
    edge, across, ceiling = left - 2 * u, 2 * wide - 2 * u, top - 8 * u
    # Words stand beside a view that is alone, else below.
    x, y = {1: (edge + wide, top), 2: (edge + u, bottom + 3 * u)}.get(len(views), (edge + u, ceiling + 2 * u))
    columns = int((edge + across - x - u) / (LEAN * 0.92 * u))
    said = [line for text in _notes(one, laid, moves) for line in fold(text, columns)]
    made += [pen.text((x, y + i * _LINE * u), line) for i, line in enumerate(said)]
    low = max(y + len(said) * _LINE * u, bottom + u if views else y)
    box = (edge, ceiling, across, low - ceiling)
    title = f"Inverted-load rig of {aircraft.about.name.value}, and the way back"
    return drawing(box, title, _in_words(views), *made)


def _view(pen: Pen, laid: Stations, title: str, goes: Mapping[str, str], off: float) -> str:
    """Every disc with its name, and an arrow from each place of a prop to its next."""
    left, top, right, _ = laid.box
    u, at = pen.u, {s.name: (s.at[0] + off, s.at[1]) for s in laid.every}
    made = [pen.text((left + off, top - 6 * u), title, bold=True)]
    tail = (left + right) / 2 + off, top - u
    made.append(pen.line([tail, (tail[0], tail[1] - 2.4 * u)], pen.thin))
    made.append(pen.arrowhead((tail[0], tail[1] - 3.4 * u), (0.0, -1.0)))
    made.append(pen.text((tail[0] + 0.8 * u, tail[1] - 0.6 * u), "front"))
    for station in laid.every:
        made.append(_disc(pen, station, at[station.name]))
    radius = {s.name: s.radius for s in laid.every}
    for start, to in goes.items():
        if math.dist(at[start], at[to]) > radius[start]:
            made.append(_move(pen, at[start], at[to], (off, 0.0), start, to))
    for start, to in goes.items():
        if math.dist(at[start], at[to]) <= radius[start] and not _is_lower(laid, start):
            made.append(_swap(pen, at[start], start, to))
    return element("g", {"data-part": "view"}, *made)


def _disc(pen: Pen, station: Station, at: Point) -> str:
    style = pen.dashed if station.lower or not station.measured else pen.thin
    own = {"data-part": "disc", "data-rotor": station.name}
    circle = element("circle", {**style, **own, "cx": at[0], "cy": at[1], "r": station.radius})
    spin = station.rotor.spin
    turns = f"motor {spin.value}" if isinstance(spin, Known) else "motor ?"
    y = at[1] + (2.3 if station.lower else -1.7) * pen.u
    small = Pen(min(0.85 * pen.u, 1.75 * station.radius / (LEAN * (len(station.name) + 1))))
    name = small.text((at[0], y), station.name, "middle", bold=True)
    return circle + name + small.text((at[0], y + 1.2 * small.u), turns, "middle")


def _move(pen: Pen, start: Point, to: Point, centre: Point, home: str, there: str) -> str:
    """A bow from disc to disc on the side away from the centre, clear of the names."""
    across, down = to[0] - start[0], to[1] - start[1]
    size = math.hypot(across, down)
    x, y = across / size, down / size
    outward = (start[0] - centre[0]) * y - (start[1] - centre[1]) * x
    out = math.copysign(2.6 * pen.u, outward)
    begin = start[0] + 0.18 * across + y * out, start[1] + 0.18 * down - x * out
    end = to[0] - 0.18 * across + y * out, to[1] - 0.18 * down - x * out
    bend = (begin[0] + end[0]) / 2 + y * out, (begin[1] + end[1]) / 2 - x * out
    along = end[0] - bend[0], end[1] - bend[1]
    reach = math.hypot(*along) or 1.0
    stop = end[0] - along[0] / reach * pen.u, end[1] - along[1] / reach * pen.u
    d = f"M {begin[0]:.2f} {begin[1]:.2f} Q {bend[0]:.2f} {bend[1]:.2f} {stop[0]:.2f} {stop[1]:.2f}"
    bow = element("path", {**pen.thick, "d": d, "data-part": "move", "data-from": home, "data-to": there})
    return bow + pen.arrowhead(end, along)


def _swap(pen: Pen, at: Point, upper: str, lower: str) -> str:
    """Two arrows, one down and one up, between the names of an arm's rotors."""
    made, u = list[str](), pen.u
    for x, sign, home, there in ((-0.8 * u, 1, upper, lower), (0.8 * u, -1, lower, upper)):
        tip = at[0] + x, at[1] + 0.5 * u + sign * 0.9 * u
        tail = at[0] + x, tip[1] - sign * 1.9 * u
        made.append(pen.line([tail, tip], pen.thick, **{"data-part": "move", "data-from": home, "data-to": there}))
        made.append(pen.arrowhead((tip[0], tip[1] + sign * 0.3 * u), (0.0, float(sign))))
    return "".join(made)


def _is_lower(laid: Stations, position: str) -> bool:
    return any(s.lower for s in laid.every if s.name == position)


def _notes(one: Inspected, laid: Stations, moves: Mapping[str, str]) -> list[str]:
    """What to mind first; then why no exchange is shown, or each move; then what is on record."""
    said = [" ".join(RIG_CHANGE.sentences), "One missed prop turns it over: check every prop, both ways."]
    if not moves:
        unknown = [s.name for s in laid.every if not isinstance(s.rotor.spin, Known)]
        why = f"spin is not recorded at {', '.join(unknown)}" if unknown else "cw and ccw motors are not equally many"
        said.append(f"No exchange is drawn: {why}.")
    said.append("Back in the flight rig: every prop on a motor of its own hand, domed side up.")
    if stands_inverted(one.aircraft):
        said.append("As written under rotors, every prop stands in the inverted rig NOW: go the way back.")
    if unfit := [s.name for s in laid.every if _cannot(s)]:
        said.append(f"Cannot be turned over, by hub or fixing: {', '.join(unfit)}.")
    sizes = {s.rotor.prop.diameter_in.value for s in laid.every if isinstance(s.rotor.prop.diameter_in, Known)}
    if len(sizes) > 1:
        said.append("The props are of unlike size: exchanged, their motors draw another current than in flight.")
    records = [f"{kind} of {record.date.value}" for kind, record in inverted_records(one.aircraft)]
    if records:
        more = f" and {len(records) - _SHOWN} more" if len(records) > _SHOWN else ""
        said.append(f"On record in it: {', '.join(records[:_SHOWN])}{more}.")
    return said


def _cannot(station: Station) -> bool:
    hub, kind = station.rotor.prop.hub, station.rotor.fixing.kind
    return (isinstance(hub, Known) and hub.value != "plain") or (
        isinstance(kind, Known) and kind.value in ("clip", "threaded-hub")
    )


def _in_words(views: Sequence[tuple[str, Mapping[str, str]]]) -> str:
    """The views for who cannot see them."""
    said = [f"{title}: {', '.join(f'{start} to {to}' for start, to in goes.items())}." for title, goes in views]
    return " ".join(said) or "No exchange is drawn."
