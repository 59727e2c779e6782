"""Answers to tilt and sticks: full texts, and every layout against moments worked out with vectors."""

import pytest
from making.manifests import QUAD as ROTORS
from making.manifests import answer, expect, manifest, opening
from making.moments import AGAINST, ATTITUDES, moment

from preflint.api import ANGLES, Clear, Finding, Unproven, positions
from preflint.testing import inspect_text, marked, outcome

TILT, STICK = "control/tilt-answer", "control/stick-answer"
QUAD = manifest(ROTORS, name="Lapwing")


def pushes_toward(attitude, place, spin):
    """Above zero where more of this rotor moves the aircraft to the attitude."""
    axis, sign = ATTITUDES[attitude]
    return sign * moment(place, spin)[axis]


def arms(layout):
    from math import cos, radians, sin

    return {at: (cos(radians(a)), sin(radians(a)), 0.0) for at, a in ANGLES[layout].items()}


def aircraft(layout):
    """Spins that take turns round the frame; of a coaxial pair the two differ."""
    spins = {at: "cw" if i % 2 else "ccw" for i, at in enumerate(positions(layout))}
    rotors = {at: f"spin: {spin}" for at, spin in spins.items()}
    return manifest(rotors=rotors, name="Lapwing", layout=layout), spins


def with_moves(head, record, moves):
    listed = "".join(f"        - {{{move}}}\n" for move in moves)
    return head + f"records:\n  {record}:\n    - date: 2026-05-20\n      props: removed\n      moves:\n{listed}"


def answered(layout, record, goal):
    """All six movements, each with every rotor that clearly ought to speed up according to the oracle."""
    head, spins = aircraft(layout)
    moves = []
    for did in ATTITUDES:
        push = {at: pushes_toward(goal(did), place, spins[at]) for at, place in arms(layout).items()}
        sped = [at for at, p in push.items() if p > 0.05]
        moves.append(f"did: {did}, indicated: {did}, sped_up: [{', '.join(sped)}]")
    return head, spins, moves


@pytest.mark.parametrize("layout", sorted(ANGLES))
@pytest.mark.parametrize(
    ("rule", "record", "goal"),
    [(TILT, "tilt_test", AGAINST.get), (STICK, "stick_check", lambda did: did)],
    ids=["tilt", "stick"],
)
def test_every_layout_against_moments(layout, rule, record, goal):
    head, spins, moves = answered(layout, record, goal)
    assert isinstance(answer(with_moves(head, record, moves), rule), Clear)
    for did in list(ATTITUDES)[::2]:  # the other three are the same movements undone, and all six were answered above
        for at, place in arms(layout).items():
            push = pushes_toward(goal(did), place, spins[at])
            text = with_moves(head, record, [f"did: {did}, sped_up: [{at}]"])
            told = answer(text, rule)
            assert isinstance(told, Finding) == (push < -0.05), (did, at)
            if isinstance(told, Finding):
                assert marked(text, told.place) == at


def test_custom_places_count():
    head = (
        f"{opening('Lapwing', 'custom')}rotors:\n"
        "  - {at: bow, spin: cw, place_mm: [300, 0, 0]}\n"
        "  - {at: port, spin: ccw, place_mm: [-200, -250, 0]}\n"
        "  - {at: starboard, spin: ccw, place_mm: [-200, 250, 0]}\n"
    )
    right = with_moves(head, "stick_check", ["did: nose-down, sped_up: [port, starboard]"])
    wrong = with_moves(head, "stick_check", ["did: nose-down, sped_up: [bow]"])
    assert isinstance(answer(right, STICK), Unproven)  # the other axes were not tried
    found = expect(Finding, answer(wrong, STICK))
    assert found.message == "stick nose down, bow sped up; port, starboard ought to"


def test_a_rotor_near_the_axis_need_not_be_seen_to_answer():
    """0.41 of the longest arm on an octo need not; 0.5 on a hexa must."""
    for layout, near in (("octo-x", True), ("hexa-x", False)):
        head, _, moves = answered(layout, "tilt_test", AGAINST.get)
        places = arms(layout)
        clearly = [at for at, place in places.items() if place[1] > 0.6]
        moves[2] = f"did: right-down, indicated: right-down, sped_up: [{', '.join(clearly)}]"
        told = answer(with_moves(head, "tilt_test", moves), TILT)
        assert isinstance(told, Clear if near else Unproven), layout


def along(*forward_mm):
    """Four rotors so far ahead, in turn on the left and on the right."""
    listed = [f"  - {{at: {at}, place_mm: [{mm}, {200 if at in 'bd' else -200}, 0]}}\n"
              for at, mm in zip("abcd", forward_mm, strict=True)]  # fmt: skip
    return opening("Lapwing", "custom") + "rotors:\n" + "".join(listed)


