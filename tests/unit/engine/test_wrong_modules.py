"""What a rule module and its rules lack, told in words before anything is judged; each looked at in this process."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from preflint.engine.freshness import Staling
from preflint.engine.rule import FigureSource, Rule, rule, wrong_with_rule
from preflint.engine.rule_module import Registry, RuleModule, builtin_and, load_rule_module
from preflint.errors import RuleModuleError
from preflint.findings.outcome import NO_GO, Clear
from preflint.findings.rule_info import Tolerance
from preflint.precautions import Job, Precaution

LIMIT = Tolerance("trial_a", "A", 1.0, "lower", "common practice, no source", "a limit of the trial")
GIVEN = {"each": "aircraft", "severity": NO_GO, "job": Job.RECORD, "precaution": "Mind.", "source": "none"}


def declared(id: str = "trial/a", manual: str | None = "Is it?", **changed: object) -> Rule:
    def judge(subject: object, on: object) -> Clear:
        return Clear("asked")

    judge.__doc__ = manual
    return rule(id, **{**GIVEN, "tolerances": (LIMIT,), **changed})(judge)


TEXTS = "rule trial/a: precaution, source and manual page are texts"
NO_KINDS = "rule trial/a: severity is a Severity, job a Job, needed_for_flight and needed_for_pack true or false"
NO_LIMITS = "rule trial/a: tolerances are Tolerance with texts, and with a finite number as their default"


class Text(str):
    """Not of exactly the class, so that it may behave in any way."""


def test_a_rule_as_it_should_be() -> None:
    from preflint.api import records

    one = declared(manual="Is ``it``?", shown_by=records.SpinTest, needed_for_flight=True)
    assert (one.info.id, one.info.topic, one.info.name, one.info.manual) == ("trial/a", "trial", "a", "Is `it`?")
    assert wrong_with_rule(one) is None
    of_a_pack = declared("trial_2/a-b2-c", each="pack", shown_by=records.SpinTest, needed_for_pack=True)
    assert wrong_with_rule(of_a_pack) is None
    aged = declared(tolerances=(replace(LIMIT, default=3, age_of="hover", stricter="higher"),))
    assert wrong_with_rule(aged) is None


@pytest.mark.parametrize(("changed", "told"), [
    ({"manual": None}, "rule trial/a lacks a manual page (docstring)"),
    ({"precaution": " "}, "rule trial/a lacks a precaution"),
    ({"source": ""}, "rule trial/a lacks a source"),
    *(({"id": id}, f"rule id {id!r} is not of the form topic/short-name")
      for id in ("a", "A/b", "a/B", "a/b-", "a/b--c", "2/b", "a/b/c", "a/-b")),
    ({"each": "rotors"}, "rule trial/a: each is one of aircraft, rotor, pack, record, deferral"),
    ({"severity": 3}, NO_KINDS), ({"job": 1}, NO_KINDS),
    ({"shown_by": int, "needed_for_flight": True},
     "rule trial/a: shown_by is a kind of record or a group of fields, as records.SpinTest is"),
    *((changed, "rule trial/a: what flight needs names what shows it (shown_by), and only that does")
      for changed in ({"needed_for_flight": True}, {"shown_by": int})),
    ({"needed_for_pack": True, "shown_by": int},
     "rule trial/a: only a rule of each pack can be needed for a pack"),
    *(({"tolerances": (wrong,)}, NO_LIMITS) for wrong in (
        7, replace(LIMIT, name=7), replace(LIMIT, unit=Text("A")), replace(LIMIT, stricter="less"),
        replace(LIMIT, origin=None), replace(LIMIT, meaning=None), replace(LIMIT, age_of=7),
        replace(LIMIT, default="1"), replace(LIMIT, default=True), replace(LIMIT, default=float("inf")),
        replace(LIMIT, default=float("nan")),
    )),
])  # fmt: skip
def test_a_rule_that_is_wrong(changed: dict[str, object], told: str) -> None:
    with pytest.raises(RuleModuleError) as error:
        declared(**changed)
    assert str(error.value) == told


RULE = declared()


def altered(**changed: object) -> Rule:
    """Past the door through which rules are declared."""
    return replace(RULE, info=replace(RULE.info, **changed))


@pytest.mark.parametrize(("one", "told"), [
    (replace(RULE, info=7), "has a rule that was not made by @rule"),
    (altered(id=7), "has a rule that was not made by @rule"),
    (altered(id=Text("trial/a")), "has a rule that was not made by @rule"),
    (altered(id="trial/A"), "rule id 'trial/A' is not of the form topic/short-name"),
    (altered(each=Text("rotor")), "rule trial/a: each is one of aircraft, rotor, pack, record, deferral"),
    (altered(needed_for_flight=1), NO_KINDS), (altered(needed_for_pack=1), NO_KINDS),
    (altered(precaution="Mind."), TEXTS), (altered(source=7), TEXTS), (altered(docstring=None), TEXTS),
    (altered(tolerances=[LIMIT]), NO_LIMITS),
    (replace(RULE, judge="asked"), "rule trial/a: it has no function that judges"),
])  # fmt: skip
def test_a_rule_that_was_altered(one: Rule, told: str) -> None:
    assert wrong_with_rule(one) == told
    assert wrong_with_rule(altered(precaution=Precaution("Mind."))) is None


GOOD = RuleModule(1, "trial", (RULE,))
FIGURE = FigureSource("trial", lambda on: ())
ROW = Staling("hover", "motor", frozenset({"moved"}), True)
TUPLES = "must offer tuples: of rules made by @rule, of figures made by @figure, of rows that are Staling"


class OwnModule(RuleModule):
    """No RuleModule, but one derived from it."""


@pytest.fixture
def offered(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[object], RuleModule]:
    """Loads a real module, whose MODULE then is what a test gives it."""
    (tmp_path / "preflint_trial_module.py").write_text("MODULE = None\n", encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)

    def load(module: object) -> RuleModule:
        import preflint_trial_module

        preflint_trial_module.MODULE = module
        return load_rule_module("preflint_trial_module")

    return load


def test_a_module_as_it_should_be(offered: Callable[[object], RuleModule]) -> None:
    rows = (ROW, replace(ROW, settings=frozenset({"spin"})))
    module = replace(GOOD, figures=(FIGURE,), freshness=rows)
    assert offered(module) is module
    assert RuleModule.of("trial").api == 1  # as README and every module of others have it


@pytest.mark.parametrize(("module", "told"), [
    (None, "has no MODULE made by preflint.api.RuleModule"),
    (OwnModule(1, "trial", (RULE,)), "has no MODULE made by preflint.api.RuleModule"),
    (replace(GOOD, api=2), "is written for api 2; this preflint offers api 1"),
    (replace(GOOD, api=True), "is written for api True; this preflint offers api 1"),
    *((replace(GOOD, name=name), "has no name") for name in (" ", 7, Text("trial"))),
    *((replace(GOOD, **{name: wrong}), TUPLES)
      for name in ("rules", "figures", "freshness") for wrong in (7, [], ("x",), (RULE, FIGURE, ROW))),
    (replace(GOOD, rules=()), "has no rules: nothing would be asked of it"),
    *((replace(GOOD, figures=(FIGURE, replace(FIGURE, **wrong))), "has a figure that was not made by @figure")
      for wrong in ({"id": 7}, {"compute": None})),
    *((replace(GOOD, freshness=(ROW, replace(ROW, **wrong))), "has a row of freshness whose words are no texts")
      for wrong in ({"record": 7}, {"part": None}, {"work": frozenset({7})})),
    *((replace(GOOD, freshness=(ROW, replace(ROW, settings=wrong))),
       "has a row of freshness whose settings are no set of texts") for wrong in ("spin", frozenset({7}))),
    (replace(GOOD, rules=(RULE, altered(id="trial/A"))), "rule id 'trial/A' is not of the form topic/short-name"),
])  # fmt: skip
def test_a_module_that_is_wrong(offered: Callable[[object], RuleModule], module: object, told: str) -> None:
    with pytest.raises(RuleModuleError) as error:
        offered(module)
    assert str(error.value) == f"rule module preflint_trial_module {told}"


@pytest.mark.parametrize(("text", "why"), [
    ("import sys\nsys.exit(0)\n", "SystemExit"), ("raise KeyboardInterrupt\n", "KeyboardInterrupt"),
    ("1/0\n", "ZeroDivisionError: division by zero"),
])  # fmt: skip
def test_a_module_that_does_not_load(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str, why: str) -> None:
    (tmp_path / "preflint_failing_module.py").write_text(text, encoding="utf-8")
    monkeypatch.syspath_prepend(tmp_path)
    with pytest.raises(RuleModuleError, match=f"rule module preflint_failing_module does not load: {why}"):
        builtin_and(["preflint_failing_module"])


@pytest.mark.parametrize(("other", "told"), [
    (GOOD, "rule module more: rule trial/a exists already"),
    (replace(GOOD, rules=(declared("trial/b", tolerances=(replace(LIMIT, default=2.0),)),)),
     "rule module more: tolerance trial_a is declared in two ways"),
    (replace(GOOD, rules=(declared("trial/b"),), figures=(FIGURE,)), "rule module more: figure trial exists already"),
])  # fmt: skip
def test_two_modules_that_say_the_same(other: RuleModule, told: str) -> None:
    first = replace(GOOD, figures=(FIGURE,))
    with pytest.raises(RuleModuleError) as error:
        Registry.of([first, replace(other, name="more")])
    assert str(error.value) == told


def test_what_modules_offer_together() -> None:
    with pytest.raises(RuleModuleError, match="no rules: nothing could be judged"):
        Registry.of([])
    more = RuleModule(1, "more", (declared("a/b"), declared("trial/b")), (replace(FIGURE, id="more"),), (ROW,))
    both = Registry.of([replace(GOOD, figures=(FIGURE,), freshness=(ROW,)), more])
    assert [one.info.id for one in both.rules] == ["a/b", "trial/a", "trial/b"]
    assert [one.id for one in both.figures] == ["trial", "more"]
    assert (both.freshness, both.tolerances, both.modules) == ((ROW, ROW), {"trial_a": LIMIT}, ("trial", "more"))
    travels = both.without_functions()
    assert [one.info for one in travels.rules] == [one.info for one in both.rules]
    for asked in (travels.rules[0].judge, travels.figures[0].compute):
        with pytest.raises(RuleModuleError, match="this rule is asked in another process"):
            asked(None, None)
