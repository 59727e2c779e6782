"""A club's schema against a manifest: silence never satisfies it, and where nothing is silent JSON Schema decides.

The oracle is jsonschema's own validator of draft 2020-12.
"""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from making.manifests import CLUB as CLUB_FOLDER
from making.manifests import FILES, expect

from preflint.api import Clear, Finding, Unproven
from preflint.load.yaml.events import load_yaml
from preflint.policy.check import KEYWORDS
from preflint.policy.satisfied import satisfied
from preflint.testing import inspect_text, outcome

FEW = settings(derandomize=True, deadline=None, max_examples=250)
PLAIN = {
    "name": "Dunlin",
    "mass": 2000,
    "packs": [{"label": "D1", "cells": 4}, {"label": "D2"}],
    "compass": "none",
    "prop": {"size": 12},
}
DOCUMENT = load_yaml(json.dumps(PLAIN).encode(), "dunlin.yaml")
KEYS = st.sampled_from(["name", "mass", "packs", "compass", "prop", "size", "cells", "label", "payload"])
LEAVES = st.one_of(
    st.booleans(),
    st.fixed_dictionaries({"minimum": st.sampled_from([3, 12, 3000])}),
    st.fixed_dictionaries({"exclusiveMaximum": st.sampled_from([4, 13, 2000])}),
    st.fixed_dictionaries({"maxLength": st.sampled_from([2, 6])}),
    st.fixed_dictionaries({"minItems": st.sampled_from([2, 3])}),
    st.fixed_dictionaries({"maxProperties": st.sampled_from([1, 5])}),
    st.fixed_dictionaries({"type": st.sampled_from(["object", "array", "string", "integer", "number"])}),
    st.fixed_dictionaries({"const": st.sampled_from(["none", 4, 4.0, "D1", True])}),
    st.fixed_dictionaries({"enum": st.just(["Dunlin", 12, {"size": 12}])}),
    st.fixed_dictionaries({"required": st.lists(KEYS, min_size=1, max_size=2, unique=True)}),
    st.fixed_dictionaries({"dependentRequired": st.dictionaries(KEYS, st.just(["name"]), min_size=1, max_size=1)}),
)


def _grown(inner):
    several, named = st.lists(inner, min_size=1, max_size=3), st.dictionaries(KEYS, inner, min_size=1, max_size=3)
    return st.one_of(
        st.fixed_dictionaries({"properties": named}),
        st.fixed_dictionaries({"properties": named, "additionalProperties": inner}),
        st.fixed_dictionaries({"dependentSchemas": named}),
        st.fixed_dictionaries({"propertyNames": inner}),
        st.fixed_dictionaries({"items": inner}),
        st.fixed_dictionaries({"prefixItems": several, "items": inner}),
        st.fixed_dictionaries({"contains": inner}, optional={"minContains": st.just(2), "maxContains": st.just(1)}),
        st.fixed_dictionaries({"allOf": several}),
        st.fixed_dictionaries({"anyOf": several}),
        st.fixed_dictionaries({"oneOf": several}),
        st.fixed_dictionaries({"not": inner}),
        st.fixed_dictionaries({"if": inner, "then": inner}, optional={"else": inner}),
        st.fixed_dictionaries({"required": st.just(["name"]), "properties": named}),
    )


SCHEMAS = st.recursive(LEAVES, _grown, max_leaves=6)


@FEW
@given(SCHEMAS)
def test_what_is_decided_is_decided_as_json_schema_does_and_only_silence_leaves_it_open(needs) -> None:
    told = satisfied(needs, DOCUMENT)
    if told.holds is not None:
        assert told.holds is Draft202012Validator(needs).is_valid(PLAIN)
    assert told.silent or told.holds is not None
    assert bool(told.failing) is (told.holds is False)


@pytest.mark.parametrize("needs", [
    {"dependentRequired": {"name": ["payload"]}},
    {"dependentSchemas": {"name": {"required": ["payload"]}}},
    {"dependentSchemas": {"mass": {"properties": {"mass": {"maximum": 1999}}}}},
])  # fmt: skip
def test_what_hangs_on_an_entry_that_is_there_is_asked(needs) -> None:
    assert not Draft202012Validator(needs).is_valid(PLAIN)
    assert satisfied(needs, DOCUMENT).holds is False


