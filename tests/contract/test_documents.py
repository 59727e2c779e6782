"""The documents say what the program does."""

import re
from pathlib import Path

import click
from making.loop_reasons import REASONS, TOLD
from making.study.run import FAULTS

from preflint.cli.main import main
from preflint.engine.rule_module import builtin_and

ROOT = Path(__file__).parents[2]


def test_readme_names_every_command() -> None:
    text = (ROOT / "README.md").read_text()
    assert [name for name in main.list_commands(click.Context(main)) if f"preflint {name}" not in text] == []


def test_every_rule_has_a_page_with_what_it_does_not_check() -> None:
    pages = {rule.info.id: " ".join(rule.info.manual.split()) for rule in builtin_and(()).rules}
    assert [id for id, page in pages.items() if not re.search(r"not check|Not check|not judge", page)] == []


def test_no_page_promises_more_than_it_can() -> None:
    registry = builtin_and(())
    texts = [rule.info.manual + rule.info.precaution for rule in registry.rules]
    assert not [text for text in texts if re.search(r"\bsafe\b", text, re.IGNORECASE)]


def test_every_limit_says_where_it_comes_from() -> None:
    for tolerance in builtin_and(()).tolerances.values():
        assert re.match(r"derived|common practice, no source|\d+ CFR|ISO |JCGM |IEC ", tolerance.origin), tolerance


def test_readme_tells_what_stays_go_and_cannot_be_known() -> None:
    text = " ".join((ROOT / "README.md").read_text(encoding="utf-8").split())
    untold = [reason.words for reason in REASONS if reason.group in TOLD and not (reason.told and reason.told in text)]
    assert untold + [fault.name for fault in FAULTS if fault.limit not in text] == []
