"""Every spin, view, kind of evidence and value, through real manifests, against threads in space."""

from functools import cache
from itertools import combinations, product
from pathlib import Path

import pytest
from making import vectors
from making.manifests import answer, manifest

from preflint.api import Clear, Finding, NotApplicable
from preflint.testing import inspect_text, marked, outcome

TURNINGS = ("cw", "ccw")
# End of the position's name, what is written about nut_points, where the nut really points.
SHAFTS = (
    ("", "", "up"),
    ("", "nut_points: up", "up"),
    ("", "nut_points: down", "down"),
    ("-lower", "", "down"),
    ("-lower", "nut_points: up", "up"),
    ("-lower", "nut_points: down", "down"),
)
# Strongest first: (kind of evidence, what is written under fixing, what is written in a nut_test, mark).
EVIDENCE = [
    *(
        ("nut test", "", f"{turned}: {way}, nut: {ran}", (turned, way, ran))
        for turned, way, ran in product(("motor_turned", "nut_turned"), TURNINGS, ("runs-on", "runs-off"))
    ),
    *(("nut_tightens", f"nut_tightens: {way}", "", (way,)) for way in TURNINGS),
    *(("thread_hand", f"thread_hand: {hand}", "", (hand,)) for hand in ("left", "right")),
    ("thread_size", "thread_size: M6 LH", "", ("M6 LH",)),
    *(
        ("bag", f"bag_says: {says}, bag_means: {means}", "", (says, means))
        for says, means in product(TURNINGS, ("screwing", "motor"))
    ),
]


@cache
def thread_told_by(evidence, points):
    """The thread that makes the evidence true, found by trying both."""
    kind, _, _, value = evidence
    return next(thread for thread in ("right", "left") if _true(kind, value, vectors.Shaft(thread, points)))


def _true(kind, value, shaft):
    if kind == "nut test":
        turned, way, ran = value
        turning = vectors.turning(way, shaft.eye, vectors.ORIGIN)
        relative = -turning if turned == "motor_turned" else turning  # the nut, as the shaft sees it
        return shaft.tightens(relative) == (ran == "runs-on")
    if kind == "nut_tightens":
        return shaft.tightening_word() == value[0]
    if kind == "thread_hand":
        return shaft.thread == value[0]
    if kind == "thread_size":
        return shaft.thread == "left"
    says, means = value
    if means == "screwing":
        return shaft.tightening_word() == says
    return shaft.tightens(vectors.drag_torque(vectors.turning(says, shaft.eye, vectors.ORIGIN)))


@cache
def stays_on(thread, points, spin):
    """Whether the drag of the prop tightens a nut on this thread; ``spin`` as seen from above."""
    turning = vectors.turning(spin, vectors.ABOVE, vectors.ORIGIN)
    return vectors.Shaft(thread, points).tightens(vectors.drag_torque(turning))


@cache
def tightens(thread, points):
    return vectors.Shaft(thread, points).tightening_word()


def masts(suffix, spin, points, kind, told):
    """One rotor, and so one line, for each group of evidence in ``told``: ``mast-1``, ``mast-2`` and so on.

    All shafts are alike: they all need the same hand, so each rotor is judged by itself.
    """
    rotors, tests = {}, []
    for number, evidence in enumerate(told):
        at = f"mast-{number}{suffix}"
        fixing = ", ".join([f"kind: {kind}", *(item[1] for item in evidence if item[1])])
        shaft = f"spin: {spin}, {points + ', ' if points else ''}"
        rotors[at] = f"place_mm: [{number}, 0, 0], {shaft}fixing: {{{fixing}}}"
        tests += [f"date: 2026-04-18, at: {at}, {item[2]}" for item in evidence if item[2]]
    return manifest(rotors=rotors, records={"nut_test": tests}, layout="custom")


def test_the_oracle_knows_nothing_of_the_product():
    assert "preflint" not in Path(vectors.__file__).read_text(encoding="utf-8")


