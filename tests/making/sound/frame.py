"""What holds the props, which way things turn, and how the aircraft answers hand, sticks and a lost link."""

from typing import Any

from making.moments import AGAINST, ATTITUDES, moment
from making.sound.craft import Craft, Rotor
from making.sound.turning import kv_rpm_per_v
from making.sound.writing import DAY, FLIGHT, Records, figures, shown

OPPOSITE = {"cw": "ccw", "ccw": "cw"}


def at_nut(rotor: Rotor) -> str:
    """The shaft's spin seen looking at the nut."""
    return rotor.spin if rotor.nut_points == "up" else OPPOSITE[rotor.spin]


def fixings(craft: Craft) -> tuple[dict[str, object], str]:
    """What all fixings have in common, and which of the kinds it is."""
    if craft.prop_in <= 4:
        kind = str(craft.rng.choice(["screws", "nut"]))
    elif craft.prop_in <= 12:
        kind = str(craft.rng.choice(["nut", "nut", "nut", "collet", "threaded-hub", "set-screw", "clip"]))
    else:
        kind = str(craft.rng.choice(["nut", "screws"]))
    common: dict[str, object] = {"kind": kind, "prop_slips": False}
    bore = 1.5 if craft.prop_in <= 4 else 5.0 if craft.prop_in <= 8 else 8.0
    common |= {"seat_mm": bore, "centring_ring": "not-needed"}
    if kind == "nut":
        new = craft.chance(0.6)
        common["nut_kind"] = "locknut-new" if new else "plain"
        if new:
            common["thread_past_locknut"] = True
    if kind in ("collet", "set-screw"):
        common["grips_mm"] = 4.0
    common |= {"set-screw": {"shaft_flat": True}, "clip": {"latched": True}}.get(kind, {})
    return common, kind


def every_rotor(craft: Craft, fixing: dict[str, object]) -> dict[str, Any]:
    """Makers' figures are a few per cent off."""
    each_a = craft.full_a / len(craft.rotors)
    motor: dict[str, Any] = {
        "kv_rpm_per_v": kv_rpm_per_v(craft),
        "shaft_mm": 1.5 if craft.prop_in <= 4 else 4.0,
        "mass_g": figures(craft.mass_g / len(craft.rotors) * craft.flat(0.12, 0.2), 3),
        "full_throttle_draw_a": figures(each_a * craft.flat(0.97, 1.12), 3),
        "max_thrust_g": figures(craft.max_thrust_g * craft.by_table * craft.flat(0.95, 1.08), 3),
    }
    if craft.prop_in > 4 and craft.chance(0.8):
        motor["screws"] = {"size": "M3", "length_mm": 8, "plate_mm": 4, "hole_depth_mm": 5.5}
    esc = {
        "continuous_a": figures(each_a * craft.flat(1.2, 1.8), 2),
        "max_cells": craft.cells + (craft.chemistry == "lipo-hv"),
        # Braking turns a plain nut off, whatever its hand.
        "active_braking": fixing.get("nut_kind") != "plain" and craft.chance(0.5),
        "spin_set_by": str(craft.rng.choice(["wires", "setting"])),
    }
    bore = float(str(fixing["seat_mm"]))
    prop = {
        "make": "Brackwater",
        "batch": "B26-004",
        "diameter_in": craft.prop_in,
        "mass_g": figures(craft.mass_g / len(craft.rotors) * craft.flat(0.02, 0.04), 2),
        "pitch_in": round(craft.prop_in * craft.flat(0.3, 0.6), 1),
        "blades": int(craft.rng.choice([2, 3])),
        "bore_mm": round(bore + craft.flat(0.0, 0.08), 2),
        "hub": "plain",
    }
    # A blade of the largest is 380 mm long and bends by less than a twentieth of that.
    gap_mm = round(1 + craft.prop_in * 25.4 * craft.flat(0.04, 0.08), 1)
    return {"tip_gap_mm": gap_mm, "motor": motor, "esc": esc, "prop": prop, "fixing": fixing}


def rotors(craft: Craft, kind: str) -> list[dict[str, object]]:
    entries: list[dict[str, object]] = []
    for rotor in craft.rotors:
        entry: dict[str, object] = {"at": rotor.at, "spin": rotor.spin}
        if craft.layout == "custom":
            entry["place_mm"] = [round(part) for part in rotor.place_mm]
        entry["prop"] = {"hand": rotor.spin, "face": "up"}
        if kind in ("nut", "collet", "threaded-hub"):
            entry["fixing"] = {"nut_tightens": OPPOSITE[at_nut(rotor)]}
        entries.append(entry)
    return entries


def sped_up(craft: Craft, attitude: str) -> list[str]:
    """The rotors whose gain in thrust brings that attitude about, beyond a tenth of the greatest moment."""
    axis, sign = ATTITUDES[attitude]
    arms = {r.at: sign * moment([part / craft.arm_mm for part in r.place_mm], r.spin)[axis] for r in craft.rotors}
    return [at for at, arm in arms.items() if arm > 0.1]


def work(craft: Craft) -> list[dict[str, object]]:
    """What was done before the tests."""
    done: list[dict[str, object]] = []
    some = craft.rotors[int(craft.rng.integers(len(craft.rotors)))].at
    ordinary: list[dict[str, object]] = [
        {"date": "2026-03-02", "kind": "replaced", "part": "motor", "at": some, "note": "bearing noise"},
        {"date": "2026-03-09", "kind": "replaced", "part": "prop", "at": some},
        {"date": "2026-04-04", "kind": "firmware", "part": "flight-controller"},
        {"date": "2026-04-11", "kind": "hard-landing"},
        {"date": "2026-04-12", "kind": "fitted", "part": "power-lead", "note": "longer lead"},
        {"date": "2026-05-02", "kind": "flown", "note": "before the new lead"},
    ]
    done += [one for one in ordinary if craft.chance(0.3)]
    return done


