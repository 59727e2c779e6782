"""rotation/rig-check and invertible: the order of looks and runs is never assumed in anybody's favour."""

from functools import partial
from itertools import product

import pytest
from making.manifests import LOADED, PROPPED, answer, expect, manifest

from preflint.api import (
    HOVER_LOG,
    PACK_UNPLUGGED,
    RESTRAINED,
    RIG_CHANGE,
    Clear,
    Finding,
    NotApplicable,
    Unproven,
    together,
)
from preflint.testing import inspect_text, marked, outcome

HEAD = manifest(PROPPED)
LOOK = (
    "look at every prop (motor of its own hand, domed side up) and write a rig_check "
    "with the time of day and rig: flight"
)
KINDS = ("current_comparison", "interference_run", "sag_run")


def with_records(**kinds: str) -> str:
    lines = [f"  {kind}: [{entries.replace('TABLE', LOADED.get(kind, ''))}]" for kind, entries in kinds.items()]
    return HEAD + "records:\n" + "\n".join(lines) + "\n"


def run(date: str, route: str | None = "inverted-load") -> str:
    return f"{{date: {date}, {f'route: {route}, ' if route else ''}TABLE}}"


def look(date: str, rig: str = "flight") -> str:
    return f"{{date: {date}, rig: {rig}}}"


def judged(text: str, judged_on: str = "2026-05-21"):
    return outcome(inspect_text(text, judged_on), "rotation/rig-check")


def test_no_run_in_the_inverted_rig_asks_for_no_look():
    assert judged(HEAD) == NotApplicable("no record was taken in the inverted rig")
    for kind in KINDS:
        for route in ("restrained", "hover-log"):
            text = with_records(**{kind: run("2026-04-18", route)})
            assert judged(text) == NotApplicable("no record was taken in the inverted rig")


def test_a_later_look_that_saw_the_flight_rig():
    text = with_records(current_comparison=run("2026-04-18 14:00"), rig_check=look("2026-05-20 09:10"))
    assert judged(text) == Clear(
        "rig check of 2026-05-20 09:10: flight; the last run that was or may have been inverted is the "
        "current comparison of 2026-04-18 14:00"
    )


@pytest.mark.parametrize("kind", KINDS)
def test_no_look_at_all(kind):
    text = with_records(**{kind: run("2026-04-18 14:00")})
    told = judged(text)
    words = kind.replace("_", " ")
    assert (told.cause, told.do) == ("absent", LOOK)
    assert told.message == f"no rig check is recorded after the {words} of 2026-04-18 14:00"
    assert [(marked(text, r.place), r.message) for r in told.related] == [
        ("inverted-load", f"the {words} of 2026-04-18 14:00 was taken in the inverted rig")
    ]
    assert inspect_text(text).verdict == "unproven"


def test_a_look_before_the_last_run():
    text = with_records(
        current_comparison=run("2026-04-18 14:00"), interference_run=run("2026-04-20 15:00"),
        rig_check=look("2026-04-19"),
    )
    told = judged(text)
    assert (told.cause, told.do) == ("stale", LOOK)
    assert told.message == "the rig check of 2026-04-19 is older than the interference run of 2026-04-20 15:00"
    assert marked(text, told.place) == "2026-04-19"
    assert [r.place.line for r in told.related] == [10]


# A look and a run on one day: only when both times are known, and the look is the later, does it speak.
TIMES = (None, "09:00", "14:00")


@pytest.mark.parametrize(("looked", "ran"), list(product(TIMES, TIMES)))
def test_one_day(looked, ran):
    day = "2026-04-18"
    at_look, at_run = (f"{day} {time}" if time else day for time in (looked, ran))
    told = judged(with_records(current_comparison=run(at_run), rig_check=look(at_look)))
    if looked == "14:00" and ran == "09:00":
        assert isinstance(told, Clear)
    elif looked == "09:00" and ran == "14:00":
        assert told.cause == "stale"
    else:
        assert told.cause == "order-open"
        assert told.message == (
            "which came first on 2026-04-18, the rig check or the current comparison, is not recorded"
        )
        assert told.do == f"write the time of day in both; if the rig check came first: {LOOK}"


def test_a_run_that_hides_its_route_counts_as_one():
    text = with_records(current_comparison=run("2026-04-18", None))
    told = judged(text)
    assert told.cause == "absent"
    assert [r.message for r in told.related] == [
        "the current comparison of 2026-04-18 does not say its route: it may have been inverted"
    ]
    assert isinstance(
        judged(with_records(current_comparison=run("2026-04-18", None), rig_check=look("2026-04-19"))), Clear
    )


def test_the_latest_look_saw_the_inverted_rig():
    text = with_records(rig_check=f"{look('2026-04-18')}, {look('2026-05-20 09:10', 'inverted-load')}")
    found = expect(Finding, judged(text))
    assert found.message == "at the last look the aircraft was in the inverted rig"
    assert found.evidence == "the rig check of 2026-05-20 09:10 says inverted-load, and no later one says flight"
    assert found.do == (
        "move every prop back to a motor of its own hand, turn it domed side up, look at each one again and add a "
        "rig_check with rig: flight"
    )
    assert (found.place.line, marked(text, found.place)) == (9, "inverted-load")
    later = text.replace("}]\n", f"}}, {look('2026-05-20 09:20')}]\n")
    assert judged(later) == NotApplicable("no record was taken in the inverted rig")


