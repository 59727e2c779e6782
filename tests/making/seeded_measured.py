"""Single faults in what was measured, or set from it: power without a meter, compass, interference, sticks.

As in the other list nothing of preflint is used here, and what a remedy must say is worked out by hand.
"""

import re
from collections.abc import Callable

from making.seeded import ROTOR, Fault, Seeded, setting, swap

# Rows of the club's own runs: a second of them, a week before, made by hand.
EARLIER_RUN = """\
    - date: 2026-05-10 14:00
      route: restrained
      field_is: raw
      in_force: {sensor_mv_per_a: SCALE}
      magnetic_restraint: false
      steel_nearby: false
      payload_on: true
      columns: [throttle_percent, current_a, field_x_ut, field_y_ut, field_z_ut]
      rows: [[0, 0.2, 9.10, 24.35, 38.20], [40, 7.1, 16.00, 28.50, 38.20], [55, 11.3, 20.20, 31.02, 38.20],
             [70, 15.5, 24.40, 33.54, 38.20], [0, 0.2, 9.10, 24.35, 38.20]]
"""


def times(
    record: str, key: str, factor: float, decimals: int = 1, told: tuple[tuple[str, float, float], ...] = ()
) -> Callable[[str], Seeded | None]:
    """Multiplies one entry of a record; ``told`` are settings by the factor that is right of what is installed."""

    def seed(text: str) -> Seeded | None:
        block = re.search(rf"  {record}:\n(?:    .*\n)+", text)
        assert block
        was = re.search(rf"{key}: ([\d.]+)", block[0])
        assert was
        new = f"{key}: {float(was[1]) * factor:.{decimals}f}"
        right = tuple((words, setting(text, words.split()[0]) * share, off) for words, share, off in told)
        return Seeded(text.replace(block[0], block[0].replace(was[0], new, 1)), None, "", "", right)

    return seed


def sag_times(factor: float) -> Callable[[str], Seeded | None]:
    """Makes the voltage of the sag run fall so many times as far from its first row."""

    def seed(text: str) -> Seeded | None:
        block = re.search(r"  sag_run:\n(?:    .*\n)+", text)
        assert block
        rows = [[float(v) for v in row.split(",")] for row in re.findall(r"\[([\d., ]+)\]", block[0])]
        steeper = [[a, round(rows[0][1] + factor * (v - rows[0][1]), 2), q] for a, v, q in rows]
        changed = re.sub(r"rows: .*", f"rows: {steeper}", block[0])
        return Seeded(text.replace(block[0], changed), None, "", "")

    return seed


def hard_iron(*value: float) -> Callable[[str], Seeded | None]:
    """Sets another hard iron; the club's rotations and runs were taken where 4.1, -12.0, 7.7 is right."""

    def seed(text: str) -> Seeded | None:
        line = f"  hard_iron_ut: {list(value)}"
        changed = text.replace("  hard_iron_ut: [4.1, -12.0, 7.7]\n", line + "\n")
        assert changed != text
        return Seeded(changed, None, line, "", (("hard_iron_ut", 4.1, 0.05),))

    return seed


def offset_times(factor: float) -> Callable[[str], Seeded | None]:
    """Multiplies the offset installed; the run keeps what is right."""

    def seed(text: str) -> Seeded | None:
        found = re.search(r"^  interference_offset_ut_per_a: \[(.*)\]$", text, re.MULTILINE)
        assert found
        right = [float(value) for value in found[1].split(",")]
        line = f"  interference_offset_ut_per_a: [{', '.join(f'{factor * value + 0.0:.4f}' for value in right)}]"
        settings = (("interference_offset_ut_per_a", right[0], 0.08),)  # the run's own noise
        return Seeded(text.replace(found[0], line), None, line, "", settings)

    return seed


def earlier_run(text: str) -> Seeded | None:
    """A run of the week before, with another effect of the current, and no work in between."""
    scale = re.search(r"in_force: \{sensor_mv_per_a: ([\d.]+)", text)
    assert scale
    changed = text.replace("  interference_run:\n", "  interference_run:\n" + EARLIER_RUN.replace("SCALE", scale[1]), 1)
    return Seeded(changed, None, "", "")


