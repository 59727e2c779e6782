"""Whatever a file is called and whatever is said of it, each format stays what it is."""

import datetime as dt
import json
import re
from xml.etree import ElementTree as ET

from hypothesis import example, given, settings
from hypothesis import strategies as st

from preflint.api import NO_GO
from preflint.errors import NotRead, Problem
from preflint.findings.report import Report
from preflint.places import Place
from preflint.render.annotations import render_annotations
from preflint.render.junit import render_junit
from preflint.render.lines import render_lines
from preflint.render.markdown import render_markdown
from preflint.render.sarif import render_sarif

# File names that are not UTF-8 come as lone surrogates of this range.
NOT_UTF8 = st.characters(min_codepoint=0xDC80, max_codepoint=0xDCFF)
TEXTS = st.text(st.characters(exclude_categories=["Cs"]) | NOT_UTF8)


@settings(derandomize=True, deadline=None, max_examples=150)
@given(TEXTS.filter(bool), TEXTS, TEXTS.filter(bool))
@example("::error::\n##[x", "\r\n::error::", "\u2028##vso[")
@example("/", "](", "..")
def test_every_format_holds(file: str, message: str, other: str) -> None:
    problems = [Problem(message), Problem(message, Place(other, 2, 3, 2, 4))]
    report = Report(dt.date(2026, 5, 21), "preflint 0.1.0", None, (), (NotRead(file, problems),))
    lines = "".join(render_lines(report))
    assert lines.count("\n") == 5
    assert all(re.search(r":\d+:\d+: error: not read, so not judged: ", line) for line in lines.split("\n")[:2])
    root = ET.fromstring("".join(render_junit(report, NO_GO)).encode("utf-8"))
    assert len(root.findall("testsuite/testcase/error")) == 1
    results = json.loads("".join(render_sarif(report)))["runs"][0]["results"]
    for result in results:
        uri = result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"]
        assert re.fullmatch(r"(?:[\w.~/-]|%[0-9A-F]{2})*", uri, re.ASCII)
        assert not uri.startswith("/")
        assert "](" not in result["message"]["text"]
    assert len(results) == 2
    commands = render_annotations(report).split("\n")
    assert sum(line.startswith("::error ") for line in commands) == 2
    assert sum(line.startswith("preflint: ") for line in commands) == 4
    assert len(commands) == 7
    for text in (lines, render_markdown(report), "\n".join(commands)):
        text.encode("utf-8")
        assert not [sign for sign in text if not (sign.isprintable() or sign == "\n")]
        assert "##[" not in text
        assert "##vso" not in text
