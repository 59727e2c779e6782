"""What was found, or is open, does not go away because one thing is left out: it stays found or open."""

import re

import pytest
from making import silence

from preflint.api import Finding, Unproven

changed, club_aircraft, judged = silence.changed, silence.club_aircraft, silence.judged

BETTER = {"not read": 0, "no-go": 0, "unproven": 0, "go-with-cautions": 1, "go": 2}


def record(kind, *steps):
    return ("records", kind, 0, *steps)


def work(**entry):
    return ("logbook", "+"), {"date": "2026-05-18", **entry}


# One fault each in the aircraft that has everything recorded: where, and what is written there.
FAULTS = {
    "nut of the wrong hand": (("rotors", 0, "fixing", "nut_tightens"), "cw"),
    "two words on one nut": (("rotors", 0, "fixing", "thread_hand"), "right"),
    "nut test against the word": (
        ("records", "nut_test"), [{"date": "2026-05-16", "at": "front", "nut": "runs-on", "motor_turned": "ccw"}],
    ),
    "prop of the wrong hand": (("rotors", 0, "prop", "hand"), "ccw"),
    "spin": (("rotors", 1, "spin"), "cw"),
    "spin seen": (record("spin_test", "seen", "front"), "ccw"),
    "spin expected": (("flight_controller", "expects_spin", "front"), "ccw"),
    "outputs": (record("output_test", "turned", "front"), "right"),
    "tilt indicated": (record("tilt_test", "moves", 1, "indicated"), "left-down"),
    "tilt answered": (record("tilt_test", "moves", 1, "sped_up"), ["left"]),
    "stick answered": (record("stick_check", "moves", 0, "sped_up"), ["front"]),
    "arms": (record("stick_check", "arms_at_raised_throttle"), "true"),
    "bell": (record("bell_pull", "moved"), "true"),
    "volts": (record("voltage_comparison", "rows"), [["16.67", "17.08"], ["15.77", "16.16"], ["14.87", "15.24"]]),
    "volts unsure": (record("voltage_comparison", "reference", "accuracy_percent"), "3"),
    "amperes": (
        record("current_comparison", "rows"), [["0", "0", "0"], ["40", "6.3", "7.1"], ["70", "13.9", "15.6"]],
    ),
    "amperes unsure": (record("current_comparison", "reference", "accuracy_percent"), "9"),
    "offset of the wrong sign": (("compass", "interference_offset_ut_per_a"), ["0.1116", "-0.2307", "0.0478"]),
    "run near steel": (record("interference_run", "steel_nearby"), "true"),
    "run that was compensated": (record("interference_run", "field_is"), "compensated"),
    "heading": (record("heading_check", "rows", 1), ["90", "121.5"]),
    "headings unsure": (record("heading_check", "reference", "accuracy_deg"), "15"),
    "pressure": (record("barometer_check", "indicated_hpa"), "998.6"),
    "inverted rig": (record("rig_check", "rig"), "inverted-load"),
    "hover too cheap": (record("hover", "mean_current_a"), "3"),
    "hover at another scale": (record("hover", "in_force", "sensor_mv_per_a"), "8"),
    "recharge at another scale": (record("recharge", "in_force", "sensor_mv_per_a"), "20"),
    "motor replaced": work(kind="replaced", part="motor", at="left"),
    "compass replaced": work(kind="replaced", part="compass"),
    "motor replaced between": work(date="2026-05-16 10:10", kind="replaced", part="motor", at="left"),
    "cut-off": (record("cut_off_test", "motors_stopped"), "false"),
    "tipped over": work(kind="tipped-over"),
    "settings changed": work(kind="settings-changed", part="flight-controller", touches=["outputs", "voltage-scale"]),
    "prop slips": (("every_rotor", "fixing", "prop_slips"), "true"),
    "locknut not through": (("every_rotor", "fixing", "thread_past_locknut"), "false"),
    "plain nut and braking": (("every_rotor", "fixing", "nut_kind"), "plain"),
    "no centring ring": (("every_rotor", "fixing", "centring_ring"), "missing"),
    "screws too long": (("every_rotor", "motor", "screws", "length_mm"), "12"),
    "input too small": (("power_sensing", "input_full_scale_mv"), "2000"),
}  # fmt: skip

# Left out besides what stands around the fault, since other rules lean on it.
ELSEWHERE = (
    r"aircraft\.relies_on\.\*|logbook\.\*|records\.rig_check\.\*|records\.hover\.\*\.in_force"
    r"|records\.interference_run\.\*\.route|every_rotor\.fixing\.nut_kind"
)

