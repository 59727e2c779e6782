"""Outputs, tilts and sticks of every layout, against an oracle that imports nothing of preflint.

The oracle knows places (from drawings: angles of the arms), which way each rotor turns, and mechanics: the moment of a
force is place cross force, and a rotor's drag turns the aircraft against its spin. It flies what the outputs drive.
"""

import re
from itertools import combinations
from math import cos, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making.manifests import answer, expect, manifest, opening
from making.moments import AGAINST, ATTITUDES, moment

from preflint.api import ANGLES, Clear, Finding, Unproven, positions
from preflint.testing import inspect_text

OUTPUT, TILT, STICK = "rotation/output-order", "control/tilt-answer", "control/stick-answer"


# --- the oracle: degrees clockwise from the nose, drawn again here ---

DRAWN = {
    "quad-x": {"front-right": 45, "rear-right": 135, "rear-left": 225, "front-left": 315},
    "quad-plus": {"front": 0, "right": 90, "rear": 180, "left": 270},
    "hexa-x": {"front-right": 30, "right": 90, "rear-right": 150, "rear-left": 210, "left": 270, "front-left": 330},
    "hexa-plus": {"front": 0, "front-right": 60, "rear-right": 120, "rear": 180, "rear-left": 240, "front-left": 300},
    "octo-x": {
        "front-right": 22.5, "right-front": 67.5, "right-rear": 112.5, "rear-right": 157.5,
        "rear-left": 202.5, "left-rear": 247.5, "left-front": 292.5, "front-left": 337.5,
    },
    "octo-plus": {
        "front": 0, "front-right": 45, "right": 90, "rear-right": 135,
        "rear": 180, "rear-left": 225, "left": 270, "front-left": 315,
    },
    "x8": {"front-right": 45, "rear-right": 135, "rear-left": 225, "front-left": 315},
    "y6": {"front-right": 60, "rear": 180, "front-left": 300},
}  # fmt: skip


def drawn(layout):
    """Place (forward, right, down; the arm is 1) and spin of every rotor; neighbours turn the other way."""
    rotors = {}
    for turn, (arm, angle) in enumerate(DRAWN[layout].items()):
        place = (cos(radians(angle)), sin(radians(angle)), 0.0)
        cw = turn % 2 == 0 or layout == "y6"
        if layout in ("x8", "y6"):
            rotors[f"{arm}-upper"] = place, "cw" if cw else "ccw"
            rotors[f"{arm}-lower"] = place, "ccw" if cw else "cw"
        else:
            rotors[arm] = place, "cw" if cw else "ccw"
    return rotors


def answers(rotors, drives):
    """Moments that come of a command of one about each axis: row what comes, column what was commanded."""
    names = list(rotors)
    moments = {at: moment(*rotors[at]) for at in names}
    length = [sum(moments[at][k] ** 2 for at in names) for k in range(3)]
    # Each output is given its own rotor's moment about the axis: by symmetry that tips about no other.
    return [
        [
            sum(moments[drives.get(at, at)][row] * moments[at][column] for at in names) / length[column]
            for column in range(3)
        ]
        for row in range(3)
    ]


def comes_back(given):
    """Flies it: tilted by 1 about one axis, does a correction by angle and rate bring it back level?"""
    for start in range(3):
        angle, rate = [0.0, 0.0, 0.0], [0.0, 0.0, 0.0]
        angle[start] = 1.0
        for _ in range(1500):
            command = [-4 * angle[k] - 4 * rate[k] for k in range(3)]
            for k in range(3):
                rate[k] += 0.02 * sum(given[k][m] * command[m] for m in range(3))
                angle[k] += 0.02 * rate[k]
            if max(map(abs, angle)) > 100:
                return False
        if max(abs(angle[0]), abs(angle[1])) > 0.1:
            return False
    return True


def head(layout, rotors):
    return manifest(rotors={at: f"spin: {rotors[at][1]}" for at in positions(layout)}, layout=layout) + "records:\n"


def output_test(rotors, drives):
    turned = ", ".join(f"{at}: {drives.get(at, at)}" for at in rotors)
    return f"  output_test: [{{date: 2026-04-18, props: removed, turned: {{{turned}}}}}]\n"


def test_the_drawings_are_those_of_all_layouts():
    assert {layout: set(drawn(layout)) for layout in DRAWN} == {layout: set(positions(layout)) for layout in ANGLES}


@pytest.mark.parametrize("layout", sorted(DRAWN))
def test_the_oracle_flies_what_is_right_and_crashes_a_mirrored_roll(layout):
    rotors = drawn(layout)
    assert comes_back(answers(rotors, {}))
    mirrored = {
        at: next(other for other, (place, _) in rotors.items()
                 if abs(place[0] - rotors[at][0][0]) < 1e-9 and abs(place[1] + rotors[at][0][1]) < 1e-9
                 and other.endswith(("-upper", "-lower")) == at.endswith(("-upper", "-lower"))
                 and (not at.endswith(("-upper", "-lower")) or other[-5:] == at[-5:]))
        for at in rotors
    }  # fmt: skip
    assert not comes_back(answers(rotors, mirrored))


