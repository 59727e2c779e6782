"""Work ends what it touches, where it touches it: what stands under rotors is older than the logbook."""

import pytest
from making import silence
from making.manifests import GO

from preflint.api import Clear, Unproven

NUT, PROP = "retention/nut-hand", "rotation/prop-state"
WORK = [
    (part, kind)
    for part in ("motor", "prop", "adapter", "nut")
    for kind in ("fitted", "replaced", "moved", "removed")
]
MISHAPS = ("crashed", "hard-landing", "tipped-over")
ALL = ["arms", "mounts", "wires", "pack", "bells", "props"]


def with_log(document, *entries):
    return document | {"logbook": [*document["logbook"], *({"date": "2026-05-19 09:00"} | e for e in entries)]}


def open_at(answers, rule):
    return [at for (id, at), outcome in answers.items() if id == rule and isinstance(outcome, Unproven)]


def nut_test(document, at, **other):
    spin = next(rotor["spin"] for rotor in document["rotors"] if rotor["at"] == at)
    down = {"cw": "ccw", "ccw": "cw"}[spin] if at.endswith("-lower") else spin
    return {"date": "2026-05-19 10:00", "at": at, "motor_turned": down, "nut": "runs-on"} | other


@pytest.mark.parametrize(("part", "kind"), WORK)
def test_work_at_a_rotor_opens_its_nut_and_its_prop(part, kind):
    name = GO[WORK.index((part, kind)) % len(GO)]
    document = silence.club_aircraft(name)
    at = document["rotors"][1]["at"]
    worked = with_log(document, {"kind": kind, "part": part, "at": at})
    verdict, answers = silence.judged(worked)
    assert verdict == "unproven"
    assert open_at(answers, PROP) == [at]
    # A threaded hub or a set screw has no nut; a test that looks at it is asked for where there is one.
    assert open_at(answers, NUT) == ([at] if isinstance(silence.judged(document)[1].get((NUT, at)), Clear) else [])
    records = worked["records"] | {
        "rig_check": [*worked["records"]["rig_check"], {"date": "2026-05-19 10:00", "rig": "flight"}],
        "nut_test": [nut_test(document, at)],
    }
    _, answers = silence.judged(worked | {"records": records})
    assert (open_at(answers, PROP), open_at(answers, NUT)) == ([], [])


@pytest.mark.parametrize("kind", MISHAPS)
def test_a_mishap_opens_every_rotor_and_asks_for_a_walk_round(kind):
    document = with_log(silence.club_aircraft("wheatear"), {"kind": kind})
    _, answers = silence.judged(document)
    positions = [rotor["at"] for rotor in document["rotors"]]
    assert open_at(answers, PROP) == open_at(answers, NUT) == positions
    assert open_at(answers, "freshness/walk-round") == [None]
    document["records"]["walk_round"] = [{"date": "2026-05-19 09:30", "looked_at": ALL, "damaged": []}]
    assert open_at(silence.judged(document)[1], "freshness/walk-round") == []


WITH_NO_WORD_OF_HOW_IT_WENT_BACK = [  # (kind, part, a rule that flight needs and that it opens)
    ("removed", "flight-controller", "rotation/output-order"),
    ("removed", "esc", "rotation/spin-seen"),
    ("removed", "arm", "rotation/spin-seen"),
    ("moved", "arm", "interference/heading-error"),
    ("rewired", "arm", "rotation/spin-seen"),
    ("rewired", "frame", "rotation/output-order"),
    ("removed", "frame", "compass/heading-check"),
    ("removed", "receiver", "failsafe/cut-off"),
    ("removed", "barometer", "barometer/indicated-pressure"),
    ("firmware", "power-sensor", "power_sensing/voltage-scale"),
    ("firmware", "motor", "rotation/spin-seen"),  # its speed controller may be inside
    ("rewired", "pack", "interference/heading-error"),
    ("rewired", "battery-tray", "interference/heading-error"),
    ("rewired", "payload", "compass/heading-check"),
]


@pytest.mark.parametrize(("kind", "part", "rule"), WITH_NO_WORD_OF_HOW_IT_WENT_BACK)
def test_what_was_taken_off_or_wired_anew_opens_what_hung_on_it(kind, part, rule):
    verdict, answers = silence.judged(with_log(silence.club_aircraft("wheatear"), {"kind": kind, "part": part}))
    assert verdict == "unproven"
    assert open_at(answers, rule)


@pytest.mark.parametrize("kind", ["fitted", "removed", "replaced"])
def test_a_pack_is_changed_without_a_test(kind):
    assert silence.judged(with_log(silence.club_aircraft("wheatear"), {"kind": kind, "part": "pack"}))[0] == "go"


LOOKS = [  # further walk-rounds, and the verdict beside a complete one of 2026-05-02 after a mishap of 2026-05-01
    ([{"date": "2026-05-03", "looked_at": ["arms"], "damaged": []}], "go"),
    ([{"date": "2026-05-02", "looked_at": ["arms"], "damaged": []}], "go"),
    ([{"date": "2026-05-03", "looked_at": ["arms"], "damaged": ["arms"]}], "no-go"),
]


