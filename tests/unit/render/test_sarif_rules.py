"""What SARIF says of the rules: whole sentences within what services take, whole pages, the address of each page."""

import json
import re
from dataclasses import replace

import pytest

from preflint.engine.rule_module import builtin_and
from preflint.findings.result import Result
from preflint.findings.rule_info import RuleInfo
from preflint.render.sarif import render_sarif
from preflint.render.sarif_rules import LONGEST, whole_sentences

RULES = [rule.info for rule in builtin_and(()).rules]


@pytest.fixture
def described(judge, report, dotterel):
    """described(*rules): the descriptors of a report in which these were asked of one aircraft each."""

    def told(*rules: RuleInfo) -> dict[str, dict]:
        one = judge(dotterel)
        answer = one.results[0].outcome
        aircraft = [one.with_results((Result(rule, None, answer),)) for rule in rules]
        found = json.loads("".join(render_sarif(report(*aircraft))))["runs"][0]["tool"]["driver"]["rules"]
        return {rule["id"]: rule for rule in found if not rule["id"].startswith("preflint/")}

    return told


def plain(text: str) -> str:
    return re.sub(r"\s+", " ", text.replace("] (", "](").replace("{ ", "{"))


def test_no_service_refuses_a_description_and_none_ends_in_a_sentence(described) -> None:
    told = described(*RULES)
    assert set(told) == {rule.id for rule in RULES}
    for rule in RULES:
        short, full = (told[rule.id][name]["text"] for name in ("shortDescription", "fullDescription"))
        assert short == rule.title
        assert len(full) <= LONGEST == 1024
        page = plain(rule.page)
        assert page.startswith(plain(full)), rule.id
        assert full.endswith((".", "!", "?", ".)", rule.title)), rule.id
        assert page[len(plain(full)) :][:1] in ("", " "), rule.id


def test_the_help_is_the_whole_page(described) -> None:
    for id, one in described(*RULES).items():
        [rule] = [rule for rule in RULES if rule.id == id]
        assert plain(rule.page) in plain(one["help"]["text"])
        markdown = one["help"]["markdown"].replace("```yaml", "")
        assert re.sub(r"[\W_]", "", markdown).startswith(re.sub(r"[\W_]", "", rule.page)), id


def test_what_does_not_fit_ends_after_a_sentence_or_a_word() -> None:
    assert whole_sentences(["One. Two!", "Three? Four."], 17) == "One. Two! Three?"
    assert whole_sentences(["One. Two!", "Three? Four."], 15) == "One. Two!"
    assert whole_sentences(["One two three four."], 15) == "One two ..."
    assert whole_sentences(["a" * 30], 10) == "aaaaaa ..."
    assert whole_sentences(["0.5 m is 1.5 ft. So."], 18) == "0.5 m is 1.5 ft."
    assert whole_sentences([]) == ""


def test_the_address_is_told_where_all_policies_agree_on_it(described) -> None:
    here = replace(RULES[0], published=f"https://club.example/{RULES[0].id}.html")
    there = replace(here, published=f"https://other.example/{RULES[0].id}.html")
    assert described(here, here)[here.id]["helpUri"] == f"https://club.example/{here.id}.html"
    for some in ((RULES[0],), (here, there), (here, RULES[0]), (RULES[0], here), (there, here, here)):
        assert "helpUri" not in described(*some)[here.id]
