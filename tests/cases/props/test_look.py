"""Looks at the props: full texts, failed stays failed, after a mishap, missing input."""

import pytest
from making.manifests import PROPPED, answer, answers, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

DAMAGE, NICKED, LOOKED = "props/damage", "props/nicked", "props/looked"
AT = "front-left"


def looks(*found, log=(), at=AT):
    """One look on each day from the 18th on."""
    each = [f"date: 2026-05-{18 + day}, at: {at}, found: {one}" for day, one in enumerate(found)]
    return manifest(PROPPED, records={"prop_look": each}, logbook=log)


def test_a_crack_in_full():
    text = looks("crack")
    found = expect(Finding, answer(text, DAMAGE, AT))
    assert found.message == "the prop is cracked"
    assert found.evidence == "prop look of 2026-05-18: crack"
    assert found.do == (
        "replace the prop and cut the old one up; write it in the logbook; look at the new one and write a prop_look"
    )
    assert marked(text, found.place) == "crack"
    assert inspect_text(text).verdict == "no-go"
    assert isinstance(answer(text, DAMAGE, "front-right"), NotApplicable)


@pytest.mark.parametrize(("found", "words"), [
    ("bent", "a blade of the prop is bent"),
    ("root-mark", "a line shows at a blade's root: it begins to break there"),
    ("loose-blade-bolt", "a blade's bolt is loose"),
])
def test_what_else_grounds(found, words):
    assert expect(Finding, answer(looks(found), DAMAGE, AT)).message == words
    assert answer(looks(found), NICKED, AT) == NotApplicable("said by props/damage")


def test_a_bolt_is_tightened_and_no_prop_cut_up():
    assert expect(Finding, answer(looks("loose-blade-bolt"), DAMAGE, AT)).do.startswith("tighten the bolt")


def test_a_nick_is_a_caution():
    text = looks("nick")
    found = expect(Finding, answer(text, NICKED, AT))
    assert found.message == "an edge of the prop has a nick"
    assert marked(text, found.place) == "nick"
    assert isinstance(answer(text, DAMAGE, AT), NotApplicable)
    assert not {r.rule.id for r in inspect_text(text).results if isinstance(r.outcome, Finding)} & {DAMAGE}


@pytest.mark.parametrize("rule", [DAMAGE, NICKED])
def test_whole_props(rule):
    assert answer(looks("nothing"), rule, AT) == Clear("prop look of 2026-05-18: whole")
    assert all(isinstance(one, Clear) for one in answers(looks("nothing", at="all"), rule))


@pytest.mark.parametrize(("found", "damage", "nicked"), [
    (("crack", "nothing"), Clear, Clear),
    (("nick", "nothing"), Clear, Clear),
    (("crack", "nick"), Finding, NotApplicable),  # a nick heals no crack
    (("nick", "crack"), Finding, NotApplicable),
    (("nothing", "nick"), NotApplicable, Finding),
    (("nothing", "crack"), Finding, NotApplicable),
])
def test_what_was_found_stays_until_a_later_look_finds_nothing(found, damage, nicked):
    text = looks(*found)
    assert isinstance(answer(text, DAMAGE, AT), damage)
    assert isinstance(answer(text, NICKED, AT), nicked)


def test_a_new_prop_takes_nothing_away_until_somebody_looks_at_it():
    new = "date: 2026-05-19, kind: replaced, part: prop, at: front-left"
    stands = expect(Finding, answer(looks("crack", log=new), DAMAGE, AT))
    assert stands.evidence.startswith("failed on 2026-05-18, and no prop look passed since; since then prop replaced")
    later = new.replace("05-19", "05-18 20:00")
    assert isinstance(answer(looks("crack", "nothing", log=later), DAMAGE, AT), Clear)


def test_a_whole_prop_that_was_replaced_since_is_not_asked_about_without_a_mishap():
    text = looks("nothing", log="date: 2026-05-19, kind: replaced, part: prop, at: front-left")
    assert isinstance(answer(text, DAMAGE, AT), NotApplicable)
    assert isinstance(answer(text, LOOKED), NotApplicable)


@pytest.mark.parametrize("mishap", ["crashed", "hard-landing", "tipped-over"])
def test_after_a_mishap_in_full(mishap):
    text = looks(log=f"date: 2026-05-16, kind: {mishap}")
    left = expect(Unproven, answer(text, LOOKED))
    words = mishap.replace("-", " ")
    assert left.message == f"the props were not looked at after this: {words} on 2026-05-16"
    assert left.do == (
        "look along every blade's edges, bend each blade a little, look where it meets the hub; write a prop_look "
        "(at: all where every one is whole)"
    )
    assert left.record == "prop_look"
    assert inspect_text(text).verdict == "unproven"


MISHAP = "date: 2026-05-16 12:00, kind: crashed"


def test_one_prop_that_was_not_looked_at_is_named():
    one = looks("nothing", log=MISHAP)
    assert expect(Unproven, answer(one, LOOKED)).message == (
        "the prop of front-right, rear-left, rear-right was not looked at after this: crashed on 2026-05-16 12:00"
    )
    assert isinstance(answer(looks("nothing", at="all", log=MISHAP), LOOKED), Clear)


@pytest.mark.parametrize(("day", "expected", "cause"), [
    ("2026-05-15", Unproven, "absent"), ("2026-05-16", Unproven, "order-open"),
    ("2026-05-16 11:00", Unproven, "absent"),
    ("2026-05-16 13:00", Clear, None), ("2026-05-22", Unproven, "absent"),
])
def test_before_and_after_the_mishap(day, expected, cause):
    text = manifest(
        PROPPED, records={"prop_look": f"date: {day}, at: all, found: nothing"}, logbook=MISHAP
    )
    told = expect(expected, answer(text, LOOKED))
    assert getattr(told, "cause", None) == cause


def test_no_mishap_no_question():
    assert answer(manifest(PROPPED), LOOKED) == NotApplicable("no crash, hard landing or tip-over is in the logbook")


def test_what_was_found_after_the_mishap_grounds_and_was_looked_at_all_the_same():
    text = looks("crack", at="all", log=MISHAP)
    assert isinstance(answer(text, LOOKED), Clear)
    assert isinstance(answer(text, DAMAGE, AT), Finding)
