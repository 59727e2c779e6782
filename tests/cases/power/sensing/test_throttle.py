"""Throttle as a fraction of one, and throttle that is a column of amperes: full texts, both sides, each record."""

import pytest
from making.manifests import answers, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

RULE = "power_sensing/throttle"
OF_CURRENT = "date: 2026-05-16, columns: [throttle_percent, indicated_a, reference_a], rows: "
OF_THRUST = "date: 2026-05-16, columns: [throttle_percent, thrust_g, current_a, voltage_v], "
OF_FIELD = (
    "date: 2026-05-16, columns: [throttle_percent, current_a, field_x_ut, field_y_ut, field_z_ut], "
    "rows: [[{0}, {0}, 18, 1, 45], [{1}, {2}, 19, 1, 45]]"
)


def told(**records):
    [one] = answers(manifest(records=records), RULE)
    return one


def test_a_fraction_of_one_in_full():
    text = manifest(records={"hover": "date: 2026-05-17, mean_current_a: 15.4, throttle_percent: 0.55"})
    [found] = answers(text, RULE)
    assert expect(Finding, found).message == (
        "the throttle of 2026-05-17 is written as 0.55: throttle is in per cent"
    )
    assert found.evidence == "highest throttle 0.55 %; nothing flies or loads its motors on 1 %"
    assert found.do == "if 0.55 is a fraction of one, write 55, and all throttles of the record so"
    assert marked(text, found.place) == "0.55"
    assert inspect_text(text).verdict == "no-go"


@pytest.mark.parametrize(
    ("percent", "expected"), [(0, Clear), (0.01, Finding), (1, Finding), (1.1, Clear), (55, Clear)]
)
def test_both_sides_of_one_per_cent(percent, expected):
    expect(expected, told(hover=f"date: 2026-05-17, throttle_percent: {percent}"))


@pytest.mark.parametrize(("kind", "entry"), [
    ("current_comparison", OF_CURRENT + "[[0, 0, 0], [0.35, 8.8, 9.0], [{}, 20.9, 21.4]]"),
    ("interference_run", OF_FIELD.format(0, "{}", 21.4)),
    ("thrust_stand", OF_THRUST + "rows: [[{}, 800, 9, 15]]"),
    ("rotor_speeds", "date: 2026-05-16, throttle_percent: {}, rpm: {{front-left: 5000}}"),
])  # fmt: skip
def test_every_record_with_a_throttle(kind, entry):
    expect(Finding, told(**{kind: entry.format(0.55)}))
    expect(Clear, told(**{kind: entry.format(55)}))


@pytest.mark.parametrize(("rows", "expected"), [
    ("[[0, 0.1, 0.0], [9.0, 8.8, 9.0], [21.4, 20.9, 21.4]]", Finding),
    ("[[0, 0.0, 0.0], [8.8, 8.8, 9.0], [20.9, 20.9, 21.4]]", Finding),
    ("[[0, 0.1, 0.0], [9.0, 8.8, 9.0], [21.5, 20.9, 21.4]]", Clear),  # one number is another
    ("[[0, 0.1, 0.0], [21.4, 20.9, 21.4]]", Unproven),
    ("[[0, 0.1, 0.0], [21.4, 20.9, 21.4], [21.4, 20.9, 21.4]]", Unproven),
    ("[[0, 0.1, 0.0], [55, 20.9, 21.4]]", Clear),
    ("[[0, 0.0, 0.0]]", Clear),  # nothing runs
])  # fmt: skip
def test_amperes_for_throttle_in_a_comparison(rows, expected):
    text = manifest(records={"current_comparison": OF_CURRENT + rows})
    [one] = answers(text, RULE)
    expect(expected, one)
    if expected is Unproven:
        assert one.message == (
            "throttle_percent and reference_a of 2026-05-16 hold the same numbers in the only row under load: "
            "chance, or one column written twice"
        )
        assert one.do == "add a reading at another throttle"


def test_amperes_for_throttle_in_full():
    text = manifest(records={"current_comparison": OF_CURRENT + "[[0, 0, 0], [9.0, 8.8, 9.0], [21.4, 21, 21.4]]"})
    [found] = answers(text, RULE)
    assert found.message == "throttle_percent and reference_a of 2026-05-16 hold the same numbers"
    assert found.evidence == "alike in every one of 2 rows above 0.5 A"
    assert marked(text, found.place) == "[9.0, 8.8, 9.0]"


@pytest.mark.parametrize(("one", "other", "expected"), [(20, 20, Finding), (20, 20.1, Clear)])
def test_amperes_for_throttle_in_a_run(one, other, expected):
    rows = OF_FIELD.format(0, one, other).replace("]]", "], [40, 40, 20, 1, 45]]")
    expect(expected, told(interference_run=rows))


def test_input_missing():
    expect(NotApplicable, told(hover="date: 2026-05-17, mean_current_a: 15"))


def test_a_later_hover_counts_and_one_from_the_future_does_not():
    entries = ["date: 2026-05-16, throttle_percent: 0.5", "date: 2026-05-17, throttle_percent: 50"]
    kinds = [type(one) for one in answers(manifest(records={"hover": entries}), RULE)]
    assert kinds == [NotApplicable, Clear]
    kinds = [type(one) for one in answers(manifest(records={"hover": entries}), RULE, judged_on="2026-05-16")]
    assert kinds == [Finding, NotApplicable]
