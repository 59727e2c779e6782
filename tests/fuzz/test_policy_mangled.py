"""A policy with anything struck out, doubled or put in is taken or refused with a place; nothing else happens."""

import re
import tempfile
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from preflint.engine.rule_module import builtin_and
from preflint.errors import UsageError
from preflint.policy.policy import make_policy
from preflint.policy.source import named_policy

README = Path(__file__).parents[2] / "README.md"
FOUND = re.search(r"```yaml\n(preflint: 1\nclub.*?)```", README.read_text(encoding="utf-8"), re.DOTALL)
assert FOUND
POLICY = FOUND[1].replace(", site: sites/tarn-meadow.yaml", "")
REGISTRY = builtin_and(())
PIECES = st.sampled_from(
    ["{}", "[]", "[[]]", "{a: 1}", "true", "-1", "0", "99999999999999999999", "x", '""', ":", "\n", "  ", "&a", "*a",
     "- ", "{type: [[1]]}", "{enum: 3}", "{items: 3}", "{not: {}}", "\x00", "\u202e", "{required: [[]]}",
     "{const: .inf}"]
)  # fmt: skip


def taken(text: str) -> str | None:
    """What is said against the policy, or None."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "preflint.yaml")
        path.write_text(text, encoding="utf-8")
        try:
            make_policy(named_policy(path), REGISTRY)
        except UsageError as error:
            return str(error)
    return None


def test_the_policy_of_the_readme_is_taken() -> None:
    assert taken(POLICY) is None


@settings(derandomize=True, deadline=None, max_examples=300)
@given(st.data())
def test_mangled(data: st.DataObject) -> None:
    tokens = re.findall(r"\w+|\s+|[^\w\s]", POLICY)
    for _ in range(data.draw(st.integers(1, 3))):
        start = data.draw(st.integers(0, len(tokens) - 1))
        tokens[start : start + data.draw(st.integers(0, 4))] = [data.draw(PIECES)]
    said = taken("".join(tokens))
    assert said is None or re.match(r"the policy (is wrong, nothing was judged|cannot be read): preflint\.yaml", said)
