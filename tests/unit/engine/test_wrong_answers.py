"""What a rule or figure may answer, looked at without a process between: each wrong part is told by name."""

import datetime as dt
import math
import sys
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from making.manifests import manifest

from preflint.engine.answer import wrong_with, wrong_with_figure
from preflint.engine.context import Context
from preflint.engine.rule import Rule, figure, rule
from preflint.engine.rule_module import Registry, RuleModule
from preflint.engine.runner import Judgement, judge
from preflint.findings.outcome import NO_GO, Clear, Crashed, Finding, NotApplicable, Open, Related, Unproven
from preflint.findings.result import Figure
from preflint.findings.rule_info import Tolerance
from preflint.places import Place
from preflint.precautions import Job, Precaution
from preflint.testing import inspect_text

HERE = Place("a.yaml", 1, 1, 1, 2)
LONG, SHORT = (tuple.__new__(Place, values) for values in ((*HERE, "x"), HERE[:2]))
THERE = (Related(HERE, "there"), Related(HERE, "here", compared=True))
FOUND = Finding(
    place=HERE, message="m", evidence="e", do="d", related=THERE, mind="Mind.", again=True, record="nut_test"
)
OPEN = Unproven(place=HERE, message="m", do="d", cause="order-open", mind=Precaution("Mind."), on_paper=True)


class Text(str):
    """Not of exactly the class, so that it may behave in any way."""


class Own(Clear):
    """No Clear, but one derived from it."""


class Any(type):
    """Of classes that say that they equal any other."""

    def __eq__(cls, other: object) -> bool:
        return True

    def __hash__(cls) -> int:
        return hash(str)


class Posing(metaclass=Any):
    """Equal to every class."""


POSE = Posing()


def minding(**parts: object) -> Precaution:
    mind = Precaution("Mind.", job=Job.RECORD)
    vars(mind).update(parts)
    return mind


RELATED = "answered with related places that are no tuple of Related"
PLACE = "pointed at something that is no place"


@pytest.mark.parametrize("answer", [
    FOUND, OPEN, Clear("e"), NotApplicable("b"), replace(FOUND, mind=None, record=None, related=()),
    *(replace(OPEN, cause=cause) for cause in ("absent", "stale", "uncertain")),
])  # fmt: skip
def test_an_answer_as_it_should_be(answer: object) -> None:
    assert wrong_with(answer) is None


@pytest.mark.parametrize(("answer", "told"), [
    (None, "answered with NoneType, which is no outcome"),
    (POSE, "answered with Posing, which is no outcome"), (Clear(POSE), "answered with evidence that is no text"),
    (replace(FOUND, again=POSE), "answered with again that is neither true nor false"),
    (Crashed("by itself"), "answered with Crashed, which is no outcome"),
    (Own("e"), "answered with Own, which is no outcome"),
    (Clear(7), "answered with evidence that is no text"),
    (Clear(Text("e")), "answered with evidence that is no text"),
    (NotApplicable(None), "answered with because that is no text"),
    *((replace(FOUND, **{name: 7}), f"answered with {name} that is no text") for name in ("message", "evidence", "do")),
    *((replace(OPEN, **{name: 7}), f"answered with {name} that is no text") for name in ("message", "evidence", "do")),
    *((replace(one, related=related), RELATED) for one in (FOUND, OPEN) for related in ([*THERE], ("x",), None)),
    *((replace(FOUND, place=place), PLACE) for place in ("here", tuple(HERE), None, LONG, SHORT)),
    *((replace(FOUND, place=HERE._replace(**{part: b"x"})), PLACE) for part in HERE._fields),
    *((replace(FOUND, place=HERE._replace(**{part: POSE})), PLACE) for part in HERE._fields),
    (replace(OPEN, related=(*THERE, Related("here", "m"))), PLACE),
    (replace(FOUND, related=(Related(HERE, 7),)), "answered with a related message that is no text"),
    (replace(FOUND, related=(Related(HERE, "m", 1),)),
     "answered with a related place whose compared is neither true nor false"),
    *((replace(FOUND, mind=mind), "answered with mind that is no text") for mind in (
        7, Text("Mind."), POSE, minding(sentences=["Mind."]), minding(sentences=(7,)), minding(job=7),
        minding(why=lambda: None),
    )),
    *((replace(one, record=record), "answered with record that is no kind of record")
      for one in (FOUND, OPEN) for record in ("nut", 7, Text("nut_test"))),
    (replace(FOUND, again=1), "answered with again that is neither true nor false"),
    *((replace(OPEN, cause=cause), "answered with a cause that is none of absent, stale, uncertain, order-open")
      for cause in ("whim", 7, Text("stale"))),
    (replace(OPEN, on_paper=0), "answered with on_paper that is neither true nor false"),
])  # fmt: skip
def test_an_answer_that_is_wrong(answer: object, told: str) -> None:
    assert wrong_with(answer) == told


