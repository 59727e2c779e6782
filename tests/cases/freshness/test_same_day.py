"""Two records of one day without times, one of them bad: that one counts, as long as the order is open."""

from itertools import permutations

import pytest
from making.manifests import opening

from preflint.api import Clear, Finding, Unproven
from preflint.testing import inspect_text, outcome

HEAD = opening("Trial", more="relies_on: [compass, barometer]") + """\
compass: {hard_iron_ut: [0, 0, 0]}
barometer: {}
records:
"""
HEADINGS = "reference: {accuracy_deg: 1}, columns: [true_deg, indicated_deg], rows:"
STOPS = "props: removed, seconds_to_stop: 0.5, restarted_on_regain: false, outputs_stopped:"
PAIRS = {
    ("compass/heading-check", "heading_check"): (
        f"{HEADINGS} [[0, 1], [45, 46], [90, 91], [135, 135], [180, 179], [225, 224], [270, 269], [315, 315]]",
        f"{HEADINGS} [[0, 40], [90, 130], [180, 220], [270, 310]]",
    ),
    ("barometer/indicated-pressure", "barometer_check"): (
        "indicated_hpa: 991.6, station_pressure_hpa: 991.3, reference: {accuracy_hpa: 0.5}",
        "indicated_hpa: 950.0, station_pressure_hpa: 991.3, reference: {accuracy_hpa: 0.5}",
    ),
    ("failsafe/link-loss", "link_loss_test"): (f"{STOPS} true", f"{STOPS} false"),
}


@pytest.mark.parametrize(("asked", "said"), PAIRS.items(), ids=[kind for _, kind in PAIRS])
def test_the_order_of_one_day(asked: tuple[str, str], said: tuple[str, str]) -> None:
    rule, kind = asked
    named = kind.replace("_", " ").replace("link loss", "link-loss")

    def judged(*records: tuple[str, str]) -> object:
        lines = "".join(f"    - {{date: {date}, {what}}}\n" for date, what in records)
        return outcome(inspect_text(f"{HEAD}  {kind}:\n{lines}"), rule)

    good, bad = said
    for dates in (("2026-05-17", "2026-05-17"), ("2026-05-17 08:00", "2026-05-17"), ("2026-05-17", "2026-05-17 08:00")):
        for records in permutations(zip(dates, (good, bad), strict=True)):
            told = judged(*records)
            assert isinstance(told, Finding)
            assert told.evidence.startswith("failed on 2026-05-17, and no ") or "08:00" in told.evidence
            assert told.do.startswith(f"write the time of day in both, or repeat the {named}; if it fails again: ")
    assert isinstance(judged(("2026-05-17 08:00", bad), ("2026-05-17 09:00", good)), Clear)
    assert isinstance(judged(("2026-05-16", bad), ("2026-05-17", good)), Clear)


@pytest.mark.parametrize(("asked", "said"), PAIRS.items(), ids=[kind for _, kind in PAIRS])
def test_of_two_good_ones_of_one_day_it_is_open_which_counts(asked: tuple[str, str], said: tuple[str, str]) -> None:
    (rule, kind), (good, _) = asked, said
    for date, counts in (("2026-05-16", True), ("2026-05-17", False), ("2026-05-17 08:00", False)):
        lines = f"    - {{date: {date}, {good}}}\n    - {{date: 2026-05-17, {good}}}\n"
        told = outcome(inspect_text(f"{HEAD}  {kind}:\n{lines}"), rule)
        if counts:
            assert isinstance(told, Clear)
            continue
        assert isinstance(told, Unproven)
        named = kind.replace("_", " ").replace("link loss", "link-loss")
        assert (told.message, told.cause) == (f"which {named} of 2026-05-17 came last is not recorded", "order-open")
        assert told.do.startswith("write the time of day in both, or repeat it: ")
        first = HEAD.count("\n") + 2
        assert {told.place.line, *(related.place.line for related in told.related)} == {first, first + 1}
