"""The Markdown summary as two renderers show it: no link, image or HTML from what was read."""

import json
from html.parser import HTMLParser
from pathlib import Path

import pytest

from .conftest import run

RENDER = {
    "markdown-it": """
import sys
from markdown_it import MarkdownIt
print(MarkdownIt("gfm-like", {"html": True}).render(open(sys.argv[1], encoding="utf-8").read()))
""",
    "cmark-gfm": """
import sys, cmarkgfm
from cmarkgfm.cmark import Options
text = open(sys.argv[1], encoding="utf-8").read()
print(cmarkgfm.github_flavored_markdown_to_html(text, Options.CMARK_OPT_UNSAFE))
""",
}
OURS = {"h2", "h3", "table", "thead", "tbody", "tr", "th", "td", "ul", "li", "p", "strong", "code", "br"}


class Page(HTMLParser):
    """Collects the tags, and the text of the first cell of each row."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: set[str] = set()
        self.first: list[str] = []
        self.cells = 0
        self.in_first = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes |= {name for name, _ in attrs}
        if tag == "tr":
            self.cells = 0
        elif tag == "td":
            self.cells += 1
            self.in_first = self.cells == 1
            if self.in_first:
                self.first.append("")

    def handle_endtag(self, tag: str) -> None:
        if tag == "td":
            self.in_first = False

    def handle_data(self, data: str) -> None:
        if self.in_first:
            self.first[-1] += data


def page(clients: Path, renderer: str, file: Path) -> Page:
    found = Page()
    found.feed(run(clients / "venv/bin/python", "-c", RENDER[renderer], file))
    return found


@pytest.mark.parametrize("renderer", RENDER)
def test_what_was_read_shows_as_it_is_and_makes_nothing(clients: Path, told: dict[str, Path], renderer: str) -> None:
    found = page(clients, renderer, told["markdown"])
    assert found.tags <= OURS
    assert found.attributes == set()
    report = json.loads(told["json"].read_text())
    names = [one["name"] for one in report["aircraft"]] + [item["file"] for item in report["not_read"]]
    plain = {name.replace("::", ":\\x3a").replace("##", "#\\x23") for name in names}
    assert {" ".join(cell.split()) for cell in found.first} == {" ".join(name.split()) for name in plain}


@pytest.mark.parametrize("renderer", RENDER)
def test_the_renderer_would_show_what_is_not_escaped(clients: Path, renderer: str, tmp_path: Path) -> None:
    (tmp_path / "x.md").write_text("[a](http://evil.example) ![b](c) <b>d</b> http://evil.example\n")
    assert {"a", "img", "b"} <= page(clients, renderer, tmp_path / "x.md").tags
