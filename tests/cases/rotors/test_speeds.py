"""Speeds of rotors: what a motor can turn, which rotor is the odd one; full texts, both sides, missing input."""

import math

import pytest
from making.manifests import PROPPED, answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import computed, inspect_text, marked

POSSIBLE, SPLIT = "rotors/speed-possible", "rotors/speed-split"
AT = ("front-left", "front-right", "rear-left", "rear-right")
KV = "every_rotor: {motor: {kv_rpm_per_v: 620}}\n"
COAXIAL = [f"{arm}-{level}" for arm in ("front-left", "front-right", "rear") for level in ("upper", "lower")]


def read(*rpm, at=AT, kv=KV, more="throttle_percent: 50, voltage_v: 15.2", day="2026-05-17", layout="quad-x", log=()):
    speeds = ", ".join(f"{name}: {one:g}" for name, one in zip(at, rpm, strict=False))
    entry = f"date: {day}, {more}{', ' if more else ''}rpm: {{{speeds}}}"
    rotors = PROPPED if layout == "quad-x" else ""
    return manifest(kv, rotors, records={"rotor_speeds": entry}, layout=layout, logbook=log)


# rpm/(kv·V·duty): 4000/(620·15.2·0.5) = 0.849 and 12000 gives 2.55, worked by hand.
def test_an_impossible_speed_in_full():
    text = read(12000)
    found = expect(Finding, answer(text, POSSIBLE, "front-left"))
    assert found.message == "12000 rpm are more than this motor can turn at 15.2 V and 50 %"
    assert found.evidence == (
        "12000 rpm / (620 rpm/V x 15.2 V x 50 %) = 2.55, at least 0.4; by the root of the throttle 1.80, at most 1; "
        "± 12 % (95 %)"
    )
    assert found.do == (
        "compare kv_rpm_per_v with the motor's label, throttle and volts with the log, and the number of magnets that "
        "the controller counts by; put right what is written wrong"
    )
    assert marked(text, found.place) == "12000"
    assert [marked(text, one.place) for one in found.related] == ["620"]


def test_a_possible_speed():
    clear = expect(Clear, answer(read(4000), POSSIBLE, "front-left"))
    assert "= 0.85, at least 0.4" in clear.evidence


# Without load 620·15.2·√0.5 = 6664 rpm; U is 1.96·√(10² + 2² + 2²)/√3 = 11.8 %: clear up to 5963, found from 7552 on.
# At least 0.4·620·15.2·0.5 = 1885: clear from 2136 on, found below 1687.
@pytest.mark.parametrize(("rpm", "expected"), [
    (5940, Clear), (5990, Unproven), (7500, Unproven), (7600, Finding),
    (2150, Clear), (2110, Unproven), (1700, Unproven), (1670, Finding),
])
def test_both_sides_of_both_limits(rpm, expected):
    assert isinstance(answer(read(rpm), POSSIBLE, "front-left"), expected)


def test_too_slow_is_told_as_such():
    assert expect(Finding, answer(read(1600), POSSIBLE, "front-left")).message == (
        "1600 rpm are too few for this motor at 15.2 V and 50 %"
    )


def test_near_idle_nothing_is_too_slow():
    assert isinstance(answer(read(500, more="throttle_percent: 20, voltage_v: 15.2"), POSSIBLE, "front-left"), Clear)


@pytest.mark.parametrize(("text", "message"), [
    (read(4000, kv=""), "front-left.motor.kv_rpm_per_v is not recorded"),
    (read(4000, more="throttle_percent: 50"), "voltage_v of the rotor speeds of 2026-05-17 is not recorded"),
    (read(4000, more="voltage_v: 15.2"), "throttle_percent of the rotor speeds of 2026-05-17 is not recorded"),
])
def test_what_is_missing_of_a_possible_speed(text, message):
    assert expect(Unproven, answer(text, POSSIBLE, "front-left")).message == message


def test_a_rotor_without_a_speed_is_not_asked():
    assert isinstance(answer(read(4000), POSSIBLE, "rear-left"), NotApplicable)


def test_the_odd_one_in_full():
    text = read(5040, 5620, 5030, 5050)
    found = expect(Finding, answer(text, SPLIT))
    assert found.message == "the rotor at front-right turns 12 % faster than the others"
    assert found.evidence == (
        "off the median of all but front-right: front-left +0.0 %, front-right +11.5 %, rear-left -0.2 %, "
        "rear-right +0.2 %; ± 2.6 % (95 %), at most 5 %"
    )
    assert found.do == (
        "turn its bell by hand and compare; look at motor (kv), prop (pitch) and controller's settings there; then "
        "repeat the rotor speeds"
    )
    assert marked(text, found.place) == "5620"
    assert found.record == "rotor_speeds"


def test_a_slow_one_turns_so_much_slower():
    found = expect(Finding, answer(read(5040, 4420, 5030, 5050), SPLIT))  # 4420 / 5040 = 0.877
    assert found.message == "the rotor at front-right turns 12 % slower than the others"


# U = 1.96·2 %/√3·√(1 + 1/3) = 2.6 %: of 5 % clear up to 2.3 %, found from 7.7 % on.
@pytest.mark.parametrize(("share", "expected"), [
    (0, Clear), (0.023, Clear), (-0.023, Clear), (0.025, Unproven), (0.075, Unproven), (0.078, Finding),
    (-0.075, Unproven), (-0.078, Finding),
])
@pytest.mark.parametrize("which", range(4))
def test_both_sides_of_the_split(share, expected, which):
    rpm = [5000 * (1 + share) if i == which else 5000 for i in range(4)]
    assert isinstance(answer(read(*rpm), SPLIT), expected)


