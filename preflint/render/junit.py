"""JUnit XML as CI servers read it: a suite for each manifest, a case for each rule and subject.

There is no standard; the schema that the widest used servers publish allows no more than is written here.
"""

from xml.etree import ElementTree as ET

from preflint.errors import NotRead
from preflint.findings.inspected import Inspected
from preflint.findings.outcome import Clear, Crashed, NotApplicable, Severity
from preflint.findings.report import Report
from preflint.findings.result import Result
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


def render_junit(report: Report, ground_at: Severity) -> str:
    """A case fails where it grounds its aircraft: a finding from ``ground_at`` on that nobody put off, or what
    flight needs and is not proven. What could not be judged is an error. No times: they would differ each run.
    """
    root = ET.Element("testsuites", name="preflint")
    suites = [_run(report)]
    suites += [_aircraft(one, ground_at) for one in report.aircraft]
    suites += [_not_read(item) for item in report.not_read]
    for suite in suites:
        _count(suite)
        root.append(suite)
    for name in ("tests", "failures", "errors"):
        root.set(name, str(sum(int(suite.get(name, "0")) for suite in suites)))
    ET.indent(root)
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + ET.tostring(root, encoding="unicode") + "\n"


def _run(report: Report) -> ET.Element:
    suite = ET.Element("testsuite", name="preflint")
    counts = report.counts
    told = {
        "judged_on": report.judged_on.isoformat(),
        "tool": report.tool,
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
    name = one.aircraft.about.name.value
    suite = ET.Element("testsuite", name=shown(one.manifest))
    _properties(suite, {"aircraft": name, "verdict": one.verdict})
    for result in one.results:
        _answer(_case(suite, result.rule.id, name, result.at), result, one, ground_at)
    for source, message in one.broken:
        _say(_case(suite, source, name), "error", "rule-crashed", [shown(message)])
    if nothing_answered(one):
        _say(_case(suite, NOTHING_ANSWERED, name), "failure", "unproven", [NO_ANSWER])
    return suite


def _answer(case: ET.Element, result: Result, one: Inspected, ground_at: Severity) -> None:
    outcome = result.outcome
    said = remark(result, one)
    if isinstance(outcome, NotApplicable):
        _say(case, "skipped", "not-applicable", [shown(f"Not applicable: {outcome.because}")])
    elif isinstance(outcome, Crashed):
        _say(case, "error", "rule-crashed", [shown(outcome.message)])
    elif said is None:
        ET.SubElement(case, "system-out").text = shown(outcome.evidence) if isinstance(outcome, Clear) else ""
    elif said.word in ("not proven", "not known"):
        fails = said.word == "not proven"
        _say(case, "failure" if fails else "skipped", "unproven" if fails else "not-assessed", _texts(said))
    elif said.word == "deferred":
        _say(case, "skipped", "deferred", _texts(said))
    elif result.rule.severity >= ground_at:
        _say(case, "failure", str(result.rule.severity), _texts(said))
    else:
        ET.SubElement(case, "system-out").text = "\n".join([str(result.rule.severity), *_texts(said)])


def _texts(said: Remark) -> list[str]:
    place = said.place
    related = [f"See: {item.place.file}:{item.place.line}:{item.place.column} {item.message}" for item in said.related]
    return [shown(f"{place.file}:{place.line}:{place.column}: ") + said.said, *map(shown, related), *said.advice]


def _not_read(item: NotRead) -> ET.Element:
    suite = ET.Element("testsuite", name=shown(item.file))
    places = [(problem.place or whole(item.file), problem.message) for problem in item.problems]
    lines = [shown(f"{place.file}:{place.line}:{place.column}: {message}") for place, message in places]
    _say(_case(suite, NOT_READ, item.file), "error", "input-unreadable", lines or [shown(item.file)])
    return suite


def _case(suite: ET.Element, rule: str, group: str, at: str | None = None) -> ET.Element:
    return ET.SubElement(suite, "testcase", name=shown(f"{rule} at {at}" if at else rule), classname=shown(group))


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
