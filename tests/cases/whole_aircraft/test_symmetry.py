"""An aircraft turned or mirrored together with all its readings gets the answers, and the figures, that it had."""

import re

import pytest
from making import symmetry

ALL, FILES, ROUND = symmetry.ALL, symmetry.FILES, symmetry.ROUND
Mirrored, Turned, TurnedBack = symmetry.Mirrored, symmetry.Turned, symmetry.TurnedBack
answers, figures, manifest, transformed = symmetry.answers, symmetry.figures, symmetry.manifest, symmetry.transformed


def both(text, kind):
    other, files, how = transformed(text, kind)
    return answers(text, FILES, how.word), answers(other, files)


def same_figures(text, kind):
    """Every figure is the same number; those of an axis turn as a vector does."""
    other, files, how = transformed(text, kind)
    before, after = figures(text, FILES, how.word), figures(other, files)
    assert before.keys() == after.keys()
    for key, (value, u) in before.items():
        quantity, case, at = key
        if case in ("x", "y", "z"):
            along = how.matrix["xyz".index(case)]
            if quantity == "accelerometer_scale":  # a factor along each axis, whichever way that points
                along = tuple(abs(part) for part in along)
            whole = [before[quantity, axis, at] for axis in "xyz"]
            value = sum(part * of[0] for part, of in zip(along, whole, strict=True))
            u = sum(abs(part) * of[1] for part, of in zip(along, whole, strict=True))
        if case in ("forward", "right"):
            along = how.matrix[("forward", "right").index(case)][:2]
            whole = [before[quantity, axis, at] for axis in ("forward", "right")]
            value = sum(part * of[0] for part, of in zip(along, whole, strict=True))
            u = sum(abs(part) * of[1] for part, of in zip(along, whole, strict=True))
        assert after[key][0] == pytest.approx(value, rel=1e-4, abs=2e-5), key
        if u is not None:
            assert after[key][1] == pytest.approx(u, rel=1e-3, abs=2e-5), key


# Edits of the aircraft that has everything recorded, one fault each.
FAULTS = {
    "nut": ("{nut_tightens: ccw}}", "{nut_tightens: cw}}"),
    "right-hand thread": ("{nut_tightens: ccw}}", "{thread_hand: right}}"),
    "bag": ("{nut_tightens: ccw}}", "{bag_says: ccw, bag_means: motor}}"),
    "nut test": (
        "  bell_pull:", "  nut_test: [{date: 2026-05-16, at: front, nut: runs-on, motor_turned: ccw}]\n  bell_pull:",
    ),
    "hand": ("prop: {hand: cw, face: up}", "prop: {hand: ccw, face: up}"),
    "face": ("prop: {hand: cw, face: up}", "prop: {hand: cw, face: down}"),
    "inverted": ("prop: {hand: cw, face: up}", "prop: {hand: ccw, face: down}"),
    "spin": ("at: right, spin: ccw", "at: right, spin: cw"),
    "spin seen": ("seen: {front: cw", "seen: {front: ccw"),
    "spin expected": ("expects_spin: {front: cw", "expects_spin: {front: ccw"),
    "outputs": ("front: front, right: right", "front: right, right: front"),
    "tilt": ("indicated: right-down, sped_up: [right]", "indicated: left-down, sped_up: [right]"),
    "answer": ("indicated: right-down, sped_up: [right]", "indicated: right-down, sped_up: [left]"),
    "yaw answer": ("sped_up: [front, rear]", "sped_up: [right, left]"),
    "stick": ("indicated: nose-down, sped_up: [rear]", "indicated: nose-down, sped_up: [front]"),
    "offset sign": ("[-0.1116, 0.2307, -0.0478]", "[0.1116, -0.2307, 0.0478]"),
    "offset axes": ("[-0.1116, 0.2307, -0.0478]", "[0.2307, -0.1116, -0.0478]"),
    "no offset": ("[-0.1116, 0.2307, -0.0478]", "[0, 0, 0]"),
    "heading": ("[90, 91.5]", "[90, 121.5]"),
    "volts": ("[[16.67, 16.68]", "[[16.67, 17.08]"),
    "bell": ("at: left, moved: false", "at: left, moved: true"),
    "motor work": (
        "kind: fitted, part: power-lead, note: longer lead}",
        "kind: flown}\n  - {date: 2026-05-18, kind: replaced, part: motor, at: left}",
    ),
}


@pytest.mark.parametrize("name", ALL)
def test_a_mirrored_aircraft(name):
    before, after = both(manifest(name), Mirrored)
    assert before == after
    same_figures(manifest(name), Mirrored)


def layout(name):
    return symmetry.document(name)["aircraft"]["layout"]


@pytest.mark.parametrize(
    "name", [name for name in ALL if layout(name) != "y6" and len(ROUND.get(layout(name), [])) % 4 == 0]
)
def test_an_aircraft_turned_by_a_quarter(name):
    before, after = both(manifest(name), Turned)
    assert before == after
    same_figures(manifest(name), Turned)


@pytest.mark.parametrize("kind", [Mirrored, Turned])
@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_in_the_other_aircraft(fault, kind):
    text = manifest("wheatear")
    assert FAULTS[fault][0] in text
    wrong = text.replace(*FAULTS[fault], 1)
    before, after = both(wrong, kind)
    assert before == after
    assert before != answers(text, FILES, transformed(text, kind)[2].word)


def test_half_a_mirror_is_no_mirror():
    """The turnings alone the other way round, nuts left as they are: every nut is of the wrong hand."""
    text = re.sub(r"nut_tightens: (cw|ccw)", lambda m: f"nut_tightens: {symmetry.OTHER[m[1]]}", manifest("tern"))
    assert answers(text, FILES)[0] == "no-go"
