"""Hostile words in a terminal emulator: only our own line breaks move the cursor, and nothing is hidden."""

import unicodedata

import pyte
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from preflint.api import NO_GO, PACK_UNPLUGGED, Finding, Job, Related, rule
from preflint.errors import NotRead, Problem
from preflint.places import Place
from preflint.render.text import Detail, render_text

MANIFEST = """\
preflint: 1
aircraft: {name: Dunlin, layout: quad-x}
rotors: [{at: front-left, spin: cw}]
"""
HOSTILE = [
    "\x1b[2J\x1b[H", "\x1b[5A\x1b[2K", "\x1b]0;title\x07\x1b[8m", "\x1bc", "\x9b2J\x9bH", "\r\x1b[KGO  Dunlin",
    "\b" * 20, "\n\n[1] GO", "\v\f\x0e", "\u202eGO\u202c", "a" + "\u0301" * 400, "\ud800\udc00", "::error::x",
    "##vso[task.complete]", "x" * 5000,
]


def told_by(words: str):
    @rule("retention/trial", each="aircraft", severity=NO_GO, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED, source="s")
    def trial(aircraft, on):
        """Says the words wherever a rule may say any."""
        place = Place(words or "x", 3, 4, 3, 5)
        related = (Related(place, words),)
        do = f"REMEDY {words} END"
        return Finding(place=place, message=f"MESSAGE {words} END", evidence=words, do=do, related=related)

    return trial


def on_screen(text: str, width: int) -> pyte.Screen:
    screen = pyte.Screen(width, text.count("\n") + 3)
    screen.set_mode(pyte.modes.LNM)
    pyte.Stream(screen).feed(text.encode("utf-8").decode("utf-8"))
    return screen


def composed(text: str) -> str:
    return unicodedata.normalize("NFC", text).rstrip()


def check(judge, report, words: str, width: int = 80, detail: Detail | None = None) -> None:
    aircraft = judge(MANIFEST, told_by(words))
    failed = NotRead(words or "x", [Problem(f"PROBLEM {words} END", Place(words or "x", 1, 2, 1, 3))])
    text = render_text(report(aircraft, not_read=(failed,)), width, detail=detail)
    lines = text.splitlines()
    assert lines == text.split("\n")[:-1]
    screen = on_screen(text, width)
    assert [composed(line) for line in screen.display[: len(lines)]] == [composed(line) for line in lines]
    assert (screen.cursor.y, screen.cursor.x) == (len(lines), 0)
    assert lines[0].startswith("NO-GO  Dunlin")
    for said in ("MESSAGE", "REMEDY", "PROBLEM"):
        assert any(said in line for line in lines)
    assert not any(line.lstrip().startswith("::") or "##" in line for line in lines)


@pytest.mark.parametrize("words", HOSTILE)
@pytest.mark.parametrize("width", [40, 60, 80])
@pytest.mark.parametrize("detail", [None, "full"])
def test_hostile_words_stay_in_their_place(judge, report, words: str, width: int, detail) -> None:
    check(judge, report, words, width, detail)


LETTERS = st.text(
    st.one_of(st.characters(max_codepoint=0x2FF), st.sampled_from("\x1b\x9b[]0123456789;HJKAm\u202e\u200b\r\n\b :#鳥")),
    max_size=60,
)


@settings(derandomize=True, deadline=None, max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(LETTERS)
def test_any_words_stay_in_their_place(judge, report, words: str) -> None:
    check(judge, report, words)


def test_a_manifest_cannot_write_over_the_report_either(judge, report) -> None:
    manifest = MANIFEST.replace("Dunlin", '"GO  Dunlin ::error::x ##[command]"')
    text = render_text(report(judge(manifest)))
    assert text.startswith("UNPROVEN  GO Dunlin :\\x3aerror:\\x3ax #\\x23[command], quad-x\n")
