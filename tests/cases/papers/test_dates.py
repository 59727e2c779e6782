"""The last days of papers: full texts, both sides of each day, and nothing asked where nothing is written."""

import pytest
from making.manifests import CLUB, FILES, answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable
from preflint.errors import NotRead
from preflint.testing import inspect_text, marked

DATES, SOON, LABEL = "papers/dates", "papers/ends-soon", "papers/label"
NONE = NotApplicable("no last day of a paper is recorded; local law decides which are needed")


def papers(**held):
    return manifest(f"papers: {{{', '.join(f'{key}: {value}' for key, value in held.items())}}}\n")


def test_papers_that_ended_in_full():
    text = papers(registration_until="2026-05-01", competence_until="2029-08-14", insurance_until="2026-05-20")
    found = expect(Finding, answer(text, DATES))
    assert (found.message, found.evidence, found.do) == (
        "the registration ended on 2026-05-01, the insurance on 2026-05-20",
        "judged on 2026-05-21; local law decides what is needed",
        "renew the registration and the insurance, and write the new last day",
    )
    assert marked(text, found.place) == "2026-05-01"
    assert [marked(text, one.place) for one in found.related] == ["2026-05-20"]
    told = next(r for r in inspect_text(text).results if r.rule.id == DATES)
    assert (told.rule.severity.name, told.precaution) == ("CAUTION", "")


@pytest.mark.parametrize("paper", ["registration", "competence", "insurance"])
@pytest.mark.parametrize(("until", "ended", "soon"), [
    ("2026-05-20", Finding, Clear), ("2026-05-21", Clear, Finding), ("2026-05-22", Clear, Finding),
    ("2026-06-20", Clear, Finding), ("2026-06-21", Clear, Clear), ("2020-01-01", Finding, Clear),
])
def test_both_sides_of_each_day(paper, until, ended, soon):
    text = papers(**{f"{paper}_until": until})
    assert isinstance(answer(text, DATES), ended)
    assert isinstance(answer(text, SOON), soon)


@pytest.mark.parametrize(("until", "words"), [
    ("2026-05-21", "today"), ("2026-05-22", "tomorrow"), ("2026-06-20", "in 30 days"),
])
def test_one_that_ends_soon_in_full(until, words):
    text = papers(competence_until=until)
    found = expect(Finding, answer(text, SOON))
    assert found.message == f"the certificate of competence ends {words}, on {until}"
    assert found.do == "renew the certificate of competence"
    assert marked(text, found.place) == until
    told = next(r for r in inspect_text(text).results if r.rule.id == SOON)
    assert (told.rule.severity.name, told.precaution) == ("ADVISORY", "")


def test_the_one_that_ends_first_stands_first():
    found = expect(Finding, answer(papers(registration_until="2026-06-10", insurance_until="2026-05-30"), SOON))
    assert found.message == "the insurance ends in 9 days, on 2026-05-30, the registration on 2026-06-10"


def test_the_label():
    found = expect(Finding, answer(papers(label_on_aircraft="false"), LABEL))
    assert (found.message, found.do) == (
        "the label is not on the aircraft", "put the label where it can be read without a tool"
    )
    assert answer(papers(label_on_aircraft="true"), LABEL) == Clear("the label is on the aircraft")
    assert isinstance(answer(manifest(), LABEL), NotApplicable)


def test_nothing_is_asked_where_nothing_is_written():
    for text in (manifest(), papers(label_on_aircraft="true")):
        assert (answer(text, DATES), answer(text, SOON)) == (NONE, NONE)


def test_a_day_that_is_not_in_the_calendar_is_refused():
    with pytest.raises(NotRead) as refused:
        inspect_text(papers(insurance_until="2026-02-30"))
    assert [one.message for one in refused.value.problems] == [
        '"2026-02-30" is not in the calendar; write 2026-04-18 or 2026-04-18 14:30'
    ]


@pytest.mark.parametrize(("until", "verdict"), [("2026-05-20", "go-with-cautions"), ("2026-05-21", "go")])
def test_a_sound_aircraft_goes_on_the_last_day_and_with_a_caution_after_it(until, verdict):
    text = (CLUB / "wheatear.airframe.yaml").read_text(encoding="utf-8")
    changed = text.replace("insurance_until: 2027-01-31", f"insurance_until: {until}")
    assert changed != text
    assert inspect_text(changed, files=FILES).verdict == verdict