def field_rows(change: Callable[[list[float]], list[float]]) -> Callable[[str], Seeded | None]:
    """Changes the three fields of every row of an inline run; not applicable where the run is a file."""

    def seed(text: str) -> Seeded | None:
        block = re.search(r"  interference_run:\n(?:    .*\n)+", text)
        assert block
        if "rows:" not in block[0]:
            return None

        def row(found: re.Match[str]) -> str:
            cells = [float(v) for v in found[1].split(",")]
            return f"- [{', '.join(f'{v:.2f}' for v in [*cells[:3], *change(cells[3:])])}]"

        changed = re.sub(r"- \[([\d., -]+)\]", row, block[0])
        assert changed != block[0]
        return Seeded(text.replace(block[0], changed), None, "", "")

    return seed


def first_of_tilt(text: str) -> Seeded | None:
    """Tipped nose down, the rotors of the other side answered."""
    wanted = re.search(r"(tilt_test:(?:.*\n)*?.*did: nose-down, .*sped_up: )(\[.*?\])", text)
    other = re.search(r"stick_check:(?:.*\n)*?.*did: nose-down, .*sped_up: (\[.*?\])", text)
    assert wanted
    assert other
    return Seeded(text.replace(wanted[0], wanted[1] + other[1], 1), None, "", "")


def one_falls_back(text: str) -> Seeded | None:
    """With the throttle raised, the first rotor slows down."""
    rotor = ROTOR.search(text)
    assert rotor
    found = re.search(r"did: throttle-up, indicated: throttle-up, sped_up: \[(.*?)\]", text)
    assert found
    left = ", ".join(at for at in found[1].split(", ") if at != rotor["at"])
    line = f"did: throttle-up, indicated: throttle-up, sped_up: [{left}], slowed_down: [{rotor['at']}]"
    return Seeded(text.replace(found[0], line), None, line, "")


def thrust_times(factor: float) -> Callable[[str], Seeded | None]:
    """All motors of another strength; the place named is that of the mass."""

    def seed(text: str) -> Seeded | None:
        weak = re.sub(r"max_thrust_g: (\d+)", lambda told: f"max_thrust_g: {float(told[1]) * factor:.0f}", text)
        return Seeded(weak, None, "  takeoff_mass_g: ", "take load off")

    return seed


def one_turns(share: float) -> Callable[[str], Seeded | None]:
    """Multiplies the speed of the rotor read first."""

    def seed(text: str) -> Seeded | None:
        read = re.search(r"rpm: \{([\w-]+): (\d+)", text)
        assert read
        speed = f"rpm: {{{read[1]}: {float(read[2]) * share:.0f}"
        return Seeded(text.replace(read[0], speed), read[1], speed, "")

    return seed


def balanced(
    by_arm: float = 0.0, grams: float = 1.0, layout: str = "", remedy: str = ""
) -> Callable[[str], Seeded | None]:
    """The scales stand so many arms further forward, and show so many times as much."""

    def seed(text: str) -> Seeded | None:
        arm = re.search(r"arm_mm: (\d+)", text)
        shift = by_arm * (float(arm[1]) if arm else 300.0)
        block = re.search(r"balance_point:\n.*\n.*rows: (\[\[.*\]\])", text)
        assert block
        if layout and f"layout: {layout}\n" not in text:
            return None

        def row(told: re.Match[str]) -> str:
            return f"[{float(told[1]) + shift:.0f}, {told[2]}, {float(told[3]) * grams:.0f}]"

        rows = re.sub(r"\[(-?\d+), (-?\d+), (\d+)\]", row, block[1])
        return Seeded(text.replace(block[1], rows), None, "date: 2026-05-16 11:40, columns: [forward_mm", remedy)

    return seed


def accelerations(change: Callable[[float], float]) -> Callable[[str], Seeded | None]:
    """Changes every acceleration of the six positions."""

    def seed(text: str) -> Seeded | None:
        block = re.search(r"accel_z_m_s2\]\n      rows: \[\[(.*)\]\]", text)
        assert block
        rows = [[round(change(float(v)), 3) for v in row.split(",")] for row in block[1].split("], [")]
        return Seeded(text.replace(block[0], f"accel_z_m_s2]\n      rows: {rows}"), None, "", "six positions")

    return seed


HEADINGS = r"\[\[0, 0\.6\], \[45, 46\.1\], .*, \[315, 313\.9\]\]"


