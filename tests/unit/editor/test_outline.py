"""The outline of a half-typed manifest: what stands where, by hyphens, indents and brackets."""

import pytest
import yaml
from making.manifests import CLUB

from preflint.editor.outline import Cursor, Steps, outline


def cursor(text: str) -> Cursor | None:
    """At the bar."""
    before, _, after = text.partition("¦")
    return outline(before + after, before.count("\n"), len(before) - before.rfind("\n") - 1).cursor


@pytest.mark.parametrize(("text", "steps", "as_value", "word"), [
    ("pre¦", (), False, "pre"),
    ("¦", (), False, ""),
    ("aircraft:\n  ¦", ("aircraft",), False, ""),
    ("aircraft:\n  name: x\n  lay¦", ("aircraft",), False, "lay"),
    ("aircraft: {name: x, layout: qu¦", ("aircraft", "layout"), True, "qu"),
    ("aircraft: {name: x, layout: qu¦, arm_mm: 1}\n", ("aircraft", "layout"), True, "qu"),
    ("rotors:\n  - at: a\n    prop: {hand: cw}\n  - ¦", ("rotors", 1), False, ""),
    ("rotors:\n- at: a\n- at: b\n  sp¦", ("rotors", 1), False, "sp"),
    ("rotors:\n- at: a\n¦", (), False, ""),
    ("rotors: [{at: a}, {at: b, prop: {¦", ("rotors", 1, "prop"), False, ""),
    ("a:\n  b: {c: [1, 2,\n      3¦", ("a", "b", "c", 2), True, "3"),
    ("a: {b: 'x, y', c: ¦", ("a", "c"), True, ""),
    ("a: {b: [c, {\nrotors:\n  - at: ¦", ("rotors", 0, "at"), True, ""),  # brackets that were never closed
    ("records:\n  spin_test:\n    - date: 2026-05-01\n\n      ¦", ("records", "spin_test", 0), False, ""),
])  # fmt: skip
def test_the_cursor_is_where_an_editor_shows_it(text: str, steps: Steps, as_value: bool, word: str) -> None:
    found = cursor(text)
    assert found is not None
    assert (found.steps, found.as_value, found.word) == (steps, as_value, word)


@pytest.mark.parametrize("text", ["# spi¦", "a: 1  # b¦", "note: |\n  some: ¦\n", "a: {b: 1}¦"])
def test_nothing_is_offered_in_a_comment_a_long_text_or_behind_a_bracket(text: str) -> None:
    assert cursor(text) is None


@pytest.mark.parametrize("path", sorted(CLUB.glob("*.airframe.yaml")), ids=lambda path: path.name)
def test_it_agrees_with_a_parser_on_every_aircraft_of_the_club(path: object) -> None:
    text = path.read_text("utf-8")  # type: ignore[attr-defined]
    found = {steps for steps, value in outline(text).values.items() if isinstance(steps[-1], str)}
    assert found == set(every_key(yaml.load(text, Loader=yaml.CBaseLoader), ()))


def every_key(node: object, steps: Steps) -> list[Steps]:
    if isinstance(node, dict):
        return [one for key, inner in node.items() for one in ((*steps, key), *every_key(inner, (*steps, key)))]
    if isinstance(node, list):
        return [one for i, inner in enumerate(node) for one in every_key(inner, (*steps, i))]
    return []
