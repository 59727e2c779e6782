"""The sheets, read by a parser of HTML: a page a rung, a box for each value in the order of the manifest."""

import re
from html.parser import HTMLParser

import pytest

from preflint.aircraft.layouts import NAMES
from preflint.aircraft.moment import Moment
from preflint.aircraft.records import KINDS
from preflint.aircraft.rung import Rung
from preflint.precautions import ANY_LOADED_RUN, PACK_UNPLUGGED, PROPS_REMOVED
from preflint.writing.draft import Start, in_bench_order
from preflint.writing.paper import Sheet, paper
from preflint.writing.template import template

NOW = Moment.parse("2026-05-20")
NEEDED = (
    "heading_check", "cut_off_test", "nut_test", "spin_test", "output_test", "tilt_test", "stick_check",
    "link_loss_test", "voltage_comparison", "barometer_check", "position_check", "current_comparison",
    "interference_run",
)  # fmt: skip
NO_BOX = {"date", "at", "did", "left", "right", "file", "in_force", "reference"}  # "front-left: ", by its last word
VOID = {"meta", "br", "hr"}


class Read(HTMLParser):
    """Texts and tags in their order; fails where tags are not closed in turn."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.texts: list[tuple[str, str]] = []
        self.open: list[str] = []
        self.feed(text)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if data.strip():
            self.texts.append((self.open[-1] if self.open else "", " ".join(data.split())))


def sheet(layout: str = "quad-x", name: str = "Kestrel", kinds: tuple[str, ...] = NEEDED, props: bool = True) -> str:
    start = Start(layout=layout, name=name, cells=4)
    return paper(Sheet(name=name, facts=start.facts(NOW), kinds=kinds, props=props, new=props))


@pytest.mark.parametrize("layout", NAMES)
def test_it_is_one_closed_document_with_a_page_a_rung_and_nothing_that_runs_or_is_fetched(layout: str) -> None:
    read = Read(sheet(layout))
    names = [tag for tag, _ in read.tags]
    assert names.count("section") == len(Rung)
    assert set(names) <= {
        "html", "head", "meta", "title", "style", "body", "section", "h1", "p", "b", "div", "span", "table", "tr", "th",
        "td",
    }  # fmt: skip
    assert {key for _, attributes in read.tags for key in attributes} <= {
        "lang", "charset", "http-equiv", "content", "class",
    }  # fmt: skip
    assert "url(" not in sheet(layout)
    assert "@import" not in sheet(layout)


def test_the_headings_name_the_rungs_in_order() -> None:
    headings = [text for tag, text in Read(sheet()).texts if tag == "h1"]
    assert headings == [
        "Kestrel: bench look, about 30 minutes", "Kestrel: meter, about 17 minutes", "Kestrel: load, about 60 minutes",
    ]  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_there_is_a_box_for_every_value_in_the_order_of_the_manifest(kind: str) -> None:
    """Told by the template, which is made by other means: its keys are the labels of the boxes."""
    start = Start(layout="quad-x", cells=4)
    read = Read(sheet(kinds=(kind,), props=False))
    once = [text.rstrip(":") for tag, text in read.texts if tag == "span" and text.endswith(":")]
    once = [label for label in once[2:] if label != "at"]  # the first two are when, and who
    each = [text for tag, text in read.texts if tag == "th"]
    entry = [line for line in template(kind, start.facts(NOW)) if "rows" not in line and "columns" not in line]
    by_position = re.findall(r"([a-z0-9_]+): \{front", "\n".join(entry))
    words = re.findall(r"([a-z0-9_]+): (?=[^\n])", "\n".join(entry))
    keys = [key for key in dict.fromkeys(words) if key not in NO_BOX]
    written = [key.replace("_", " ") for key in keys if not (set(each) & {key.replace("_", " ")})]
    assert once == [label for label in written if label not in by_position] + (["file of the log"] * ("file" in words))
    assert {key.replace("_", " ") for key in keys} <= {*once, *each}


def test_a_value_by_position_has_a_column_for_each_rotor_in_walk_round_order() -> None:
    read = Read(sheet(kinds=("spin_test",), props=False))
    heads = [text for tag, text in read.texts if tag == "th"]
    assert heads == ["front-left", "front-right", "rear-left", "rear-right", "seen"]
    assert [text for tag, text in read.texts if tag == "td"] == ["cw ccw"] * 4


def test_readings_have_as_many_rows_as_a_usual_record() -> None:
    read = Read(sheet(kinds=("heading_check",), props=False))
    assert [tag for tag, _ in read.tags].count("td") == 2 * 8


def test_the_precaution_stands_before_the_work_it_is_for() -> None:
    words = [text for _, text in Read(sheet()).texts]
    for before, after in (
        (PACK_UNPLUGGED.sentences[0], "Props, as they are mounted."),
        (PROPS_REMOVED.sentences[0], "Spin test, 5 min."),
        (ANY_LOADED_RUN.sentences[0], "Current comparison, 30 min."),
    ):
        assert words.index(before) < words.index(after)
    for sentence in ANY_LOADED_RUN.sentences:
        assert words.count(sentence) == 1


def test_jobs_of_one_state_stand_together() -> None:
    assert in_bench_order(NEEDED, Rung.BENCH_LOOK)[0] == "nut_test"
    assert in_bench_order(NEEDED, Rung.LOAD)[0] == "heading_check"  # props removed, before anything is tied down


@pytest.mark.parametrize("name", ["<script>alert(1)</script>", '"><img src=x onerror=y>', "a & b", "</style>"])
def test_a_name_stays_a_text(name: str) -> None:
    read = Read(sheet(name=name))
    [title] = [text for tag, text in read.texts if tag == "title"]
    assert title == f"{name}: to fill in at the bench"
    assert not {"script", "img"} & {tag for tag, _ in read.tags}


def test_what_is_shown_has_no_page() -> None:
    read = Read(sheet(kinds=("voltage_comparison",), props=False))
    assert [text for tag, text in read.texts if tag == "h1"] == ["Kestrel: meter, about 10 minutes"]
