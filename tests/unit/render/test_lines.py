"""Lines that editors jump by, and workflow commands of a CI service."""

import re
from dataclasses import replace

import pytest

from preflint.errors import NotRead, Problem
from preflint.places import Place
from preflint.render.annotations import render_annotations
from preflint.render.lines import render_lines

from .hostile import ATTACKS, manifest

LINE = re.compile(r"([^:\n]+):(\d+):(\d+): (error|warning|note): (.+[^.])")
COMMAND = re.compile(
    r"::(error|warning|notice) title=([^:,]*),file=([^:,]*),"
    r"line=(\d+),endLine=(\d+),col=(\d+),endColumn=(\d+)::(.*)"
)


def lines(text: str) -> list[str]:
    assert text.endswith("\n")
    return text[:-1].split("\n")


def test_one_line_a_remark_the_worst_first_then_the_numbers(judge, report, dotterel) -> None:
    found = lines("".join(render_lines(report(judge(dotterel)))))
    column = dotterel.splitlines()[4].index("nut_tightens: ccw") + 15
    assert found[0] == (
        f"trial.airframe.yaml:5:{column}: error: Dotterel, front-right: nut tightens ccw; this shaft needs cw "
        "[retention/nut-hand]; Why: spin ccw seen from above; First: Pack unplugged before you touch a prop, a nut or "
        "a wire.; Then: fit an adapter whose nut tightens cw"
    )
    assert all(LINE.fullmatch(line) for line in found[:-3])
    levels = [LINE.fullmatch(line)[4] for line in found[:-3]]
    assert levels == sorted(levels, key=("error", "warning", "note").index)
    verdicts = "1 no-go, 0 unproven, 0 go-with-cautions, 0 go"
    assert found[-3:] == [
        f"preflint: Manifests: 1 seen, 1 assessed, 0 not assessed. Aircraft: {verdicts}.",
        "preflint: Rule answers: 12 in all, 2 finding, 1 clear, 7 unproven, 2 not applicable, 0 crashed.",
        "preflint: Judged on 2026-05-21 by preflint 0.1.0, no policy.",
    ]


def test_an_unread_file_has_a_line_at_its_start_or_at_the_fault(report) -> None:
    item = NotRead("x.yaml", [Problem("There is none."), Problem("odd", Place("parts/p.yaml", 3, 7, 3, 9))])
    assert lines("".join(render_lines(report(not_read=(item,)))))[:2] == [
        "parts/p.yaml:3:7: error: not read, so not judged: x.yaml: odd [preflint/not-read]",
        "x.yaml:1:1: error: not read, so not judged: There is none. [preflint/not-read]",
    ]


def test_a_run_broken_off_or_with_nothing_to_judge_says_so(judge, report, dotterel) -> None:
    broken_off = replace(report(judge(dotterel)), interrupted=True)
    for render in (render_lines, render_annotations):
        assert "preflint: Interrupted: what is not told here was not judged." in lines("".join(render(broken_off)))
    spared = lines("".join(render_lines(replace(report(), spared=True))))
    assert spared[0] == "preflint: No aircraft uses any of the files named, so none was judged."
    assert "Interrupted" not in "".join(render_lines(report(judge(dotterel))))


def test_a_command_in_full(judge, report, dotterel) -> None:
    column = dotterel.splitlines()[4].index("nut_tightens: ccw") + 15
    assert lines(render_annotations(report(judge(dotterel))))[0] == (
        f"::error title=no-go%3A retention/nut-hand,file=trial.airframe.yaml,line=5,endLine=5,col={column},"
        f"endColumn={column + 3}::Dotterel, front-right: nut tightens ccw; this shaft needs cw%0AWhy: spin ccw seen "
        "from above%0AFirst: Pack unplugged before you touch a prop, a nut or a wire.%0AThen: fit an adapter whose "
        "nut tightens cw"
    )


@pytest.mark.parametrize(("problems", "shown", "left"), [(9, 9, 0), (10, 10, 0), (11, 10, 1), (32, 10, 22)])
def test_at_most_ten_of_a_level_and_the_rest_is_counted(report, problems: int, shown: int, left: int) -> None:
    unread = tuple(NotRead(f"{i}.yaml", [Problem("odd")]) for i in range(problems))
    found = lines(render_annotations(report(not_read=unread)))
    assert sum(line.startswith("::error ") for line in found) == shown
    assert f"preflint: left out here: {left} errors, 0 warnings, 0 notices." in found


@pytest.mark.parametrize("attack", ATTACKS)
def test_no_text_that_was_read_begins_a_line_or_a_command(judge, report, attack: str) -> None:
    one = judge(manifest(ATTACKS[attack]))
    for line in lines("".join(render_lines(report(one))))[:-3]:
        assert LINE.fullmatch(line)
        assert "::" not in line
        assert "##" not in line
    for line in lines(render_annotations(report(one))):
        assert line.startswith("preflint: ") or COMMAND.fullmatch(line)
        assert line.count("::") == (2 if line.startswith("::") else 0)
        assert "##" not in line


def test_a_file_is_named_as_it_is_but_for_what_cannot_be_shown(report) -> None:
    unread = (NotRead("::error::x, 50%.yaml", [Problem("odd")]), NotRead("a\nb##[x.yaml", [Problem("odd")]))
    found = [COMMAND.fullmatch(line) for line in lines(render_annotations(report(not_read=unread)))[:2]]
    assert [match[3] for match in found if match] == ["%3A%3Aerror%3A%3Ax%2C 50%25.yaml", "a\\x0ab#\\x23[x.yaml"]
