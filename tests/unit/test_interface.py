"""What a program gets from ``import preflint``, and that the command line gives the same."""

import datetime as dt
import json
import os
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import preflint_schemas
import pytest
from jsonschema import Draft202012Validator
from referencing import Registry

import preflint

ROOT = Path(__file__).parents[2]
CLUB = ROOT / "examples" / "club"
KNOT, SISKIN = CLUB / "knot.airframe.yaml", CLUB / "siskin.airframe.yaml"
DAY = dt.date(2026, 5, 21)
PREFLINT = Path(sys.executable).parent / "preflint"
SAMPLE = "preflint_sample"


def as_json(report: preflint.Report) -> Any:
    return json.loads(preflint.render_report(report, "json"))


def judged(one: preflint.Inspected) -> tuple[object, ...]:
    return one.manifest, one.verdict, one.results, one.computed, one.deferred, one.policy, one.files


def test_one_aircraft_is_judged_as_among_many() -> None:
    report = preflint.inspect_many([KNOT, SISKIN], judged_on=DAY)
    for path, among_many in zip((KNOT, SISKIN), report.aircraft, strict=True):
        assert judged(preflint.inspect(path, judged_on=DAY)) == judged(among_many)


def test_paths_are_texts_or_paths_one_or_several() -> None:
    told = {
        preflint.render_report(preflint.inspect_many(paths, judged_on=DAY))
        for paths in (KNOT, str(KNOT), [KNOT], (str(KNOT), KNOT), iter([KNOT]))
    }
    assert len(told) == 1


def test_a_moment_counts_as_its_day() -> None:
    late = dt.datetime(2026, 5, 21, 23, 59, tzinfo=dt.timezone(dt.timedelta(hours=-9)))
    assert preflint.inspect_many(KNOT, judged_on=late).judged_on == DAY
    assert judged(preflint.inspect(KNOT, judged_on=late)) == judged(preflint.inspect(KNOT, judged_on=DAY))


def test_without_a_day_it_is_today() -> None:
    before = dt.date.today()
    assert before <= preflint.inspect_many(KNOT).judged_on <= dt.date.today()


def test_the_field_day_is_that_of_the_policy() -> None:
    assert preflint.inspect_many(KNOT, judged_on="field-day").judged_on == dt.date(2026, 5, 23)


def test_what_cannot_be_judged_is_an_error_where_one_is_asked_for(tmp_path: Path) -> None:
    with pytest.raises(preflint.NotRead, match="there is no such file or folder"):
        preflint.inspect(tmp_path / "gone.airframe.yaml")
    with pytest.raises(preflint.NotRead, match="this is a folder; inspect_many judges the aircraft in it"):
        preflint.inspect(CLUB)
    bad = tmp_path / "bad.airframe.yaml"
    bad.write_text("preflint: 1\naircraft: {name: Bad, layuot: quad-x}\n")
    with pytest.raises(preflint.NotRead) as caught:
        preflint.inspect(bad)
    assert caught.value.file == "bad.airframe.yaml"
    assert [problem.place.line for problem in caught.value.problems if problem.place] == [2]
    [error] = preflint.inspect_many([bad, KNOT]).not_read
    above = os.path.commonpath([tmp_path.resolve(), CLUB.resolve()])
    assert Path(above, error.file) == bad.resolve()


@pytest.mark.parametrize(("options", "message"), [
    ({"rules": ["no_such_module"]}, "rule module no_such_module does not load"),
    ({"rules": "no_such_module"}, "rule module no_such_module does not load"),
    ({"policy": CLUB / "gone.yaml"}, "gone.yaml"),
    ({"judged_on": "2026-05-21"}, "judged_on '2026-05-21': give a datetime.date"),
])
def test_wrong_use_is_told(options: dict[str, Any], message: str) -> None:
    for judge in (preflint.inspect, preflint.inspect_many):
        with pytest.raises(preflint.UsageError, match=re.escape(message)):
            judge(KNOT, **options)


def test_a_format_that_does_not_exist_is_wrong_use() -> None:
    report = preflint.inspect_many(KNOT, judged_on=DAY)
    with pytest.raises(preflint.UsageError, match=r"no format html; there are text, json, sarif"):
        preflint.render_report(report, "html")


@pytest.mark.parametrize("width", [29, 5, 0, -1])
def test_a_line_too_narrow_for_words_is_wrong_use(width: int) -> None:
    report = preflint.inspect_many(KNOT, judged_on=DAY)
    with pytest.raises(preflint.UsageError, match=f"width {width}: a line has 30 columns or more"):
        preflint.render_report(report, width=width)
    assert max(map(len, preflint.render_report(report, width=30).splitlines())) >= 30