# One of each way to speak of something inside, around what is silent; {} stands for any schema beside it.
AROUND = [
    lambda silent, beside: {"allOf": [beside, silent]},
    lambda silent, beside: {"anyOf": [beside, silent]},
    lambda silent, beside: {"oneOf": [silent, beside]},
    lambda silent, beside: {"not": silent},
    lambda silent, beside: {"if": silent, "then": beside},
    lambda silent, beside: {"if": True, "then": silent},
    lambda silent, beside: {"if": False, "then": beside, "else": silent},
    lambda silent, beside: {"dependentSchemas": {"name": silent}},
    lambda silent, beside: {**silent, "additionalProperties": True},
]
# What names something absent, or asks a number of a text.
SILENT = st.sampled_from([
    {"properties": {"payload": {"maximum": 5}}},
    {"properties": {"name": {"minimum": 5}}},
    {"properties": {"mass": {"maxLength": 5}}},
    {"properties": {"packs": {"properties": {"cells": {"maximum": 6}}}}},
    {"properties": {"packs": {"items": {"properties": {"cells": {"maximum": 6}}}}}},
    {"properties": {"packs": {"prefixItems": [True, {"properties": {"cells": {"maximum": 6}}}]}}},
    {"properties": {"packs": {"prefixItems": [True, True, {"required": ["cells"]}]}}},
    {"properties": {"packs": {"contains": {"properties": {"cells": {"minimum": 5}}}}}},
    {"properties": {"compass": {"properties": {"offset": {"const": 1}}}}},
    {"properties": {"prop": {"items": {"const": 1}}}},
    {"dependentSchemas": {"payload": {"required": ["name"]}}},
    {"dependentRequired": {"payload": ["name"]}},
    {"minimum": 5},
    {"contains": True},
])  # fmt: skip


@FEW
@given(SILENT, st.lists(st.sampled_from(AROUND), max_size=4), SCHEMAS)
def test_what_is_spoken_of_and_absent_or_of_another_type_is_never_satisfied(silent, around, beside) -> None:
    needs = silent
    for wrap in around:
        needs = wrap(needs, beside)
    told = satisfied(needs, DOCUMENT)
    assert told.holds is False or told.silent


def test_a_schema_that_says_itself_what_an_absence_means_is_not_asked_further() -> None:
    either = {"anyOf": [
        {"required": ["payload"], "properties": {"payload": {"maximum": 5}}},
        {"required": ["mass"], "properties": {"mass": {"maximum": 2500}}},
    ]}  # fmt: skip
    fitted = {"properties": {"compass": {"anyOf": [{"const": "none"}, {"type": "object", "required": ["offset"]}]}}}
    no_payload = {"properties": {"payload": False}}
    only_heavy = {"if": {"properties": {"mass": {"minimum": 3000}}}, "then": {"properties": {"payload": {"const": 1}}}}
    one_small_pack = {"properties": {"packs": {"contains": {"properties": {"cells": {"maximum": 4}}}}}}
    for needs in (either, fitted, no_payload, only_heavy, one_small_pack):
        told = satisfied(needs, DOCUMENT)
        assert (told.holds, told.silent) == (True, ()), needs


@pytest.mark.parametrize(("least", "most", "holds"), [
    (1, 2, True), (2, 2, None), (3, 3, False), (0, 1, None), (0, 0, False), (1, 1, None),
])
def test_an_entry_that_is_left_open_may_be_one_of_those_asked_for(least: int, most: int, holds: bool | None) -> None:
    """Of three numbers of cells one is above 4, one is not, and one is not recorded."""
    packs = load_yaml(b"packs: [{cells: 6}, {cells: 4}, {label: D1}]", "trial.yaml")
    more = {"properties": {"cells": {"minimum": 5}}}
    needs = {"properties": {"packs": {"contains": more, "minContains": least, "maxContains": most}}}
    assert satisfied(needs, packs).holds is holds


def test_every_keyword_that_a_policy_may_use_is_tried_here() -> None:
    tried = {"title", "description", "maximum", "exclusiveMinimum", "minLength", "maxItems", "minProperties"}
    text = json.dumps([wrap({}, {}) for wrap in AROUND]) + repr(LEAVES) + repr(_grown(st.just({})))
    assert {name for name in KEYWORDS if f"'{name}'" not in text and f'"{name}"' not in text} <= tried


