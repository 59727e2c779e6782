"""Faults of ratings and clearance to seed, and near misses of theirs: changes after which an aircraft stays as it was.

The limits stand beside each: a cell is 4.20 V when full, an inch 25.4 mm; the aircraft draw 14 A or 17 A a motor.
"""

from making.seeded import Fault, swap

FAULTS = [
    # 4 · 4.20 V and 6 · 4.20 V on 3 · 4.20 V.
    Fault("controllers for a cell too few", "power_train/over-voltage",
          swap(r"max_cells: 6", "max_cells: 3", "fewer cells", mark="cells: ")),
    Fault("capacitor below the full pack", "power_train/over-voltage",
          swap(r"max_cells: 6", "max_cells: 6, capacitor_v: 10", "", mark="cells: ")),
    Fault("regulator for less than the full pack", "power_train/over-voltage",
          swap(r"most_v: 30", "most_v: 14", "", mark="cells: ")),
    # 16.80 V and 25.20 V are 3 % above these.
    Fault("four-cell pack a little above its controllers", "power_train/voltage-headroom",
          swap(r"max_cells: 6(?=[\s\S]*cells: 4,)", "max_cells: 6, max_v: 16.3", "", mark="cells: ")),
    Fault("controllers for half of full throttle", "power_train/controller",
          swap(r"continuous_a: (40|30)", "continuous_a: 8", "", "first", "continuous_a: 8,")),
    Fault("controllers that live on their short rating", "power_train/controller-short",
          swap(r"continuous_a: (40|30)", "continuous_a: 10, short_a: 30, short_s: 6", "6 s", "first", "short_s: 6")),
    # Hover takes 2.6 to 3.9 A a motor.
    Fault("controllers that hover takes all of", "power_train/controller-steady",
          swap(r"continuous_a: (40|30)", "continuous_a: 2.5", "", "first", "continuous_a: 2.5,")),
    Fault("plug for less than the hover", "power_train/plug",
          swap(r"connector_continuous_a: \d+", "connector_continuous_a: 8", "higher", mark="continuous_a: 8}")),
    Fault("plug for less than full throttle", "power_train/plug-full",
          swap(r"connector_continuous_a: \d+", "connector_continuous_a: 48", "", mark="connector_continuous_a: 48}")),
    Fault("lead of bell wire", "power_train/lead-heat", swap(r"gauge_awg: 1\d", "gauge_awg: 28", "thicker")),
    Fault("lead for half a climb", "power_train/lead-short", swap(r"gauge_awg: 1\d", "gauge_awg: 22", "thicker")),
    Fault("pack for a smaller aircraft", "power_train/pack-rating",
          swap(r"rated_c: 25", "rated_c: 3", "", mark="rated_c: 3,")),
    Fault("fuse for less than the hover", "power_train/fuse-opens",
          swap(r"connector_continuous_a: (\d+)", r"connector_continuous_a: \1, fuse_a: 7.5", "")),
    Fault("fuse that outlives its lead", "power_train/fuse",
          swap(r"connector_continuous_a: (\d+)", r"connector_continuous_a: \1, fuse_a: 250", "")),
    Fault("regulator overloaded", "power_train/regulator-rating",
          swap(r"load_a: 1\.4", "load_a: 5.5", "", mark="regulator: ")),
    Fault("regulator that needs a full pack", "power_train/regulator-rating",
          swap(r"least_v: 6\.5", "least_v: 22", "", mark="regulator: ")),
    Fault("regulator without room", "power_train/regulator-margin",
          swap(r"load_a: 1\.4", "load_a: 4.5", "", mark="regulator: ")),
    # 12 in are 305 mm; at 150 mm neighbours of a hexa are 150 mm apart, of a quad 212 mm, of a Y 260 mm.
    Fault("arms shorter than its props", "clearance/discs",
          swap(r"arm_mm: \d+", "arm_mm: 150", "longer arms", mark="")),
    Fault("two rotors 80 mm apart", "clearance/discs",
          swap(r"place_mm: \[180, -240, 0\]", "place_mm: [-100, -240, 0]", "", mark="")),
    Fault("blades that touch a leg", "clearance/tips", swap(r"tip_gap_mm: \d+", "tip_gap_mm: 0", "", "first")),
    Fault("blades a millimetre from a strap", "clearance/tips",
          swap(r"tip_gap_mm: \d+", "tip_gap_mm: 1", "", "first")),
    # Below its arm a 12 in prop bends by up to 7.6 mm toward it.
    Fault("lower blades near their arm", "clearance/coning",
          swap(r"tip_gap_mm: \d+([\s\S]*-lower)", r"tip_gap_mm: 5\1", "", mark="tip_gap_mm: 5")),
]

# Pattern, what stands there instead, and why that is no fault.
NEAR_MISSES = [
    (r"max_cells: 6", "max_cells: 6, max_v: 25.2", "as much as the pack has when full"),
    (r"max_cells: 6", "max_cells: 6, capacitor_v: 35", "rated above the pack"),
    (r"most_v: 30", "most_v: 25.2", "as much as a pack of six has when full"),
    (r"continuous_a: (40|30)", "continuous_a: 20", "17 A and 11 % are below 20 A"),
    (r"continuous_a: (40|30)", "continuous_a: 15.2, short_a: 30, short_s: 10", "17 A with its doubt may be 15.1 A"),
    (r"connector_continuous_a: \d+", "connector_continuous_a: 160", "above 136 A and 11 %"),
    (r"gauge_awg: 1[02]", "gauge_awg: 8", "thicker"),
    (r"insulation_c: 200", "insulation_c: 180", "bears the hover and ten seconds of full throttle"),
    (r"rated_c: 25", "rated_c: 20", "still above full throttle"),
    (r"connector_continuous_a: (\d+)", r"connector_continuous_a: \1, fuse_a: 100", "holds full throttle for a minute"),
    (r"load_a: 1\.4", "load_a: 4.0", "80 % of 5 A"),
    (r"least_v: 6\.5", "least_v: 12", "an empty pack of four cells has as much"),
    (r"arm_mm: (2|3)\d\d", "arm_mm: 345", "further than any 12 in prop on six arms is wide"),
    (r"place_mm: \[180, -240, 0\]", "place_mm: [150, -240, 0]", "330 mm apart, 305 mm across"),
    (r"tip_gap_mm: \d+", "tip_gap_mm: 9", "above a hundredth of 13 in, and what lower blades bend"),
]
