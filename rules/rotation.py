"""rotation: does each prop lift where it sits, and does each output drive the rotor it should?"""

from preflint.api import Rule

from . import rotation_apart, rotation_outputs, rotation_props, rotation_rig, rotation_sets, rotation_spin, rotation_yaw

RULES: tuple[Rule, ...] = (
    *rotation_props.RULES,
    *rotation_rig.RULES,
    *rotation_spin.RULES,
    *rotation_outputs.RULES,
    *rotation_sets.RULES,
    *rotation_yaw.RULES,
    *rotation_apart.RULES,
)
FIGURES = ()
