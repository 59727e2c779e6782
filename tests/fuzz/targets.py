"""What must hold whatever the bytes are: one function for each way in; each raises where it does not.

Nothing but the documented errors comes out, what is wrong has a place in the file, and what is not sound is never go.
"""

import csv
import datetime as dt
import io
import json
import math
import tempfile
from collections.abc import Callable, Mapping
from pathlib import Path
from xml.etree import ElementTree as ET

import preflint_schemas
from jsonschema import Draft202012Validator
from making.manifests import CLUB, FILES
from referencing import Registry
from test_load_bytes import check_document, check_problems

from preflint.aircraft.build import build
from preflint.aircraft.layouts import positions
from preflint.aircraft.short import write_out
from preflint.check import check_manifest
from preflint.cli.exits import exit_code
from preflint.engine.rule_module import builtin_and
from preflint.errors import NotRead, Problem, UsageError
from preflint.findings.outcome import NO_GO, Crashed, Finding, Unproven
from preflint.findings.report import Report
from preflint.interface import FORMATS, inspect_many, render_report
from preflint.load.node import Node
from preflint.load.shared import expand_rotors
from preflint.load.tables.table import read_table
from preflint.load.tree import Tree
from preflint.load.yaml.events import load_yaml
from preflint.places import Place
from preflint.policy.policy import make_policy
from preflint.policy.source import read_policy
from preflint.render.text import Detail
from preflint.writing.insert import insert

DAY = dt.date(2026, 5, 21)
NAME = "x.airframe.yaml"
SCHEMA = Draft202012Validator(preflint_schemas.airframe(), registry=Registry())
REPORT = Draft202012Validator(preflint_schemas.report(), registry=Registry())
REGISTRY = builtin_and(())
DETAILS: tuple[Detail | None, ...] = (None, "full", "jobs", "first-hover", "grounded", "none")

FOLDER = Path(tempfile.mkdtemp(prefix="preflint-fuzz-"))
for _name, _text in FILES.items():
    (FOLDER / _name).parent.mkdir(parents=True, exist_ok=True)
    (FOLDER / _name).write_text(_text, encoding="utf-8")
(FOLDER / "preflint.yaml").write_bytes((CLUB / "preflint.yaml").read_bytes())


def loaded(data: bytes) -> Node | None:
    try:
        root = load_yaml(data, NAME)
    except NotRead as refusal:
        check_problems(refusal, lines(data))
        return None
    check_document(root)
    return root


def lines(data: bytes) -> int:
    return data.decode("utf-8", "replace").count("\n") + 1


def told(refusal: NotRead | UsageError) -> tuple[Problem, ...]:
    """The problems, of which there is one at least, each in words that can be printed."""
    assert refusal.problems
    assert all(problem.message.isprintable() for problem in refusal.problems), refusal.problems
    return refusal.problems


def inside(place: Place, data: bytes) -> None:
    """The place is in that text, or in another file, or on another line of one that is shared."""
    if place.file == NAME:
        assert 1 <= place.line <= place.end_line <= lines(data), place
        assert place.column >= 1, place
        assert (place.line, place.column) <= (place.end_line, place.end_column), place


def loader(data: bytes) -> None:
    loaded(data)


def schema(data: bytes) -> None:
    root = loaded(data)
    if root is None:
        return
    problems = check_manifest(root)
    assert problems or SCHEMA.is_valid(root.plain()), "a fault is lost"
    for problem in problems:
        assert problem.message.isprintable(), problem
        if not problem.message.startswith("and "):  # how many more there are
            assert problem.place is not None, problem
            inside(problem.place, data)
    if not problems:
        aircraft = build(expand_rotors(write_out(root).document, positions), lambda record, wanted: None)
        assert aircraft.positions


def table(data: bytes) -> None:
    (FOLDER / "t.csv").write_bytes(data)
    for wanted in (None, ("time_s?", "current_a", "field_x_ut|field_x_mgauss")):
        try:
            read = read_table(Tree(FOLDER, None), "t.csv", wanted)
        except NotRead as refusal:
            for problem in told(refusal):
                assert problem.place is None or 1 <= problem.place.line <= data.count(b"\n") + 1, problem
            continue
        assert read.values.shape == (len(read.row_places), len(read.columns))
        assert all(map(math.isfinite, read.values.flat)), "not finite"
        assert all(digit > 0 and math.isfinite(digit) for digit in read.last_digits), read.last_digits
        assert 0 < read.rows_read <= data.count(b"\n") + 1
        if "time_s" in read.columns:
            assert (read.column("time_s")[1:] > read.column("time_s")[:-1]).all(), "a clock that does not rise"


