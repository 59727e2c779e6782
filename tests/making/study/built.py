"""Faults of what is built: rotors, props and what holds them, which way things turn, ratings, weight, clearance."""

import math

from making.study.fault import OTHER, Case, Document, Fault, Put, need, pack, setting, times

_NUTS = ("nut", "collet", "threaded-hub")


def fixing(key: str, value: object, *kinds: str) -> Put:
    """One entry of the fixing of some rotor, where it is of these kinds."""

    def put(case: Case) -> str:
        kind = case.document["every_rotor"]["fixing"]["kind"]
        need(not kinds or kind in kinds)
        rotor = case.one()
        case.own(rotor, "fixing")[key] = value
        return str(rotor["at"])

    return put


def of_rotor(group: str, key: str, factor: float) -> Put:
    """One number of a part of some rotor is so many times that of the others."""

    def put(case: Case) -> str:
        shared = case.section("every_rotor", group)
        need(key in shared)
        rotor = case.one()
        case.own(rotor, group)[key] = float(f"{shared[key] * factor:.4g}")
        return str(rotor["at"])

    return put


def wrong_nut(case: Case) -> str:
    """So it was tried by hand, too."""
    rotor = case.one()
    need("fixing" in rotor and "nut_tightens" in rotor["fixing"])
    rotor["fixing"]["nut_tightens"] = OTHER[rotor["fixing"]["nut_tightens"]]
    for test in case.document["records"].get("nut_test", []):
        if test["at"] == rotor["at"]:
            test["nut"] = {"runs-on": "runs-off", "runs-off": "runs-on"}[test["nut"]]
    return str(rotor["at"])


def prop(*keys: str) -> Put:
    def put(case: Case) -> str:
        rotor = case.one()
        for key in keys:
            rotor["prop"][key] = OTHER[rotor["prop"][key]]
        return str(rotor["at"])

    return put


def all_props_inverted(case: Case) -> str:
    for rotor in case.document["rotors"]:
        rotor["prop"] |= {"hand": OTHER[rotor["prop"]["hand"]], "face": "down"}
    return str(case.one()["at"])


def wired_the_other_way(case: Case) -> str:
    rotor = case.one()
    seen = case.latest("spin_test")["seen"]
    seen[rotor["at"]] = OTHER[seen[rotor["at"]]]
    return str(rotor["at"])


def expected_otherwise(case: Case) -> str:
    at = case.one()["at"]
    expects = case.section("flight_controller", "expects_spin")
    expects[at] = OTHER[expects[at]]
    return str(at)


def two_arms_exchanged(case: Case) -> None:
    """Neighbours were built in each other's place, motor, prop, nut and all, and all was tried as built."""
    need(case.document["aircraft"]["layout"] in ("quad-x", "quad-plus", "hexa-x", "octo-x", "octo-plus", "custom"))
    rotors = case.document["rotors"]
    one, other = rotors[0], rotors[1]
    need(one["spin"] != other["spin"])
    for rotor in (one, other):
        _turn_round(case, rotor)


def _turn_round(case: Case, rotor: Document) -> None:
    at, spin = rotor["at"], OTHER[rotor["spin"]]
    rotor["spin"] = rotor["prop"]["hand"] = spin
    if "nut_tightens" in rotor.get("fixing", {}):
        rotor["fixing"]["nut_tightens"] = OTHER[rotor["fixing"]["nut_tightens"]]
    case.latest("spin_test")["seen"][at] = spin
    case.section("flight_controller", "expects_spin")[at] = spin
    for test in case.document["records"].get("nut_test", []):
        if test["at"] == at:
            test["nut"] = {"runs-on": "runs-off", "runs-off": "runs-on"}[test["nut"]]


def outputs_swapped(case: Case) -> str:
    one, other = case.positions()[:2]
    case.latest("output_test")["turned"] |= {one: other, other: one}
    return one


def bore(by_mm: float) -> Put:
    def put(case: Case) -> str:
        kind = case.document["every_rotor"]["fixing"]["kind"]
        need(kind in ("nut", "collet", "set-screw") or (kind == "screws" and by_mm < 0))  # screws centre a wide hole
        rotor = case.one()
        case.own(rotor, "prop")["bore_mm"] = round(case.document["every_rotor"]["fixing"]["seat_mm"] + by_mm, 2)
        return str(rotor["at"])

    return put


def screws(length_mm: float) -> Put:
    def put(case: Case) -> str:
        case.section("every_rotor", "motor", "screws")["length_mm"] = length_mm
        return case.positions()[0]

    return put


def braked_plain_nut(case: Case) -> str:
    need(case.section("every_rotor", "fixing").get("nut_kind") == "plain")
    case.section("every_rotor", "esc")["active_braking"] = True
    return case.positions()[0]


def arms_too_short(case: Case) -> None:
    """Neighbours are eight tenths of a prop apart. On a custom layout their places are."""
    need(case.document["aircraft"]["layout"] != "custom")
    case.document["aircraft"]["arm_mm"] = round(case.sound.craft.arm_mm * 0.6)


def heavy(forward: float, of_mass: float = 1.0) -> Put:
    """The weight acts so many arms further forward on the scales, or some of it lay aside."""

    def put(case: Case) -> None:
        rows, at = case.column("balance_point", "forward_mm")
        for row in rows:
            row[at] = round(row[at] + forward * case.sound.craft.arm_mm)
            row[2] = round(row[2] * of_mass, 1)

    return put


