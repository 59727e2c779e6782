"""JUnit XML as CI servers read it: a suite for each manifest, a case for each rule, whatever it was asked about.

There is no standard; the schema that the widest used servers publish allows no more than is written here.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from xml.etree import ElementTree as ET

from preflint.errors import NotRead
from preflint.findings.inspected import Inspected
from preflint.findings.outcome import Crashed, NotApplicable, Severity
from preflint.findings.report import Report
from preflint.findings.result import Result
from preflint.frozen import dataclass
from preflint.render.remarks import (
    NO_ANSWER,
    NOT_READ,
    NOTHING_ANSWERED,
    Remark,
    nothing_answered,
    remark,
    shown,
    summary,
    whole,
)


def render_junit(report: Report, ground_at: Severity) -> Iterator[str]:
    """In pieces, suite by suite. A case fails where it grounds its aircraft: a finding from ``ground_at`` on that
    nobody put off, or what flight needs and is not proven, of one rotor or more. What could not be judged is an error.
    No times: they would differ each run.
    """
    # The numbers of all suites stand before the first of them, so that each aircraft is asked twice and none is held.
    tags = Counter(_worst(given)[0].tag for one in report.aircraft for _, given in _cases(one, ground_at))
    unread = len(report.not_read)
    numbers = {"tests": tags.total() + unread, "failures": tags["failure"], "errors": tags["error"] + unread}
    root = ET.Element("testsuites", {"name": "preflint", **{name: str(number) for name, number in numbers.items()}})
    yield '<?xml version="1.0" encoding="UTF-8"?>\n' + ET.tostring(root, encoding="unicode").replace(" />", ">\n")
    yield _suite(_run(report))
    yield from (_suite(_aircraft(one, ground_at)) for one in report.aircraft)
    yield from (_suite(_not_read(item)) for item in report.not_read)
    yield "</testsuites>\n"


def _suite(suite: ET.Element) -> str:
    _count(suite)
    ET.indent(suite, level=1)
    return f"  {ET.tostring(suite, encoding='unicode')}\n"


def _run(report: Report) -> ET.Element:
    suite = ET.Element("testsuite", name="preflint")
    counts = report.counts
    told = {
        "judged_on": report.judged_on.isoformat(),
        "tool": report.tool,
        "rule_modules": ", ".join(report.rule_modules),
        "policy": report.policy or "no policy",
        "manifests_seen": counts.manifests_seen,
        "manifests_assessed": counts.manifests_assessed,
        "manifests_not_assessed": counts.manifests_not_assessed,
        "rules_run": sum(counts.answers.values()),
        **{f"rules_{answer}": count for answer, count in counts.answers.items()},
        **{f"verdicts_{verdict}": count for verdict, count in counts.verdicts.items()},
    }
    _properties(suite, {name: str(value) for name, value in told.items()})
    said = [*summary(report), *(shown(note.message) for note in report.notes)]
    ET.SubElement(suite, "system-out").text = "\n".join(said)
    return suite


def _aircraft(one: Inspected, ground_at: Severity) -> ET.Element:
    name = one.about.name.value
    suite = ET.Element("testsuite", name=shown(one.manifest))
    flown = {"flown_with": ", ".join(one.flown_with)} if one.flown_with else {}
    _properties(suite, {"aircraft": name, "verdict": one.verdict, **flown})
    for rule, given in _cases(one, ground_at):
        _answers(_case(suite, rule, name), _worst(given))
    return suite


@dataclass(frozen=True, slots=True)
class _Said:
    """One answer: the tag and type of its case ("" for one that passed), and what is told."""

    tag: str
    type: str
    first: tuple[str, ...] = ()
    remark: Remark | None = None

    @property
    def lines(self) -> list[str]:
        """What is told, line by line."""
        return [*map(shown, self.first), *(_texts(self.remark) if self.remark else ())]


def _cases(one: Inspected, ground_at: Severity) -> Iterator[tuple[str, list[_Said]]]:
    """The answers of each rule, and what failed by itself."""
    by_rule: dict[str, list[Result]] = {}
    for result in one.results:
        by_rule.setdefault(result.rule.id, []).append(result)
    for rule, results in by_rule.items():
        yield rule, [_answer(result, one, ground_at) for result in results]
    for source, message in one.broken:
        yield source, [_Said("error", "rule-crashed", (message,))]
    if nothing_answered(one):
        yield NOTHING_ANSWERED, [_Said("failure", "unproven", (NO_ANSWER,))]


def _rank(said: _Said) -> int:
    """Worst first; what is not known comes before what passed, and that before what was not asked."""
    if said.tag == "skipped":
        return 5 if said.type == "not-applicable" else 3
    return {"error": 0, "failure": 1, "system-out": 2, "": 4}[said.tag]


def _worst(given: Sequence[_Said]) -> list[_Said]:
    """Of several rotors the worst say what becomes of the case, and are told; findings before what is not proven."""
    worst = min(map(_rank, given))
    return sorted((said for said in given if _rank(said) == worst), key=lambda said: said.type == "unproven")


def _answers(case: ET.Element, told: Sequence[_Said]) -> None:
    lines = list(dict.fromkeys(line for said in told for line in said.lines))
    if told[0].tag in ("error", "failure", "skipped"):
        _say(case, told[0].tag, told[0].type, lines)
    elif lines:
        ET.SubElement(case, "system-out").text = "\n".join(lines)


def _answer(result: Result, one: Inspected, ground_at: Severity) -> _Said:
    outcome = result.outcome
    if isinstance(outcome, NotApplicable):
        return _Said("skipped", "not-applicable", (f"Not applicable: {outcome.because}",))
    if isinstance(outcome, Crashed):
        return _Said("error", "rule-crashed", (outcome.message,))
    said = remark(result, one)
    if said is None:
        return _Said("", "")
    if said.word == "not proven":
        return _Said("failure", "unproven", remark=said)
    if said.word == "not known":
        return _Said("skipped", "not-assessed", remark=said)
    if said.word == "deferred":
        return _Said("skipped", "deferred", remark=said)
    if result.rule.severity >= ground_at:
        return _Said("failure", str(result.rule.severity), remark=said)
    return _Said("system-out", str(result.rule.severity), (str(result.rule.severity),), said)


def _texts(said: Remark) -> list[str]:
    place = said.place
    related = [f"See: {item.place.file}:{item.place.line}:{item.place.column} {item.message}" for item in said.related]
    return [shown(f"{place.file}:{place.line}:{place.column}: ") + said.said, *map(shown, related), *said.advice]


def _not_read(item: NotRead) -> ET.Element:
    suite = ET.Element("testsuite", name=shown(item.file))
    known = {"aircraft": item.legible.name, "owner": item.legible.owner, "layout": item.legible.layout}
    if item.legible.told:
        _properties(suite, {name: text for name, text in known.items() if text})
    places = [(problem.place or whole(item.file), problem.message) for problem in item.problems]
    lines = [shown(f"{place.file}:{place.line}:{place.column}: {message}") for place, message in places]
    _say(_case(suite, NOT_READ, item.file), "error", "input-unreadable", lines or [shown(item.file)])
    return suite


def _case(suite: ET.Element, rule: str, group: str) -> ET.Element:
    return ET.SubElement(suite, "testcase", name=shown(rule), classname=shown(group))


def _say(case: ET.Element, tag: str, kind: str, lines: list[str]) -> None:
    ET.SubElement(case, tag, type=kind, message=lines[0]).text = "\n".join(lines[1:])


def _properties(suite: ET.Element, told: dict[str, str]) -> None:
    properties = ET.SubElement(suite, "properties")
    for name, value in told.items():
        ET.SubElement(properties, "property", name=name, value=shown(value))


def _count(suite: ET.Element) -> None:
    cases = suite.findall("testcase")
    for name, tag in (("failures", "failure"), ("errors", "error"), ("skipped", "skipped")):
        suite.set(name, str(sum(case.find(tag) is not None for case in cases)))
    suite.set("tests", str(len(cases)))
