"""Drawing in SVG, in the lines of an engineering drawing.

Only presentation attributes are used: no style, no script, no reference, no id, so that any number of drawings stand
on one page. What anybody wrote goes through ``text`` and stays text.
Line types by ISO 128-2: thick for outlines, thin for leaders, dashed for what is hidden, chain for centre lines; thick
is twice thin, and thin a tenth of the height of the lettering (ISO 3098). From memory, both.
"""

import math
from collections.abc import Mapping
from xml.sax.saxutils import escape, quoteattr

from preflint.findings.outcome import CAUTION, NO_GO, Severity
from preflint.frozen import dataclass
from preflint.render.escape import printable

BLACK, WHITE = "#000", "#fff"
# 14 CFR 25.1322(e): red for a warning, amber for a caution, neither for an advisory.
_FILLS = {NO_GO: "#c8102e", CAUTION: "#ffb000"}
LEAN = 0.62  # width of a letter over its height, at most on average, in a plain sans-serif

Point = tuple[float, float]
Attributes = Mapping[str, str | float]


def element(tag: str, attributes: Attributes, *inside: str) -> str:
    """``inside`` is SVG already; attributes are escaped here, numbers written to a thousandth."""
    written = "".join(f" {key}={quoteattr(_value(value))}" for key, value in attributes.items())
    return f"<{tag}{written}>{''.join(inside)}</{tag}>" if inside else f"<{tag}{written}/>"


def words(text: str) -> str:
    """Any text as content of an element."""
    return escape(printable(text))


def polar(centre: Point, radius: float, degrees: float) -> Point:
    """The point at so many degrees clockwise from straight up, as seen on the page."""
    angle = math.radians(degrees)
    return centre[0] + radius * math.sin(angle), centre[1] - radius * math.cos(angle)


def drawing(box: tuple[float, float, float, float], title: str, desc: str, *inside: str) -> str:
    """A whole drawing: ``box`` is left, top, width and height; it is white whatever it stands on."""
    left, top, wide, high = box
    ground = element("rect", {"x": left, "y": top, "width": wide, "height": high, "fill": WHITE})
    return element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "role": "img",
            "viewBox": " ".join(map(_value, box)),
            "font-family": "sans-serif",
        },
        element("title", {}, words(title)),
        element("desc", {}, words(desc)),
        ground,
        *inside,
    )