# Next to nothing is less than 0.05 of the longest arm, here of 200 mm: 10 mm.
@pytest.mark.parametrize(("mm", "accused"), [(12, True), (8, False)])
def test_a_rotor_next_to_the_axis_may_do_either(mm, accused):
    nose_down = with_moves(along(200, mm, -200, -mm), "stick_check", ["did: nose-down, sped_up: [b, c]"])
    assert isinstance(answer(nose_down, STICK), Finding) is accused


@pytest.mark.parametrize(("mm", "owes"), [(12, True), (8, False)])
def test_a_rotor_owes_an_answer_where_it_is_ahead_of_their_middle_too(mm, owes):
    """Written from 220 mm behind the middle of the rotors, where a stands more than half of the longest arm ahead."""
    head = along(220 + mm, 220 - mm, 20, 420)
    nose_up = with_moves(head, "stick_check", ["did: nose-up, sped_up: [d], slowed_down: [a]"])
    assert isinstance(answer(nose_up, STICK), Finding) is owes


HEXA = (
    f"{opening('Lapwing', 'custom')}rotors:\n"
    "  - {at: a, spin: cw, place_mm: [480, -173, 0]}\n  - {at: b, spin: ccw, place_mm: [480, 173, 0]}\n"
    "  - {at: c, spin: ccw, place_mm: [280, -300, 0]}\n  - {at: d, spin: cw, place_mm: [280, 300, 0]}\n"
    "  - {at: e, spin: cw, place_mm: [80, -173, 0]}\n  - {at: f, spin: ccw, place_mm: [80, 173, 0]}\n"
)


def test_rotors_beside_the_middle_owe_nothing_though_measured_from_elsewhere():
    """c and d stand 280 mm before the point measured from, and beside the middle of the rotors."""
    moves = [
        "did: nose-down, indicated: nose-down, sped_up: [a, b]",
        "did: right-down, indicated: right-down, sped_up: [b, d, f]",
        "did: turned-right, indicated: turned-right, sped_up: [a, d, e]",
    ]
    assert isinstance(answer(with_moves(HEXA, "tilt_test", moves), TILT), Clear)
    told = outcome(
        inspect_text(with_moves(HEXA, "tilt_test", ["did: nose-up, indicated: nose-up, sped_up: [e, f]"])), TILT
    )
    assert isinstance(told, Unproven)
    assert (told.cause, told.message, told.do) == (
        "uncertain", "by the places and spins written no rotor could move the aircraft nose down",
        "measure each rotor's place from the centre of the rotors, look at each spin, and write place_mm and spin",
    )


def test_rotors_in_one_place_answer_nothing():
    head = HEXA.replace("480", "0").replace("280", "0").replace("[80", "[0")
    head = head.replace("-173", "0").replace("173", "0").replace("-300", "0").replace("300", "0")
    moves = [f"{did}, sped_up: [a]" for did in ("did: nose-down, indicated: nose-down", "did: right-down")]
    assert isinstance(answer(with_moves(head, "tilt_test", moves), TILT), Unproven)


def test_one_place_in_mm_asks_for_all():
    head = QUAD.replace("at: front-left, ", "at: front-left, place_mm: [220, -220, 0],")
    told = expect(Unproven, answer(with_moves(head, "tilt_test", ["did: nose-down, sped_up: [rear-left]"]), TILT))
    assert told.message == "front-right.place_mm is not recorded"


# --- texts ---

GOOD_TILT = [
    "did: nose-down, indicated: nose-down, sped_up: [front-left, front-right]",
    "did: right-down, indicated: right-down, sped_up: [front-right, rear-right]",
    "did: turned-right, indicated: turned-right, sped_up: [front-left, rear-right]",
]
GOOD_STICK = [
    "did: nose-down, sped_up: [rear-left, rear-right]", "did: right-down, sped_up: [front-left, rear-left]",
    "did: turned-right, sped_up: [front-right, rear-left]",
]


def tilt(moves):
    text = with_moves(QUAD, "tilt_test", moves)
    return text, answer(text, TILT)


def stick(moves):
    text = with_moves(QUAD, "stick_check", moves)
    return text, answer(text, STICK)


def test_tilt_indicated_wrong_in_full():
    text, found = tilt([GOOD_TILT[0].replace("indicated: nose-down", "indicated: left-down"), *GOOD_TILT[1:]])
    assert isinstance(found, Finding)
    assert found.message == "moved nose down it indicated left down"
    assert found.evidence == ("tilt test of 2026-05-20; right and left as seen from above, nose forward")
    assert found.do == (
        "set the way the flight controller is mounted to how it sits, or turn it to how it is set; then repeat the test"
    )
    assert marked(text, found.place) == "left-down"


def test_tilt_answered_by_the_wrong_rotors_in_full():
    text, found = tilt([GOOD_TILT[0], GOOD_TILT[1].replace("front-right, rear-right", "front-left, rear-left")])
    assert isinstance(found, Finding)
    assert found.message == ("moved right down, front-left, rear-left sped up; front-right, rear-right ought to")
    assert found.do == (
        "check the layout that is set, the order of the outputs, and the direction of that axis; then repeat the test"
    )
    assert marked(text, found.place) == "front-left"


