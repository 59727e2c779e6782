"""After a mishap somebody walks round the aircraft: full texts, both sides, missing input."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import marked

RULE = "freshness/walk-round"
ALL = "looked_at: [arms, mounts, wires, pack, bells, props]"
HOW = (
    "walk round the aircraft; look at arms, mounts, wires, pack, bells and props; write in a walk_round what you "
    "looked at and what was damaged"
)
CRASH = "date: 2026-05-09 15:00, kind: crashed"


def walked(*looks, log=(CRASH,)):
    return manifest(records={"walk_round": looks}, logbook=log)


def test_damage_in_full():
    text = walked(f"date: 2026-05-10, {ALL}, damaged: [arms, bells]")
    found = expect(Finding, answer(text, RULE))
    assert found.message == "damaged in the walk-round: arms, bells"
    assert found.evidence == "walk-round of 2026-05-10"
    assert found.do == (
        "repair or replace what is damaged (arms, bells); write the work in the logbook; walk round again"
    )
    assert marked(text, found.place) == "arms"


def test_nothing_damaged():
    assert answer(walked(f"date: 2026-05-10, {ALL}, damaged: []"), RULE) == Clear(
        "walk-round of 2026-05-10: nothing damaged"
    )


@pytest.mark.parametrize("kind", ["crashed", "hard-landing", "tipped-over"])
def test_no_walk_round_after_a_mishap_in_full(kind):
    text = walked(log=[f"date: 2026-05-09, kind: {kind}"])
    told = expect(Unproven, answer(text, RULE))
    assert told.message == f"no walk-round is recorded after this: {kind.replace('-', ' ')} on 2026-05-09"
    assert told.do == HOW
    assert marked(text, told.place) == f"{{date: 2026-05-09, kind: {kind}}}"


def test_without_a_mishap_nobody_asks():
    log = ["date: 2026-05-09, kind: replaced, part: motor"]
    assert answer(walked(log=log), RULE) == NotApplicable("no crash, hard landing or tip-over is in the logbook")


@pytest.mark.parametrize(("looks", "expected", "cause"), [
    ([f"date: 2026-05-08, {ALL}, damaged: []"], Unproven, "stale"),
    ([f"date: 2026-05-09, {ALL}, damaged: []"], Unproven, "order-open"),
    ([f"date: 2026-05-09 14:59, {ALL}, damaged: []"], Unproven, "stale"),
    ([f"date: 2026-05-09 15:01, {ALL}, damaged: []"], Clear, None),
    ([f"date: 2026-05-10, {ALL}"], Unproven, "absent"),
    (["date: 2026-05-10, looked_at: [arms, props], damaged: []"], Unproven, "absent"),
    (["date: 2026-05-10, looked_at: [arms, props], damaged: [props]"], Finding, None),
    ([f"date: 2026-05-10, {ALL}, damaged: [pack]", f"date: 2026-05-11, {ALL}, damaged: []"], Clear, None),
    ([f"date: 2026-05-08, {ALL}, damaged: [pack]"], Finding, None),  # the crash took nothing away
])
def test_looks_and_their_dates(looks, expected, cause):
    told = expect(expected, answer(walked(*looks), RULE))
    assert getattr(told, "cause", None) == cause


def test_what_was_not_looked_at_is_named():
    told = expect(Unproven, answer(walked("date: 2026-05-10, looked_at: [arms, mounts], damaged: []"), RULE))
    assert told.message == "the walk-round of 2026-05-10 did not look at wires, pack, bells, props"