GOOD = Figure("scale", "full", 1.5, 0.1, "1", "front-left", HERE, 4.5)
NO_NUMBER = "gave a figure whose value or uncertainty is no number"


@pytest.mark.parametrize("given", [
    GOOD, replace(GOOD, case=None, at=None, standard_uncertainty=None, dof=None),
    replace(GOOD, value=3, standard_uncertainty=0, dof=math.inf), replace(GOOD, value=np.float64(1.5)),
])  # fmt: skip
def test_a_figure_as_it_should_be(given: object) -> None:
    assert wrong_with_figure(given) is None


@pytest.mark.parametrize(("given", "told"), [
    (7, "gave int, which is no Figure"),
    *((replace(GOOD, **{name: 7}), "gave a figure whose quantity, case, unit or position is no text")
      for name in ("quantity", "unit", "case", "at")),
    *((replace(GOOD, value=value), NO_NUMBER) for value in (math.nan, "1", None, True, np.float32(1))),
    *((replace(GOOD, standard_uncertainty=u), NO_NUMBER) for u in (math.nan, "1", True)),
    *((replace(GOOD, dof=dof), "gave a figure whose degrees of freedom are no number") for dof in (math.nan, "three")),
    (replace(GOOD, place="here"), "gave a figure at something that is no place"),
])  # fmt: skip
def test_a_figure_that_is_wrong(given: object, told: str) -> None:
    assert wrong_with_figure(given) == told


OWN = Tolerance("own_a", "A", 1.0, "lower", "common practice, no source", "a limit of this rule")
ELSEWHERE = replace(OWN, name="elsewhere_a", default=2.0)
Asked = Callable[[object, Context], object]
BARE = manifest()


def asks(name: str, answer: Asked, each: str = "aircraft") -> Rule:
    @rule(
        f"trial/{name}", each=each, severity=NO_GO, job=Job.RECORD, precaution="None.", source="none",
        tolerances=(OWN,),
    )  # fmt: skip
    def asked(subject: object, on: Context) -> object:
        """A rule of the trial."""
        return answer(subject, on)

    return asked


def judged(*rules: Rule, text: str = BARE, figures: tuple[object, ...] = (), packs: tuple[str, ...] = ()) -> Judgement:
    aircraft = inspect_text(text).aircraft
    registry = Registry.of([RuleModule(1, "trial", rules, figures)])
    return judge(aircraft, dt.date(2026, 5, 21), registry, {"own_a": 0.5}, packs)


def fails(failure: BaseException) -> Asked:
    def answer(subject: object, on: Context) -> object:
        raise failure

    return answer


def swallows(subject: object, on: Context) -> object:
    try:
        on.limit(ELSEWHERE)
    except Exception:
        return Clear("nothing was wrong")
    return None


def test_a_rule_that_fails_is_crashed_and_the_others_go_on() -> None:
    results = judged(
        asks("a", fails(SystemExit(0))), asks("b", fails(KeyboardInterrupt())), asks("c", fails(ValueError("itself"))),
        asks("d", fails(Open(OPEN))), asks("e", lambda subject, on: None), asks("f", swallows),
        asks("g", lambda subject, on: Clear(f"{on.limit(OWN):g}")),
    ).results  # fmt: skip
    undeclared = "trial/f does not declare the limit elsewhere_a, which it reads"
    told = [one.outcome.message if isinstance(one.outcome, Crashed) else one.outcome for one in results]
    assert told[3:] == [OPEN, "answered with NoneType, which is no outcome", undeclared, Clear("0.5")]
    for words, one in zip(("SystemExit", "KeyboardInterrupt", "ValueError: itself"), results, strict=False):
        assert isinstance(one.outcome, Crashed)
        assert one.outcome.message.startswith(words)