def test_stick_yaw_reversed_in_full():
    _, found = stick([*GOOD_STICK[:2], "did: turned-right, sped_up: [front-left, rear-right]"])
    assert isinstance(found, Finding)
    assert found.message == ("stick turned right, front-left, rear-right sped up; front-right, rear-left ought to")


def test_right_answers():
    assert tilt(GOOD_TILT)[1] == Clear(
        "tilt test of 2026-05-20: every movement was indicated as made, and the right rotors answered"
    )
    seen_only = [move.partition(", sped_up")[0] for move in GOOD_TILT]
    unseen = tilt(seen_only)[1]  # that it sees the tilt says nothing of which way it answers
    assert unseen.cause == "absent"
    assert unseen.message == (
        "not recorded as answered by rotors: tip the nose down, tip the right side down, turn to the right"
    )
    assert stick(GOOD_STICK)[1] == Clear("stick check of 2026-05-20: the right rotors answered every stick")


def test_an_axis_not_tried():
    _, told = tilt(GOOD_TILT[:2])
    assert isinstance(told, Unproven)
    assert told.message == "not recorded as indicated: turn to the right"
    _, told = stick(GOOD_STICK[1:2])
    assert isinstance(told, Unproven)
    assert told.message == ("not recorded as answered by rotors: tip the nose down, turn to the right")


def test_a_rotor_that_was_not_seen_to_answer():
    _, told = tilt([GOOD_TILT[0].replace("front-left, ", ""), *GOOD_TILT[1:]])
    assert isinstance(told, Unproven)
    assert (told.cause, told.message) == (
        "uncertain", "nose down: whether front-left sped up is not recorded",
    )


def test_the_spin_is_needed_for_yaw():
    text = with_moves(QUAD.replace(", spin: ccw", "").replace(",   spin: ccw", ""), "tilt_test", GOOD_TILT)
    told = expect(Unproven, answer(text, TILT))
    assert told.message == "front-right.spin is not recorded"


def starts(values):
    return QUAD + f"records:\n  stick_check: [{{date: 2026-05-20, start_throttle_percent: {{{values}}}}}]\n"


def test_start_throttle_in_full():
    text = starts("front-left: 5, front-right: 5.5, rear-left: 9, rear-right: 6")
    found = expect(Finding, answer(text, "control/start-throttle-spread"))
    assert found.message == "the motors begin to turn 4 % of throttle apart: front-left first, rear-left last"
    assert found.evidence == "from 5 % at front-left to 9 % at rear-left; at most 3 % apart"
    assert found.do == ("let every speed controller learn the throttle range again, all in one way, then check again")
    assert marked(text, found.place) == "9"


@pytest.mark.parametrize(("values", "expected"), [
    ("front-left: 5, front-right: 5, rear-left: 8, rear-right: 6", Clear),
    ("front-left: 5, front-right: 5, rear-left: 8.1, rear-right: 6", Finding),
    ("front-left: 5, front-right: 5, rear-left: 8", Unproven),
    ("front-left: 5, front-right: 9", Finding),
])
def test_start_throttle(values, expected):
    assert isinstance(answer(starts(values), "control/start-throttle-spread"), expected)


def test_arming_in_full():
    rule = "control/arms-at-raised-throttle"
    text = QUAD + "records:\n  stick_check: [{date: 2026-05-20, arms_at_raised_throttle: true}]\n"
    found = expect(Finding, answer(text, rule))
    assert (found.message, found.evidence) == (
        "the aircraft arms with the throttle raised", "stick check of 2026-05-20",
    )
    assert found.do == (
        "set the flight controller to refuse arming unless the throttle is closed, then try again"
    )
    assert marked(text, found.place) == "true"
    assert answer(text.replace("true}", "false}"), rule) == Clear(
        "it refused to arm with the throttle raised on 2026-05-20"
    )


@pytest.mark.parametrize(("rule", "message"), [
    (TILT, "no tilt test is recorded"),
    (STICK, "no stick check is recorded"),
    ("control/start-throttle-spread", "no stick check is recorded"),
    ("control/arms-at-raised-throttle", "no stick check is recorded"),
])
def test_input_missing(rule, message):
    told = expect(Unproven, answer(QUAD, rule))
    assert (told.cause, told.message) == ("absent", message)
    needed = next(r.rule for r in inspect_text(QUAD).results if r.rule.id == rule).needed_for_flight
    assert needed is (rule in (TILT, STICK))


def test_one_more_movement_of_which_no_rotor_is_noted_takes_nothing_away():
    more = "did: nose-up, indicated: nose-up"
    assert isinstance(answer(with_moves(QUAD, "tilt_test", [*GOOD_TILT, more]), TILT), Clear)
    assert isinstance(answer(with_moves(QUAD, "stick_check", [*GOOD_STICK, more]), STICK), Clear)