@pytest.mark.parametrize(("more", "verdict"), LOOKS)
def test_a_look_at_some_parts_takes_nothing_from_a_complete_one(more, verdict):
    complete = {"date": "2026-05-02", "looked_at": ALL, "damaged": []}
    document = silence.club_aircraft("wheatear")
    document["logbook"] = [{"date": "2026-05-01", "kind": "tipped-over"}, *document["logbook"]]
    nuts = [nut_test(document, rotor["at"], date="2026-05-02") for rotor in document["rotors"]]
    for looks in ([complete, *more], [*more, complete]):
        document["records"] = document["records"] | {"nut_test": nuts, "walk_round": looks}
        assert silence.judged(document)[0] == verdict
    document["records"]["walk_round"] = [complete | {"looked_at": ALL[1:]}]
    assert open_at(silence.judged(document)[1], "freshness/walk-round") == [None]


def test_a_nut_tried_once_failed_stays_failed_whatever_is_written_beside_it():
    document = silence.club_aircraft("heron")
    at = document["rotors"][1]["at"]
    document = with_log(document, {"kind": "replaced", "part": "nut", "at": at})
    failed = nut_test(document, at, date="2026-05-18", nut="runs-off")
    document["records"]["nut_test"] = [failed]
    verdict, answers = silence.judged(document)
    assert verdict == "no-go"
    assert answers[NUT, at].evidence.startswith(
        f"failed on 2026-05-18, and no nut test passed since; since then nut replaced at {at} on 2026-05-19 09:00; "
        "nut test of 2026-05-18 ("
    )
    assert answers[NUT, at].related[-1].message == f"nut replaced at {at} on 2026-05-19 09:00"
    assert answers[NUT, at].do.startswith("hold the nut still with two fingers")
    document["records"]["nut_test"] = [failed, nut_test(document, at)]
    assert isinstance(silence.judged(document)[1][NUT, at], Clear)


SETTINGS = {"kind": "settings-changed", "part": "flight-controller"}


@pytest.mark.parametrize("name", GO)
def test_a_change_of_settings_that_touches_nothing_judged_ends_nothing(name):
    document = silence.club_aircraft(name)
    assert silence.judged(with_log(document, SETTINGS))[0] == "unproven"
    assert silence.judged(with_log(document, SETTINGS | {"touches": []}))[0] == "go"


def test_a_scale_that_was_set_anew_is_converted_and_asks_for_the_comparison_that_confirms_it():
    document = silence.club_aircraft("wheatear")
    touched = {**SETTINGS, "touches": ["voltage-scale"]}
    scale = "power_sensing/voltage-scale"
    # The setting is the one that the comparison was made with: it was set back, and the comparison speaks.
    assert isinstance(silence.judged(with_log(document, touched))[1][scale, None], Clear)
    ratio = float(document["power_sensing"]["divider_ratio"])
    for factor, message in ((1.001, "but the readings were taken with"), (1.1, "over-reads volts")):
        anew = document | {"power_sensing": {**document["power_sensing"], "divider_ratio": f"{ratio * factor:.5g}"}}
        assert message in silence.judged(with_log(anew, touched))[1][scale, None].message
    # Where nobody wrote what was in force there is nothing to convert by.
    bare = silence.changed(document, ("records", "voltage_comparison", 0, "in_force"), {})
    assert isinstance(silence.judged(with_log(bare, touched))[1][scale, None], Unproven)


@pytest.mark.parametrize(
    ("part", "touched", "rule"),
    [
        ("motor", "spin", "rotation/spin-seen"),
        ("receiver", "failsafe", "failsafe/link-loss"),
        ("payload", "mounting", "interference/heading-error"),
        ("flight-controller", "mounting", "interference/heading-error"),
    ],
)
def test_settings_end_what_hangs_on_them_whatever_part_is_named(part, touched, rule):
    document = silence.club_aircraft("gannet")
    change = {"kind": "settings-changed", "part": part}
    assert open_at(silence.judged(with_log(document, {**change, "touches": [touched]}))[1], rule)
    assert not open_at(silence.judged(with_log(document, {**change, "touches": ["satellite"]}))[1], rule)


@pytest.mark.parametrize(
    ("part", "rule"),
    [
        ("flight-controller", "rotation/spin-seen"),
        ("esc", "rotation/output-order"),
        ("arm", "rotation/output-order"),
        ("receiver", "failsafe/link-loss"),
        ("barometer", "barometer/indicated-pressure"),
        ("power-sensor", "power_sensing/voltage-scale"),
    ],
)
def test_what_was_removed_ends_what_hangs_on_it(part, rule):
    document = silence.club_aircraft("tern")
    assert open_at(silence.judged(with_log(document, {"kind": "removed", "part": part}))[1], rule)
    assert silence.judged(with_log(document, {"kind": "removed", "part": "pack"}))[0] == "go"