def test_another_kv_shows_at_one_throttle():
    """A motor of 700 rpm/V among three of 620 turns 13 % faster, tied down, if the prop does not slow it more."""
    assert isinstance(answer(read(4000, 4000 * 700 / 620, 4000, 4000), SPLIT), Finding)


@pytest.mark.parametrize("rpm", [
    (5270, 5270, 4740, 4740),  # the centre of mass shifted forward: thrust 0.552 to 0.448, speed by its root
    (5300, 4700, 5300, 4700),  # to the left
    (5300, 4700, 4700, 5300),  # a yaw trimmed out
    (5500, 5000, 5000, 4500),  # toward one arm
])
def test_what_balance_or_trim_does_is_no_finding(rpm):
    left = expect(Unproven, answer(read(*rpm), SPLIT))
    assert left.message.endswith("so would balance or trim")


def test_lower_rotors_of_coaxial_pairs_are_compared_with_each_other():
    def each(upper, lower, odd=0.0):
        rpm = [upper, lower] * 3
        rpm[3] += odd
        return answer(read(*rpm, at=COAXIAL, layout="y6"), SPLIT)

    assert isinstance(each(4000, 4000), Clear)
    assert isinstance(each(4000, 4400), Clear)
    assert expect(Finding, each(4000, 4400, 500)).message == (
        "the rotor at front-right-lower turns 11 % faster than the others"
    )


def test_props_of_another_size_are_no_like():
    other = PROPPED.replace("ccw, face: up}}", "ccw, face: up, diameter_in: 9}}", 1)
    assert other != PROPPED
    text = read(5000, 6500, 5000, 5000).replace(PROPPED, other)
    assert isinstance(answer(text, SPLIT), Clear)


def test_what_is_missing_of_a_split():
    assert expect(Unproven, answer(manifest(PROPPED), SPLIT)).message == "no rotor speeds are recorded"
    assert isinstance(answer(read(5000, 5600), SPLIT), NotApplicable)
    stale = read(5000, 5600, 5000, 5000, log="date: 2026-05-18, kind: crashed")
    assert expect(Unproven, answer(stale, SPLIT)).cause == "stale"


def test_work_at_one_rotor_leaves_the_others():
    text = read(5000, 5600, 5000, 5000, log="date: 2026-05-18, kind: replaced, part: motor, at: front-right")
    assert isinstance(answer(text, SPLIT), Clear)


# 12 in at 6000 rpm: tips at π·0.3048·100 = 95.8 m/s. A blade of 8 g with its centre at 58 mm pulls with
# 0.008·0.058·628.32² = 183.2 N; the figure takes 0.8 of a 20 g prop by its two blades, at 0.38 of 152.4 mm = 57.9 mm.
def test_tip_speed_and_pull_are_figures():
    props = "every_rotor: {prop: {diameter_in: 12, mass_g: 20, blades: 2}}\n"
    computed = inspect_text(read(6000, 6000, 6000, 6000, kv=props)).computed
    figures = {one.quantity: one for one in computed if one.at == "front-left"}
    assert figures["tip_speed_m_s"].value == pytest.approx(95.76, abs=0.01)
    assert figures["blade_root_pull_n"].value == pytest.approx(0.008 * 0.0579 * (200 * math.pi) ** 2, rel=1e-3)
    # 15 of 80 % of the mass, 5 of 38 % of the radius, rectangular; the speed to 2 %, of which the pull has the square.
    of_pull = math.hypot(15 / 80 / math.sqrt(3), 5 / 38 / math.sqrt(3), 2 * 0.02 / math.sqrt(3))
    pull = figures["blade_root_pull_n"]
    assert pull.standard_uncertainty / pull.value == pytest.approx(of_pull, rel=1e-3)
    assert figures["hover_speed_rpm"].value == 6000
    assert figures["tip_speed_m_s"].standard_uncertainty / 95.76 == pytest.approx(0.02 / math.sqrt(3), rel=1e-3)


def test_the_share_of_what_the_motor_can_turn_has_its_uncertainty():
    """4000 rpm of 620·15.2·0.5 = 4712, 0.849; relative √(10² + 2² + 2²) %/√3 = 6.0 %, worked by hand."""
    found = computed(inspect_text(read(4000)), "speed_share", at="front-left")
    assert found.value == pytest.approx(0.849, abs=5e-4)
    assert found.standard_uncertainty == pytest.approx(0.849 * 0.06, rel=2e-3)


def test_a_rotor_that_stood_when_the_others_were_read_has_no_speed():
    judged = inspect_text(read(0, 5030, 5040, 5050))
    assert {one.at for one in judged.computed if one.quantity == "hover_speed_rpm"} == set(AT[1:])
    assert not judged.broken


def test_speed_is_converted_to_the_throttle_of_a_hover():
    text = read(4000, 4000, 4000, 4000).replace(
        "records:\n", "records:\n  hover: [{date: 2026-05-17, throttle_percent: 60, mean_current_a: 15}]\n"
    )
    found = {one.at: one for one in inspect_text(text).computed if one.quantity == "hover_speed_rpm"}
    assert found["front-left"].value == pytest.approx(4800)
    assert found["front-left"].standard_uncertainty == pytest.approx(4800 * 0.1 / math.sqrt(3))


def test_where_the_throttle_was_closed_or_nothing_turned():
    closed = read(4000, 4000, 4000, 4000, more="throttle_percent: 0, voltage_v: 15.2")
    assert answer(closed, POSSIBLE, "front-left") == NotApplicable("the throttle was closed")
    assert answer(read(0, 0, 0, 0), SPLIT) == NotApplicable("no rotor turned")