PERCENT = re.compile(r"(roll|pitch|yaw) (-?\d+) %")


@pytest.mark.parametrize("layout", sorted(DRAWN))
def test_every_exchange_of_two(layout):
    rotors = drawn(layout)
    for one, other in combinations(positions(layout), 2):
        drives = {one: other, other: one}
        told = expect(Finding, answer(head(layout, rotors) + output_test(rotors, drives), OUTPUT, one))
        given = answers(rotors, drives)
        numbers = {axis: int(part) for axis, part in PERCENT.findall(told.evidence)}
        assert [numbers[axis] for axis in ("roll", "pitch", "yaw")] == [
            pytest.approx(100 * given[k][k], abs=0.51) for k in range(3)
        ], (one, other)
        mixes = {
            frozenset((a, b))
            for (k, a), (m, b) in combinations(enumerate(("roll", "pitch", "yaw")), 2)
            if abs(given[k][m]) > 0.02 or abs(given[m][k]) > 0.02
        }
        said = {frozenset(pair) for pair in re.findall(r"(\w+) and (\w+) mix", told.evidence)}
        if "roll, pitch and yaw mix" in told.evidence:
            said = {frozenset(pair) for pair in combinations(("roll", "pitch", "yaw"), 2)}
        assert said == mixes, (one, other)
        assert ("would flip" in told.message) == (not comes_back(given)), (one, other)
        arm = one.rpartition("-")[0]
        coaxial = layout in ("x8", "y6") and arm == other.rpartition("-")[0]
        assert ("roll and pitch stay right" in told.message) == coaxial


# --- tilts and sticks of odd airframes ---


def ought(rotors, attitude, goal):
    """Rotors that push toward the goal, against it, and how strongly, in parts of the strongest."""
    axis, sign = ATTITUDES[goal[attitude] if goal else attitude]
    push = {at: sign * moment(*rotor)[axis] for at, rotor in rotors.items()}
    most = max(map(abs, push.values()))
    return {at: part / most for at, part in push.items()}


ODD = st.lists(
    st.tuples(st.integers(-400, 400), st.integers(-400, 400), st.sampled_from(["cw", "ccw"])), min_size=3, max_size=9
)


def centred(odd):
    """Places about their own middle, in mm, as whole numbers."""
    forward, right = (sum(rotor[k] for rotor in odd) / len(odd) for k in (0, 1))
    return {f"r{k}": ((round(x - forward), round(y - right), 0.0), spin) for k, (x, y, spin) in enumerate(odd)}


def custom(rotors, moved=(0, 0)):
    listed = "".join(
        f"  - {{at: {at}, spin: {spin}, place_mm: [{place[0] + moved[0]}, {place[1] + moved[1]}, 0]}}\n"
        for at, (place, spin) in rotors.items()
    )
    return f"{opening('Trial', 'custom')}rotors:\n{listed}records:\n"


def one_move(record, did, rotors):
    return (
        f"  {record}: [{{date: 2026-05-20, props: removed, moves: [{{did: {did}, indicated: {did}, "
        f"sped_up: [{', '.join(rotors)}]}}]}}]\n"
    )


@settings(derandomize=True, deadline=None, max_examples=60)
@given(ODD, st.sampled_from(sorted(ATTITUDES)), st.booleans(), st.data())
def test_odd_airframes(odd, did, tilted, data):
    rotors = centred(odd)
    if max(max(map(abs, place)) for place, _ in rotors.values()) < 20:
        return
    rule, record, goal = (TILT, "tilt_test", AGAINST) if tilted else (STICK, "stick_check", None)
    if did.startswith("turned"):
        places = dict.fromkeys(rotors, 1.0)
    else:
        axis = 1 if did.endswith("-down") and not did.startswith("nose") else 0
        places = {at: abs(rotor[0][axis]) for at, rotor in rotors.items()}
    if max(places.values()) < 20:
        return
    push = ought(rotors, did, goal)
    at = data.draw(st.sampled_from(sorted(rotors)))
    if 0.02 < abs(push[at]) < 0.08:
        return  # beside the axis, where rounding of the places decides
    told = answer(custom(rotors) + one_move(record, did, [at]), rule)
    could = any(part >= 0.45 for part in push.values())
    if could:
        assert isinstance(told, Finding) == (push[at] < -0.05), (rotors, push)
    else:
        assert isinstance(told, Unproven)
        assert told.message.startswith("by the places and spins written no rotor could move the aircraft ")


