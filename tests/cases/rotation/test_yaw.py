"""rotation/yaw-balance: both sides of its limits, whom to reverse, and what equal shares cannot tell."""

from functools import partial

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making.manifests import answer, expect, manifest

from preflint.api import ANGLES, Clear, Finding, Unproven, positions
from preflint.testing import marked


def named(layout: str, spins: str, sizes: dict[str, str] | None = None) -> str:
    """``spins``: P (ccw, pushes the nose right) or N (cw) for each position in walk-round order."""
    rotors = {}
    for at, spin in zip(positions(layout), spins, strict=True):
        rotors[at] = f"spin: {'ccw' if spin == 'P' else 'cw'}" + (f", prop: {{{sizes[at]}}}" if sizes else "")
    return manifest(rotors=rotors, layout=layout)


def custom(places: list[tuple[float, float]], spins: str) -> str:
    rotors = {}
    for arm, (x, y), spin in zip("abcdefghijkl", places, spins, strict=False):
        rotors[f"arm-{arm}"] = f"place_mm: [{x}, {y}, 0], spin: {'ccw' if spin == 'P' else 'cw'}"
    return manifest(rotors=rotors, layout="custom")


def ring(count: int) -> list[tuple[float, float]]:
    """Opposite places in pairs, so that their mean is the centre to the last digit."""
    half = [(300 - 20 * i, 100 + 30 * i) for i in range(count // 2)]
    return [*half, *((-x, -y) for x, y in half)]


judged = partial(answer, rule="rotation/yaw-balance")


def test_one_motor_reversed_on_a_quad_is_named():
    text = named("quad-x", "NNPN")  # front-left, front-right, rear-left, rear-right
    found = judged(text)
    assert found.message == "yaw does not balance: 3 of 4 rotors turn cw, so the aircraft turns left"
    assert found.evidence == (
        "3 cw and 1 ccw seen from above, equal thrust: 50 % of all torque is left over (limit 20 %)"
    )
    assert found.do == (
        "reverse the motor at front-right to ccw: roll and pitch then leave yaw alone; swap any two of a motor's three "
        "wires and change prop and nut with it; then repeat the spin test"
    )
    assert (found.place.line, marked(text, found.place)) == (5, "cw")
    assert [(r.place.line, r.message) for r in found.related] == [
        (4, "front-left turns cw too"),
        (7, "rear-right turns cw too"),
    ]


def test_all_one_way():
    text = named("quad-plus", "PPPP")
    found = judged(text)
    assert found.message == "yaw does not balance: 4 of 4 rotors turn ccw, so the aircraft turns right"
    assert found.evidence == (
        "0 cw and 4 ccw seen from above, equal thrust: 100 % of all torque is left over (limit 20 %)"
    )
    assert found.do.startswith("reverse 2 of the motors at front, right, rear and left to cw; ")
    assert found.place.line == 4


@pytest.mark.parametrize("layout", ANGLES)
def test_alternating_and_its_mirror_balance_and_any_one_reversed_does_not(layout):
    angles = sorted(set(ANGLES[layout].values()))
    for first in (0, 1):
        spins = {}
        for at, angle in ANGLES[layout].items():
            spins[at] = (angles.index(angle) + first + at.endswith("-lower")) % 2
        assert isinstance(judged(named(layout, "".join("NP"[spins[at]] for at in spins))), Clear)
        for wrong in spins:
            text = named(layout, "".join("NP"[1 - spins[at] if at == wrong else spins[at]] for at in spins))
            found = expect(Finding, judged(text))
            # The two of a coaxial arm that now turn alike cannot be told apart; the first of them is marked.
            arm = wrong.removesuffix("-upper").removesuffix("-lower")
            alike = [at for at in spins if at in (arm, f"{arm}-upper", f"{arm}-lower")]
            assert f"at: {alike[0]}, " in text.split("\n")[found.place.line - 1]
            wanted = f"reverse the motor at {' or '.join(alike)} to {('cw', 'ccw')[spins[wrong]]}: "
            assert found.do.startswith(wanted)


def test_neighbours_need_not_alternate():
    # PPNNPN flies: Du, Quan, Yang, Cai, J. Guid. Control Dyn. 38(5), 2015; clockwise from the nose, P is ccw.
    round_the_nose = dict(
        zip(("front", "front-right", "rear-right", "rear", "rear-left", "front-left"), "PPNNPN", strict=True)
    )
    text = named("hexa-plus", "".join(round_the_nose[at] for at in positions("hexa-plus")))
    assert judged(text) == Clear(
        "3 cw and 3 ccw seen from above, equal thrust: 0 % of all torque is left over (limit 20 %)"
    )


def test_where_no_single_reversal_parts_yaw_from_roll_and_pitch_all_are_named():
    text = named("hexa-plus", "PPPNPN")
    assert judged(text).do.startswith(
        "reverse 1 of the motors at front, front-left, front-right and rear-right to cw; "
    )


@pytest.mark.parametrize(("spins", "balances"), [("PPPPPPNNNN", True), ("PPPPPNNN", False)])
def test_both_sides_of_a_fifth(spins, balances):
    # 6 against 4 of ten: exactly 20 %. 5 against 3 of eight: 25 %.
    assert isinstance(judged(custom(ring(len(spins)), spins)), Clear if balances else Finding)


def test_three_rotors_need_something_else():
    told = judged(custom([(200, -150), (200, 150), (-400, 0)], "PNP"))
    assert (told.cause, told.message) == (
        "uncertain", "3 rotors cannot balance yaw by spin alone: something else, such as a tilted rotor, must",
    )
    assert told.do == "see in a hover log, with everything else settled, that yaw holds without a steady correction"


@pytest.mark.parametrize(("shift", "told"), [(15, True), (16, False)])
def test_equal_shares_hold_only_about_the_centre(shift, told):
    # A square of 300 mm arms, moved forward: 15/300 of an arm is 5 % (the arms change little).
    arm = 300 / 2**0.5
    places = [(arm, -arm), (arm, arm), (-arm, -arm), (-arm, arm)]
    text = custom([(round(x + shift, 3), round(y, 3)) for x, y in places], "NPPN")
    found = judged(text)
    if told:
        assert isinstance(found, Clear)
    else:
        assert isinstance(found, Unproven)
        assert found.message == "the load is shared unequally: the rotors' mean place is 5 % of an arm off the centre"
        assert (found.cause, marked(text, found.place)) == ("uncertain", "custom")


def test_unequal_arms_about_the_centre_do_share_equally():
    assert isinstance(judged(custom([(100, -300), (100, 300), (-100, -300), (-100, 300)], "NPPN")), Clear)


def test_what_is_missing():
    told = judged(named("quad-x", "NPPN").replace(", spin: cw", "", 1))
    assert (told.cause, told.message) == ("absent", "front-left.spin is not recorded")
    # A named layout whose rotors are measured one by one: some in mm and some not do not add up.
    told = judged(named("quad-x", "NPPN").replace("spin: cw", "spin: cw, place_mm: [220, -220, 0]", 1))
    assert (told.cause, told.message) == ("absent", "front-right.place_mm is not recorded")


BIG = "diameter_in: 13, pitch_in: 5.5, blades: 2"
SMALL = "diameter_in: 13, pitch_in: 4.4, blades: 2"


def test_lowers_of_more_pitch_cancel_among_themselves():
    sizes = {at: BIG if at.endswith("-lower") else SMALL for at in positions("x8")}
    spins = "".join("NP"[(i // 2 in (1, 2)) ^ at.endswith("-lower")] for i, at in enumerate(positions("x8")))
    assert isinstance(judged(named("x8", spins, sizes)), Clear)


def test_lowers_of_more_pitch_that_all_turn_one_way_leave_it_open():
    sizes = {at: BIG if at.endswith("-lower") else SMALL for at in positions("y6")}
    text = named("y6", "".join("P" if at.endswith("-lower") else "N" for at in positions("y6")), sizes)
    told = judged(text)
    assert (told.cause, told.message) == (
        "uncertain", "with props of different sizes it cannot be told whether yaw balances",
    )
    # One torque twice the other: (2·3 − 3) / (2·3 + 3) = 1/3.
    assert told.evidence == (
        "3 cw and 3 ccw seen from above, equal thrust: between 0 and 33 % of all torque is left over (limit 20 %)"
    )


def test_a_size_that_is_not_recorded_counts_as_that_of_the_others():
    text = named("quad-x", "NNPN").replace("at: front-left, spin: cw", f"at: front-left, spin: cw, prop: {{{BIG}}}")
    assert ": 50 % of all torque is left over" in judged(text).evidence


def test_one_odd_prop_does_not_hide_a_wrong_spin():
    sizes = {at: SMALL if at == "front-left" else BIG for at in positions("quad-x")}
    # 3 cw and 1 ccw, the torque of one of the cw twice or half that of the others: 3/5 and 3/7.
    found = judged(named("quad-x", "NNPN", sizes))
    assert "between 43 and 60 % of all torque" in found.evidence


@settings(derandomize=True, deadline=None, max_examples=60)
@given(st.integers(1, 6).flatmap(lambda half: st.text("PN", min_size=2 * half, max_size=2 * half)))
def test_any_even_number_of_rotors(spins):
    left_over = abs(spins.count("P") - spins.count("N"))
    told = judged(custom(ring(len(spins)), spins))
    assert isinstance(told, Finding if 5 * left_over > len(spins) else Clear)
    if isinstance(told, Finding):
        way, back = ("right", "cw") if spins.count("P") > spins.count("N") else ("left", "ccw")
        assert told.message.endswith(f"the aircraft turns {way}")
        assert f" to {back}" in told.do