def test_what_two_rules_compute_is_computed_once_with_its_limits_and_its_failures() -> None:
    calls: list[str] = []

    def value(on: Context, *, plus: float) -> float:
        calls.append("value")
        return on.limit(OWN) + plus

    def failing(on: Context) -> None:
        calls.append("failing")
        raise ValueError("by itself")

    def elsewhere(on: Context) -> float:
        calls.append("elsewhere")
        return on.limit(ELSEWHERE)

    def asked(subject: object, on: Context) -> object:
        told = []
        for computation in (failing, failing):
            with pytest.raises(ValueError, match="by itself"):
                on.once(computation, on)
        told += [on.once(value, on, plus=plus) for plus in (1.0, 1.0, 2.0)]
        return Clear(f"{told}")

    first, second = judged(asks("a", asked), asks("b", asked)).results
    assert first.outcome == second.outcome == Clear("[1.5, 1.5, 2.5]")
    assert calls == ["failing", "value", "value"]
    calls.clear()
    reads = asks("c", lambda subject, on: on.once(value, on, plus=1.0))
    undeclared = replace(reads, info=replace(reads.info, tolerances=()))
    told = judged(asks("a", asked), undeclared, asks("d", lambda subject, on: on.once(elsewhere, on))).results
    assert [one.outcome.message for one in told if isinstance(one.outcome, Crashed)] == [
        "UndeclaredLimit: trial/c does not declare the limit own_a, which it reads",
        "UndeclaredLimit: trial/d does not declare the limit elsewhere_a, which it reads",
    ]
    assert calls == ["failing", "value", "value", "elsewhere"]


def test_what_is_computed_of_another_thing_or_by_another_name_is_computed_anew() -> None:
    """Two lists that are equal are two; so are one, True and 1.0, and a name tells two arguments apart."""
    first, second = [1], [1]
    calls: list[dict[str, object]] = []

    def told(**given: object) -> int:
        calls.append(given)
        return len(calls)

    def asked(subject: object, on: Context) -> object:
        once = [on.once(told, every=one) for one in (1, True, 1.0, "1", None, first, second)]
        once += [on.once(told, function=1), on.once(told, every=1, function=2), on.once(told, every=2, function=1)]
        again = [on.once(told, every=one) for one in (1, True, 1.0, "1", None, first, second)]
        return Clear(f"{once} {again}")

    assert judged(asks("a", asked)).results[0].outcome == Clear(f"{list(range(1, 11))} {list(range(1, 8))}")
    assert calls[:3] == [{"every": 1}, {"every": True}, {"every": 1.0}]


def test_rules_of_each_record_are_asked_last_but_for_those_of_deferrals() -> None:
    asked: list[str] = []

    def note(name: str) -> Asked:
        def answer(subject: object, on: Context) -> object:
            asked.append(f"{name}{len(on.results)}")
            return Clear("asked")

        return answer

    text = manifest(
        "deferred_defects: [{rule: a/b, until: 2026-06-01, by: R. Ashdown, because: why not}]\n",
        records={"hover": "date: 2026-05-20, mean_current_a: 9"},
    )
    rules = (
        asks("a", note("deferral"), "deferral"), asks("b", note("record"), "record"), asks("c", note("aircraft")),
        asks("d", note("rotor"), "rotor"),
    )  # fmt: skip
    results = judged(*rules, text=text).results
    assert asked == ["aircraft0", *["rotor0"] * 4, "record0", "deferral6"]
    assert [one.rule.name for one in results] == ["a", "b", "c", *"dddd"]


def test_of_packs_only_those_flown_today_are_asked_about() -> None:
    text = manifest("packs: [{label: A1, chemistry: lipo, cells: 4}, {label: B2, chemistry: lipo, cells: 4}]\n")
    of_the_pack = asks("a", lambda subject, on: Clear("asked"), "pack")
    of_the_day = replace(of_the_pack, info=replace(of_the_pack.info, needed_for_pack=True))
    on_the_ground = NotApplicable("this pack is not flown today")
    for packs, told in (((), [Clear("asked")] * 2), (("B2",), [on_the_ground, Clear("asked")])):
        results = judged(of_the_day, text=text, packs=packs).results
        assert [(one.at, one.outcome) for one in results] == list(zip(("A1", "B2"), told, strict=True))
        assert all(one.rule.needed_for_flight is bool(packs) for one in results)
    assert not any(one.rule.needed_for_flight for one in judged(of_the_pack, text=text, packs=("A1",)).results)


def test_a_figure_that_fails_is_told_and_one_that_lacks_its_input_is_not() -> None:
    def lacks(on: Context) -> list[Figure]:
        raise Open(OPEN)

    def leaves(on: Context) -> list[Figure]:
        sys.exit(0)

    figures = (
        figure("good")(lambda on: [GOOD, GOOD]), figure("lacks")(lacks), figure("leaves")(leaves),
        figure("half")(lambda on: [GOOD, 7]),
        figure("last")(lambda on: [replace(GOOD, quantity="last")]),
    )  # fmt: skip
    given = judged(asks("a", lambda subject, on: Clear("e")), figures=figures)
    assert given.computed == (GOOD, GOOD, replace(GOOD, quantity="last"))
    (first, why), second = given.broken
    assert (first, "SystemExit" in why) == ("leaves", True)
    assert second == ("half", "gave int, which is no Figure")