def read(*off: float) -> str:
    """Rows of a heading check at the eight headings, each indicated so many degrees more."""
    return str([[true, round((true + error) % 360, 1)] for true, error in zip(range(0, 360, 45), off, strict=True)])


def times_used(factor: float) -> Callable[[str], Seeded | None]:
    """Lets the warning of charge used come so many times later."""

    def seed(text: str) -> Seeded | None:
        was = re.search(r"at_used_mah: (\d+)", text)
        assert was
        late = f"at_used_mah: {float(was[1]) * factor:.0f}"
        return Seeded(text.replace(was[0], late), None, late, "earlier")

    return seed


def nearly_all_flown(text: str) -> Seeded | None:
    """Plans the minutes that take all of the charge down to the reserve, and a little more than is known."""
    values = [re.search(rf"{key}: ([\d.]+)", text) for key in ("capacity_mah", "mean_current_a")]
    assert all(values)
    charge, current = (float(one[1]) for one in values if one)
    minutes = 1.08 * 0.72 * charge * 0.06 / current - 1
    changed = re.sub(r"flight_min: [\d.]+", f"flight_min: {minutes:.1f}", text)
    return Seeded(changed, None, f"flight_min: {minutes:.1f}", "sooner")


def charged_no_more(text: str) -> Seeded | None:
    """Two flights after the last charge, at the end of the logbook."""
    label = re.search(r"kind: flown, minutes: 4, pack: (\w+)", text)
    assert label
    entry = f"  - {{date: 2026-05-18, kind: flown, minutes: 30, pack: {label[1]}}}"
    return Seeded(f"{text.rstrip()}\n{entry}\n", label[1], entry, "charge it full")


