"""Every format tells the same numbers, the day, the tool and the policy."""

import json
import re
from dataclasses import replace
from xml.etree import ElementTree as ET

import pytest

from preflint.api import NO_GO
from preflint.errors import NotRead, Problem
from preflint.render.annotations import render_annotations
from preflint.render.json_report import render_json
from preflint.render.junit import render_junit
from preflint.render.lines import render_lines
from preflint.render.markdown import render_markdown
from preflint.render.sarif import render_sarif
from preflint.render.text import render_text

VERDICTS = ("no-go", "unproven", "go-with-cautions", "go")
ANSWERS = ("finding", "clear", "unproven", "not_applicable", "crashed")


def in_words(text: str) -> list[str]:
    """The numbers of a report in prose, in a fixed order."""
    words = " ".join(text.replace("\\", "").split())
    manifests = re.search(r"(\d+) (?:manifests? )?seen, (\d+) assessed, (\d+) not assessed", words)
    verdicts = re.search(r"Aircraft: (\d+) no-go, (\d+) unproven, (\d+) go-with-cautions, (\d+) go\.", words)
    answers = re.search(
        r"(\d+)(?: rule answers?:| in all,) (\d+) finding, (\d+) clear, (\d+) unproven, "
        r"(\d+) not applicable, (\d+) crashed",
        words,
    )
    judged = re.search(r"Judged on (\S+) by (preflint \S+), (.*?)\.(?: |$)", words)
    assert manifests
    assert verdicts
    assert answers
    assert judged
    return [*manifests.groups(), *verdicts.groups(), *answers.groups(), *judged.groups()]


def in_sarif(text: str) -> list[str]:
    run = json.loads(text)["runs"][0]
    told = run["properties"]
    tool = f"preflint {run['tool']['driver']['version']}"
    return [
        *(str(told[f"manifests_{name}"]) for name in ("seen", "assessed", "not_assessed")),
        *(str(told["verdicts"][name]) for name in VERDICTS),
        *(str(told["rules"][name]) for name in ("run", *ANSWERS)),
        told["judged_on"], tool, told["policy"] or "no policy",
    ]  # fmt: skip


def in_json(text: str) -> list[str]:
    told = json.loads(text)
    counts = told["counts"]
    return [
        *(str(counts[f"manifests_{name}"]) for name in ("seen", "assessed", "not_assessed")),
        *(str(counts["verdicts"][name]) for name in VERDICTS),
        *(str(counts["rules"][name]) for name in ("run", *ANSWERS)),
        told["judged_on"], told["tool"], told["policy"] or "no policy",
    ]  # fmt: skip


def in_junit(text: str) -> list[str]:
    properties = ET.fromstring(text).iterfind("testsuite[1]/properties/property")
    told = {p.get("name"): p.get("value") or "" for p in properties}
    names = [f"manifests_{name}" for name in ("seen", "assessed", "not_assessed")]
    names += [f"verdicts_{name}" for name in VERDICTS] + [f"rules_{name}" for name in ("run", *ANSWERS)]
    return [told[name] for name in (*names, "judged_on", "tool", "policy")]


@pytest.mark.parametrize("policy", [None, "preflint.yaml sha256:0123456789abcdef"])
def test_all_tell_the_same_numbers(judge, report, dotterel, policy) -> None:
    aircraft = [judge(dotterel), judge(dotterel.replace("Dotterel", "Dunlin").replace("3100", "2100"))]
    one = replace(report(*aircraft, not_read=(NotRead("x.yaml", [Problem("a"), Problem("b")]),)), policy=policy)
    expected = in_json("".join(render_json(one)))
    assert expected[:8] == ["3", "2", "1", "2", "0", "0", "0", "24"]
    assert in_sarif("".join(render_sarif(one))) == expected
    assert in_junit("".join(render_junit(one, NO_GO))) == expected
    assert in_words(render_text(one, width=2000, detail="full")) == expected
    for render in (render_markdown, render_lines, render_annotations):
        assert in_words("".join(render(one)).replace("preflint: ", "")) == expected
