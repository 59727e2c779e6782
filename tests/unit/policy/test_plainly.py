"""The keywords written out here against the library that everybody's schemas are checked with."""

import json
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from preflint.policy.check import KEYWORDS
from preflint.policy.plainly import _KEYWORDS, plainly
from preflint.policy.satisfied import _INNER, _SPOKEN_OF_ELSEWHERE

NUMBERS: list[Any] = [0, 1, -1, 2, 1.0, 1.5, 2.5, 1e300, -0.0, 10**20]
TEXTS: list[Any] = ["", "a", "ab", "ä", "\U0001f681", "1", "true"]
LISTS: list[Any] = [[], [1], [1.0], [True], [1, 2], [[1], {"a": 1}], ["a", "b", "c"]]
GROUPS: list[Any] = [{}, {"a": 1}, {"a": True}, {"a": 1.0}, {"a": 1, "b": [2]}, {"b": [2.0], "a": 1}]
EVERY: list[Any] = [None, True, False, *NUMBERS, *TEXTS, *LISTS, *GROUPS]
COUNTS = [0, 1, 2, 3]

_TYPES = ["null", "boolean", "string", "array", "object", "number", "integer", ["string", "null"], ["integer", "array"]]
ASKED: dict[str, tuple[list[Any], list[Any]]] = {
    "type": (_TYPES, EVERY),
    "const": (EVERY, EVERY),
    "enum": ([[one, "x"] for one in EVERY], EVERY),
    "required": ([[], ["a"], ["a", "b"], ["c"]], GROUPS),
    **dict.fromkeys(("minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum"), (NUMBERS, NUMBERS)),
    **dict.fromkeys(("minLength", "maxLength"), (COUNTS, TEXTS)),
    **dict.fromkeys(("minItems", "maxItems"), (COUNTS, LISTS)),
    **dict.fromkeys(("minProperties", "maxProperties"), (COUNTS, GROUPS)),
}


def test_every_keyword_of_a_club_rule_is_known() -> None:
    assert set(KEYWORDS) == set(_KEYWORDS) | set(_INNER) | _SPOKEN_OF_ELSEWHERE
    assert set(ASKED) == set(_KEYWORDS)


@pytest.mark.parametrize("keyword", ASKED)
def test_it_says_what_the_library_says(keyword: str) -> None:
    demands, values = ASKED[keyword]
    apart = []
    for wanted in demands:
        passes = Draft202012Validator({keyword: wanted}).is_valid
        apart += [json.dumps([wanted, one]) for one in values if plainly(keyword, wanted, one) != passes(one)]

    assert apart == []
