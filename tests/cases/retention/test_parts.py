"""Nuts that come loose by other causes, collets, screws, clips, holes, rings and bells."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import marked

ASKED = NotApplicable("how the prop is held is not recorded: retention/nut-hand asks for it")


def rotor(rest):
    return manifest(rotors={"front-left": rest})


def judged(text, rule):
    return answer(text, f"retention/{rule}", "front-left")


# One row for each way to fail: rule, what is written, message, evidence, remedy, what is marked, and related.
FAILS = [
    ("braking-plain-nut", "esc: {active_braking: true}, fixing: {kind: nut, nut_kind: plain}",
     "a plain nut holds the prop of a braked motor: braking turns the nut off",
     "the prop's inertia turns the nut the other way; active_braking true, nut_kind plain",
     "fit a new locknut, or turn active braking off in the speed controller's settings",
     "plain", ["true"]),
    (
        "prop-slips", "fixing: {kind: nut, prop_slips: true}",
        "the prop turns by hand on its shaft although it was tightened",
        "prop_slips true: a tight nut on a loose prop has bottomed on the shank before it pressed on the hub",
        (
            "put a washer or spacer under the nut so that it presses on the hub before its thread ends; "
            "then hold the motor and try again to turn the prop by hand"
        ),
        "true", [],
    ),
    (
        "prop-slips", "fixing: {kind: collet, prop_slips: true}",
        "the prop turns by hand on its shaft although it was tightened",
        "prop_slips true: the collet does not grip",
        (
            "tighten the collet on a clean, dry shaft; then hold the motor and try again to turn the prop by hand"
        ),
        "true", [],
    ),
    (
        "prop-slips", "fixing: {kind: set-screw, prop_slips: true}",
        "the prop turns by hand on its shaft although it was tightened",
        "prop_slips true: the set-screw does not hold",
        (
            "tighten the set-screw on the flat of the shaft; then hold the motor and try again to turn the prop by hand"
        ),
        "true", [],
    ),
    ("prop-slips", "fixing: {kind: screws, prop_slips: true}",
     "the prop turns by hand on its shaft although it was tightened",
     "prop_slips true: its screws are loose or sheared",
     (
         "look at every screw and its thread, and fit new ones that hold; then hold the motor and try again to turn "
         "the prop by hand"
     ),
     "true", []),
    ("prop-slips", "fixing: {kind: clip, prop_slips: true}",
     "the prop turns by hand on its shaft although it was tightened",
     "prop_slips true: its clips do not hold",
     (
         "replace the prop, or the mount whose clips do not hold; then hold the motor and try again to turn the prop "
         "by hand"
     ),
     "true", []),
    (
        "prop-slips", "fixing: {kind: threaded-hub, prop_slips: true}",
        "the prop turns by hand on its shaft although it was tightened",
        "prop_slips true: the hub does not press on its shoulder",
        (
            "screw the hub down to its shoulder, or fit a hub whose thread goes that far; then hold the "
            "motor and try again to turn the prop by hand"
        ),
        "true", [],
    ),
    (
        "locknut-engaged", "fixing: {kind: nut, nut_kind: locknut-new, thread_past_locknut: false}",
        "no thread shows past the locknut, so its insert holds nothing",
        "nut_kind locknut-new, thread_past_locknut false",
        (
            "take out a washer or fit a longer adapter, so that at least one turn of thread comes out of a new locknut"
        ),
        "false", ["locknut-new"],
    ),
    ("locknut-reused", "fixing: {kind: nut, nut_kind: locknut-reused}",
     "the locknut has been used before: its insert grips less each time",
     "nut_kind locknut-reused",
     "fit a new locknut of the same thread and hand",
     "locknut-reused", []),
    ("collet-size", "motor: {shaft_mm: 3.0}, fixing: {kind: collet, grips_mm: 3.17}",
     "the shaft measures 3 mm, but its collet or adapter is made for 3.17 mm",
     "grips_mm 3.17, shaft_mm 3: difference +0.17 mm, more than 0.1 mm",
     "fit a collet or adapter made for a shaft of 3 mm",
     "3.17", ["3.0"]),
    (
        "set-screw-flat", "fixing: {kind: set-screw, shaft_flat: false}",
        "the set-screw does not sit on a flat of the shaft and can slide",
        "kind set-screw, shaft_flat false",
        (
            "grind a flat on the shaft where the screw sits (eye protection; keep grit and heat out of the "
            "motor), or fit an adapter that grips all round"
        ),
        "false", [],
    ),
    (
        "clip-latched", "fixing: {kind: clip, latched: false}",
        "a clip of the prop is not latched: nothing else holds the prop",
        "kind clip, latched false",
        (
            "press the prop home until every clip latches, pull at it, and replace a prop or mount whose "
            "clips do not hold"
        ),
        "false", [],
    ),
    ("centring-ring", "fixing: {kind: nut, centring_ring: missing}",
     "the ring that centres the prop on its seat is missing",
     "centring_ring missing",
     "fit the ring that fills the gap between the hub's hole and the seat",
     "missing", []),
    ("bore-fit", "prop: {bore_mm: 6.35}, fixing: {kind: nut, seat_mm: 6.0}",
     "the prop sits off centre: its hub has 0.35 mm of play on its seat",
     "bore_mm 6.35 less seat_mm 6: +0.35 mm, more than 0.1 mm",
     "fit a centring ring of 6.35 mm outside and 6 mm inside, or a prop with a hole of 6 mm",
     "6.35", ["6.0"]),
    ("bore-fit", "prop: {bore_mm: 5.9}, fixing: {kind: nut, seat_mm: 6.0, centring_ring: fitted}",
     "the hub's hole of 5.9 mm measures narrower than its seat of 6 mm: the hub may not sit down",
     "bore_mm 5.9 less seat_mm 6: -0.1 mm",
     (
         "look whether the hub sits down all round; if not, fit a prop whose hole fits a seat of 6 mm; do not force a "
         "hub on or drill it by hand"
     ),
     "5.9", ["6.0"]),
    ("hub-seated", "prop: {bore_mm: 5}, fixing: {kind: nut, seat_mm: 6.0, centring_ring: missing}",
     "the hub's hole of 5 mm is narrower than its seat of 6 mm: the hub cannot sit down",
     "bore_mm 5 less seat_mm 6: -1 mm, more than 0.1 mm narrower",
     "measure both again; fit a prop whose hole fits a seat of 6 mm; do not force a hub on or drill it by hand",
     "5", ["6.0"]),
    ("hub-seated", "prop: {bore_mm: 5}, fixing: {kind: screws, seat_mm: 6.0}",
     "the hub's hole of 5 mm is narrower than its seat of 6 mm: the hub cannot sit down",
     "bore_mm 5 less seat_mm 6: -1 mm, more than 0.1 mm narrower",
     "measure both again; fit a prop whose hole fits a seat of 6 mm; do not force a hub on or drill it by hand",
     "5", ["6.0"]),
    (
        "motor-screw-too-long", "motor: {screws: {length_mm: 8, plate_mm: 2, hole_depth_mm: 4}}",
        "the motor screws reach 2 mm beyond their holes, towards the windings",
        "length_mm 8 less plate_mm 2: 6 mm go into a hole of 4 mm",
        (
            "fit screws of at most 6 mm below the head; before the next run look whether a winding was "
            "touched, and measure that none has contact with the motor's body"
        ),
        "8", ["2", "4"],
    ),
    ("motor-screw-engagement", "motor: {screws: {size: M3, length_mm: 5, plate_mm: 3, hole_depth_mm: 4}}",
     "the motor screws have 2 mm of thread in the motor, less than 3 mm",
     "length_mm 5 less plate_mm 3: 2 mm of thread in the motor; M3 needs 1 × 3 mm",
     "fit screws of at least 6 mm below the head and at most 7 mm, so that they do not reach the windings",
     "5", ["3"]),
    (
        "motor-screw-engagement", "motor: {screws: {size: M2.5, length_mm: 4.5, plate_mm: 3.5}}",
        "the motor screws have 1 mm of thread in the motor, less than 2.5 mm",
        "length_mm 4.5 less plate_mm 3.5: 1 mm of thread in the motor; M2.5 needs 1 × 2.5 mm",
        (
            "fit screws of at least 6 mm below the head; measure first how deep the holes are, so that "
            "they do not reach the windings"
        ),
        "4.5", ["3.5"],
    ),
    (
        "motor-screw-too-short", "motor: {screws: {length_mm: 3, plate_mm: 3.5, hole_depth_mm: 4}}",
        "the motor screws do not hold the motor: 3 mm long, in a plate of 3.5 mm",
        "length_mm 3 less plate_mm 3.5: -0.5 mm, less than 0.5 mm",
        (
            "measure plate and screws again, and fit screws that reach into the motor by their own diameter: for M3 of "
            "6.5 mm below the head and at most 7.5 mm, so that they do not reach the windings"
        ),
        "3", ["3.5"],
    ),
]


@pytest.mark.parametrize(("rule", "rest", "message", "evidence", "remedy", "mark", "related"), FAILS,
                         ids=[f"{row[0]}: {row[1]}" for row in FAILS])
def test_what_fails(rule, rest, message, evidence, remedy, mark, related):
    text = rotor(rest)
    found = expect(Finding, judged(text, rule))
    assert (found.message, found.evidence, found.do) == (message, evidence, remedy)
    assert (found.place.line, marked(text, found.place)) == (4, mark)
    assert [marked(text, other.place) for other in found.related] == related


@pytest.mark.parametrize(("rule", "rest", "evidence"), [
    ("braking-plain-nut", "esc: {active_braking: false}, fixing: {kind: nut}",
     "the speed controller does not brake"),
    ("braking-plain-nut", "fixing: {kind: nut, nut_kind: locknut-reused}",
     "nut_kind locknut-reused: a locknut resists the torque of braking"),
    ("prop-slips", "fixing: {kind: nut, prop_slips: false}",
     "the prop could not be turned by hand on its shaft"),
    ("locknut-engaged", "fixing: {kind: nut, nut_kind: locknut-reused, thread_past_locknut: true}",
     "thread shows past the locknut"),
    ("locknut-reused", "fixing: {kind: nut, nut_kind: plain}", "nut_kind plain"),
    # Both sides of the limit: 0.1 mm, whichever way, and the same in binary fractions.
    ("collet-size", "motor: {shaft_mm: 3.0}, fixing: {kind: collet, grips_mm: 3.1}",
     "grips_mm 3.1, shaft_mm 3: difference +0.1 mm"),
    ("collet-size", "motor: {shaft_mm: 3.1}, fixing: {kind: set-screw, grips_mm: 3.0}",
     "grips_mm 3, shaft_mm 3.1: difference -0.1 mm"),
    ("collet-size", "motor: {shaft_mm: 5}, fixing: {kind: nut, grips_mm: 5}",
     "grips_mm 5, shaft_mm 5: difference +0 mm"),
    ("set-screw-flat", "fixing: {kind: set-screw, shaft_flat: true}",
     "the set-screw sits on a flat of the shaft"),
    ("clip-latched", "fixing: {kind: clip, latched: true}", "every clip is latched"),
    ("centring-ring", "fixing: {kind: nut, centring_ring: not-needed}", "centring_ring not-needed"),
    ("bore-fit", "prop: {bore_mm: 6.1}, fixing: {kind: nut, seat_mm: 6.0}",
     "bore_mm 6.1 less seat_mm 6: +0.1 mm, at most 0.1 mm"),
    ("bore-fit", "prop: {bore_mm: 6}, fixing: {kind: collet, seat_mm: 6}",
     "bore_mm 6 less seat_mm 6: +0 mm, at most 0.1 mm"),
    ("bore-fit", "prop: {bore_mm: 8}, fixing: {kind: nut, seat_mm: 6, centring_ring: fitted}",
     "bore_mm 8 less seat_mm 6: +2 mm, filled by a centring ring"),
    ("hub-seated", "prop: {bore_mm: 5.9}, fixing: {kind: collet, seat_mm: 6.0}",
     "bore_mm 5.9 less seat_mm 6: -0.1 mm, at most 0.1 mm narrower"),
    ("hub-seated", "prop: {bore_mm: 8}, fixing: {kind: nut, seat_mm: 6.0}",
     "bore_mm 8 less seat_mm 6: +2 mm, at most 0.1 mm narrower"),
    ("motor-screw-too-short", "motor: {screws: {length_mm: 2.8, plate_mm: 2.3}}",
     "length_mm 2.8 less plate_mm 2.3: 0.5 mm, at least 0.5 mm"),
    ("motor-screw-too-long", "motor: {screws: {length_mm: 6.3, plate_mm: 2.3, hole_depth_mm: 4}}",
     "length_mm 6.3 less plate_mm 2.3: 4 mm go into a hole of 4 mm"),
    ("motor-screw-engagement", "motor: {screws: {size: M3, length_mm: 5.3, plate_mm: 2.3}}",
     "length_mm 5.3 less plate_mm 2.3: 3 mm of thread in the motor, at least 3 mm"),
])
def test_what_passes(rule, rest, evidence):
    assert judged(rotor(rest), rule) == Clear(evidence)


@pytest.mark.parametrize(("rule", "rest"), [
    ("collet-size", "motor: {shaft_mm: 3.0}, fixing: {kind: collet, grips_mm: 3.11}"),
    ("collet-size", "motor: {shaft_mm: 3.0}, fixing: {kind: collet, grips_mm: 2.89}"),
    ("bore-fit", "prop: {bore_mm: 6.11}, fixing: {kind: nut, seat_mm: 6.0}"),
    ("bore-fit", "prop: {bore_mm: 5.99}, fixing: {kind: nut, seat_mm: 6.0}"),
    ("bore-fit", "prop: {bore_mm: 8}, fixing: {kind: nut, seat_mm: 6, centring_ring: not-needed}"),
    ("hub-seated", "prop: {bore_mm: 5.89}, fixing: {kind: nut, seat_mm: 6.0}"),
    ("motor-screw-too-short", "motor: {screws: {length_mm: 2.79, plate_mm: 2.3}}"),
    ("motor-screw-too-long", "motor: {screws: {length_mm: 6.31, plate_mm: 2.3, hole_depth_mm: 4}}"),
    ("motor-screw-engagement", "motor: {screws: {size: M3, length_mm: 5.29, plate_mm: 2.3}}"),
])
def test_just_beyond_the_limit(rule, rest):
    assert isinstance(judged(rotor(rest), rule), Finding)


@pytest.mark.parametrize(("rule", "rest", "missing"), [
    ("braking-plain-nut", "fixing: {kind: nut, nut_kind: plain}", "esc.active_braking"),
    ("braking-plain-nut", "esc: {active_braking: true}, fixing: {kind: nut}", "fixing.nut_kind"),
    ("braking-plain-nut", "fixing: {kind: nut}", "fixing.nut_kind"),
    ("prop-slips", "fixing: {kind: nut}", "fixing.prop_slips"),
    ("locknut-engaged", "fixing: {kind: nut}", "fixing.nut_kind"),
    ("locknut-engaged", "fixing: {kind: nut, nut_kind: locknut-new}", "fixing.thread_past_locknut"),
    ("collet-size", "fixing: {kind: collet}", "fixing.grips_mm"),
    ("collet-size", "fixing: {kind: set-screw, grips_mm: 3}", "motor.shaft_mm"),
    ("set-screw-flat", "fixing: {kind: set-screw}", "fixing.shaft_flat"),
    ("clip-latched", "fixing: {kind: clip}", "fixing.latched"),
    ("bore-fit", "fixing: {kind: nut, seat_mm: 6}", "prop.bore_mm"),
    ("bore-fit", "prop: {bore_mm: 6}, fixing: {kind: nut}", "fixing.seat_mm"),
    ("motor-screw-too-long", "spin: cw", "motor.screws.length_mm"),
    ("motor-screw-too-long", "motor: {screws: {length_mm: 8}}", "motor.screws.plate_mm"),
    ("motor-screw-too-long", "motor: {screws: {length_mm: 8, plate_mm: 2}}", "motor.screws.hole_depth_mm"),
    ("motor-screw-engagement", "motor: {screws: {length_mm: 8, plate_mm: 2}}", "motor.screws.size"),
])
def test_what_is_not_recorded(rule, rest, missing):
    found = expect(Unproven, judged(rotor(rest), rule))
    assert (found.cause, found.message) == ("absent", f"front-left.{missing} is not recorded")
    assert found.do


@pytest.mark.parametrize("rule", ["braking-plain-nut", "prop-slips", "locknut-engaged", "locknut-reused",
                                  "collet-size", "set-screw-flat", "clip-latched", "bore-fit", "hub-seated"])
def test_a_fixing_that_nobody_recorded_is_asked_for_once(rule):
    assert judged(rotor("spin: cw"), rule) == ASKED
    assert isinstance(judged(rotor("spin: cw"), "nut-hand"), Unproven)


@pytest.mark.parametrize(("rule", "rest", "because"), [
    ("braking-plain-nut", "fixing: {kind: clip}", "the prop is held by clip"),
    ("prop-slips", "fixing: {kind: screws}", "the prop is held by screws"),
    ("locknut-engaged", "fixing: {kind: nut, nut_kind: plain}", "a plain nut has no insert"),
    ("locknut-reused", "fixing: {kind: nut}",
     "nut_kind is not recorded: retention/locknut-engaged asks for it"),
    ("collet-size", "fixing: {kind: nut}", "the prop is held by nut"),
    ("bore-fit", "fixing: {kind: threaded-hub}", "the prop is held by threaded-hub"),
    ("bore-fit", "fixing: {kind: nut, centring_ring: missing}", "said by retention/centring-ring"),
    ("centring-ring", "fixing: {kind: nut}",
     "no word on a ring: retention/bore-fit judges the hole against its seat"),
    ("bore-fit", "prop: {bore_mm: 5.8}, fixing: {kind: nut, seat_mm: 6}", "said by retention/hub-seated"),
    ("hub-seated", "prop: {bore_mm: 6}, fixing: {kind: nut}",
     "hole or seat is not measured: retention/bore-fit asks for it"),
    ("motor-screw-engagement", "motor: {screws: {size: M3, length_mm: 4, plate_mm: 4}}",
     "said by retention/motor-screw-too-short"),
    ("motor-screw-too-short", "motor: {screws: {length_mm: 4}}",
     "the screws are not measured: retention/motor-screw-too-long asks for it"),
    ("motor-screw-engagement", "spin: cw",
     "the screws are not measured: retention/motor-screw-too-long asks for it"),
])
def test_what_is_no_question_here(rule, rest, because):
    assert judged(rotor(rest), rule) == NotApplicable(because)


@pytest.mark.parametrize("size", ["M3", "M 3", "M3x8", "M3 x 0.5", "M3x0.5"])
def test_metric_sizes(size):
    screws = f"motor: {{screws: {{size: {size}, length_mm: 6, plate_mm: 3}}}}"
    assert isinstance(judged(rotor(screws), "motor-screw-engagement"), Clear)


@pytest.mark.parametrize("size", ["4-40", "M", "3 mm", "M3..5"])
def test_a_size_that_is_not_metric_is_not_guessed(size):
    text = rotor(f"motor: {{screws: {{size: {size}, length_mm: 6, plate_mm: 3}}}}")
    found = judged(text, "motor-screw-engagement")
    assert (type(found), found.message) == (Unproven, f"the screw size {size} is no metric one")
    assert marked(text, found.place) == size