def records(craft: Craft, kind: str, logbook: list[dict[str, object]], route: str) -> Records:
    """All that is tried with props removed, and looks at what holds them."""
    names = [rotor.at for rotor in craft.rotors]
    told: Records = {
        "spin_test": [{"date": f"{DAY} 10:05", "props": "removed", "seen": {r.at: r.spin for r in craft.rotors}}],
        "output_test": [{"date": f"{DAY} 10:15", "props": "removed", "turned": {at: at for at in names}}],
        "link_loss_test": [
            {"date": f"{DAY} 10:25", "props": "removed", "outputs_stopped": True,
             "seconds_to_stop": round(craft.flat(0.4, 1.6), 1), "restarted_on_regain": False}
        ],
        "cut_off_test": [{"date": f"{DAY} 10:30", "props": "removed", "motors_stopped": True}],
        "tilt_test": [{"date": f"{DAY} 10:35", "props": "removed", "moves": [
            {"did": did, "indicated": did, "sped_up": sped_up(craft, AGAINST[did])}
            for did in ("nose-down", "right-down", "turned-right")
        ]}],
        "stick_check": [_sticks(craft)],
        "range_test": [
            {"date": f"{DAY} 11:10", "distance_m": craft.rng.integers(30, 80), "reduced_power": True,
             "control_held": True}
        ],
        "bell_pull": [{"date": f"{DAY} 10:55", "at": at, "moved": False} for at in names],
        "rig_check": [{"date": f"{FLIGHT} 08:50", "rig": "flight", "by": "N. Rowe"}],
    }  # fmt: skip
    mishap = any(entry["kind"] == "hard-landing" for entry in logbook)
    if mishap:
        told["walk_round"] = [
            {"date": f"{DAY} 09:30", "looked_at": ["arms", "mounts", "wires", "pack", "bells", "props"], "damaged": []}
        ]
    if kind in ("nut", "collet", "threaded-hub") and (logbook or craft.chance(0.5)):
        at = f"{FLIGHT} 08:30" if route == "inverted-load" else f"{DAY} 09:45"  # every nut was off for that rig
        told["nut_test"] = [{"date": at, **_nut_test(craft, rotor)} for rotor in craft.rotors]
    if craft.chance(0.2):
        _add_failures(craft, told, logbook)
    return told


def balanced(craft: Craft) -> dict[str, object]:
    """Three supports within the arms, on scales that are out by a half per cent; its weight acts near the centre."""
    reach, digit = 0.6 * craft.arm_mm, 0.1 if craft.mass_g < 400 else 1.0
    at = [(round(reach), 0), (-round(reach), -round(reach)), (-round(reach), round(reach))]
    forward, right = (craft.arm_mm * craft.flat(-0.04, 0.04) for _ in range(2))
    front = (1 + forward / at[0][0]) / 2
    parts = [front, (1 - front) / 2 - right / at[2][1] / 2, (1 - front) / 2 + right / at[2][1] / 2]
    rows = [
        [*place, shown(craft.mass_g * part * craft.flat(0.995, 1.005), digit)]
        for place, part in zip(at, parts, strict=True)
    ]
    return {"date": f"{DAY} 09:50", "columns": ["forward_mm", "right_mm", "mass_g"], "rows": rows}


def _add_failures(craft: Craft, told: Records, logbook: list[dict[str, object]]) -> None:
    """What went wrong at first, in April, was put right, and passed in May."""
    first = craft.rotors[0]
    seen = {rotor.at: rotor.spin for rotor in craft.rotors} | {first.at: OPPOSITE[first.spin]}
    told["spin_test"].insert(0, {"date": "2026-04-18 10:00", "props": "removed", "seen": seen})
    told["link_loss_test"].insert(
        0, {"date": "2026-04-18 10:20", "props": "removed", "outputs_stopped": False, "restarted_on_regain": False}
    )
    logbook.append({"date": "2026-04-19", "kind": "rewired", "part": "motor", "at": first.at})
    logbook.append(
        {"date": "2026-04-19", "kind": "settings-changed", "part": "flight-controller", "touches": ["failsafe"]}
    )


def _sticks(craft: Craft) -> dict[str, object]:
    moves: list[dict[str, object]] = [
        {"did": did, "indicated": did, "sped_up": sped_up(craft, did)}
        for did in ("nose-down", "right-down", "turned-right")
    ]
    everyone = [rotor.at for rotor in craft.rotors]
    return {
        "date": f"{DAY} 10:45",
        "props": "removed",
        "moves": [*moves, {"did": "throttle-up", "indicated": "throttle-up", "sped_up": everyone}],
        "start_throttle_percent": {at: round(craft.flat(4.6, 6.0), 1) for at in everyone},
        "arms_at_raised_throttle": False,
    }


def _nut_test(craft: Craft, rotor: Rotor) -> dict[str, object]:
    """Turned either way, by either of two ways of trying."""
    tightens = OPPOSITE[at_nut(rotor)]
    turned = str(craft.rng.choice(["cw", "ccw"]))
    held = craft.chance(0.5)
    of_nut = OPPOSITE[turned] if held else turned  # held, the nut goes the other way on the shaft
    return {
        "at": rotor.at,
        "motor_turned" if held else "nut_turned": turned,
        "nut": "runs-on" if of_nut == tightens else "runs-off",
    }
