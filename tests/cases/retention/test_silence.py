"""Whatever the owner leaves out: what was found is never cleared by silence, and no rule fails."""

from hypothesis import given, settings
from hypothesis import strategies as st
from making.manifests import manifest

from preflint.api import Clear, Finding, NotApplicable
from preflint.findings.outcome import Crashed
from preflint.testing import inspect_text

# Everything about one rotor that can be wrong with a prop held by each kind of fixing.
HELD = {
    "nut": {
        "fixing.nut_tightens": "cw", "fixing.thread_hand": "right", "fixing.bag_says": "cw",
        "fixing.bag_means": "screwing", "fixing.nut_kind": "locknut-reused",
        "fixing.thread_past_locknut": "false",
        "fixing.prop_slips": "true", "fixing.seat_mm": "6", "prop.bore_mm": "7", "prop.diameter_in": "5",
    },
    "collet": {
        "fixing.grips_mm": "4", "motor.shaft_mm": "5",
        "fixing.nut_tightens": "cw", "fixing.prop_slips": "true",
    },
    "set-screw": {"fixing.shaft_flat": "false", "fixing.grips_mm": "4", "motor.shaft_mm": "5"},
    "clip": {"fixing.latched": "false", "fixing.centring_ring": "missing"},
    "threaded-hub": {"fixing.thread_hand": "right", "fixing.prop_slips": "true"},
}
ANYWAY = {
    "spin": "cw", "esc.active_braking": "true",
    "screws.size": "M3", "screws.length_mm": "8", "screws.plate_mm": "6", "screws.hole_depth_mm": "1",
}


def held(kind, written):
    sections = {section: [] for section in ("fixing", "prop", "motor", "esc", "screws", "spin")}
    sections["fixing"].append(f"kind: {kind}")
    for key, value in written.items():
        section, _, field = key.partition(".")
        sections[section].append(f"{field}: {value}")
    spin = sections.pop("spin")
    screws = ", ".join(sections.pop("screws"))
    sections["motor"] += [f"screws: {{{screws}}}"] if screws else []
    parts = [f"{section}: {{{', '.join(keys)}}}" for section, keys in sections.items() if keys]
    parts += ["spin: cw"] if spin else []
    return manifest(rotors={"front-left": ", ".join(parts)})


def answers(text):
    return {
        result.rule.id: result.outcome
        for result in inspect_text(text).results
        if result.rule.topic == "retention" and result.at in (None, "front-left")
    }


@settings(derandomize=True, deadline=None, max_examples=80)
@given(st.sampled_from(sorted(HELD)), st.data())
def test_silence_never_clears_what_was_found(kind, data):
    whole = HELD[kind] | ANYWAY
    kept = data.draw(st.sets(st.sampled_from(sorted(whole))))
    if "fixing.bag_says" not in kept:
        kept.discard("fixing.bag_means")  # refused by the schema, as it should be
    told, left = answers(held(kind, whole)), answers(held(kind, {key: whole[key] for key in kept}))
    assert any(isinstance(expected, Finding) for expected in told.values())
    for rule, expected in left.items():
        assert not isinstance(expected, Crashed), rule
        if isinstance(told[rule], Finding):
            assert not isinstance(expected, Clear), rule


def test_an_aircraft_of_which_all_this_is_recorded_leaves_nothing_open():
    positions = {"front-left": "cw", "front-right": "ccw", "rear-left": "ccw", "rear-right": "cw"}
    hands = {"cw": "left", "ccw": "right"}
    inspected = inspect_text(manifest(
        "every_rotor:\n"
        "  motor: {screws: {size: M3, length_mm: 8, plate_mm: 3, hole_depth_mm: 6}}\n"
        "  esc: {active_braking: true}\n"
        "  prop: {bore_mm: 6.05}\n"
        "  fixing: {kind: nut, nut_kind: locknut-new, thread_past_locknut: true, prop_slips: false,\n"
        "           seat_mm: 6}\n",
        rotors={at: f"spin: {spin}, fixing: {{thread_hand: {hands[spin]}}}" for at, spin in positions.items()},
        records={"bell_pull": [f"date: 2026-04-18, at: {at}, moved: false" for at in positions]},
    ))
    results = [result for result in inspected.results if result.rule.topic == "retention"]
    assert len(results) == 4 * 18 + 2
    assert {type(result.outcome) for result in results} == {Clear, NotApplicable}
