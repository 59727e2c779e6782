"""What is said beside each disc: in one column on either side, so that no words lie on a disc or on each other."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Literal

from preflint.aircraft.field import Known
from preflint.aircraft.model import nut_points
from preflint.aircraft.rotor import Rotor
from preflint.compute.handedness import thread_from_tightens
from preflint.findings.outcome import Severity
from preflint.frozen import dataclass
from preflint.render.fold import columns
from preflint.render.sheet.stations import MM_PER_IN, Station
from preflint.render.sheet.svg import LEAN, Pen, Point, colour, element, polar

Side = Literal["left", "right"]
LINE = 1.35  # from base line to base line, over the height of the lettering
_BADGE_ROW = 2.7
_GAP = 1.4
_ELBOW = 1.2


@dataclass(frozen=True, slots=True)
class Marks:
    """What was found at a rotor, worst first: numbers with their severity; ``open``: flight needs what is not shown."""

    found: tuple[tuple[int, Severity], ...] = ()
    open: bool = False

    @property
    def worst(self) -> Severity | None:
        """Of what was found."""
        return max((severity for _, severity in self.found), default=None)


@dataclass(frozen=True, slots=True)
class Label:
    """One rotor's words at their place: ``edge`` is the side toward the discs, ``top`` its upper end."""

    station: Station
    side: Side
    marks: Marks
    edge: float
    top: float
    height: float


def lines(station: Station) -> list[str]:
    """Its name, and what is recorded of spin, prop, nut and disc."""
    return [station.name, *_said(station)]


def _said(station: Station) -> Iterator[str]:
    rotor = station.rotor
    spin, hand, face = rotor.spin, rotor.prop.hand, rotor.prop.face
    yield f"spin {spin.value}" if isinstance(spin, Known) else "spin not recorded"
    yield (f"prop {hand.value}" if isinstance(hand, Known) else "prop hand ?") + (
        f", domed side {face.value}" if isinstance(face, Known) else ", domed side ?"
    )
    yield from _held(rotor)
    diameter = rotor.prop.diameter_in
    if isinstance(diameter, Known):
        yield f"disc {diameter.value * MM_PER_IN:.0f} mm across"
    else:
        yield "diameter not recorded"
    if isinstance(rotor.ducted, Known) and rotor.ducted.value:
        yield "in a duct"


def _held(rotor: Rotor) -> Iterator[str]:
    """The thread as seen looking at the nut; what holds the prop where there is no thread."""
    fixing = rotor.fixing
    tightens, thread = fixing.nut_tightens, fixing.thread_hand
    if isinstance(fixing.kind, Known) and fixing.kind.value in ("screws", "clip", "set-screw"):
        yield f"held by {fixing.kind.value}"
        return
    points = nut_points(rotor).value
    yield f"nut {points}, tightens {tightens.value}" if isinstance(tightens, Known) else f"nut {points}, tightens ?"
    if isinstance(thread, Known):
        yield f"thread {thread.value}-hand"
    elif isinstance(tightens, Known):
        yield f"thread {thread_from_tightens(tightens.value)}-hand"
    else:
        yield "thread hand not recorded"


def place(
    pen: Pen, every: Sequence[Station], marks: Mapping[str, Marks], left: float, right: float
) -> tuple[Label, ...]:
    """The labels in two columns whose inner edges are ``left`` and ``right``, each as near to its disc as may be."""
    sides: dict[Side, list[Station]] = {"left": [], "right": []}
    middle = [s for s in every if abs(s.at[0]) < 1.0]
    for station in every:
        if station not in middle:
            sides["left" if station.at[0] < 0 else "right"].append(station)
    for axis in dict.fromkeys(round(s.at[1] / 10) for s in middle):
        on_it = [s for s in middle if round(s.at[1] / 10) == axis]
        sides["left" if len(sides["left"]) <= len(sides["right"]) else "right"].extend(on_it)
    edges: dict[Side, float] = {"left": left, "right": right}
    return tuple(
        label
        for side, edge in edges.items()
        for label in _column(pen, sorted(sides[side], key=lambda s: (s.at[1], s.lower)), marks, side, edge)
    )


def _column(
    pen: Pen, every: Sequence[Station], marks: Mapping[str, Marks], side: Side, edge: float
) -> Iterator[Label]:
    """Pushed down until none touches another, then all moved so that they are no lower than their discs on average."""
    placed, bottom = list[tuple[float, float]](), float("-inf")
    for station in every:
        mine = marks[station.name]
        rows = len({severity for _, severity in mine.found})
        high = (LINE * (len(lines(station)) + mine.open) + _BADGE_ROW * rows) * pen.u
        top = max(station.at[1] - high / 2, bottom + _GAP * pen.u)
        placed.append((top, high))
        bottom = top + high
    off = sum(top + high / 2 - s.at[1] for s, (top, high) in zip(every, placed, strict=True)) / max(len(every), 1)
    for station, (top, high) in zip(every, placed, strict=True):
        yield Label(station, side, marks[station.name], edge, top - off, high)


