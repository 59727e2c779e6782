"""Whatever one thing of a go aircraft is written otherwise, it ends being go, or there is a reason why not.

A sample of the changes; with PREFLINT_FULL=1 in the environment all of them, and whether each reason still has one.
"""

import hashlib
from collections import Counter
from functools import cache

import pytest
from making.full import FULL
from making.loop_reasons import REASONS, Reason
from making.loops import Change, changes
from making.manifests import FILES, GO
from making.silence import club_aircraft, judged, text_of

from preflint.testing import inspect_text

SAMPLED = 72  # one of so many changes


@cache
def all_changes(name: str) -> tuple[Change, ...]:
    return tuple(changes(club_aircraft(name)))


def drawn(name: str, change: Change) -> int:
    """By the aircraft, what is done and where: the same on every machine, another part for each aircraft."""
    said = repr((name, change.how, change.words, change.steps))
    return int.from_bytes(hashlib.sha256(said.encode()).digest()[:8], "big")


def unjudged(name: str) -> set[str]:
    """The fields that the aircraft has and that are declared as not judged, without their positions."""
    return {one.what for one in inspect_text(text_of(club_aircraft(name)), files=FILES).unjudged}


def why(change: Change, declared: set[str]) -> str | None:
    """Of what kind the reason is for which the aircraft may stay go, or None."""
    bare = ".".join(step for step in change.words.split(".") if step not in ("*", "every_rotor", "rotors"))
    if bare in declared:
        return "declared as not judged"
    return next((reason.group for reason in REASONS if reason.covers(change)), None)


@pytest.mark.parametrize("name", GO)
def test_one_thing_written_otherwise_ends_go_or_has_a_reason(name):
    declared, came = unjudged(name), Counter()
    without_reason = []
    for change in all_changes(name):
        if FULL or drawn(name, change) % SAMPLED == 0:
            verdict, _ = judged(change.document)
            reason = why(change, declared) if verdict == "go" else None
            if verdict == "go" and reason is None:
                without_reason.append(f"{change.words}: {change.how} at {change.steps}")
            came["refused" if verdict == "not read" else reason or "no longer go"] += 1
    print(f"{name}: tried {came.total()}; " + ", ".join(f"{what} {times}" for what, times in sorted(came.items())))
    assert without_reason == []


@pytest.mark.parametrize("reason", REASONS if FULL else (), ids=lambda reason: f"{reason.words} {reason.how}")
def test_each_reason_has_a_change_that_stays_go(reason: Reason):
    covered = [(name, one) for name in GO for one in all_changes(name) if reason.covers(one)]
    assert any(judged(one.document)[0] == "go" for _, one in sorted(covered, key=lambda named: drawn(*named)))
