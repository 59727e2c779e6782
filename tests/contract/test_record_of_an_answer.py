"""An answer that asks in words for a record names its kind in its field, and no other: a job offers its lines by that.

What an answer asks for is read from its words alone, on the club's aircraft with no record, with old ones, and with
each fault that a test seeds.
"""

import re
from collections.abc import Iterator

import pytest
from making.full import FULL
from making.manifests import CLUB, FILES, GO
from making.seeded_faults import FAULTS

from preflint.aircraft.records import KINDS
from preflint.api import Finding, Unproven
from preflint.findings.next_jobs import next_jobs
from preflint.testing import inspect_text

ASKED = re.compile(r"\bwrite an? ([a-z]+_[a-z_]+)|\brepeat the ([a-z]+ [a-z]+(?: test)?)(?: of [\w-]+)?[:,;]")
TWO_IN_ONE = ("compass/hard-iron", "compass/soft-iron")  # a rotation first, and then a heading check


def manifests(name: str) -> Iterator[str]:
    text = (CLUB / f"{name}.airframe.yaml").read_text(encoding="utf-8")
    yield re.sub(r"^records:\n(?:(?: .*)?\n)+", "", text, flags=re.M)
    yield re.sub(r"(?<=date: )2026-05-\d\d( \d\d:\d\d)?", "2021-05-01", text)
    faults = FAULTS if FULL else FAULTS[GO.index(name) :: 3]  # the three together try each
    yield from (made.text for fault in faults if (made := fault.seed(text)))


@pytest.mark.parametrize("name", GO[:3])
def test_the_kind_is_that_of_the_words(name: str) -> None:
    seen = set()
    for text in manifests(name):
        for result in inspect_text(text, files=FILES).results:
            if not isinstance(result.outcome, Finding | Unproven) or result.rule.id in TWO_IN_ONE:
                continue
            if isinstance(result.outcome, Unproven) and result.outcome.cause == "order-open":
                assert result.record is None  # the time of day is to be written first
                continue
            found = ["_".join((one or other).split()) for one, other in ASKED.findall(result.do)]
            kinds = {kind for kind in found if kind in KINDS}
            if kinds:
                assert result.record in kinds, (result.rule.id, result.do)
                seen |= kinds
    assert len(seen) > 10, seen


def test_a_job_names_the_kinds_of_all_that_it_settles() -> None:
    text = next(manifests("wheatear"))
    jobs = next_jobs(inspect_text(text, files=FILES))
    load = next(job for job in jobs if job.is_between and job.stage.name == "LOAD")
    assert {"current_comparison", "interference_run"} <= set(load.records)
    assert all(kind in KINDS for job in jobs for kind in job.records)
    assert next(job for job in jobs if "rotation/spin-seen" in job.rules).records == ("spin_test",)