def unbalanced(case: Case) -> str:
    tried = case.latest("prop_balance")
    tried["residual_g_mm"] = float(f"{tried['residual_g_mm'] * 60 + 5:.3g}")
    return str(tried["at"])


def of_full_a(share: float) -> Put:
    return pack("connector_continuous_a", lambda case: float(f"{case.sound.craft.hover_a * share:.3g}"))


FAULTS = [
    Fault("a nut of the wrong hand", ("retention/nut-hand", "retention/nut-hand-locknut"), wrong_nut),
    Fault("a prop of the wrong hand", ("rotation/prop-state",), prop("hand")),
    Fault("a prop turned over", ("rotation/prop-state",), prop("face")),
    Fault("a prop left as in the inverted rig", ("rotation/prop-state",), prop("hand", "face")),
    Fault("all props left as in the inverted rig", ("rotation/inverted-rig",), all_props_inverted),
    Fault("a motor wired the other way", ("rotation/spin-seen",), wired_the_other_way),
    Fault("another spin expected", ("rotation/expected-spin",), expected_otherwise),
    Fault("two arms built in each other's place",
          ("rotation/yaw-balance", "rotation/yaw-apart", "control/tilt-answer", "control/stick-answer"),
          two_arms_exchanged),
    Fault("two outputs swapped", ("rotation/output-order",), outputs_swapped),
    Fault("a prop that slips", ("retention/prop-slips",), fixing("prop_slips", True)),
    Fault("no thread past the locknut", ("retention/locknut-engaged",), lambda case: _locknut(case)),
    Fault("a hole too wide", ("retention/bore-fit",), bore(0.5)),
    Fault("a hole too narrow", ("retention/hub-seated",), bore(-0.5)),
    Fault("a centring ring left out", ("retention/centring-ring",), fixing("centring_ring", "missing")),
    Fault("a clip not latched", ("retention/clip-latched",), fixing("latched", False, "clip")),
    Fault("a collet for another shaft", ("retention/collet-size",), fixing("grips_mm", 6.0, "collet")),
    Fault("a set-screw on a round shaft", ("retention/set-screw-flat",),
          fixing("shaft_flat", False, "set-screw")),
    Fault("motor screws too long", ("retention/motor-screw-too-long",), screws(11)),
    Fault("motor screws too short", ("retention/motor-screw-engagement",), screws(5)),
    Fault("plain nuts on braked motors", ("retention/braking-plain-nut",), braked_plain_nut),
    Fault("a prop of another diameter", ("rotation/matched-size",), of_rotor("prop", "diameter_in", 0.8)),
    Fault("a prop of another pitch", ("rotation/matched-size",),
          of_rotor("prop", "pitch_in", 1.4)),
    Fault("motors of a third of the thrust", ("mass/lifts",), times(0.33, "every_rotor", "motor", "max_thrust_g")),
    Fault("a take-off mass with a nought too many", ("power_sensing/mass-plausible", "mass/lifts"),
          times(10, "aircraft", "takeoff_mass_g")),
    Fault("arms shorter than the props", ("clearance/discs",), arms_too_short),
    Fault("blades that touch", ("clearance/tips",), setting("every_rotor", "tip_gap_mm", value=0)),
    Fault("weight outside the rotors", ("authority/level",), heavy(1.3)),
    Fault("a camera far out in front", ("mass/trim-share", "authority/level"), heavy(0.8)),
    Fault("balanced without the payload", ("mass/weighed",), heavy(0, 0.85)),
    Fault("a prop far out of balance", ("vibration/unbalance", "vibration/unbalance-most"), unbalanced),
    Fault("controllers for half the cells", ("power_train/over-voltage",),
          lambda case: _max_cells(case)),
    Fault("controllers for half of full throttle", ("power_train/controller",),
          times(0.35, "every_rotor", "esc", "continuous_a")),
    Fault("a plug for less than the hover", ("power_train/plug",), of_full_a(0.8)),
    Fault("a lead of bell wire", ("power_train/lead-heat", "power_train/lead-short"),
          lambda case: _bell_wire(case)),
    Fault("a pack rated for half of full throttle", ("power_train/pack-rating",),
          pack("rated_c", lambda case: max(0.5, round(450 * case.sound.craft.full_a / case.sound.craft.capacity_mah,
                                                      1)))),
    Fault("a fuse for less than the hover", ("power_train/fuse-opens",),
          pack("fuse_a", lambda case: float(f"{case.sound.craft.hover_a * 0.8:.3g}"))),
    Fault("a regulator overloaded", ("power_train/regulator-rating",), times(12, "regulator", "load_a")),
    Fault("a regulator for fewer cells", ("power_train/over-voltage", "power_train/regulator-rating"),
          times(0.6, "regulator", "most_v")),
]  # fmt: skip


def _locknut(case: Case) -> str:
    need(case.section("every_rotor", "fixing").get("nut_kind") == "locknut-new")
    rotor = case.one()
    case.own(rotor, "fixing")["thread_past_locknut"] = False
    return str(rotor["at"])


def _max_cells(case: Case) -> None:
    need(case.sound.craft.cells > 1)
    case.section("every_rotor", "esc")["max_cells"] = math.floor(case.sound.craft.cells / 2)


def _bell_wire(case: Case) -> str:
    need(case.sound.craft.hover_a > 8)
    case.document["packs"][0]["lead"]["gauge_awg"] = 28
    return "S1"