# What is answered otherwise, or no longer asked, when something is left out: the rule, what is left out, and why that
# is no silence. Everything else stays found, or is open.
EXPLAINED = [
    (r"retention/nut-evidence-agrees", r"rotors.*|records\.nut_test.*", "one word on the nut cannot disagree"),
    (r"retention/nut-hand(-locknut)?", r"records\.nut_test.*", "the word of the one who looked at the nut is left"),
    (r"retention/nut-hand-locknut", r"rotors\.\*.*", "the hand of the nut is open: retention/nut-hand says so"),
    (r"retention/bell-pull", r"records(\.bell_pull.*)?", "retention/bells-pulled says which bells were not pulled"),
    (r"retention/.*", r"every_rotor(\.fixing(\.kind)?)?", "how the prop is held is open: one rule says so for all"),
    (r"retention/centring-ring", r"every_rotor\.fixing\.centring_ring", "retention/bore-fit judges hole and seat"),
    (r"rotation/rig-check", r"records(\.rig_check.*)?", "nothing else says that the rig may be inverted"),
    (r"power_sensing/cell-count", r"packs.*", "there is no such pack"),
    (r"power_sensing/cell-count", r"records\.voltage_comparison\.\*", "the cells read one by one speak"),
    (r"power_sensing/recharge-agrees", r"records\.(current_comparison|recharge).*", "nothing to agree with"),
    (r"power_sensing/recharge", r"records\.recharge\.\*", "no recharge to judge"),
    (r"power_sensing/voltage-scale", r"power_sensing\.input_full_scale_mv", "power_sensing/input-range asks for it"),
    (r"power_sensing/hover-.*", r"records(\.(hover|current_comparison)(\.\*)?)?", "no hover to judge"),
    (r"power_sensing/(hover-.*|recharge)", r"records\.(hover|recharge)\.\*\.in_force.*",
     "taken as the settings installed; a change of settings in the logbook ends the record"),
    (r"power_sensing/current-scale", r"records\.hover\.\*.*", "judged from the least current known to be flown"),
    (r".*", r"aircraft\.relies_on\.\*", "the aircraft does not rely on it"),
    (r".*", r"logbook(\.\*)?", "work that nobody wrote down cannot be known"),
    (r"compass/(heading-check|total-deviation.*)", r"records\.heading_check\.\*\.reference.*",
     "the tolerance heading_reference_accuracy is taken, and the evidence says so"),
    (r"compass/heading-check", r"records\.heading_check\.\*\.rows\.\*", "the heading that told it"),
    (r"compass/total-deviation.*", r"records(\.heading_check.*)?", "judged where all its parts are recorded"),
]  # fmt: skip

# Rules whose findings forbid or burden a flight, but whose answer flight does not wait for: with their record left out
# they say that it is not recorded, and the verdict is as good as the rest. A club's policy can make flight wait.
NOT_WAITED_FOR = {
    "control/arms-at-raised-throttle", "failsafe/range-test", "interference/run-conditions",
    "power_sensing/hover-power", "power_sensing/hover-throttle", "power_sensing/input-range", "power_sensing/recharge",
    "retention/braking-plain-nut", "retention/locknut-engaged", "retention/motor-screw-too-long",
    "retention/prop-slips", "rotation/expected-spin",
}  # fmt: skip
LEANED_ON = {"compass", "logbook", "interference_run", "heading_check", "barometer_check", "hover", "rig_check"}


def around(steps):
    """The record, section or rotor that the fault was put into."""
    return steps[: {"records": 3, "logbook": 2}.get(steps[0], 2)]


def left_out(document, fault):
    """The record or part that the fault is in, each of its fields, and what other rules lean on, once each."""
    near = around(fault)
    met = set()
    for words, at, without in silence.silences(document):
        close = at == fault or (at[: len(near)] == near and len(at) <= len(near) + 1)
        leaned_on = LEANED_ON & set(fault) and re.fullmatch(ELSEWHERE, words)
        if words not in met and (leaned_on or (close and not words.endswith("(time of day)"))):
            met.add(words)
            yield words, without


def no_longer_found_or_open(before, after):
    """(rule, kind of answer before, kind now) of all that was found or open and is not any more."""
    for subject, told in before.items():
        now = after.get(subject)
        # Records of each kind are judged one by one: without one of them, there is nothing to ask of it.
        if subject[0].startswith("freshness/") or isinstance(now, Finding | Unproven):
            continue
        if isinstance(told, Finding) or (isinstance(told, Unproven) and told.cause != "absent"):
            yield subject[0], type(told).__name__, type(now).__name__


@pytest.mark.parametrize("fault", FAULTS)
def test_leaving_out_one_thing_clears_nothing(fault):
    steps, value = FAULTS[fault]
    wrong = changed(club_aircraft("wheatear"), steps, value)
    verdict, before = judged(wrong)
    assert verdict not in ("go", "not read")
    for words, without in left_out(wrong, steps):
        new_verdict, after = judged(without)
        if new_verdict == "not read":
            continue
        for rule, was, now in no_longer_found_or_open(before, after):
            explained = [why for of, left, why in EXPLAINED if re.fullmatch(of, rule) and re.fullmatch(left, words)]
            assert explained, f"without {words}, {rule} was {was} and is {now}"
            print(f"{rule} without {words}: {explained[0]}")
        if BETTER[new_verdict] > BETTER[verdict]:
            now_open = {
                s[0] for s, o in before.items() if isinstance(o, Finding) and isinstance(after.get(s), Unproven)
            }
            assert now_open <= NOT_WAITED_FOR, f"without {words} the verdict is {new_verdict}, not {verdict}"