def test_the_clause_on_spindle_nuts():
    # Michigan Administrative Code R 408.10115(1): the thread runs opposite to the rotation of the spindle.
    # Bench grinder, Machinery's Handbook 25th ed. pp. 1105-1109 (as cited in Wikipedia, "Bench grinder"): the
    # right end turns ccw looking at its nut and has a right-hand thread, the left end cw and a left-hand one.
    for spin, hand in (("ccw", "right"), ("cw", "left")):
        assert stays_on(hand, "up", spin)
        text = masts("", spin, "", "nut", [[("thread_hand", f"thread_hand: {hand}", "", (hand,))]])
        assert isinstance(answer(text, "retention/nut-hand", "mast-0"), Clear)


@pytest.mark.parametrize("kind", ["nut", "threaded-hub"])
@pytest.mark.parametrize("shaft", SHAFTS, ids=lambda shaft: f"mast{shaft[0]} {shaft[1] or 'as usual'}")
@pytest.mark.parametrize("spin", TURNINGS)
def test_every_evidence_is_judged_as_the_thread_behaves(spin, shaft, kind):
    suffix, points, really = shaft
    text = masts(suffix, spin, points, kind, [[evidence] for evidence in EVIDENCE])
    inspected = inspect_text(text)
    for number, evidence in enumerate(EVIDENCE):
        told = outcome(inspected, "retention/nut-hand", f"mast-{number}{suffix}")
        thread = thread_told_by(evidence, really)
        assert isinstance(told, Clear if stays_on(thread, really, spin) else Finding), evidence
        assert f"tightens {tightens(thread, really)} looking at it" in told.evidence
        taken = "as recorded" if points else "as usual at this position"
        assert f"points {really} ({taken})" in told.evidence
        if isinstance(told, Finding):
            other = "left" if thread == "right" else "right"
            assert f"tightens {tightens(other, really)} looking at it" in told.do
            assert f"{other}-hand thread" in told.do
            turning = vectors.turning(spin, vectors.ABOVE, vectors.ORIGIN)
            seen = vectors.seen_as(turning, vectors.Shaft(other, really).eye, vectors.ORIGIN)
            assert f"turn the motor {seen} looking at" in told.do
            assert marked(text, told.place) == evidence[3][-1 if evidence[0] == "nut test" else 0]


@pytest.mark.parametrize("points", ["up", "down"])
@pytest.mark.parametrize("spin", TURNINGS)
def test_any_two_pieces_of_evidence_agree_or_are_told_apart(spin, points):
    pairs = [pair for pair in combinations(EVIDENCE, 2) if pair[0][0] != pair[1][0]]
    for start in range(0, len(pairs), 20):
        some = pairs[start : start + 20]
        inspected = inspect_text(masts("", spin, f"nut_points: {points}", "nut", some))
        for number, pair in enumerate(some):
            stronger, weaker = (thread_told_by(evidence, points) for evidence in pair)
            agreement = outcome(inspected, "retention/nut-evidence-agrees", f"mast-{number}")
            assert isinstance(agreement, Clear if stronger == weaker else Finding), pair
            judged = outcome(inspected, "retention/nut-hand", f"mast-{number}")
            assert isinstance(judged, Clear if stays_on(stronger, points, spin) else Finding), pair


@pytest.mark.parametrize("kind", ["screws", "clip", "set-screw"])
def test_what_no_nut_holds_is_out_of_the_question(kind):
    inspected = inspect_text(masts("", "cw", "", kind, [[evidence] for evidence in EVIDENCE]))
    rules = ("nut-hand", "nut-hand-locknut", "nut-evidence-agrees")
    for number, rule in product(range(len(EVIDENCE)), rules):
        assert outcome(inspected, f"retention/{rule}", f"mast-{number}") == NotApplicable(
            f"held by {kind}: no nut that drag could turn is recorded"
        )
