"""The barometer against its maker's accuracy: full texts, both sides, what is not asked."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

RULE = "barometer/accuracy"


def checked(error=0.0, own="accuracy_hpa: 1.0", reference=0.5, more="", log=()):
    entry = (
        f"date: 2026-05-20, indicated_hpa: {986.4 + error:g}, station_pressure_hpa: 986.4, "
        f"reference: {{accuracy_hpa: {reference}}}"
    )
    return manifest(f"barometer: {{{own}}}\n", records={"barometer_check": entry}, more=more, logbook=log)


def test_worse_than_its_maker_says_in_full():
    text = checked(2.0)
    found = expect(Finding, answer(text, RULE))
    assert found.message == "the barometer is off by 2.0 hPa, more than the 1 hPa of its maker"
    assert found.evidence == (
        "indicated 988.4 hPa, the place 986.4 hPa: +2.0 hPa ± 0.6 hPa (95 %); its maker says 1 hPa"
    )
    assert found.do == "clear the sensor's hole; see that nothing presses on it; repeat the barometer check"
    assert marked(text, found.place) == "988.4"
    assert inspect_text(text).verdict == "unproven"


# U = 1.96 · 0.5/√3 = 0.566 hPa around 1 hPa.
@pytest.mark.parametrize(("error", "expected"), [
    (0.43, Clear), (-0.43, Clear), (0.44, Unproven), (-1.56, Unproven), (1.57, Finding), (-1.57, Finding),
    (3.6, NotApplicable), (-8.0, NotApplicable),  # said by indicated-pressure
])
def test_both_sides(error, expected):
    assert isinstance(answer(checked(error), RULE), expected)


@pytest.mark.parametrize("text", [
    checked(2.0, own=""), checked(2.0, more="relies_on: []"), manifest("barometer: {accuracy_hpa: 1}\n"),
    checked(2.0, log="date: 2026-05-21, kind: replaced, part: barometer"), manifest(),
])
def test_what_is_not_asked(text):
    assert isinstance(answer(text, RULE), NotApplicable)
