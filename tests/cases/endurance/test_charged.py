"""Flights since the pack was last charged: found only where its owner writes down what was put back."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven

RULE = "endurance/charged"
HABIT = "date: 2026-05-10, kind: flown, minutes: 12, pack: A1, put_back_mah: 3050"


def flown(day, minutes=12, more=""):
    return f"date: 2026-05-{day}, kind: flown, minutes: {minutes}, pack: A1{more}"


def log(*entries, pack="A1"):
    return manifest(
        f"packs: [{{label: {pack}, chemistry: lipo, cells: 4, capacity_mah: 6000}}]\n",
        records={"hover": "date: 2026-05-01, mean_current_a: 15.4"}, logbook=entries,
    )  # fmt: skip


def test_a_second_flight_on_one_charge_in_full():
    text = log(HABIT, flown(18), flown(19))
    found = expect(Finding, answer(text, RULE, "A1"))
    assert found.message == "pack A1 has flown 24 min since it was last charged: 6160 mAh"
    assert found.do == "charge it full; if it was, write put_back_mah at its last flight"
    assert found.evidence == (
        "24 min at 15.4 A (hover of 2026-05-01) since it was last full: 6160 mAh of 4800 to 6000 (80 to 100 % of the "
        "label's 6000 mAh); the last flight took 3080 mAh"
    )
    assert text.splitlines()[found.place.line - 1].strip().startswith("- {date: 2026-05-19")


@pytest.mark.parametrize(("entries", "kind"), [
    ((HABIT,), Clear),
    ((HABIT, flown(18, 4)), Clear),
    ((HABIT, flown(18, 10)), Unproven),  # 2567 mAh used, as much wanted, of 4800 to 6000
    ((HABIT, flown(18, 10.6)), Unproven),  # 2721 mAh used, 2679 left of the middle
    ((HABIT, flown(18, 14)), Finding),
    ((HABIT, flown(18), flown(19, 12, ", put_back_mah: 6000")), Clear),
    ((flown(18), flown(19), flown(20)), NotApplicable),  # whoever writes no charging may charge all the same
    ((), NotApplicable),
    ((HABIT, "date: 2026-05-18, kind: flown, pack: A1"), Unproven),  # how long?
    ((HABIT, flown(22), flown(23)), Clear),  # after the day judged at
])  # fmt: skip
def test_what_the_log_tells(entries, kind):
    expect(kind, answer(log(*entries), RULE, "A1"))