def policy(data: bytes) -> None:
    try:
        source = read_policy(Tree(FOLDER, "preflint.yaml", unsaved={"preflint.yaml": data}))
        assert source
        made = make_policy(source, REGISTRY)
    except UsageError as refusal:
        for problem in told(refusal):
            if problem.place is not None and problem.place.file == "preflint.yaml":
                assert 1 <= problem.place.line <= problem.place.end_line <= lines(data), problem
        return
    assert source.sha256[:8] in str(made)


def judged(data: bytes) -> Report:
    path = FOLDER / NAME
    report = inspect_many(path, judged_on=DAY, unsaved={path: data})
    assert len(report.aircraft) + len(report.not_read) == 1
    for error in report.not_read:
        for problem in told(error):
            if problem.place is not None:
                inside(problem.place, data)
    for one in report.aircraft:
        assert not one.broken, one.broken
        results = [result.outcome for result in one.results]
        assert not [answer for answer in results if isinstance(answer, Crashed)]
        for answer in results:
            if isinstance(answer, Finding | Unproven):
                for place in (answer.place, *(related.place for related in answer.related)):
                    inside(place, data)
        for figure in one.computed:
            assert math.isfinite(figure.value), figure
            assert figure.standard_uncertainty is None or math.isfinite(figure.standard_uncertainty), figure
        severe = any(isinstance(r.outcome, Finding) and r.rule.severity == NO_GO for r in one.results)
        needed = any(isinstance(r.outcome, Unproven) and r.rule.needed_for_flight for r in one.results)
        assert (one.verdict == "no-go") is severe, one.verdict
        assert one.verdict not in ("go", "go-with-cautions") or not needed, one.verdict
    code = exit_code(report, NO_GO)
    assert (code == 3) is bool(report.not_read), code
    assert code != 0 or report.aircraft[0].verdict in ("go", "go-with-cautions"), code
    return report


def aircraft(data: bytes) -> None:
    judged(data)


def refuse_constant(name: str) -> None:
    raise ValueError(f"{name} is no JSON")


def renderers(data: bytes) -> None:
    report = judged(data)
    seldom = len(data) % 4 != 0  # SARIF tells all rules anew, which takes longer than all other formats together
    made = {form: render_report(report, form) for form in FORMATS if form != "sarif" or not seldom}
    report_again = json.loads(made["json"], parse_constant=refuse_constant)
    REPORT.validate(report_again)
    assert [one["verdict"] for one in report_again["aircraft"]] == [one.verdict for one in report.aircraft]
    json.loads(made.get("sarif", "{}"))
    ET.fromstring(made["junit"].encode("utf-8"))
    assert len({len(row) for row in csv.reader(io.StringIO(made["csv"], newline=""))}) == 1
    assert len(made["markdown"]) <= 60_000
    texts = [made["lines"], made["annotations"], made["markdown"], made["text"]]
    for detail in DETAILS:
        for width, plain in ((80, False), (40, True)):
            text = render_report(report, detail=detail, width=width, ascii_only=plain)
            assert text.isascii() or not plain
            texts.append(text)
    for text in texts:
        text.encode("utf-8")
        assert not [sign for sign in text if not (sign.isprintable() or sign == "\n")], "a control character"


def inserted(data: bytes) -> None:
    """``insert`` itself looks at what came of it: it gives the old document and the entry, or refuses."""
    root = loaded(data)
    for kind, entry in (("log", {"date": DAY.isoformat(), "kind": "moved"}), ("spin_test", {"date": DAY.isoformat()})):
        try:
            after, place = insert(data, NAME, kind, [entry])
        except NotRead:
            continue
        assert root is not None
        assert len(after) > len(data)
        inside(place, after)


TARGETS: Mapping[str, Callable[[bytes], None]] = {
    one.__name__: one for one in (loader, schema, table, policy, aircraft, renderers, inserted)
}