def test_two_looks_of_one_day_that_disagree():
    for first, second in (("flight", "inverted-load"), ("inverted-load", "flight")):
        text = with_records(rig_check=f"{look('2026-05-20', first)}, {look('2026-05-20', second)}")
        told = judged(text)
        assert isinstance(told, Finding)  # the one that saw the inverted rig counts
    mixed = with_records(rig_check=f"{look('2026-05-20 09:00')}, {look('2026-05-20', 'inverted-load')}")
    assert isinstance(judged(mixed), Finding)


def test_dates_after_the_day_judged_at():
    # A look that is still to come proves nothing; a run, or a look at the inverted rig, is never ignored.
    text = with_records(current_comparison=run("2026-04-18"), rig_check=look("2026-05-20"))
    assert isinstance(judged(text, "2026-05-20"), Clear)
    told = judged(text, "2026-05-19")
    assert told.message == "no rig check is recorded after the current comparison of 2026-04-18"
    text = with_records(rig_check=look("2026-05-20", "inverted-load"))
    assert isinstance(judged(text, "2026-05-20"), Finding)
    assert isinstance(judged(text, "2026-05-19"), Finding)
    text = with_records(current_comparison=run("2026-05-25"), rig_check=look("2026-05-20"))
    assert judged(text).cause == "stale"


def test_a_look_outdated_by_work_on_the_props():
    records = with_records(current_comparison=run("2026-04-18"), rig_check=look("2026-04-19"))
    text = records + "logbook: [{date: 2026-04-20, kind: replaced, part: prop, at: rear-left}]\n"
    told = judged(text)
    assert (told.cause, told.message) == (
        "stale", "the rig check of 2026-04-19 is outdated: prop replaced at rear-left on 2026-04-20",
    )
    seen_inverted = text.replace("rig: flight", "rig: inverted-load")
    assert judged(seen_inverted).message == (
        "at the last look the aircraft was in the inverted rig"
    )


def test_said_once_where_every_rotor_is_written_inverted_too():
    text = with_records(rig_check=look("2026-05-20", "inverted-load"))
    for hand, other in (("cw,  face: up", "ccw, face: down"), ("ccw, face: up", "cw,  face: down")):
        text = text.replace(f"hand: {hand}", f"hand: {other.upper()}")
    text = text.replace("CCW, FACE: DOWN", "ccw, face: down").replace("CW,  FACE: DOWN", "cw,  face: down")
    inspected = inspect_text(text)
    assert isinstance(outcome(inspected, "rotation/inverted-rig"), Finding)
    assert outcome(inspected, "rotation/rig-check") == NotApplicable("said once by rotation/inverted-rig")


def test_precautions():
    rules = {r.rule.id: r.rule for r in inspect_text(HEAD).results}
    assert rules["rotation/rig-check"].precaution == RIG_CHANGE
    assert rules["rotation/rig-check"].needed_for_flight
    # The remedy asks for a run in the flight rig or a hover log, and for nothing in the inverted rig.
    assert rules["rotation/invertible"].precaution == together(RESTRAINED, HOVER_LOG)
    assert "Inverted rig" not in rules["rotation/invertible"].precaution


# --- invertible


def props(hub: str | None, kind: str | None, records: str = "", hand: str = "cw", face: str = "up") -> str:
    hub_ = f", hub: {hub}" if hub else ""
    fixing = f", fixing: {{kind: {kind}}}" if kind else ""
    line = f"{{at: front-left, spin: cw, prop: {{hand: {hand}, face: {face}{hub_}}}{fixing}}}"
    return HEAD.replace("{at: front-left,  spin: cw,  prop: {hand: cw,  face: up}}", line) + records


RAN = with_records(current_comparison=run("2026-04-18 14:00")).removeprefix(HEAD)
turned = partial(answer, rule="rotation/invertible", at="front-left")


@pytest.mark.parametrize(("hub", "kind", "mark", "what"), [
    ("stepped", "nut", "stepped", "stepped hub"),
    ("folding", "nut", "folding", "folding hub"),
    ("plain", "clip", "clip", "clip fixing"),
    (None, "clip", "clip", "clip fixing"),
    ("plain", "threaded-hub", "threaded-hub", "threaded hub"),
    ("folding", None, "folding", "folding hub"),
])
def test_props_that_cannot_be_turned_over(hub, kind, mark, what):
    text = props(hub, kind, RAN)
    found = expect(Finding, turned(text))
    assert found.message == (
        f"the prop at front-left cannot be turned over ({what})"
    )
    assert found.evidence == (
        "a load in the inverted rig does not stand for flight; taken in it: current comparison of 2026-04-18 14:00"
    )
    assert found.do == ("repeat every loaded run restrained in the flight rig, or take the readings from a hover log")
    assert (found.place.line, marked(text, found.place)) == (4, mark)
    assert [(marked(text, r.place), r.message) for r in found.related] == [
        ("inverted-load", "the current comparison by the inverted rig")
    ]
    assert turned(props(hub, kind)) == NotApplicable("nothing was run in the inverted rig")


def test_in_the_inverted_rig_now():
    found = turned(props("stepped", "nut", hand="ccw", face="down"))
    assert found.evidence == "a load in the inverted rig does not stand for flight; the prop is in it now"


def test_a_plain_hub_under_a_nut_can():
    assert turned(props("plain", "nut", RAN)) == Clear("plain hub held by nut: it can be turned over")


@pytest.mark.parametrize(("hub", "kind", "what"), [(None, "nut", "prop.hub"), ("plain", None, "fixing.kind")])
def test_what_is_missing(hub, kind, what):
    told = expect(Unproven, turned(props(hub, kind, RAN)))
    assert (told.cause, told.message) == ("absent", f"front-left.{what} is not recorded")
    assert told.mind == PACK_UNPLUGGED  # to look at the hub takes no loaded run
