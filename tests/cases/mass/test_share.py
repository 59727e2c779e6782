"""The place of the weight: full texts, the worked example, both sides, input missing, symmetry of made-up aircraft."""

import math

import numpy as np
import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import computed, inspect_text

SHARE, LEVEL = "mass/trim-share", "authority/level"
SEA = (
    "site: {elevation_m: 0, temperature_c: 15, station_pressure_hpa: 1013.25, relative_humidity_percent: 0}\n"
    "packs: [{label: A1, chemistry: lipo, cells: 4}]\n"
)
PLACES = {"nose-left": (180, -240), "nose-right": (180, 240), "tail-left": (-180, -240), "tail-right": (-180, 240)}
SPINS = {"nose-left": "cw", "nose-right": "ccw", "tail-left": "ccw", "tail-right": "cw"}
DROP = ((3.5 / 4.2) ** 2 + (3.5 / 4.2) ** 2.23) / 2  # of thrust, at the lowest voltage


def rows_at(forward, right, grams, reach=200):
    """Three scales whose sum acts there."""
    front = grams * (1 + forward / reach) / 2
    back, more = grams - front, grams * right / reach / 2
    return [(reach, 0, front), (-reach, -reach, back / 2 - more), (-reach, reach, back / 2 + more)]


def frame(
    rows, places=PLACES, spins=SPINS, mass=1950, thrust=1300, columns="forward_mm, right_mm, mass_g", **more
):
    told = ", ".join("[" + ", ".join(f"{one:.6g}" for one in row) + "]" for row in rows)
    balance = f"date: 2026-05-16, columns: [{columns}], rows: [{told}]"
    rotors = {
        at: f"place_mm: [{forward}, {right}, 0]" + (f", spin: {spins[at]}" if spins else "")
        for at, (forward, right) in places.items()
    }
    motor = f"every_rotor: {{motor: {{max_thrust_g: {thrust}}}}}\n" if thrust else ""
    weighs = f"takeoff_mass_g: {mass}" if mass else ""
    return manifest(
        motor, SEA, rotors=rotors, layout="custom", more=weighs, records={"balance_point": balance} if rows else {},
        **more,
    )  # fmt: skip


def figures(text, quantity):
    return {(one.case, one.at): one.value for one in inspect_text(text).computed if one.quantity == quantity}


# Two scales, 1105 g at +140 mm and 845 g at -140 mm under 1950 g: 18.67 mm forward. Arms of 180 mm: front share
# (1 + 18.67/180)/2 = 0.5519, 538 g a front rotor, 41.4 % of 1300 g; 37.5 % when centred. Worked out by hand.
TWO_SCALES = [(140, 1105), (-140, 845)]


def test_the_worked_example():
    text = frame(TWO_SCALES, columns="forward_mm, mass_g")
    centre = figures(text, "centre_of_mass")
    assert centre["forward", None] == pytest.approx(18.667, abs=5e-3)
    assert centre["right", None] == 0
    shares = figures(text, "hover_share")
    assert shares["full", "nose-left"] == pytest.approx(0.414, abs=5e-4)
    assert shares["full", "nose-right"] * 1300 == pytest.approx(538, abs=0.5)
    front = shares["full", "nose-left"] + shares["full", "nose-right"]
    assert front / sum(shares.values()) == pytest.approx(0.5519, abs=5e-5)
    centred = figures(frame(rows_at(0, 0, 1950)), "hover_share")
    assert set(np.round(list(centred.values()), 4)) == {0.375}
    assert figures(text, "trim_share")["lowest-voltage", None] == pytest.approx(0.4139 / DROP, rel=1e-3)


def test_a_share_is_as_sure_as_the_thrust_that_it_is_of():
    told = {one.quantity: one for one in inspect_text(frame(rows_at(40, 0, 1950))).computed if one.case == "full"}
    share, whole = told["hover_share"], told["thrust_to_weight"]
    assert share.standard_uncertainty / share.value == pytest.approx(whole.standard_uncertainty / whole.value, rel=1e-6)
    assert share.standard_uncertainty > 0


