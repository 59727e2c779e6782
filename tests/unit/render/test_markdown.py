"""The Markdown summary: what stands where, and that it is never too long to be posted."""

import pytest

from preflint.errors import NotRead, Problem
from preflint.render.markdown import LONGEST, escaped, fenced, render_markdown

from .hostile import ATTACKS, manifest


def test_the_table_has_the_worst_and_the_next_job(judge, report, dotterel) -> None:
    text = render_markdown(report(judge(dotterel), not_read=(NotRead("x.yaml", [Problem("cut short")]),)))
    lines = text.splitlines()
    assert lines[:4] == ["## Preflight records", "", "| Aircraft | Owner | Verdict | Worst | Next job |",
                         "|---|---|---|---|---|"]  # fmt: skip
    assert lines[5] == "| x\\.yaml | \\- | NOT READ | cut short | put the file right |"
    assert lines[4].startswith("| Dotterel | \\- | NO\\-GO | front\\-right\\: nut tightens ccw; this shaft needs cw | ")
    column = dotterel.splitlines()[4].index("nut_tightens: ccw") + 15
    where = f"\\(trial\\.airframe\\.yaml\\:5\\:{column}, retention/nut\\-hand\\)"
    assert f"- **no-go** front\\-right\\: nut tightens ccw; this shaft needs cw {where}" in lines
    first, then = (lines.index(line) for line in (
        "  - First\\: Pack unplugged before you touch a prop, a nut or a wire\\.",
        "  - Then\\: fit an adapter whose nut tightens cw",
    ))  # fmt: skip
    assert first < then
    assert lines[-1] == "A verdict is no permission: the pilot decides, and local rules come first."
    assert "Manifests\\: 2 seen, 1 assessed, 1 not assessed\\." in text


def test_what_does_not_fit_is_counted(report) -> None:
    unread = tuple(NotRead(f"{i}.yaml", [Problem("odd " * 40)]) for i in range(1000))
    text = render_markdown(report(not_read=unread))
    assert len(text) < LONGEST
    rows = sum("| NOT READ |" in line for line in text.splitlines())
    details = sum(line.startswith("### ") for line in text.splitlines())
    assert 0 < rows < 1000
    assert 0 < details < 1000
    assert f"\n{1000 - rows} more rows did not fit.\n" in text
    assert f"\nThe details of {1000 - details} more files did not fit; the full report has them.\n" in text


@pytest.mark.parametrize(("text", "shown"), [
    ("a_b *c*", "a\\_b \\*c\\*"), ("@@x #1", "`@@`x `#`1"), ("a\nb", "a\\\\x0ab"), ("  a   b", " a b"),
    ("`@`", "\\``@`\\`"), ("µ ± 2 %", "µ ± 2 %"), ("<b>&", "\\<b\\>\\&"),
])  # fmt: skip
def test_signs_are_escaped(text: str, shown: str) -> None:
    assert escaped(text) == shown


def test_a_fence_is_longer_than_any_within() -> None:
    assert fenced("a ```` b\n\x1b").splitlines() == ["`````yaml", "a ```` b", "\\x1b", "`````"]


OURS = ("| ", "|-", "- **", "  - ", "### ", "## ", "Manifests", "Rule answers", "Judged", "A verdict")


@pytest.mark.parametrize("attack", ATTACKS)
def test_no_text_that_was_read_begins_a_line(judge, report, attack: str) -> None:
    for line in render_markdown(report(judge(manifest(ATTACKS[attack])))).splitlines():
        assert not line or line.startswith(OURS)
        assert "::" not in line
        assert "##[" not in line
