"""SARIF 2.1.0 (OASIS), for services that show findings beside the lines of a pull request.

No time, no machine, no absolute path: the same report gives the same bytes.
"""

import hashlib
import json
import posixpath
from collections import Counter
from collections.abc import Iterable, Iterator
from typing import Any
from urllib.parse import quote

from preflint.findings.report import Report
from preflint.places import Place
from preflint.render.folded import Folded, folded
from preflint.render.pieces import encoded
from preflint.render.remarks import Remark, remarks, shown, summary
from preflint.render.sarif_rules import descriptors, inert
from preflint.version import __version__

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
MOST_RELATED = 20


def render_sarif(report: Report) -> Iterator[str]:
    """One run, in pieces. Open questions and unread files are results too: what reads only results must not see less.

    What is the same of several rotors, or of one line that several aircraft share, is one result; the other places
    are related to it. A deferred finding is a note that carries its deferral as a suppression. Whole only where every
    manifest was read and no rule failed; ``executionSuccessful`` says so.
    """
    found = sorted(remarks(report), key=lambda r: (_uri(r.place.file), r.place, r.rule, r.at or "", r.aircraft))
    told = folded(found)
    marks = _fingerprints(told)
    rules = descriptors(report)
    index = {rule["id"]: i for i, rule in enumerate(rules)}
    driver = {"name": "preflint", "version": __version__, "semanticVersion": __version__, "rules": rules}
    extensions = [{"name": shown(name)} for name in report.rule_modules[1:]]  # the first is the driver's own
    run = {
        "tool": {"driver": driver, **({"extensions": extensions} if extensions else {})},
        "automationDetails": {"id": "preflint/"},
        "columnKind": "unicodeCodePoints",
        "invocations": [{"executionSuccessful": _is_whole(report, found)}],
        "results": (_result(one, index[one.first.rule], mark) for one, mark in zip(told, marks, strict=True)),
        "properties": _properties(report),
    }
    document = {"$schema": SCHEMA, "version": "2.1.0", "runs": iter([run])}
    yield from encoded(document)
    yield "\n"


def _is_whole(report: Report, found: Iterable[Remark]) -> bool:
    judged = bool(report.aircraft) or report.spared
    return judged and not report.interrupted and not any(r.word in ("not read", "broke down") for r in found)


def _properties(report: Report) -> dict[str, Any]:
    counts = report.counts
    return {
        "judged_on": report.judged_on.isoformat(),
        "tool": shown(report.tool),
        "rule_modules": [shown(name) for name in report.rule_modules],
        "policy": shown(report.policy) if report.policy else None,
        "flown_with": {shown(one.manifest): [*map(shown, one.flown_with)] for one in report.aircraft if one.flown_with},
        "manifests_seen": counts.manifests_seen,
        "manifests_assessed": counts.manifests_assessed,
        "manifests_not_assessed": counts.manifests_not_assessed,
        "rules": {"run": sum(counts.answers.values()), **counts.answers},
        "verdicts": dict(counts.verdicts),
        "summary": " ".join(summary(report)),
    }


def _result(one: Folded, index: int, fingerprint: str) -> dict[str, Any]:
    remark = one.first
    own = remark.related[:MOST_RELATED]
    related = (*own, *one.related)[:MOST_RELATED]
    see = [f"[{_label(item.message)}]({i})" for i, item in enumerate(own, 1)]
    text = " ".join(_sentence(inert(part)) for part in [one.said, *remark.advice])
    result: dict[str, Any] = {
        "ruleId": remark.rule,
        "ruleIndex": index,
        "kind": "fail",
        "level": remark.level,
        "message": {"text": f"{text} See: {', '.join(see)}." if see else text},
        "locations": [{"physicalLocation": _physical(remark.place)}],
        "partialFingerprints": {"primaryLocationLineHash": fingerprint},
        "properties": {"outcome": remark.word, **({"rules": list(one.rules)} if len(one.rules) > 1 else {})},
    }
    if related:
        result["relatedLocations"] = [
            {"id": i, "physicalLocation": _physical(item.place), "message": {"text": inert(shown(item.message))}}
            for i, item in enumerate(related, 1)
        ]
    if remark.deferral:
        entry = {"kind": "inSource", "status": "accepted", "justification": inert(shown(remark.deferral))}
        result["suppressions"] = [entry]
    return result


def _physical(place: Place) -> dict[str, Any]:
    return {
        "artifactLocation": {"uri": _uri(place.file)},
        "region": {
            "startLine": place.line, "startColumn": place.column,
            "endLine": place.end_line, "endColumn": place.end_column,
        },
    }  # fmt: skip


def _uri(file: str) -> str:
    """Relative to the folder that the report's names are relative to; a colon would look like a scheme."""
    name = posixpath.normpath(file).lstrip("/")
    return quote(name.encode("utf-8", "surrogateescape"), safe="/")


def _fingerprints(told: Iterable[Folded]) -> list[str]:
    """From what is said about what, not from the line: it stays the same when lines above are added."""
    seen: Counter[str] = Counter()
    marks = []
    for one in told:
        key = hashlib.sha256(json.dumps(one.known_by).encode()).hexdigest()[:16]
        seen[key] += 1
        marks.append(f"{key}:{seen[key]}")
    return marks


def _label(message: str) -> str:
    return inert(shown(message).replace("[", "(").replace("]", ")").replace("\\", "/"))


def _sentence(text: str) -> str:
    return text if text.endswith((".", "!", "?")) else f"{text}."