def test_a_camera_far_out_in_full():
    found = expect(Finding, answer(frame(rows_at(130, 0, 1950)), SHARE))
    assert found.message == "nose-left and nose-right must give 95 % of all they have to hold it level"
    assert found.do == "move pack or payload back, and weigh on the scales again"
    assert found.evidence.startswith(
        "balance point of 2026-05-16: 130 mm forward of the centre of the rotors, 1950 g in all; at 3.50 V a cell the "
        "hardest worked rotor gives 95 ± "
    )
    assert found.evidence.endswith("at most 80 %")
    assert found.record == "balance_point"


@pytest.mark.parametrize(("forward", "right", "do"), [
    (130, 0, "back"), (-130, 0, "forward"), (0, 180, "left"), (0, -180, "right"), (70, -90, "back and right"),
    (130, 40, "back"), (130, 48, "back and left"),
])  # fmt: skip
def test_where_to_move_it(forward, right, do):
    found = expect(Finding, answer(frame(rows_at(forward, right, 1950, reach=400)), SHARE))
    assert found.do == f"move pack or payload {do}, and weigh on the scales again"


@pytest.mark.parametrize(("right", "named", "to"), [(175, "right", "left"), (-175, "left", "right")])
def test_a_camera_out_to_one_side_is_carried_there(right, named, to):
    text = frame(rows_at(0, right, 1950, reach=400))
    found = expect(Finding, answer(text, SHARE))
    assert found.message.startswith(f"nose-{named} and tail-{named} must give")
    assert found.do == f"move pack or payload {to}, and weigh on the scales again"
    shares = figures(text, "hover_share")
    # 1 + 175/240 on that side, 1 - 175/240 on the other.
    assert shares["full", f"nose-{named}"] / shares["full", f"tail-{to}"] == pytest.approx(415 / 65, rel=1e-3)


@pytest.mark.parametrize(("forward", "right", "words"), [
    (0, 0, "within 1 mm"), (0.4, -0.4, "within 1 mm"), (-0.6, 0, "1 mm back"), (0.4, 1, "1 mm right"),
    (1, -19, "1 mm forward and 19 mm left"),
])  # fmt: skip
def test_how_far_it_is_off_in_words(forward, right, words):
    told = answer(frame(rows_at(forward, right, 1950)), SHARE)
    assert f"balance point of 2026-05-16: {words} of the centre of the rotors" in told.evidence


# Share of a front rotor: 0.375/0.6801·(1 + x/180) = 0.5514·(1 + x/180); U about 11 % of it.
@pytest.mark.parametrize(("forward", "expected"), [(55, Clear), (75, Unproven), (130, Finding), (-130, Finding)])
def test_both_sides_of_the_share(forward, expected):
    expect(expected, answer(frame(rows_at(forward, 0, 1950)), SHARE))


# Above 1 beyond U from x = 180/0.5514·1.11 - 180; but there the aft rotors would have to pull down, beyond x = 180.
@pytest.mark.parametrize(("forward", "expected"), [(90, Clear), (150, Unproven), (195, Finding)])
def test_both_sides_of_holding_it_level(forward, expected):
    text = frame(rows_at(forward, 0, 1950, reach=400))
    expect(expected, answer(text, LEVEL))
    if expected is Finding:
        assert expect(NotApplicable, answer(text, SHARE)).because == "said by authority/level"


@pytest.mark.parametrize(("right", "words"), [
    (0.6, "2 mm forward and 1 mm right of"), (-0.6, "2 mm forward and 1 mm left of"), (0.4, "2 mm forward of"),
])
def test_less_than_half_a_millimetre_aside_is_not_told(right, words):
    assert words in expect(Clear, answer(frame(rows_at(2, right, 1950)), SHARE)).evidence


