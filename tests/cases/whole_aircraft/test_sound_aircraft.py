"""Aircraft of all sizes with nothing wrong, from forward models: none is grounded; what is asked of them is counted.

PREFLINT_FULL=1 draws 400 of them.
"""

from collections import Counter

import pytest
from making.full import FULL
from making.sound import asked_again, sound

from preflint.api import ADVISORY, CAUTION, Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text

COUNT = 400 if FULL else 24
# Of those it is asked of, how many a rule may hold up, or find, though they are sound; and why.
HELD_UP = {
    # Interference that lies by chance across the horizontal field, as of an aircraft that turns in its ties: within
    # 12° (2.45 · 5°) of that line and 6° of level lie 0.0114 of all directions, π · 0.214 · 0.107 of a half sphere's
    # 2π, and the run's own doubt adds to them; until a second run on another heading. Which of them it is no single
    # run tells.
    "interference/heading-error": 0.0114,
    # The same, and in as many the doubt of a run that stays at a quarter of full throttle's current, beside a map line
    # good to 2° and a pointing by eye.
    "compass/total-deviation": 0.02,
    # Small aircraft with a large clamp: on a hover of 2 A a last digit of 0.1 A is 3 % (95 %), of 5 % allowed.
    "power_sensing/current-scale": 0.005,
}


@pytest.fixture(scope="module")
def told():
    """By kind of answer and rule: the seeds of aircraft that got it. And of which it was asked at all; and verdicts."""
    answers, asked, verdicts = {}, Counter(), Counter()
    for seed in range(COUNT):
        one = sound(seed)
        judged = inspect_text(one.text, files=one.files)
        asked.update({r.rule.id for r in judged.results if not isinstance(r.outcome, NotApplicable)})
        assert not judged.broken, (seed, judged.broken)
        verdicts[judged.verdict] += 1
        for result in judged.results:
            if not isinstance(result.outcome, Clear | NotApplicable):
                answers.setdefault((type(result.outcome), result.rule), {})[seed] = result.outcome
    return answers, asked, verdicts


def shares(told, kind, wanted):
    """Rule by rule: the share of aircraft, its seeds and what the first was told; printed."""
    answers, asked, _ = told
    some = {rule.id: seeds for (of, rule), seeds in answers.items() if of is kind and wanted(rule)}
    for rule, seeds in sorted(some.items()):
        print(f"{rule:38} {len(seeds):4} of {asked[rule]:4}  such as {list(seeds)[:5]}")
    return {rule: (len(seeds), asked[rule], list(seeds.items())[:3]) for rule, seeds in some.items()}


def beyond(shown, allowed):
    """Those with more than their share and two standard deviations of luck; a rule without a share has none."""
    return {
        rule: examples
        for rule, (count, of, examples) in shown.items()
        if count > (most := allowed.get(rule, 0.0) * of) + 2 * most**0.5
    }


def test_nothing_is_found_that_is_not_so(told):
    print("\nfound, though sound:")
    shown = shares(told, Finding, lambda rule: rule.severity >= CAUTION)
    assert not shown


def test_few_are_held_up(told):
    """All that flight needs was recorded, so only doubt of measurement may be left."""
    print(f"\n{dict(told[2])}; held up:")
    assert not beyond(shares(told, Unproven, lambda rule: rule.needed_for_flight), HELD_UP)
    causes = {
        one.cause
        for (kind, rule), seeds in told[0].items()
        if kind is Unproven and rule.needed_for_flight
        for one in seeds.values()
    }
    assert causes <= {"uncertain"}


def test_what_is_asked_settles_it(told):
    """Whoever was held up and does what he is asked, once, goes."""
    held = {
        seed for (kind, rule), seeds in told[0].items() if kind is Unproven and rule.needed_for_flight for seed in seeds
    }
    for seed in sorted(held):
        one = sound(seed)
        judged = inspect_text(asked_again(one), files=one.files)
        assert judged.verdict == "go", (seed, [r for r in judged.results if isinstance(r.outcome, Finding | Unproven)])


def test_what_is_asked_though_it_may_stay_open(told):
    print("\nopen, and flight does not need it:")
    shares(told, Unproven, lambda rule: not rule.needed_for_flight)
    print("advised:")
    shares(told, Finding, lambda rule: rule.severity == ADVISORY)
