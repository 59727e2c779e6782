"""What a name means: everything that a manifest or a report can hold is explained, under its own name."""

import datetime as dt
import re

import pytest
import yaml

from preflint import UsageError, explain
from preflint.aircraft.moment import Moment
from preflint.aircraft.records import KINDS
from preflint.engine.rule_module import builtin_and
from preflint.errors import NotRead
from preflint.meanings.keys import Key, keys
from preflint.meanings.look_up import look_up, meaning_of_path, names
from preflint.meanings.meaning import of_key
from preflint.testing import inspect_text
from preflint.writing.shape import shape_of
from preflint.writing.units import unit_of

REGISTRY = builtin_and(())
TODAY = Moment(dt.date(2026, 5, 21))
KEYS = [pytest.param(key, id=".".join(key.first)) for key in keys()]


def told(name: str, width: int = 80) -> str:
    return explain(name, width=width)


def test_every_name_is_explained_and_each_of_its_meanings_alone_under_the_name_shown() -> None:
    assert len(names(REGISTRY)) > 500
    for name in names(REGISTRY):
        for meaning in look_up(name, REGISTRY, TODAY):
            if not meaning.sort.startswith("a word of reports"):  # of which a few sentences are all there is
                assert look_up(meaning.name, REGISTRY, TODAY) == (meaning,), (name, meaning.name)


@pytest.mark.parametrize("key", KEYS)
def test_a_key_is_told_with_its_unit_bounds_words_and_the_way_to_learn_it(key: Key) -> None:
    text = " ".join(told(key.name_in_full).split())
    said = key.said
    for wanted in (said.meaning, said.do, f"Unit: {unit_of(key.key)}" if unit_of(key.key) and said.title else ""):
        assert " ".join(wanted.split()) in text
    if said.do and not said.on_paper:
        assert f"First: {said.mind}" in text or not said.mind
    if "maximum" in said.limits:
        assert f"at most {said.limits['maximum']:g}" in text
    assert ("Read by: " in text) != ("Not judged: " in text)
    for wanted in said.one_of:
        assert wanted in text


@pytest.mark.parametrize("key", KEYS)
def test_the_lines_to_paste_are_yaml_and_never_answer_for_the_builder(key: Key) -> None:
    lines = of_key(key, TODAY, REGISTRY).lines
    text = "\n".join(lines)
    if key.first == ("records",):
        assert not lines
        return
    assert key.first[0] in yaml.safe_load(text)
    manifest = text if key.first[0] == "aircraft" else f"aircraft: {{name: Trial, layout: quad-x}}\n{text}"
    if key.key not in ("at", "label") or key.first[0] == "records":  # which rotor or pack it is about, not what it is
        with pytest.raises(NotRead):  # whatever is open is not legal as it stands
            inspect_text(f"preflint: 1\n{manifest}\n")
    for word in ("cw", "up", "left"):
        assert not re.search(rf": {word}(,|}}|$)", text, re.MULTILINE)


def test_a_number_without_a_unit_is_a_count_a_ratio_or_a_matrix() -> None:
    plain = {
        key.key for key in keys()
        if key.said.title and not key.holds and shape_of(key.group, key.name).form == "number" and not unit_of(key.key)
    }  # fmt: skip
    assert plain == {
        "blades", "cells", "divider_ratio", "hdop", "input_bits", "max_cells", "satellites", "soft_iron", "straps",
    }  # fmt: skip


def test_a_name_in_several_groups_is_told_shortly_for_each() -> None:
    text = told("divider_ratio")
    assert "power_sensing.divider_ratio, a key of power_sensing" in text
    assert "in_force.divider_ratio, a key of records.voltage_comparison.in_force" in text
    assert "Learn it" not in text
    assert "Learn it" in told("in_force.divider_ratio")


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_of_record_is_told_with_how_it_is_taken_and_what_ends_it(kind: str) -> None:
    text = " ".join(told(f"records.{kind}").split())
    assert f"Take it: {KINDS[kind].take}" in text
    assert f"First: {KINDS[kind].mind}" in text
    assert "Lasts: " in text
    assert f"records: {kind}: - date: 20" in text or f"records: {kind}: - {{date: 20" in text


def test_a_rule_is_its_manual_page_and_its_bare_name_will_do() -> None:
    assert told("retention/nut-hand") == told("nut-hand")
    assert "Severity: no-go" in told("nut-hand")
    assert "Reads: " in told("nut-hand")


def test_limits_columns_choices_topics_and_keys_of_the_format_are_told() -> None:
    assert "Used by: retention/bore-fit" in told("bore_slack_mm")
    assert "Unit: V" in told("indicated_v")
    assert "a word that fixing.nut_kind may hold" in told("locknut-new")
    assert "Its rules: expected-spin" in told("rotation")
    assert "What all rotors share." in told("every_rotor")


@pytest.mark.parametrize(("written", "meant"), [
    ("Domed Side", "domed-side"), ("in force", "in-force"), ("GO WITH CAUTIONS", "go-with-cautions"),
    ("Spin Test", "spin_test"), ("PROP.HAND", "prop.hand"),
])  # fmt: skip
def test_capitals_blanks_and_hyphens_do_not_matter(written: str, meant: str) -> None:
    assert told(written) == told(meant)


@pytest.mark.parametrize(("written", "near"), [
    ("divder_ratio", "divider_ratio"), ("power_sensing.divder_ratio", "divider_ratio"), ("spin_tst", "spin_test"),
    ("nut-hnd", "retention/nut-hand"), ("indicatedv", "indicated_v"), ("unprovn", "unproven"),
])  # fmt: skip
def test_an_unknown_name_gets_the_nearest(written: str, near: str) -> None:
    with pytest.raises(UsageError, match=f"nothing is called {re.escape(written)}; nearest: .*{re.escape(near)}"):
        told(written)


@pytest.mark.parametrize("written", ["", "  ", ".", "qqqq", "\x1b[2J", "x" * 100_000, "..", "a/b/c", "\ud83d"])
def test_nonsense_is_refused_in_one_short_line(written: str) -> None:
    with pytest.raises(UsageError) as refusal:
        told(written)
    assert str(refusal.value).isprintable()
    assert len(str(refusal.value)) < 300


@pytest.mark.parametrize("width", [40, 80, 100])
def test_no_line_of_prose_is_wider_than_the_terminal(width: int) -> None:
    for key in keys():
        prose = told(key.name_in_full, width).partition("\n\n")[0]
        assert max(map(len, prose.splitlines())) <= width


def test_a_path_of_keys_is_what_stands_there() -> None:
    def name(*path: str) -> str | None:
        found = meaning_of_path(path, REGISTRY, TODAY)
        return found and found.name

    assert name("rotors", "prop", "hand") == name("every_rotor", "prop", "hand") == "prop.hand"
    assert name("preflint") == "preflint"
    assert name("records", "voltage_comparison", "rows") == name("records", "voltage_comparison", "columns")
    assert name("records", "spin_test") == "records.spin_test"
    assert name("rotors", "colour") is None
    assert name() is None
