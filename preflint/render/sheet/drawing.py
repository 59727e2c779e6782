"""The plan view: the aircraft from above, front up, to scale, with what was found where it is."""

from collections.abc import Mapping

from preflint.aircraft.field import Known
from preflint.findings.inspected import Inspected
from preflint.findings.outcome import NO_GO, Severity
from preflint.render.entries import Entry, found, open_for_flight, where
from preflint.render.fold import fold
from preflint.render.plan import marks as signs
from preflint.render.sheet.labels import LINE, Marks, disc, draw, place, width
from preflint.render.sheet.stations import Stations, stations
from preflint.render.sheet.svg import BLACK, LEAN, WHITE, Pen, Point, drawing, element

_ACROSS = 36  # heights of lettering across all discs, or a little more where they are few


def finding_numbers(one: Inspected) -> dict[int, int]:
    """The number of each finding, by the identity of its result; the full report counts alike."""
    return {id(result): i for i, entry in enumerate(found(one), 1) for result in entry.results}


def plan_drawing(one: Inspected, listed: bool = True) -> str:
    """An ``<svg>`` element, one unit a millimetre. ``listed``: the findings stand below, each by its number.

    Spin is as seen from above; nuts and threads as seen looking at the nut. "" where there is no rotor.
    """
    if not one.aircraft.rotors:
        return ""
    laid = stations(one.aircraft)
    left, top, right, bottom = laid.box
    pen = Pen(max(right - left, bottom - top) / _ACROSS)
    u = pen.u
    marks = marks_of(one)
    labels = place(pen, laid.every, marks, left - 2 * u, right + 2 * u)
    column = width(pen, laid.every) + 0.6 * u
    edges = left - 2 * u - column, right + 2 * u + column
    top = min([top, *(label.top for label in labels)]) - u
    made = [_centre_lines(pen, laid), _front(pen, laid.box[1] - u)]
    for station in sorted(laid.every, key=lambda s: not s.lower):
        mine = marks[station.name]
        made.append(disc(pen, station, mine, mine.worst == NO_GO))
    made += [draw(pen, label) for label in labels]
    made.append(_centre_of_mass(pen, one))
    foot = max([bottom, *(label.top + label.height for label in labels)]) + 2.4 * u
    made.append(_scale(pen, (edges[0] + u, foot), edges[1] - edges[0], laid.why_not_to_scale))
    foot += 2.6 * u
    columns = int((edges[1] - edges[0] - 2 * u) / (LEAN * 0.92 * u))
    for line in [line for said in _notes(one, laid) for line in fold(said, columns)]:
        made.append(pen.text((edges[0] + u, foot), line))
        foot += LINE * u
    foot += 0.4 * u
    for entry in found(one) if listed else ():
        foot += 0.6 * u
        made.append(_listed(pen, one, entry, (edges[0] + u, foot), columns))
        foot += LINE * u * max(len(_words_of(one, entry, columns)), 1.4)
    top = min(top, laid.box[1] - 7 * u)
    box = (edges[0], top, edges[1] - edges[0], foot - top)
    return drawing(box, f"Plan view of {one.about.name.value}", _in_words(one, laid), *made)


def marks_of(one: Inspected) -> dict[str, Marks]:
    """What was found at each rotor, worst first, and whether something that flight needs is open there."""
    numbers = finding_numbers(one)
    severities = {numbers[id(r)]: r.rule.severity for entry in found(one) for r in entry.results}
    asked = {at for entry in open_for_flight(one) for at in entry.at}
    return {at: _marks(mark.numbers, severities, at in asked) for at, mark in signs(one, numbers).items()}


def _marks(numbers: tuple[int, ...], severities: Mapping[int, Severity], is_open: bool) -> Marks:
    worst_first = sorted(numbers, key=lambda n: (-severities[n], n))
    return Marks(tuple((n, severities[n]) for n in worst_first), is_open)


def _centre_lines(pen: Pen, laid: Stations) -> str:
    """From the centre of the rotors to every axis, and a cross where they meet; the frame itself is not recorded."""
    ends = dict.fromkeys(s.at for s in laid.every)
    made = [pen.line([(0.0, 0.0), end], pen.chain, **{"data-part": "centre-line"}) for end in ends if end != (0.0, 0.0)]
    size = 0.7 * pen.u
    cross = ([(-size, 0.0), (size, 0.0)], [(0.0, -size), (0.0, size)])
    return "".join([*made, *(pen.line(list(ends), pen.thick) for ends in cross)])


def _front(pen: Pen, tail: float) -> str:
    """A plain arrow above all discs."""
    tip = 0.0, tail - 4.5 * pen.u
    shaft = pen.line([(0.0, tail), (0.0, tip[1] + pen.u)], pen.thick)
    word = pen.text((0.8 * pen.u, tail - 1.2 * pen.u), "front", bold=True)
    return element("g", {"data-part": "front"}, shaft, pen.arrowhead(tip, (0.0, -1.0)), word)


