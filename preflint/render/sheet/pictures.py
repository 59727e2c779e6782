"""The pictures on the sheet of one aircraft: its plan, the inverted rig and the way back, its readings."""

from preflint.findings.inspected import Inspected
from preflint.frozen import dataclass
from preflint.render.sheet.drawing import plan_drawing
from preflint.render.sheet.plots import plots
from preflint.render.sheet.rig import rig_drawing


@dataclass(frozen=True, slots=True)
class Picture:
    """An SVG, what it shows in words for who cannot see it, and its heading."""

    title: str
    svg: str
    said: str


def pictures(one: Inspected, with_plots: bool) -> list[Picture]:
    """In the order of the sheet; what is not on record is not drawn. Plots need matplotlib."""
    said = "Seen from above: each disc, the way it spins, its prop, its nut, and the findings at it by number."
    drawn = [Picture("Plan, seen from above", plan_drawing(one), said)]
    if rig := rig_drawing(one):
        drawn.append(
            Picture("The inverted rig, and the way back", rig, "Which prop stands on which motor, and where it goes.")
        )
    if with_plots:
        drawn += [Picture(plot.title, plot.svg, plot.said) for plot in plots(one)]
    return drawn
