"""Does the compass say where the nose points?"""

from .compass_budget import total_deviation, total_deviation_aim
from .compass_hard_iron import hard_iron
from .compass_heading import heading_check
from .compass_rotation import rotation_figures
from .compass_soft_iron import soft_iron
from .compass_strength import field_strength
from .compass_total import total_figures

RULES = (heading_check, field_strength, hard_iron, soft_iron, total_deviation, total_deviation_aim)
FIGURES = (rotation_figures, total_figures)