def centre_of_mass(one: Inspected) -> tuple[float, float] | None:
    """Forward and right of the centre of the rotors in mm, where scales told it."""
    told = {figure.case: figure.value for figure in one.computed if figure.quantity == "centre_of_mass"}
    return (told["forward"], told["right"]) if {"forward", "right"} <= set(told) else None


def _centre_of_mass(pen: Pen, one: Inspected) -> str:
    """A circle in quarters, two of them filled."""
    told = centre_of_mass(one)
    if told is None:
        return ""
    x, y, r = told[1], -told[0], 0.8 * pen.u
    style = {**pen.thin, "fill": WHITE}
    quarters = f"M {x:g} {y:g} h {r:g} A {r:g} {r:g} 0 0 0 {x:g} {y - r:g} Z"
    quarters += f" M {x:g} {y:g} h {-r:g} A {r:g} {r:g} 0 0 0 {x:g} {y + r:g} Z"
    circle = element("circle", {**style, "cx": x, "cy": y, "r": r, "data-part": "centre-of-mass"})
    return circle + element("path", {"d": quarters, "fill": BLACK})


def _scale(pen: Pen, at: Point, wide: float, why_not: str) -> str:
    """A bar of a round length, a half of it filled; where the places are guessed, that in words."""
    if why_not:
        return pen.text((at[0], at[1] + 0.5 * pen.u), f"NOT TO SCALE: {why_not}", bold=True)
    size = 10.0 ** len(str(int(wide)))
    length = next(s * part for s in (size, size / 10, size / 100) for part in (0.5, 0.2, 0.1) if s * part < wide / 4)
    high = 0.6 * pen.u
    bar = element("rect", {**pen.thin, "x": at[0], "y": at[1], "width": length, "height": high, "data-part": "scale"})
    half = element("rect", {"x": at[0], "y": at[1], "width": length / 2, "height": high, "fill": BLACK})
    return bar + half + pen.text((at[0] + length + 0.6 * pen.u, at[1] + high), f"{length:g} mm")


def _notes(one: Inspected, laid: Stations) -> list[str]:
    """How to read the drawing, as far as it is used, and what is not known."""
    said = ["Spin: seen from above. Nut and thread: seen looking at the nut. cw is clockwise."]
    if any(s.lower for s in laid.every):
        inside = ", drawn a little inside" if any(s.shrunk for s in laid.every) else ""
        said.append(f"Dashed, arrows inside: the lower rotor of a pair{inside}.")
    if missing := [s.name for s in laid.every if not s.measured]:
        which = "every rotor" if len(missing) == len(laid.every) else ", ".join(missing)
        said.append(f"Dashed, size guessed: diameter_in is not recorded ({which}).")
    for pair in laid.together:
        said.append(f"{pair[0]} and {pair[1]} are written in one place.")
    told = centre_of_mass(one)
    if told is not None:
        ways = ((told[0], "forward", "back"), (told[1], "right", "left"))
        off = ", ".join(f"{abs(x):.0f} mm {more if x > 0 else less}" for x, more, less in ways if abs(x) >= 0.5)
        said.append(f"Circle in quarters: centre of mass, {f'{off} of' if off else 'at'} the centre of the rotors (+).")
    if any(mark.worst == NO_GO for mark in marks_of(one).values()):
        said.append("Hatched: a no-go concerns this rotor.")
    return said


def _words_of(one: Inspected, entry: Entry, columns: int) -> list[str]:
    word = str(entry.results[0].rule.severity).upper()
    said = "; ".join(f"{where(one, at)}{message}" for message, at in entry.messages.items())
    return fold(f"{word}  {said}", columns - 6)


def _listed(pen: Pen, one: Inspected, entry: Entry, at: Point, columns: int) -> str:
    """The badge of a finding and its words."""
    severity, number = entry.results[0].rule.severity, finding_numbers(one)[id(entry.results[0])]
    made = [pen.badge((at[0] + pen.u, at[1] - 0.35 * pen.u), number, severity)]
    for i, line in enumerate(_words_of(one, entry, columns)):
        made.append(pen.text((at[0] + 2.8 * pen.u, at[1] + i * LINE * pen.u), line))
    return element("g", {"data-part": "listed", "data-number": number}, *made)


def _in_words(one: Inspected, laid: Stations) -> str:
    """The drawing for who cannot see it."""
    numbers = marks_of(one)
    said = ["Seen from above, front up."]
    for station in laid.every:
        spin = station.rotor.spin
        turns = f"spins {spin.value}" if isinstance(spin, Known) else "spin not recorded"
        here = [f"{severity} [{n}]" for n, severity in numbers[station.name].found]
        said.append(f"{station.name} {turns}{', ' + ', '.join(here) if here else ''}.")
    return " ".join(said)