def test_more_than_all_that_a_rotor_has_is_told_once():
    """2500/5200/0.6801 = 0.707 in the centre, × (1 + 140/180) = 1.26: within the rotors, and more than they have."""
    text = frame(rows_at(140, 0, 2500), mass=2500)
    expect(Finding, answer(text, LEVEL))
    assert expect(NotApplicable, answer(text, SHARE)).because == "said by authority/level"


def test_weight_outside_the_rotors_in_full():
    found = expect(Finding, answer(frame(rows_at(200, -30, 1950, reach=400)), LEVEL))
    assert found.message == "the weight acts 200 mm forward and 30 mm left: the rotors cannot hold it level there"
    assert found.do == "move pack or payload back, and weigh on the scales again"


def test_too_heavy_wherever_the_weight_is_told_by_thrust():
    heavy = frame(rows_at(20, 0, 4600), mass=4600)
    expect(Finding, answer(heavy, "mass/lifts"))
    for rule in (SHARE, LEVEL):
        expect(NotApplicable, answer(heavy, rule))


def test_input_missing():
    for rule in (SHARE, LEVEL):
        none = expect(Unproven, answer(frame([]), rule))
        assert none.message == "no balance point is recorded"
        assert none.do.startswith("stand the aircraft, ready to fly, level on two or three kitchen scales")
        for text in (frame(TWO_SCALES, columns="forward_mm, mass_g", mass=None),
                     frame(TWO_SCALES, columns="forward_mm, mass_g", thrust=None)):  # fmt: skip
            expect(Unproven, answer(text, rule))
        one = expect(Unproven, answer(frame([(0, 1950)], columns="forward_mm, mass_g"), rule))
        assert one.message == "the balance point has less than two supports that carry something"
        expect(Unproven, answer(frame([(140, 0), (-140, 1950)], columns="forward_mm, mass_g"), rule))


def test_a_named_layout_needs_its_arm():
    rows = "date: 2026-05-16, columns: [forward_mm, mass_g], rows: [[140, 1105], [-140, 845]]"
    motor = "every_rotor: {motor: {max_thrust_g: 1300}}\n"
    without = manifest(motor, SEA, more="takeoff_mass_g: 1950", records={"balance_point": rows})
    assert "arm_mm" in expect(Unproven, answer(without, SHARE)).message
    armed = manifest(motor, SEA, more="takeoff_mass_g: 1950, arm_mm: 300", records={"balance_point": rows})
    expect(Clear, answer(armed, SHARE))
    # Arms of 300 mm at 45°: 212.1 mm forward.
    shares = figures(armed, "hover_share")
    assert shares["full", "front-left"] == pytest.approx(0.375 * (1 + 18.667 / 212.13), abs=5e-4)


def test_work_ends_a_balance_point():
    for log in ("kind: moved, part: battery-tray", "kind: fitted, part: payload", "kind: moved, part: pack"):
        text = frame(rows_at(0, 0, 1950), logbook=f"date: 2026-05-18, {log}")
        told = expect(Unproven, answer(text, SHARE))
        assert told.message.startswith("the balance point of 2026-05-16 is outdated")
    expect(Clear, answer(frame(rows_at(0, 0, 1950), logbook="date: 2026-05-18, kind: fitted, part: pack"), SHARE))


def test_three_rotors_leave_torque_to_something_else():
    places = {"one": (200, 0), "two": (-100, -173), "three": (-100, 173)}
    spins = {"one": "cw", "two": "cw", "three": "cw"}
    told = expect(Clear, answer(frame(rows_at(0, 0, 1400), places, spins, mass=1400), LEVEL))
    assert "torque left out" in told.evidence


def ring(count, radius=300.0, turn=0.0):
    angles = [math.radians(turn + i * 360 / count) for i in range(count)]
    places = {f"r{i}": (radius * math.cos(a), radius * math.sin(a)) for i, a in enumerate(angles)}
    return places, {f"r{i}": ("cw", "ccw")[i % 2] for i in range(count)}