def width(pen: Pen, labels: Sequence[Station]) -> float:
    """Of the widest line, bold names counted wider."""
    longest = max((columns(line) + (i == 0) for s in labels for i, line in enumerate(lines(s))), default=0)
    return max(longest, 22) * LEAN * pen.u


def draw(pen: Pen, label: Label) -> str:
    """The words, the numbers of what was found, and the line that leads from them to the disc."""
    sign = -1 if label.side == "left" else 1
    anchor = "end" if sign < 0 else "start"
    x, y = label.edge + sign * 0.6 * pen.u, label.top + pen.u
    said, made = lines(label.station), list[str]()
    for i, line in enumerate(said):
        made.append(pen.text((x, y), line, anchor, bold=i == 0))
        y += LINE * pen.u
    if label.marks.open:
        made.append(pen.text((x, y), "? not all proven", anchor))
        y += LINE * pen.u
    for severity in sorted({severity for _, severity in label.marks.found}, reverse=True):
        numbers = [number for number, its in label.marks.found if its is severity][::sign]  # read from the left
        y += 0.6 * pen.u
        for i, number in enumerate(numbers):
            made.append(pen.badge((x + sign * (1 + 2.6 * i) * pen.u, y), number, severity))
        after = x + sign * (2.6 * len(numbers) + 0.2) * pen.u
        made.append(pen.text((after, y + 0.35 * pen.u), str(severity).upper(), anchor, True))
        y += (_BADGE_ROW - 0.6) * pen.u
    return element("g", {"data-part": "label", "data-rotor": label.station.name}, _leader(pen, label, sign), *made)


def _leader(pen: Pen, label: Label, sign: int) -> str:
    """From the name to a dot in the disc: near its rim for a rotor that is seen, near the hub for a lower one."""
    start = label.edge, label.top + 0.7 * pen.u
    elbow = label.edge - sign * _ELBOW * pen.u, start[1]
    station = label.station
    end = _dot(station, elbow)
    worst = label.marks.worst
    style = {**(pen.thick if worst else pen.thin), "stroke": colour(worst)}
    dot = {"cx": end[0], "cy": end[1], "r": 0.3 * pen.u, "fill": style["stroke"]}
    line = pen.line([start, elbow, end], style, **{"data-part": "leader", "data-rotor": station.name})
    return line + element("circle", dot)


def _dot(station: Station, seen_from: Point) -> Point:
    across, down = seen_from[0] - station.at[0], seen_from[1] - station.at[1]
    size = (across**2 + down**2) ** 0.5 or 1.0
    part = (0.3 if station.lower else 0.9) * station.radius / size
    return station.at[0] + part * across, station.at[1] + part * down


def spins(station: Station) -> tuple[float, tuple[float, ...]]:
    """The radius of the arrows of its spin, and where they start, in degrees from up: a lower one's are inside."""
    return (0.5, (90.0, 270.0)) if station.lower else (0.72, (0.0, 180.0))


def disc(pen: Pen, station: Station, marks: Marks, grounded: bool) -> str:
    """The disc to scale, its axis, and two arrows the way it spins, seen from above."""
    cross, at, r = 0.9 * pen.u, station.at, station.radius
    style = pen.dashed if station.lower or not station.measured else pen.thick
    kind = "lower" if station.lower else "upper"
    own = {"data-part": "disc", "data-rotor": station.name, "data-level": kind, "data-found": str(marks.worst or "")}
    made = [pen.hatch(at, r)] if grounded else []
    made.append(element("circle", {**style, **own, "cx": at[0], "cy": at[1], "r": r}))
    for ends in ([(at[0] - cross, at[1]), (at[0] + cross, at[1])], [(at[0], at[1] - cross), (at[0], at[1] + cross)]):
        made.append(pen.line(list(ends), pen.thin))
    part, starts = spins(station)
    if isinstance(station.rotor.spin, Known):
        arc = pen.dashed if station.lower else pen.thick
        for start in starts:
            made.append(pen.spin(at, part * r, station.rotor.spin.value, start, arc, **{"data-rotor": station.name}))
    else:
        made.append(pen.text(polar((at[0], at[1] + 0.35 * pen.u), part * r, starts[0]), "?", "middle", True))
    return "".join(made)
