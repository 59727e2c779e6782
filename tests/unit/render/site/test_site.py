"""The catalogue as a site: whole, valid, escaped, fetching nothing, readable in either light."""

import base64
import hashlib
import itertools
import re
from html.parser import HTMLParser
from posixpath import dirname, join, normpath
from urllib.parse import unquote, urldefrag

import html5lib
import pytest

from preflint.api import NO_GO, Clear, Job, RuleModule, Tolerance, rule
from preflint.engine.rule_module import Registry, builtin_and
from preflint.render.site.frame import STYLE
from preflint.render.site.pages import site

REGISTRY = builtin_and(())
SITE = site(REGISTRY, "preflint 1")
RULES = [rule.info for rule in REGISTRY.rules]
EVIL = '</code><script>alert(1)</script><img src=x onerror=1>"\' &amp; \u202e'


class Seen(HTMLParser):
    """Every tag with its attributes, the headings' levels, and all text."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text = ""
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.text += data

    def all(self, name: str) -> list[str]:
        return [value for _, attrs in self.tags if (value := attrs.get(name)) is not None]


def errors(page: str) -> list[object]:
    parser = html5lib.HTMLParser()
    parser.parse(page)
    return list(parser.errors)


def test_a_page_a_rule_and_three_lists() -> None:
    lists = {"index.html", "records.html", "limits.html"}
    assert set(SITE) == {f"{rule.topic}/{rule.name}.html" for rule in RULES} | lists
    assert "retention/nut-hand.html" in SITE


def test_every_page_is_valid_and_the_parser_would_tell() -> None:
    assert {name: found for name, page in SITE.items() if (found := errors(page))} == {}
    assert errors(SITE["index.html"].replace("</ul>", "</ol>", 1))


def test_every_link_leads_to_a_page_and_an_anchor_of_the_site() -> None:
    anchors = {name: Seen(page).all("id") for name, page in SITE.items()}
    for name, ids in anchors.items():
        assert len(set(ids)) == len(ids), name
    for name, page in SITE.items():
        for href in Seen(page).all("href"):
            file, anchor = urldefrag(href)
            target = normpath(join(dirname(name), unquote(file))) if file else name
            assert target in SITE, f"{name}: {href}"
            assert not anchor or anchor in anchors[target], f"{name}: {href}"


def test_nothing_is_fetched_and_nothing_but_our_own_style_and_script_may_run() -> None:
    for name, page in SITE.items():
        seen = Seen(page)
        assert not {"src", "srcset", "style", "action"} & {key for _, attrs in seen.tags for key in attrs}
        assert not [key for _, attrs in seen.tags for key in attrs if key.startswith("on")]
        assert not {"link", "iframe", "img", "object", "form"} & {tag for tag, _ in seen.tags}
        assert not re.search("https?:|//[a-z]", page), name
        [allowed] = [attrs["content"] or "" for _, attrs in seen.tags if "http-equiv" in attrs]
        assert allowed.startswith("default-src 'none'; ")
        inline = re.findall(r"<(style|script)>(.*?)</\1>", page, re.DOTALL)
        assert [kind for kind, _ in inline] == (["style", "script"] if name == "index.html" else ["style"])
        for kind, text in inline:
            digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
            assert f"{kind}-src 'sha256-{digest}'" in allowed
        assert allowed.count("sha256-") == len(inline)


def test_every_page_has_a_language_a_title_and_headings_in_order() -> None:
    for name, page in SITE.items():
        seen = Seen(page)
        assert ("html", {"lang": "en"}) in seen.tags
        assert re.search("<title>[^<]+</title>", page)
        levels = [int(tag[1]) for tag, _ in seen.tags if re.fullmatch("h[1-6]", tag)]
        assert levels[0] == 1, name
        assert levels.count(1) == 1, name
        assert all(after <= before + 1 for before, after in itertools.pairwise(levels)), name
        assert [tag for tag, _ in seen.tags if tag in ("header", "main", "footer")] == ["header", "main", "footer"]


def test_the_field_of_the_search_has_a_label_and_is_hidden_without_a_script() -> None:
    seen = Seen(SITE["index.html"])
    assert ("label", {"for": "search"}) in seen.tags
    assert ("div", {"id": "finder", "hidden": None}) in seen.tags
    assert len(seen.all("data-words")) == len(RULES)


@pytest.mark.parametrize("one", RULES, ids=lambda one: one.id)
def test_a_page_tells_all_that_was_declared(one) -> None:
    said = " ".join(Seen(SITE[f"{one.id}.html"]).text.split())
    declared = [one.page, one.source, one.precaution, str(one.severity), *(t.meaning for t in one.tolerances)]
    words = [word for text in declared for word in re.sub(":\n", "\n", text).split()]
    assert [word for word in words if word.rstrip(":") not in said] == []


def test_the_kinds_and_the_limits_are_all_told() -> None:
    assert set(REGISTRY.tolerances) <= set(Seen(SITE["limits.html"]).all("id"))
    assert {"nut_test", "spin_test", "interference_run"} <= set(Seen(SITE["records.html"]).all("id"))


def test_the_same_rules_give_the_same_bytes() -> None:
    assert site(builtin_and(()), "preflint 1") == SITE


def evil() -> Registry:
    limit = Tolerance(f"a {EVIL}", EVIL, 1.0, "lower", EVIL, EVIL)

    def judge(aircraft, on):
        return Clear("x")

    judge.__doc__ = f"{EVIL}\n\n{EVIL}\n\n{EVIL}:\n\n    {EVIL}\n"
    made = rule("search/told", each="aircraft", severity=NO_GO, job=Job.RECORD, precaution=EVIL, source=EVIL,
                tolerances=[limit])(judge)  # fmt: skip
    return Registry.of([RuleModule(1, "evil", (made,))])


def test_a_strangers_rule_makes_no_mark_up() -> None:
    made = site(evil(), EVIL)
    assert set(made) == {"index.html", "records.html", "limits.html", "search/told.html"}
    for name, page in made.items():
        seen = Seen(page)
        assert errors(page) == [], name
        assert not [attrs for tag, attrs in seen.tags if tag == "img" or "onerror" in attrs], name
        assert [tag for tag, _ in seen.tags].count("script") == (1 if name == "index.html" else 0), name
        assert "\u202e" not in page
    assert "<script>alert(1)</script>" in Seen(made["search/told.html"]).text


def luminance(colour: str) -> float:
    """WCAG 2.2, definition of relative luminance."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """WCAG 2.2, definition of contrast ratio."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_contrast_in_either_light() -> None:
    assert contrast("#ffffff", "#000000") == pytest.approx(21)
    blocks = re.findall(r":root \{.*?\}", STYLE, re.DOTALL)
    schemes = [dict(re.findall(r"--(\w+): (#[0-9a-f]{6})", block)) for block in blocks]
    assert len(schemes) == 2
    for colours in schemes:
        for ink in ("ink", "faint", "link"):
            for ground in ("paper", "sheet"):
                assert contrast(colours[ink], colours[ground]) >= 7, (ink, ground)  # 1.4.6, enhanced
        assert contrast(colours["line"], colours["paper"]) >= 3  # 1.4.11, edges of a field


