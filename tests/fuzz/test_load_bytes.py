"""Whatever the bytes, loading gives a document or a refusal with places, and nothing else."""

import json
import unicodedata

from hypothesis import example, given, settings
from hypothesis import strategies as st

from preflint.errors import NotRead
from preflint.load.limits import MAX_NODES, MAX_PROBLEMS
from preflint.load.node import Node
from preflint.load.text import FORBIDDEN, SourceText
from preflint.load.yaml.events import load_yaml

FIXED = settings(derandomize=True, deadline=None, max_examples=1000)

BIDI_CONTROLS = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}

TOKENS = [
    *("a", "b: ", "c: 1", "- ", "\n", "\n", "  ", "&x ", "*x", "*x ", "&y", "!!int ", "! ", "!e!f "),
    *("{", "}", "[", "]", ", ", "|", ">-", "|2", "? ", ": ", "<<: ", "%YAML 1.2\n", "%TAG ! x\n"),
    *("---\n", "...\n", '"', '"\\e"', '"\\ud800"', "'", "@", "`", "%", "#", " # x\n", "\t", "\r", "\r\n"),
    *("no", "1e3", "012", "~", "12:30", "24,11", ".nan", "0x", "9" * 50, "\u22125", "\u00a05", "\uff15"),
    *("\x85", "\u2028", "\u202e", "\ufeff", "\0", "\x1b", "é", "😀"),
]


def attempt(data: bytes) -> Node | None:
    try:
        return load_yaml(data, "a.airframe.yaml")
    except NotRead as refusal:
        text = data.decode("utf-8", "replace").removeprefix("\ufeff")
        check_problems(refusal, text.count("\n") + 1)
        return None


def check_problems(refusal: NotRead, lines: int) -> None:
    assert refusal.problems
    for problem in refusal.problems[:100]:
        assert problem.message.isprintable()
        assert problem.place is not None
        assert 1 <= problem.place.line <= problem.place.end_line <= lines
    positions = [(p.place.line, p.place.column) for p in refusal.problems if p.place]
    assert positions == sorted(positions)


def count(node: Node) -> int:
    if isinstance(node.value, dict):
        return 1 + sum(count(child) for child in node.value.values())
    return 1 + sum(count(child) for child in node.value) if isinstance(node.value, tuple) else 1


def check_document(root: Node | None) -> None:
    if root is not None:
        assert isinstance(root.value, dict)
        plain = json.dumps(root.plain(), allow_nan=False, ensure_ascii=False)
        # JSON has written line feeds and tabs as codes; no other control or bidi character may be left.
        assert not {unicodedata.category(sign) for sign in plain} & {"Cc", "Cs", "Zl", "Zp"}
        assert not {unicodedata.bidirectional(sign) for sign in plain} & BIDI_CONTROLS
        assert count(root) <= MAX_NODES


@FIXED
@given(st.lists(st.sampled_from(TOKENS), max_size=25).map("".join))
@example("a: &x [*x]")
@example("a: !!int '0x'")
@example("a: !!float x\nb: !!bool maybe\nc: !!timestamp x")
@example("a: 2026-02-30")
@example("a: " + "9" * 5000)
def test_any_mix_of_yaml_signs(text: str) -> None:
    check_document(attempt(text.encode()))


@FIXED
@given(st.binary(max_size=200))
@example(b"")
@example(b"\xef\xbb\xbf")
@example(b"\xf0\x9f\x98")
@example(b"\xc0\xaf")
@example(b"a: \xed\xa0\x80")
def test_any_bytes(data: bytes) -> None:
    check_document(attempt(data))


@FIXED
@given(st.text(max_size=60))
def test_any_text_as_a_value(text: str) -> None:
    data = ("a: " + text).encode("utf-8", "replace")
    check_document(attempt(data))


@FIXED
@given(st.text(st.sampled_from("a \t\r\n\r\x00\x1b\x7f\x85\xa0é\u200b\u202e\u2028\ufeff\U000e0001😀")))
def test_no_unseen_sign_is_overlooked(text: str) -> None:
    """Most files are told to have none without a look at each sign; the count is that of the slow look."""
    problems, count = SourceText(text, "a").unseen_characters()
    assert count == len(FORBIDDEN.findall(text))
    assert len(problems) == min(count, MAX_PROBLEMS)