@dataclass(frozen=True, slots=True)
class Pen:
    """``u`` is the height of the lettering; all widths follow from it."""

    u: float

    @property
    def thin(self) -> dict[str, str | float]:
        """For leaders, dimensions and hatching."""
        return {"fill": "none", "stroke": BLACK, "stroke-width": 0.1 * self.u}

    @property
    def thick(self) -> dict[str, str | float]:
        """For outlines."""
        return self.thin | {"stroke-width": 0.2 * self.u}

    @property
    def dashed(self) -> dict[str, str | float]:
        """For what is hidden."""
        return self.thin | {"stroke-dasharray": f"{_value(0.8 * self.u)} {_value(0.4 * self.u)}"}

    @property
    def chain(self) -> dict[str, str | float]:
        """For centre lines."""
        lengths = (1.6, 0.3, 0.1, 0.3)
        return self.thin | {"stroke-dasharray": " ".join(_value(part * self.u) for part in lengths)}

    def text(self, at: Point, said: str, anchor: str = "start", bold: bool = False, fill: str = BLACK) -> str:
        """One line of text on its base line."""
        own: dict[str, str | float] = {"x": at[0], "y": at[1], "font-size": self.u, "fill": fill}
        if anchor != "start":
            own["text-anchor"] = anchor
        if bold:
            own["font-weight"] = "bold"
        return element("text", own, words(said))

    def arrowhead(self, tip: Point, toward: Point) -> str:
        """A slim filled head at ``tip`` that points along ``toward``."""
        size = math.hypot(*toward) or 1.0
        x, y = toward[0] / size, toward[1] / size
        long, half = 1.1 * self.u, 0.3 * self.u
        back = tip[0] - long * x, tip[1] - long * y
        corners = (tip, (back[0] - half * y, back[1] + half * x), (back[0] + half * y, back[1] - half * x))
        return element("path", {"d": _path(corners) + " Z", "fill": BLACK, "data-part": "arrowhead"})

    def spin(self, centre: Point, radius: float, spin: str, start: float, style: Attributes, **own: str) -> str:
        """An arc with a head, a quarter of a circle long, from ``start`` degrees clockwise from up."""
        sign = 1 if spin == "cw" else -1
        begin, end = polar(centre, radius, start), polar(centre, radius, start + 90 * sign)
        d = f"{_path([begin])} A {_value(radius)} {_value(radius)} 0 0 {int(sign > 0)} {_at(end)}"
        along = (end[1] - centre[1]) * -sign, (end[0] - centre[0]) * sign
        overhang = math.hypot(*along)
        tip = end[0] + along[0] / overhang * self.u * 0.8, end[1] + along[1] / overhang * self.u * 0.8
        arc = element("path", {**style, "d": d, "data-part": "spin", **own})
        return arc + self.arrowhead(tip, along)

    def hatch(self, centre: Point, radius: float) -> str:
        """Thin lines at 45 degrees over a disc."""
        step, lines, off = 1.3 * self.u, list[str](), -radius
        while (off := off + step) < radius:
            half = math.sqrt(radius**2 - off**2)
            a = math.sqrt(0.5)
            ends = [(centre[0] + a * (off + s * half), centre[1] + a * (off - s * half)) for s in (-1, 1)]
            lines.append(_path(ends))
        return element("path", {**self.thin, "stroke": _FILLS[NO_GO], "d": " ".join(lines), "data-part": "hatch"})

    def badge(self, at: Point, number: int, severity: Severity) -> str:
        """A number in its shape: an octagon for a no-go, a triangle for a caution, a circle for an advisory."""
        r, style = self.u, {**self.thin, "fill": _FILLS.get(severity, WHITE)}
        if severity == NO_GO:
            corners = [polar(at, r, 22.5 + 45 * i) for i in range(8)]
            shape = element("path", {**style, "d": _path(corners) + " Z"})
        elif severity == CAUTION:
            corners = [polar((at[0], at[1] + 0.15 * r), 1.35 * r, 120 * i) for i in range(3)]
            shape = element("path", {**style, "d": _path(corners) + " Z"})
        else:
            shape = element("circle", {**style, "cx": at[0], "cy": at[1], "r": r})
        small = Pen(self.u * (0.9 if number < 10 else 0.75))
        base = at[0], at[1] + 0.38 * small.u + (0.2 * r if severity == CAUTION else 0)
        inside = small.text(base, str(number), "middle", True, WHITE if severity == NO_GO else BLACK)
        own: dict[str, str | float] = {"data-part": "badge", "data-severity": str(severity), "data-number": number}
        return element("g", own, shape, inside)

    def line(self, ends: list[Point], style: Attributes, **own: str) -> str:
        """A line through some points."""
        return element("path", {**style, "d": _path(ends), **own})


def colour(severity: Severity | None) -> str:
    """Of a leader line to what was found; black where the severity has no colour of its own."""
    return _FILLS.get(severity, BLACK) if severity is not None else BLACK


def _path(points: "list[Point] | tuple[Point, ...]") -> str:
    first, *others = points
    return " ".join([f"M {_at(first)}", *(f"L {_at(point)}" for point in others)])


def _at(point: Point) -> str:
    return f"{_value(point[0])} {_value(point[1])}"


def _value(value: str | float) -> str:
    if isinstance(value, str):
        return value
    return f"{round(value, 3) + 0:g}" if abs(value) < 1000 else f"{round(value, 2) + 0:.10g}"
