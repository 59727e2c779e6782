"""The catalogue: every rule, within 80 columns; one page whole."""

import pytest

from preflint.engine.rule_module import builtin_and
from preflint.errors import UsageError
from preflint.findings.rule_info import RuleInfo
from preflint.render.catalogue import all_rules, manual_page

REGISTRY = builtin_and(())


def test_every_rule_stands_in_it_once() -> None:
    lines = all_rules(REGISTRY).splitlines()
    assert [line.split()[0] for line in lines if line.startswith("  ") and line[2] != " "] == [
        r.info.id for r in REGISTRY.rules
    ]
    assert max(map(len, lines)) <= 80


@pytest.mark.parametrize("rule", [rule.info for rule in REGISTRY.rules], ids=lambda rule: rule.id)
def test_a_page_holds_all_that_was_declared(rule: RuleInfo) -> None:
    page = " ".join(manual_page(REGISTRY, rule.id).split())
    declared = [rule.title, rule.source, rule.precaution, str(rule.severity), *(t.name for t in rule.tolerances)]
    assert [text for text in declared if " ".join(text.split()) not in page] == []


def test_an_unknown_rule_gets_the_nearest() -> None:
    with pytest.raises(UsageError, match="no rule rotation/prop-stat; did you mean rotation/prop-state"):
        manual_page(REGISTRY, "rotation/prop-stat")


def test_a_limit_without_a_unit_shows_none_and_names_are_marked_alike() -> None:
    page = manual_page(REGISTRY, "power_sensing/hover-efficiency")
    assert "Limit: hover_height_diameters 2 (higher is stricter; common practice, no source)" in page
    assert "Limit: hover_steady_s 20 s (higher is stricter; common practice, no source)" in page
    assert [rule.info.id for rule in REGISTRY.rules if "``" in rule.info.manual] == []


def test_limits_that_only_the_page_has_are_counted() -> None:
    assert "\n      and 1 more limit, on its manual page\n" in all_rules(REGISTRY)
    assert " and 1 more limits" not in all_rules(REGISTRY)
