"""An answer that asks in words for a record names its kind in its field, and no other: a job offers its lines by that.

On the club's aircraft with no record, and with old ones; with each fault that a test seeds: test_seeded_faults.
"""

import re

import pytest
from making import kinds_asked_for
from making.manifests import CLUB, FILES, GO

from preflint.aircraft.records import KINDS
from preflint.findings.next_jobs import next_jobs
from preflint.testing import inspect_text


def without_records(name: str) -> str:
    text = (CLUB / f"{name}.airframe.yaml").read_text(encoding="utf-8")
    return re.sub(r"^records:\n(?:(?: .*)?\n)+", "", text, flags=re.M)


def with_old_ones(name: str) -> str:
    text = (CLUB / f"{name}.airframe.yaml").read_text(encoding="utf-8")
    return re.sub(r"(?<=date: )2026-05-\d\d( \d\d:\d\d)?", "2021-05-01", text)


@pytest.mark.parametrize("name", GO[:3])
def test_the_kind_is_that_of_the_words(name: str) -> None:
    texts = (without_records(name), with_old_ones(name))
    seen = set().union(*(kinds_asked_for.check(inspect_text(text, files=FILES)) for text in texts))
    assert len(seen) > 10, seen


def test_a_job_names_the_kinds_of_all_that_it_settles() -> None:
    jobs = next_jobs(inspect_text(without_records("wheatear"), files=FILES))
    load = next(job for job in jobs if job.is_between and job.stage.name == "LOAD")
    assert {"current_comparison", "interference_run"} <= set(load.records)
    assert all(kind in KINDS for job in jobs for kind in job.records)
    assert next(job for job in jobs if "rotation/spin-seen" in job.rules).records == ("spin_test",)