def trimmed(places, spins, forward, right, grams=2900.0, thrust=1300.0, reach=200.0):
    text = frame(rows_at(forward, right, grams, reach), places, spins, mass=grams, thrust=thrust)
    return figures(text, "trim_share")["lowest-voltage", None], figures(text, "authority_margin")["none-stopped", None]


@pytest.mark.parametrize("count", [4, 6, 8])
def test_mirrored_turned_scaled_and_heavier(count):
    places, spins = ring(count, turn=20)
    share, margin = trimmed(places, spins, 40, 25)
    mirrored = {at: (forward, -right) for at, (forward, right) in places.items()}
    other = {at: {"cw": "ccw", "ccw": "cw"}[spin] for at, spin in spins.items()}
    assert trimmed(mirrored, other, 40, -25) == pytest.approx((share, margin), rel=1e-5)
    turned = {at: (-right, forward) for at, (forward, right) in places.items()}
    assert trimmed(turned, spins, -25, 40) == pytest.approx((share, margin), rel=1e-4)
    small = {at: (forward / 8, right / 8) for at, (forward, right) in places.items()}
    assert trimmed(small, spins, 5, 25 / 8, 290, 130, 25) == pytest.approx((share, margin), rel=1e-4)
    assert trimmed(places, spins, 40, 25, 3200)[0] == pytest.approx(share * 3200 / 2900, rel=1e-4)
    assert trimmed(places, spins, 60, 37.5)[0] > share > trimmed(places, spins, 0, 0)[0]


def test_what_is_computed_has_its_uncertainty():
    """Two scales of 1 % and 1 g at ± 140 mm, known to 2 mm: worked out by hand, 1.00 mm."""
    one = computed(inspect_text(frame(TWO_SCALES, columns="forward_mm, mass_g")), "centre_of_mass", case="forward")
    by_place = 2 / math.sqrt(3) * math.hypot(1105, 845) / 1950
    by_mass = math.hypot(
        *(math.hypot(0.01 * g, 1) / math.sqrt(3) * (x - 18.667) / 1950 for x, g in ((140, 1105), (-140, 845)))
    )
    assert one.standard_uncertainty == pytest.approx(math.hypot(by_place, by_mass), rel=1e-3)


def test_thrust_that_is_in_doubt_is_told_as_that_and_moves_no_pack():
    """5200 g x 0.680 are 3537 g: 3500 g ask for 99 ± 10 % in the centre; 4400 g at 80 % for 2830 g, 2800 g are near."""
    for rule, grams in ((LEVEL, 3500), (SHARE, 2800)):
        text = frame(rows_at(2, 0, grams), mass=grams)
        assert expect(NotApplicable, answer(text, rule)).because == (
            "as uncertain with the weight in the centre: see mass/margin"
        )
    expect(Finding, answer(frame(rows_at(2, 0, 3000), mass=3000), "mass/margin"))
    # Far enough out it is the place that asks for it.
    expect(Finding, answer(frame(rows_at(35, 0, 2800), mass=2800), SHARE))


def test_the_share_has_the_uncertainty_of_its_place_and_of_the_thrust():
    """Statics: the share of a corner goes with 1 + x/180 + y/240, so that a doubt of the centre by u moves it.

    The doubt is taken round an ellipse, of which eight directions are tried: along x, along y or between.
    """
    judged = inspect_text(frame(rows_at(40, 0, 1950)))
    x, y = (computed(judged, "centre_of_mass", case=way).standard_uncertainty for way in ("forward", "right"))
    lift = computed(judged, "thrust_to_weight", case="lowest-voltage")
    by_place = max(x / 180, y / 240, (x / 180 + y / 240) / math.sqrt(2)) / lift.value
    share = (1 + 40 / 180) / lift.value
    of_lift = share * lift.standard_uncertainty / lift.value
    found = computed(judged, "trim_share", case="lowest-voltage")
    assert found.value == pytest.approx(share, rel=1e-3)
    assert found.standard_uncertainty == pytest.approx(math.hypot(by_place, of_lift), rel=1e-3)
