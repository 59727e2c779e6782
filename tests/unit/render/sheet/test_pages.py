"""What stands on the pages, as an HTML reader of the standard library reads them."""

import base64
import hashlib
import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest

from preflint.errors import Legible, NotRead, Problem
from preflint.render.sheet.pages import Picture, aircraft_page, pages

from ..hostile import ATTACKS, manifest

NAMED = "preflint: 1\naircraft: {{name: {name}, layout: quad-x{owner}}}\n"


class Text(HTMLParser):
    """Collects tags, attributes and text; that of the style sheet apart."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: dict[str, list[str]] = {}
        self.said, self.style = "", ""
        self.feed(page)
        self.words = " ".join(self.said.split())

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        for name, value in attrs:
            self.attributes.setdefault(name, []).append(value or "")

    def handle_data(self, data: str) -> None:
        if self.tags and self.tags[-1] == "style" and not self.style:
            self.style = data
        else:
            self.said += data


def test_a_page_has_all_that_the_bench_and_the_field_need(judge, report, dotterel: str) -> None:
    read = Text(pages(report(judge(dotterel)))["trial.html"])
    for words in (
        "✕ NO-GO Dotterel", "Layoutquad-x", "no owner recorded", "nut tightens ccw; this shaft needs cw",
        "spin ccw seen from above", "fit an adapter whose nut tightens cw",
        "Pack unplugged before you touch a prop, a nut or a wire.", "Order of work", "preflint record spin_test",
        "GROUNDED: do not fly.", "GROUNDED: do not hover.", "3100 g",
        "Changed, crashed or re-propped since 2026-05-21?",
        "Land at once if", "A verdict is no permission",
    ):  # fmt: skip
        assert words in read.words, words
    assert "safe" not in read.words.lower()


def test_each_line_of_a_record_is_a_line(judge, report, dotterel: str) -> None:
    page = pages(report(judge(dotterel)))["trial.html"]
    lines = page[page.index("below records: spin_test:") :].split("<pre>")[1].split("</pre>")[0].strip("\n").split("\n")
    assert "- date: 2026-05-21" in lines[0]
    assert len(lines) > 3
    assert not any("\\x0a" in line for line in lines)


def test_findings_come_worst_first(judge, report, dotterel: str) -> None:
    words = Text(pages(report(judge(dotterel)))["trial.html"]).words
    assert words.index("this shaft needs") < words.index("! CAUTION") < words.index("? NOT PROVEN")


@pytest.mark.parametrize("attack", ATTACKS)
def test_what_was_read_is_text(judge, report, attack: str) -> None:
    made = pages(report(judge(manifest(ATTACKS[attack]))))
    plain = pages(report(judge(manifest("plain"))))
    shown = ATTACKS[attack].replace("::", ":\\x3a").replace("##", "#\\x23")
    for name, page in made.items():
        read = Text(page)
        assert " ".join(shown.split()) in read.words, name
        assert read.tags == Text(plain[name]).tags, name
        assert not [key for key in read.attributes if key.startswith("on") or key == "style"]


def test_nothing_is_allowed_but_its_own_style(judge, report, dotterel: str) -> None:
    for page in pages(report(judge(dotterel))).values():
        read = Text(page)
        (policy,) = (text for text in read.attributes["content"] if "default-src" in text)
        digest = base64.b64encode(hashlib.sha256(read.style.encode()).digest()).decode()
        assert policy.startswith(f"default-src 'none'; style-src 'sha256-{digest}'; img-src data:")
        assert "script" not in read.tags
        assert "@import" not in read.style
        assert "url(" not in read.style


def test_a_picture_comes_with_its_words(judge, report, dotterel: str) -> None:
    one = judge(dotterel)
    svg = '<svg xmlns="http://www.w3.org/2000/svg"><script>x</script></svg>'
    read = Text(aircraft_page(report(one), one, [Picture("Hover", svg, "a curve that rises")]))
    assert read.attributes["alt"] == ["a curve that rises"]
    (source,) = read.attributes["src"]
    assert base64.b64decode(source.removeprefix("data:image/svg+xml;base64,")).decode() == svg
    assert "script" not in read.tags


def test_owners_have_one_letter_each_and_nobody_the_last(judge, report) -> None:
    written = [("Tern", "A. Lee"), ("Rook", "a.  lee"), ("Wren", "no owner recorded"), ("Crake", None)]
    judged = [
        judge(NAMED.format(name=name, owner=f", owner: {owner}" if owner else ""), file=f"{name}.airframe.yaml")
        for name, owner in written
    ]
    made = pages(report(*judged))
    parts = made["letters.html"].split('class="letter">')[1:]
    letters = [" ".join(re.sub("<[^>]+>", " ", part).split()) for part in parts]
    assert [part.split(" On ")[0] for part in letters] == [
        "To A. Lee", "To no owner recorded", "For aircraft of which nobody is named as the owner",
    ]  # fmt: skip
    named = [[name for name, _ in written if name in part] for part in letters]
    assert named == [["Tern", "Rook"], ["Wren"], ["Crake"]]
    rules = re.findall(r"main:has\(#owner-(\d)", made["index.html"])
    assert rules == ["0", "1", "2"]
    keys = re.findall(r'<tr class="row owner-(\d)', made["index.html"])
    assert keys == ["0", "0", "1", "2"]


def test_what_is_not_read_is_told_to_its_owner_and_on_the_clubs_page(judge, report) -> None:
    judged = judge(NAMED.format(name="Tern", owner=", owner: A. Lee"), file="tern.airframe.yaml")
    unread = (
        NotRead("crake.airframe.yaml", [Problem("it breaks off")], Legible("Crake", "a. lee", "quad-x")),
        NotRead("knot.airframe.yaml", [Problem("no such key")], Legible("Knot", "I. Merrick")),
        NotRead("empty", [Problem("no manifest")]),
    )
    made = pages(replace(report(judged, not_read=unread), missing=("Gannet",)))
    parts = made["letters.html"].split('class="letter">')[1:]
    letters = [" ".join(re.sub("<[^>]+>", " ", part).split()) for part in parts]
    assert [part.split(" On ")[0] for part in letters] == ["To A. Lee", "To I. Merrick"]
    assert "NOT READ Crake" in letters[0]
    assert "it breaks off" in letters[0]
    assert "Knot" not in letters[0]
    assert "NOT READ Knot" in letters[1]
    club = made["index.html"]
    assert "crake.airframe.yaml, Crake, a. lee, quad-x" in club
    assert "MISSING though on the club&#39;s roster, so nothing is known of: Gannet." in club


def test_a_letter_tells_a_job_once_with_what_to_mind_above_it(judge, report, dotterel: str) -> None:
    letter = pages(report(judge(dotterel)))["letters.html"]
    assert letter.count("fit an adapter whose nut tightens cw") == 1
    work = letter.index("What to do, in this order")
    assert work < letter.index("Pack unplugged before you touch", work) < letter.index("fit an adapter", work)
