"""An aircraft that was packed to weigh less is the same, packed once or twice."""

import datetime as dt
import pickle
import re
import shutil
import zlib
from dataclasses import replace
from pathlib import Path

import pytest
from making.manifests import CLUB, manifest

import preflint
from preflint.findings.inspected import Common, Packed
from preflint.findings.next_jobs import next_jobs
from preflint.findings.rule_info import RuleInfo
from preflint.precautions import Job
from preflint.testing import inspect_text


def test_packed_once_or_twice_it_is_the_same() -> None:
    one, other = inspect_text(manifest(more="owner: I. Merrick")), inspect_text(manifest(name="Other"))
    known: dict[tuple[RuleInfo, ...], Common] = {}
    for whole in (one, other, one):
        packed = whole.packed(known)
        for light in (packed, packed.packed(known), pickle.loads(pickle.dumps(packed)).sharing({})):
            assert isinstance(light.held, Packed)
            assert (light.results, light.computed, light.deferred) == (whole.results, whole.computed, whole.deferred)
            assert (light.aircraft, light.about, light.positions) == (whole.aircraft, whole.about, whole.positions)
            assert light.unjudged == whole.unjudged
    assert len(known) == 1


def test_what_many_have_in_common_is_held_once() -> None:
    whole = [inspect_text(manifest(name=name)) for name in ("One", "Other", "Third")]
    known: dict[tuple[RuleInfo, ...], Common] = {}
    held = [one.packed(known).held for one in whole]
    assert all(isinstance(one, Packed) and one.common is known[one.common.rules] for one in held)
    # Sent one by one, each comes with its own; whoever has seen the first needs no other.
    seen: dict[Common, Common] = {}
    sent = [pickle.loads(pickle.dumps(one.packed(known))).sharing(seen).held for one in whole]
    assert len({id(one.common) for one in sent}) == len(seen) == 1
    # Bytes of an aircraft like the first are a fraction of those of the first by itself.
    alone, like = whole[2].packed({}).held, held[2]
    assert isinstance(like, Packed)
    assert isinstance(alone, Packed)
    assert len(like.packed_answers) < len(zlib.compress(alone.common.answers, 1)) / 3


def test_rules_of_many_policies_are_not_all_kept() -> None:
    """A worker of a cluster outlives the runs that it judged for."""
    one = inspect_text(manifest())
    known: dict[tuple[RuleInfo, ...], Common] = {}
    for number in range(40):
        site = f"https://club.invalid/{number}"
        results = tuple(replace(each, rule=replace(each.rule, published=site)) for each in one.results)
        light = one.with_results(results).packed(known)
        assert light.results == results
        assert 0 < len(known) <= 16


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
