"""The catalogue: every rule with what it asks, in 80 columns; a topic, one page whole."""

import pytest

from preflint.engine.rule_module import builtin_and
from preflint.errors import UsageError
from preflint.findings.rule_info import RuleInfo
from preflint.render.catalogue import all_rules, manual_page, told

REGISTRY = builtin_and(())
RULES = [rule.info for rule in REGISTRY.rules]


@pytest.mark.parametrize("width", [40, 80, 100])
def test_every_rule_stands_in_it_once_and_what_it_asks_breaks_off_nowhere(width: int) -> None:
    topic, found = "", []
    for line in all_rules(REGISTRY, width).partition("* Flight needs it")[0].splitlines():
        if topic and line[:2] in ("* ", "  ") and line[2] != " ":
            name, severity, *title = line[2:].split()
            found.append([f"{topic}/{name}", severity, line[0] == "*", " ".join(title)])
        elif line[:1] == " ":
            found[-1][3] = f"{found[-1][3]} {line.strip()}".strip()
        topic = line if line and line[0] not in "* " else topic
    assert [tuple(one[:3]) for one in found] == [(r.id, str(r.severity), r.needed_for_flight) for r in RULES]
    for rule, (*_, told_title) in zip(RULES, found, strict=True):
        left_off = rule.title.removeprefix(told_title)
        assert left_off != rule.title or told_title == rule.title
        assert left_off[:2] in ("", ": ", "; ")


def test_no_line_is_wider_than_a_terminal() -> None:
    texts = [all_rules(REGISTRY), *(told(REGISTRY, topic) for topic in {rule.topic for rule in RULES})]
    assert max(len(line) for text in texts for line in text.splitlines()) <= 80


@pytest.mark.parametrize("topic", sorted({rule.topic for rule in RULES}))
def test_a_topic_tells_its_rules_and_no_others(topic: str) -> None:
    text = told(REGISTRY, topic)
    assert [rule.id for rule in RULES if f"{rule.id}  (" in text] == [r.id for r in RULES if r.topic == topic]
    sources = [rule.source.split()[0] for rule in RULES if rule.topic == topic]
    assert all(f"Source: {source}" in text for source in sources)


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_a_page_holds_all_that_was_declared(rule: RuleInfo) -> None:
    page = " ".join(told(REGISTRY, rule.id).split())
    declared = [rule.title, rule.source, rule.precaution, str(rule.severity), *(t.name for t in rule.tolerances)]
    assert [text for text in declared if " ".join(text.split()) not in page] == []


def test_a_page_tells_what_the_rule_reads() -> None:
    page = " ".join(told(REGISTRY, "rotation/spin-seen").split())
    assert "Reads: rotors.at, rotors.spin, flight_controller.expects_spin, spin_test.date, spin_test.seen" in page


def test_an_unknown_rule_gets_the_nearest() -> None:
    with pytest.raises(UsageError, match="no rule or topic rotation/prop-stat; did you mean rotation/prop-state"):
        told(REGISTRY, "rotation/prop-stat")
    with pytest.raises(UsageError, match="no rule or topic zz; preflint catalogue lists them all"):
        told(REGISTRY, "zz")


def test_a_limit_without_a_unit_shows_none_and_names_are_marked_alike() -> None:
    page = told(REGISTRY, "power_sensing/hover-efficiency")
    assert "Limit: hover_height_diameters 2 (higher is stricter; common practice, no source)" in page
    assert "Limit: hover_steady_s 20 s (higher is stricter; common practice, no source)" in page
    assert [rule.id for rule in RULES if "``" in rule.manual] == []


def test_limits_that_only_the_page_has_are_counted() -> None:
    topics = "".join(told(REGISTRY, topic) for topic in dict.fromkeys(rule.topic for rule in RULES))
    assert "\n    and 1 more limit, on its manual page\n" in topics
    assert " and 1 more limits" not in topics


def test_a_narrow_page_is_folded_and_its_fragments_are_left_alone() -> None:
    rule = next(rule for rule in RULES if rule.id == "retention/nut-hand")
    lines = manual_page(rule, 40).splitlines()
    assert max(len(line) for line in lines if not line.startswith("    ")) <= 40
    assert "      - {at: front-left, spin: cw, fixing: {kind: nut, nut_tightens: cw}}" in lines