LIGHT = """\
preflint: 1
aircraft: {name: Dunlin, layout: quad-x}
packs: [{label: D1, chemistry: lipo, cells: 4}]
"""
CLUB = """\
preflint: 1
rules:
  - id: club/light
    severity: no-go
    message: the club flies nothing heavier
    precaution: Pack unplugged.
    needs: {anyOf: [{properties: {aircraft: {properties: {takeoff_mass_g: {maximum: 2500}}}}}]}
"""


def test_a_no_go_rule_that_is_left_open_grounds_in_full() -> None:
    inspected = inspect_text(LIGHT, files={"preflint.yaml": CLUB})
    told = expect(Unproven, outcome(inspected, "club/light"))
    assert told.message == "aircraft.takeoff_mass_g is not recorded, and the club asks about it"
    assert told.do == "write aircraft.takeoff_mass_g"
    assert (told.place.line, told.place.column, told.cause, told.on_paper) == (2, 1, "absent", True)
    assert [(one.place.file, one.place.line, one.message) for one in told.related] == [
        ("preflint.yaml", 7, "what the club asks")
    ]
    needed = {r.rule.id for r in inspected.results if r.rule.needed_for_flight}
    assert "club/light" in needed
    caution = inspect_text(LIGHT, files={"preflint.yaml": CLUB.replace("no-go", "caution")})
    assert "club/light" not in {r.rule.id for r in caution.results if r.rule.needed_for_flight}


@pytest.mark.parametrize(("mass", "kind"), [("2500", Clear), ("2501", Finding)])
def test_on_both_sides_of_what_the_club_asks(mass: str, kind: type) -> None:
    manifest = LIGHT.replace("quad-x", f"quad-x, takeoff_mass_g: {mass}")
    assert isinstance(outcome(inspect_text(manifest, files={"preflint.yaml": CLUB}), "club/light"), kind)


def test_a_value_of_another_type_is_named_with_what_it_should_be() -> None:
    needs = "{properties: {aircraft: {properties: {name: {minimum: 3}, owner: {minLength: 3}}}}}"
    policy = CLUB[: CLUB.index("needs:")] + f"needs: {needs}\n"
    told = expect(Unproven, outcome(inspect_text(LIGHT, files={"preflint.yaml": policy}), "club/light"))
    assert (told.message, told.do, told.evidence) == (
        "aircraft.name is no number, and the club asks about it", "write aircraft.name as a number",
        "aircraft.owner is not recorded",
    )


@pytest.mark.parametrize(("asked", "verdict"), [("cells: {maximum: 6}", "go"), ("storage_v: {maximum: 9}", "unproven")])
def test_an_aircraft_that_is_go_is_held_back_by_what_the_club_asks_and_nobody_wrote(asked: str, verdict: str) -> None:
    needs = f"{{not: {{properties: {{packs: {{items: {{properties: {{{asked}}}}}}}}}}}}}"
    policy = CLUB[: CLUB.index("needs:")] + f"needs: {{not: {needs}}}\n"
    text = (CLUB_FOLDER / "wheatear.airframe.yaml").read_text(encoding="utf-8")
    assert inspect_text(text, files={**FILES, "preflint.yaml": policy}).verdict == verdict


def test_entries_of_which_nothing_is_asked_need_not_be_there() -> None:
    needs = {"properties": {"packs": {"prefixItems": [True, True, True, {"title": "a fourth"}]}}}
    assert satisfied(needs, DOCUMENT) == satisfied(True, DOCUMENT)


@pytest.mark.parametrize(("silent", "named", "end"), [(1, 1, ""), (4, 4, ""), (6, 4, "; and 2 more")])
def test_of_much_silence_three_more_are_named(silent: int, named: int, end: str) -> None:
    packs = ", ".join(f"{{label: DU{i + 1}}}" for i in range(silent))
    needs = "{properties: {packs: {items: {properties: {cells: {maximum: 99}}}}}}"
    manifest, policy = LIGHT.replace("{label: D1, chemistry: lipo, cells: 4}", packs), CLUB.partition("needs: ")[0]
    judged = inspect_text(manifest, files={"preflint.yaml": f"{policy}needs: {needs}\n"})
    told = expect(Unproven, outcome(judged, "club/light"))
    assert told.message == "cells of the pack DU1 is not recorded, and the club asks about it"
    assert told.evidence == "; ".join(f"cells of the pack DU{i + 1} is not recorded" for i in range(1, named)) + end
