"""Where values, keys and what aliases stand for are found; columns count code points."""

import pickle

import pytest

from preflint.load.node import Node
from preflint.load.yaml.events import load_yaml
from preflint.places import Place


def at(node: Node, *steps: str | int) -> Node:
    for step in steps:
        if isinstance(step, str):
            assert isinstance(node.value, dict)
            node = node.value[step]
        else:
            assert isinstance(node.value, tuple)
            node = node.value[step]
    return node


def span(place: Place | None) -> tuple[int, int, int, int]:
    assert place is not None
    return place.line, place.column, place.end_line, place.end_column


def load(text: str) -> Node:
    return load_yaml(text.encode(), "a.airframe.yaml")


def test_columns_count_code_points_after_an_emoji_and_an_accent() -> None:
    root = load('a: {"k": "e\u0301😀", m: 😀 x, z: 1}\n')
    assert span(at(root, "a", "k").place) == (1, 10, 1, 15)
    assert span(at(root, "a", "m").key) == (1, 17, 1, 18)
    assert span(at(root, "a", "m").place) == (1, 20, 1, 23)
    assert span(at(root, "a", "z").place) == (1, 28, 1, 29)


@pytest.mark.parametrize("line_end", ["\n", "\r\n"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_a_byte_order_mark_move_nothing(line_end: str, mark: str) -> None:
    root = load(mark + f"a: 1{line_end}{line_end}b:{line_end}  - x{line_end}  - y z{line_end}")
    assert span(at(root, "a").key) == (1, 1, 1, 2)
    assert span(at(root, "b", 1).place) == (5, 5, 5, 8)
    assert span(at(root, "b").place) == (4, 3, 5, 8)
    assert span(root.place) == (1, 1, 5, 8)


def test_blocks_end_with_their_last_line_and_not_with_what_follows() -> None:
    root = load("a: |\n  x\n  y\n\n# note\nb: >-\n  z\n\n\nc:\n- 1\n- {d: [2]}\n\n# end\n")
    assert span(at(root, "a").place) == (1, 4, 3, 4)
    assert span(at(root, "b").place) == (6, 4, 7, 4)
    assert span(at(root, "c").place) == (11, 1, 12, 11)
    assert span(at(root, "c", 1).place) == (12, 3, 12, 11)
    assert span(at(root, "c", 1, "d").place) == (12, 7, 12, 10)
    assert span(root.place) == (1, 1, 12, 11)


def test_pointers_escape_and_keys_carry_the_pointer_of_their_value() -> None:
    root = load('"a/b": {"c~d": [x, z]}\n')
    node = at(root, "a/b", "c~d", 1)
    assert node.place.pointer == "/a~1b/c~0d/1"
    key = at(root, "a/b", "c~d").key
    assert key is not None
    assert key.pointer == "/a~1b/c~0d"
    assert (root.key, root.place.pointer, node.key) == (None, "", None)


def test_an_alias_stands_for_its_node_with_the_places_of_that_node() -> None:
    root = load("a: &x {k: &y 24.10}\nb: *x\nc: [*y]\n")
    assert root.plain() == {"a": {"k": 24.1}, "b": {"k": 24.1}, "c": [24.1]}
    assert at(root, "b").place == at(root, "a").place
    assert span(at(root, "b").place) == (1, 7, 1, 20)
    assert span(at(root, "b").key) == (2, 1, 2, 2)
    assert at(root, "b", "k").place == Place("a.airframe.yaml", 1, 14, 1, 19, "/a/k")
    assert at(root, "c", 0).place == at(root, "a", "k").place
    assert at(root, "c", 0).key is None


@pytest.mark.parametrize(("text", "expected"), [
    ("a: &x 5\n", (1, 7, 1, 8)),
    ("a: &x # note\n  5\n", (2, 3, 2, 4)),
    ("a: &x 'y z'\n", (1, 7, 1, 12)),
    ("a: &x |\n  y\n", (1, 7, 2, 4)),
    ("a: &x\n  b: 1\n", (2, 3, 2, 7)),
    ("a: &x\n  - 1\n", (2, 3, 2, 6)),
    ("a: &x\n- 1\n", (2, 1, 2, 4)),
    ("a: &x [1]\n", (1, 7, 1, 10)),
    ("a: [k: 1 , 2]\n", (1, 4, 1, 14)),
])
def test_a_place_leaves_out_the_mark_before_the_value(text: str, expected: tuple[int, int, int, int]) -> None:
    assert span(at(load(text), "a").place) == expected


def test_a_pair_inside_a_list_ends_with_its_value() -> None:
    assert span(at(load("a: [k: 1 , 2]\n"), "a", 0).place) == (1, 5, 1, 9)


def test_a_scalar_keeps_how_it_was_written() -> None:
    root = load("a: 24.10\nb: '24.10'\nc: true\nd: |\n  x\n")
    assert [at(root, name).text for name in "abcd"] == ["24.10", "24.10", "true", "x\n"]
    assert [at(root, name).value for name in "abcd"] == [24.1, "24.10", True, "x\n"]
    assert root.text == ""


def test_a_document_can_go_to_another_process() -> None:
    root = load("a: &x {k: [1, 2.5, true, x]}\nb: *x\n")
    assert pickle.loads(pickle.dumps(root)) == root