@pytest.mark.parametrize("layout", sorted(DRAWN))
@pytest.mark.parametrize("moved", [(0, 0), (-60, 40), (900, -700)])
def test_places_from_another_point_accuse_nobody(layout, moved):
    """Measured from the nose or a leg, the places still have the same front and the same right."""
    rotors = {at: (tuple(round(300 * part) for part in place), spin) for at, (place, spin) in drawn(layout).items()}
    for record, rule, goal in (("tilt_test", TILT, AGAINST), ("stick_check", STICK, None)):
        for did in ATTITUDES:
            push = ought(rotors, did, goal)
            right = [at for at, part in push.items() if part > -0.02]  # those on the axis may do either
            told = answer(custom(rotors, moved) + one_move(record, did, right), rule)
            assert isinstance(told, Unproven), (did, moved)  # one movement only


# --- faults seeded into an aircraft on which everything is right ---


def right(layout):
    """Manifest in which outputs, tilt test and stick check are all as they ought to be, by the oracle."""
    rotors = drawn(layout)

    def moves(goal):
        for did in ATTITUDES:
            sped = [at for at, part in ought(rotors, did, goal).items() if part > 0.02]
            slowed = [at for at, part in ought(rotors, did, goal).items() if part < -0.02]
            yield (
                f"        - {{did: {did}, indicated: {did}, sped_up: [{', '.join(sped)}], "
                f"slowed_down: [{', '.join(slowed)}]}}\n"
            )

    everyone = ", ".join(rotors)
    return (
        head(layout, rotors)
        + output_test(rotors, {})
        + "  tilt_test:\n    - date: 2026-05-20\n      props: removed\n      moves:\n"
        + "".join(moves(AGAINST))
        + "  stick_check:\n    - date: 2026-05-20\n      props: removed\n      moves:\n"
        + "".join(moves(None))
        + f"        - {{did: throttle-up, indicated: throttle-up, sped_up: [{everyone}]}}\n"
        + f"      start_throttle_percent: {{{', '.join(f'{at}: 5' for at in rotors)}}}\n"
        + "      arms_at_raised_throttle: false\n"
    )


def wrong_rules(text):
    inspected = inspect_text(text)
    judged = (OUTPUT, "rotation/props-removed")
    results = [r for r in inspected.results if r.rule.topic == "control" or r.rule.id in judged]
    assert not [r for r in results if not isinstance(r.outcome, (Clear, Finding))], results
    return {r.rule.id for r in results if isinstance(r.outcome, Finding)}


@pytest.mark.parametrize("layout", sorted(DRAWN))
def test_nothing_wrong(layout):
    assert wrong_rules(right(layout)) == set()


START, ARMING = "control/start-throttle-spread", "control/arms-at-raised-throttle"
THROTTLE, PROPS = "control/throttle-answer", "control/props-removed"
ABOUT = r"sped_up: (\[[^]]*\]), slowed_down: (\[[^]]*\])", r"sped_up: \2, slowed_down: \1"
# What is done, the rule that must find it, in which record, the pattern and what takes its place.
FAULTS = {
    "tilt answered the wrong way": (TILT, "tilt_test", *ABOUT),
    "sticks answered the wrong way": (STICK, "stick_check", *ABOUT),
    "seen the wrong way": (TILT, "tilt_test", "indicated: nose-down", "indicated: nose-up"),
    "mounted a quarter turned": (TILT, "tilt_test", "indicated: nose-down", "indicated: right-down"),
    "stick on the wrong axis": (STICK, "stick_check", "indicated: right-down", "indicated: turned-right"),
    "throttle reversed": (THROTTLE, "stick_check", "(indicated: throttle-up, )sped_up", r"\1slowed_down"),
    "throttle shown reversed": (THROTTLE, "stick_check", "indicated: throttle-up", "indicated: throttle-down"),
    "one motor starts late": (START, "stick_check", r"(percent: \{[\w-]+: )5", r"\g<1>8.5"),
    "arms at raised throttle": (ARMING, "stick_check", "throttle: false", "throttle: true"),
    "tilted with props on": (PROPS, "tilt_test", "removed", "fitted"),
    "sticks with props on": (PROPS, "stick_check", "removed", "fitted"),
    "outputs with props on": ("rotation/props-removed", "output_test", "removed", "fitted"),
}


def seed(text, record, pattern, replacement):
    """The pattern replaced in one record only."""
    parts = re.split(r"(?m)^(?=  \w)", text)
    return "".join(re.sub(pattern, replacement, part) if part.startswith(f"  {record}:") else part for part in parts)


@pytest.mark.parametrize("layout", sorted(DRAWN))
@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.replace(" ", "-"))
def test_a_seeded_fault_is_found_and_nothing_else(layout, fault):
    rule, *how = FAULTS[fault]
    seeded = seed(right(layout), *how)
    assert seeded != right(layout)
    assert wrong_rules(seeded) == {rule}
