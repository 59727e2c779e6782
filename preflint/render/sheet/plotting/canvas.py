"""A plot of half the width of a page, drawn and turned into an inline SVG that is the same to the byte each time."""

import io
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any
from xml.etree import ElementTree

from preflint.frozen import dataclass
from preflint.render.escape import printable

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
_SVG = "http://www.w3.org/2000/svg"
_WIDTH_IN = 3.54  # 90 mm: half of what is printable on A4
_PAD_IN = 0.1  # room for labels that grow once the axes are laid out
_STYLE: Mapping[Any, Any] = {
    "svg.hashsalt": "preflint",
    "svg.fonttype": "none",
    "text.parse_math": False,  # what people write may hold a dollar sign
    "text.usetex": False,
    "axes.formatter.use_mathtext": False,
    "axes.unicode_minus": True,
    "font.family": "sans-serif",
    "font.sans-serif": ["DejaVu Sans", "Arial"],
    "font.size": 8,
    "axes.labelsize": 8,
    "xtick.labelsize": 7,
    "ytick.labelsize": 7,
    "legend.fontsize": 6.5,
    "legend.frameon": False,
    "axes.linewidth": 0.6,
    "lines.linewidth": 1.0,
    "lines.markersize": 4,
    "hatch.linewidth": 0.5,
    "axes.spines.top": False,
    "axes.spines.right": False,
}


@dataclass(frozen=True, slots=True)
class Plot:
    """``svg`` is a whole ``<svg>`` element to be set into a page as it is; ``said`` tells the same in words.

    ``title`` and ``said`` are plain text, on one line each, and not yet escaped for the page.
    """

    title: str
    svg: str
    said: str


@contextmanager
def style() -> Iterator[None]:
    """The look of all plots, whatever is set on the machine; the drawing and its turning into SVG happen inside."""
    from matplotlib import rc_context, rcdefaults, rcParams

    with rc_context():
        rcdefaults()
        rcParams.update(_STYLE)
        yield


def figure(height_in: float) -> "Figure":
    """An empty figure of half the width of a page."""
    from matplotlib.figure import Figure
    from matplotlib.layout_engine import ConstrainedLayoutEngine

    return Figure(figsize=(_WIDTH_IN, height_in), layout=ConstrainedLayoutEngine(w_pad=_PAD_IN, h_pad=_PAD_IN))


def axes(drawn: "Figure", x: str, y: str) -> "Axes":
    """The only axes of a figure, labelled with quantity and unit."""
    found = drawn.add_subplot()
    found.set_xlabel(x)
    found.set_ylabel(y)
    return found


def shown(text: object) -> str:
    """What a file says, on one line, without letters that show nothing."""
    return printable(str(text))


def inline(drawn: "Figure", key: str, said: str) -> str:
    """The figure as an ``<svg>`` element; ``key`` keeps its ids apart from those of other plots of the page.

    Without what concerns a whole document: heading, metadata, comments, and the style sheet, which would hold for the
    page around it.
    """
    buffer = io.BytesIO()
    nothing = {"Date": None, "Creator": None, "Format": None, "Type": None}
    drawn.savefig(buffer, format="svg", metadata=nothing)
    root = ElementTree.fromstring(buffer.getvalue())
    for parent in root.iter():
        for child in list(parent):
            if child.tag.endswith(("}metadata", "}style")):
                parent.remove(child)
    for element in root.iter():
        element.tag = element.tag.removeprefix(f"{{{_SVG}}}")
        element.attrib = {
            name.rpartition("}")[2]: _renamed(name.rpartition("}")[2], value, key)
            for name, value in element.attrib.items()
        }
    root.attrib |= {
        "xmlns": _SVG,
        "role": "img",
        "aria-label": said,
        "style": "stroke-linejoin: round; stroke-linecap: butt",
    }
    return ElementTree.tostring(root, encoding="unicode")


def _renamed(name: str, value: str, key: str) -> str:
    """The value of an attribute with the ids in it set apart."""
    if name == "id":
        return f"{key}-{value}"
    if name == "href":
        return f"#{key}-{value.removeprefix('#')}"
    return re.sub(r"url\(#([^)]*)\)", rf"url(#{key}-\1)", value)
