"""Every word that decides something in a report can be explained, and is written as the glossary says."""

from typing import get_args

import pytest

from preflint.aircraft.words import Route
from preflint.findings.outcome import Cause, Severity
from preflint.findings.report import ANSWERS
from preflint.findings.result import Verdict
from preflint.glossary import GLOSSARY
from preflint.render.page import VERDICTS

WORDS = [
    *get_args(Verdict), *map(str, Severity), *ANSWERS.values(), *get_args(Cause), *get_args(Route),
    "domed side", "hand", "in force", "outdated", "deferred", "grounded", "position", "pack", "place", "rung",
    "bench look", "meter", "load", "flight rig", "standard uncertainty", "policy", "limit", "rule", "cw", "ccw",
]  # fmt: skip


@pytest.mark.parametrize("word", dict.fromkeys(WORDS))
def test_it_is_explained(word: str) -> None:
    term = GLOSSARY[word.replace(" ", "-").replace("_", "-")]
    assert term.meaning.endswith(".")


def test_reports_write_verdicts_as_the_glossary_does() -> None:
    assert {verdict: GLOSSARY[verdict].shown for verdict in get_args(Verdict)} == VERDICTS


def test_a_name_is_asked_for_in_small_letters_with_hyphens() -> None:
    assert [name for name in GLOSSARY if name != name.lower() or " " in name or "_" in name] == []
