"""An aircraft that was packed to weigh less is the same, packed once or twice."""

import datetime as dt
import re
import shutil
from pathlib import Path

import pytest
from making.manifests import CLUB, manifest

import preflint
from preflint.findings.inspected import Packed
from preflint.findings.next_jobs import next_jobs
from preflint.findings.rule_info import RuleInfo
from preflint.precautions import Job
from preflint.testing import inspect_text


def test_packed_once_or_twice_it_is_the_same() -> None:
    one = inspect_text(manifest(more="owner: I. Merrick"))
    rules: dict[tuple[RuleInfo, ...], tuple[RuleInfo, ...]] = {}
    packed = one.packed(rules)
    for light in (packed, packed.packed(rules)):
        assert isinstance(light.held, Packed)
        assert light.held.rules is next(iter(rules))
        assert (light.results, light.computed, light.deferred) == (one.results, one.computed, one.deferred)
        assert (light.aircraft, light.about, light.positions) == (one.aircraft, one.about, one.positions)
        assert light.unjudged == one.unjudged
    assert len(rules) == 1


@pytest.mark.parametrize("name", ["wheatear", "curlew"])
def test_alone_and_packed_every_job_is_done_in_the_same_state(tmp_path: Path, name: str) -> None:
    shutil.copytree(CLUB, tmp_path / "club")
    path = tmp_path / "club" / f"{name}.airframe.yaml"
    without, count = re.subn(r" cells: \d+,", "", path.read_text(encoding="utf-8"))
    assert count
    path.write_text(without, encoding="utf-8")
    one = preflint.inspect(path, judged_on=dt.date(2026, 5, 21))
    assert [job.do for job in next_jobs(one) if job.stage is Job.RECORD]
    assert next_jobs(one.packed({})) == next_jobs(one)
    assert [result.job for result in one.packed({}).results] == [result.job for result in one.results]