@pytest.mark.parametrize("kind", [str, Path])
def test_one_changed_file_is_no_row_of_letters(kind: type) -> None:
    one, several = (preflint.inspect_many(CLUB, judged_on=DAY, changed=names) for names in (kind(KNOT), [kind(KNOT)]))
    assert [inspected.manifest for inspected in one.aircraft] == ["knot.airframe.yaml"]
    assert one == several


def test_an_interruption_ends_the_judging_of_one(monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("preflint.fleet.inspect.inspect_in", interrupted)
    assert preflint.inspect_many(KNOT).interrupted
    with pytest.raises(KeyboardInterrupt):
        preflint.inspect(KNOT)


def test_the_command_line_writes_what_a_program_gets(tmp_path: Path) -> None:
    options = [part for form in preflint.FORMATS for part in ("--report", f"{form}={tmp_path / form}")]
    command = [PREFLINT, "inspect", KNOT, SISKIN, "--as-of", "2026-05-21", "--rules", SAMPLE, *options]
    done = subprocess.run(
        [*command, "--ground-at", "caution", "--detail", "full"], capture_output=True, text=True, encoding="utf-8",
        env={**os.environ, "PYTHONIOENCODING": "utf-8"}, timeout=300,  # what chooses the arithmetic of numpy, too
    )  # fmt: skip
    report = preflint.inspect_many([KNOT, SISKIN], judged_on=DAY, rules=[SAMPLE])
    for form in preflint.FORMATS:
        text = preflint.render_report(report, form, ground_at=preflint.Severity.CAUTION, detail="full")
        assert (tmp_path / form).read_bytes().decode("utf-8") == text, form
    assert done.stdout == preflint.render_report(report, ground_at=preflint.Severity.CAUTION, detail="full")
    assert done.returncode == 1


def test_the_text_is_as_wide_and_as_plain_as_asked_for() -> None:
    report = preflint.inspect_many(SISKIN, judged_on=DAY)
    plain = preflint.render_report(report, width=60, ascii_only=True)
    assert plain.isascii()
    assert max(map(len, plain.splitlines())) <= 60
    assert "\x1b" not in plain
    assert "\x1b" in preflint.render_report(report, colour=True)


def test_reports_name_the_rule_modules_where_there_are_others() -> None:
    report = preflint.inspect_many(KNOT, judged_on=DAY, rules=[SAMPLE])
    tool = f"preflint {preflint.__version__} (rules: built-in, sample)"
    assert report.rule_modules == ("built-in", "sample")
    assert as_json(report)["tool"] == tool
    validator = Draft202012Validator(preflint_schemas.report(), registry=Registry())
    assert list(validator.iter_errors(as_json(report))) == []
    for form in ("text", "junit", "markdown", "annotations", "lines"):
        unescaped = preflint.render_report(report, form).replace("\\", "")
        assert f"by {tool}," in " ".join(unescaped.split()), form
    (run,) = json.loads(preflint.render_report(report, "sarif"))["runs"]
    assert run["tool"]["extensions"] == [{"name": "sample"}]


def test_reports_by_the_built_in_rules_name_only_the_tool() -> None:
    report = preflint.inspect_many(KNOT, judged_on=DAY)
    assert report.rule_modules == ("built-in",)
    assert as_json(report)["tool"] == f"preflint {preflint.__version__}"
    (run,) = json.loads(preflint.render_report(report, "sarif"))["runs"]
    assert run["tool"].keys() == {"driver"}


def test_the_example_of_the_readme_runs() -> None:
    (section,) = re.findall(r"^## From Python\n(.*?)^## ", (ROOT / "README.md").read_text(), re.MULTILINE | re.DOTALL)
    (example,) = re.findall(r"^```python\n(.*?)^```", section, re.MULTILINE | re.DOTALL)
    done = subprocess.run([sys.executable, "-c", example], cwd=ROOT, capture_output=True, text=True, timeout=300)
    assert done.stderr == ""
    assert "siskin.airframe.yaml no-go" in done.stdout


@pytest.mark.parametrize("wrong", [
    {"ground_at": "no-go"}, {"ground_at": 3}, {"detail": "some"}, {"detail": True}, {"width": "80"}, {"width": 29},
])
@pytest.mark.parametrize("form", ["text", "junit"])
def test_what_a_report_cannot_be_rendered_by_is_wrong_use(form: preflint.Format, wrong: dict[str, Any]) -> None:
    report = preflint.inspect_many(KNOT, judged_on=DAY)
    with pytest.raises(preflint.UsageError, match=next(iter(wrong))):
        preflint.render_report(report, form, **wrong)
