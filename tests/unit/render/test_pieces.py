"""A report in pieces is the text that the standard library makes of it at once."""

import json
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from preflint.render.pieces import encoded

PLAIN = st.recursive(
    st.none() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
    max_leaves=8,
)


@settings(derandomize=True, deadline=None, max_examples=150)
@given(st.dictionaries(st.text(), PLAIN, max_size=3), st.lists(PLAIN, max_size=3), PLAIN)
def test_it_is_the_same_text(head: dict[str, Any], entries: list[Any], inner: Any) -> None:
    whole = {**head, "entries": entries, "runs": [{"inner": inner, "none": []}]}
    one = {"inner": inner, "none": iter([])}
    made = encoded({**head, "entries": iter(entries), "runs": iter([one])})
    assert "".join(made) == json.dumps(whole, ensure_ascii=True, indent=2)


def test_one_entry_is_asked_for_at_a_time() -> None:
    asked: list[int] = []
    made = encoded({"entries": (asked.append(number) or number for number in range(3))})
    while not asked:
        next(made)
    assert asked == [0]