FAULTS = [
    Fault("nothing warns of an empty pack", "warnings/none",
          swap(r"battery_warnings:\n(  - .*\n)+", "battery_warnings: none\n", "", mark="battery_warnings: none")),
    Fault("it lands before it tells", "warnings/order",
          swap(r"at_cell_v: 3\.6, does: tells\}",
               "at_cell_v: 3.6, does: lands}\n  - {watches: pack-voltage, at_cell_v: 3.4, does: tells}",
               "tells first", mark="at_cell_v: 3.6")),
    Fault("warned where full throttle empties a cell", "warnings/full-throttle-cell",
          swap(r"at_cell_v: 3\.6, does: tells\}(\n.*does: lands\})?", "at_cell_v: 2.95, does: tells}",
               "set the warning to 3.", mark="at_cell_v: 2.95")),
    Fault("warned when all is used", "warnings/charge-left", times_used(1.65)),
    Fault("warning not noticed", "warnings/heard",
          swap("pack-voltage, sounded: true", "pack-voltage, sounded: false", "try it again")),
    Fault("slower than the wind", "endurance/way-home", swap("airspeed_m_s: 10", "airspeed_m_s: 4", "less wind")),
    Fault("forty minutes planned", "endurance/reserve", swap(r"flight_min: \d+", "flight_min: 40", "turn home")),
    Fault("the plan takes all that is known", "endurance/margin", nearly_all_flown),
    Fault("flown twice on one charge", "endurance/charged", charged_no_more),
    Fault(
        "throttle stick reversed", "control/throttle-answer",
        swap(
            "indicated: throttle-up, sped_up", "indicated: throttle-up, slowed_down", "", mark="indicated: throttle-up"
        ),
    ),
    Fault("one rotor falls back at more throttle", "control/throttle-answer", one_falls_back),
    Fault("tipped nose down, the rear answers", "control/tilt-answer", first_of_tilt),
    Fault("yaw stick shown reversed", "control/stick-answer",
          swap(r"(stick_check:(?:.*\n)*?.*)indicated: turned-right", r"\g<1>indicated: turned-left", "")),
    Fault("charge counted 15 % low", "power_sensing/recharge",
          times("recharge", "counted_mah", 0.85, 0, (("sensor_mv_per_a near", 0.85, 0.02),))),
    Fault("charge counted 20 % high", "power_sensing/recharge",
          times("recharge", "counted_mah", 1.2, 0, (("sensor_mv_per_a near", 1.2, 0.02),))),
    Fault("a cell read 0.3 V low", "power_sensing/cell-sum", swap(r"cells_v: \[4.\d\d", "cells_v: [3.87", "", mark="")),
    Fault("a cell is dead", "power_sensing/dead-cell", swap(r"cells_v: \[4.\d\d", "cells_v: [0.0", "", mark="")),
    Fault("a cell overcharged", "power_sensing/cell-overcharged",
          swap(r"cells_v: \[4.\d\d", "cells_v: [4.37", "", mark="")),
    Fault(
        "power in hover below what physics allows", "power_sensing/hover-power", times("hover", "mean_current_a", 0.3)
    ),
    Fault("hover draws three times what the ground run did", "power_sensing/hover-throttle",
          times("hover", "mean_current_a", 3.0)),
    Fault("pack sags twenty times as far", "power_sensing/sag", sag_times(20.0)),
    Fault("pack and leads resist less than the leads alone", "power_sensing/pack-resistance",
          swap("one_way_length_mm: 130", "one_way_length_mm: 4500", "", mark="")),
    Fault("hard iron with the wrong sign", "compass/hard-iron", hard_iron(-4.1, 12.0, -7.7)),
    Fault("hard iron of another aircraft", "compass/hard-iron", hard_iron(-9.0, 3.0, 7.7)),
    Fault("hard iron 6 µT off to one side", "compass/hard-iron", hard_iron(4.1, -6.0, 7.7)),
    Fault("soft iron of another aircraft", "compass/soft-iron",
          swap(r"soft_iron: \[\[1,", "soft_iron: [[1.5,", "", mark="soft_iron")),
    Fault("interference offset left out", "interference/heading-error", offset_times(0.0)),
    Fault("interference offset three times too large", "interference/heading-error", offset_times(3.0)),
    Fault("interference changed since the week before", "interference/successive-runs", earlier_run),
    Fault("interference run beside steel", "interference/run-field",
          field_rows(lambda field: [value + 20 for value in field])),
    Fault("compass frozen in the run", "interference/heading-error?", field_rows(lambda field: [9.08, 24.34, 38.24])),
    Fault("heading 9.8° off where 10° are allowed, and load", "compass/total-deviation?",
          swap(HEADINGS, read(9.8, 9.8, 9.8, 0, -9.8, -9.8, -9.8, 0), "", mark="")),
    Fault("a prop 100 g mm out of balance", "vibration/unbalance-most",
          swap(r"residual_g_mm: \d.\d", "residual_g_mm: 100", "balance it to", "first")),
    Fault("a prop 15 g mm out of balance", "vibration/unbalance",
          swap(r"residual_g_mm: \d.\d", "residual_g_mm: 15", "balance it to", "first")),
    Fault("one rotor turns 12 % slower", "rotors/speed-split", one_turns(0.88)),
    Fault("a speed that no such motor has", "rotors/speed-possible", one_turns(2.8)),
    Fault("a motor of twice the kv written", "rotors/speed-possible",
          swap(r"kv_rpm_per_v: (\d)(\d\d)", r"kv_rpm_per_v: \g<1>9\g<2>", "kv_rpm_per_v", mark="")),
    Fault("acceleration at half of gravity", "inertial/scale", accelerations(lambda one: one / 2)),
    Fault("an accelerometer that leans the aircraft", "inertial/level", accelerations(lambda one: one + 0.8)),
    Fault("a barometer that grew old", "barometer/accuracy",
          swap("indicated_hpa: 991.6", "indicated_hpa: 993.5", "sensor's hole")),
    Fault("heading that runs backwards", "compass/heading-check",
          swap(HEADINGS, read(*(-2 * true for true in range(0, 360, 45))), "", mark="")),
    Fault("motors of a third of the thrust", "mass/lifts", thrust_times(0.33)),
    Fault("motors of two thirds of the thrust", "mass/margin", thrust_times(0.66)),
    Fault("weight outside the rotors", "authority/level", balanced(1.2, remedy="move pack or payload back")),
    Fault("a camera far out in front", "mass/trim-share",
          balanced(0.4, layout="custom", remedy="move pack or payload back")),
    Fault("a camera far out behind", "mass/trim-share",
          balanced(-0.4, layout="quad-plus", remedy="move pack or payload forward")),
    Fault("balanced without its payload", "mass/weighed", balanced(grams=0.9, remedy="as it flies")),
    Fault("a mass with a nought too many", "power_sensing/mass-plausible",
          swap(r"(?m)^(  takeoff_mass_g: \d+)$", r"\g<1>0", "weigh the aircraft")),
]
