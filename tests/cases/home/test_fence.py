"""The fence against the plan and the return height: full texts, both sides, nothing to compare with."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import marked

RULE = "return/fence"
RELIES = "relies_on: [compass, barometer, satellite]"


def fenced(fence, plan="farthest_m: 300, height_m: 30", does="comes-home", height=45):
    of_plan = f"plan: {{{plan}}}\n" if plan else ""
    return manifest(of_plan, f"return: {{on_link_loss: {does}, height_m: {height}, {fence}}}\n", more=RELIES)


def test_all_wrong_in_full():
    text = fenced("fence_radius_m: 200, fence_height_m: 25")
    found = expect(Finding, answer(text, RULE))
    assert found.message == (
        "the plan reaches 300 m, and the fence ends at 200 m; the plan goes up to 30 m, and the fence ends at 25 m; "
        "it comes home at 45 m, and the fence ends at 25 m"
    )
    assert found.evidence == "at its fence the flight controller takes over"
    assert found.do == (
        "set its radius to 300 m or more; set its height to 45 m or more; or plan within the fence"
    )
    assert marked(text, found.place) == "200"


@pytest.mark.parametrize(("fence", "kind"), [
    ("fence_radius_m: 299", Finding), ("fence_radius_m: 300", Clear), ("fence_radius_m: 5000", Clear),
    ("fence_height_m: 29", Finding), ("fence_height_m: 44.9", Finding), ("fence_height_m: 45", Clear),
])
def test_both_sides(fence, kind):
    assert isinstance(answer(fenced(fence), RULE), kind)


def test_a_return_height_that_is_not_used_is_no_matter():
    assert isinstance(answer(fenced("fence_height_m: 40"), RULE), Finding)
    assert isinstance(answer(fenced("fence_height_m: 40", does="lands"), RULE), Clear)


def test_room_within_the_fence_in_full():
    told = expect(Clear, answer(fenced("fence_radius_m: 400, fence_height_m: 60"), RULE))
    assert told.evidence == (
        "the plan reaches 300 m, and the fence ends at 400 m; the plan goes up to 30 m, and the fence ends at 60 m; "
        "it comes home at 45 m, and the fence ends at 60 m"
    )


def test_nothing_to_compare_with():
    assert answer(fenced(""), RULE) == NotApplicable("no fence is set")
    told = expect(Unproven, answer(fenced("fence_radius_m: 200", plan=""), RULE))
    assert told.message == "whether the fence leaves room is not known: no plan is recorded"
    assert told.on_paper
