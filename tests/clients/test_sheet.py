"""The field sheet in a real browser: valid, readable by everybody, shows what was read as text, and fetches nothing."""

import json
import shutil
import sys
from pathlib import Path

import pytest

from ..unit.render.hostile import ATTACKS
from .conftest import ROOT, run

PREFLINT = Path(sys.executable).with_name("preflint")
BROWSER = """
const puppeteer = require("puppeteer-core");
(async () => {
  const [chromium, checks, ...files] = process.argv.slice(1);
  const browser = await puppeteer.launch({executablePath: chromium, args: ["--no-sandbox", "--disable-gpu"]});
  const told = [];
  for (const width of [390, 1280]) for (const file of files) {
    const page = await browser.newPage();
    const asked = [], said = [];
    page.on("request", request => asked.push(request.url()));
    page.on("console", message => said.push(message.text()));
    page.on("dialog", dialog => { said.push(dialog.message()); dialog.dismiss(); });
    await page.setViewport({width, height: 844});
    await page.goto("file://" + file);
    const seen = await page.evaluate(() => ({
      text: document.body.innerText, wide: document.documentElement.scrollWidth,
      tags: [...new Set([...document.querySelectorAll("*")].map(one => one.localName))],
      margin: getComputedStyle(document.body).marginTop,
    }));
    await page.close();
    told.push({file, width, asked, said, seen});
    if (!checks) continue;
    const checked = await browser.newPage();
    await checked.setBypassCSP(true);  // for the checker alone, which is a script
    await checked.setViewport({width, height: 844});
    await checked.goto("file://" + file);
    await checked.addScriptTag({path: require.resolve("axe-core")});
    const axe = await checked.evaluate(() => axe.run({runOnly: [
      "wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}));
    await checked.close();
    Object.assign(told.at(-1), {passes: axe.passes.length,
      violations: axe.violations.map(one => one.id + ": " + one.nodes[0].html)});
  }
  await browser.close();
  console.log(JSON.stringify(told));
})();
"""
OURS = {
    "html", "head", "meta", "title", "style", "body", "header", "main", "footer", "nav", "section", "h1", "h2", "h3",
    "p", "a", "dl", "dt", "dd", "span", "div", "ul", "ol", "li", "pre", "table", "thead", "tbody", "tr", "th", "td",
    "fieldset", "legend", "label", "input", "strong", "img",
}


@pytest.fixture(scope="module")
def sheet(club: Path, clients: Path) -> Path:
    """Of the example club with hostile names and a manifest that cannot be read."""
    folder = club.parent / "sheet"
    run(PREFLINT, "inspect", club, "--as-of", "2026-05-21", "--report", f"sheet={folder}", code=3)
    return folder


def in_browser(clients: Path, *files: Path, checks: bool = True) -> list[dict]:
    """What a browser tells of each at two widths; ``checks``: and what would keep some people from reading it."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    assert chromium, "no browser: apt-get install chromium"
    return json.loads(run("node", "-e", BROWSER, chromium, "checks" if checks else "", *files, cwd=clients))


def test_every_page_is_valid_html(clients: Path, sheet: Path) -> None:
    pages = sorted(sheet.glob("*.html"))
    assert len(pages) > len(ATTACKS)
    run(clients / "node_modules/.bin/html-validate", "--preset", "recommended", *pages, cwd=clients)


def test_the_reader_finds_what_is_not_valid(clients: Path, tmp_path: Path) -> None:
    (tmp_path / "bad.html").write_text("<!DOCTYPE html>\n<html><body><p><div></p></body></html>\n")
    run(
        clients / "node_modules/.bin/html-validate", "--preset", "recommended", tmp_path / "bad.html",
        cwd=clients, code=1,
    )  # fmt: skip


def test_everybody_can_read_it_and_it_fetches_nothing(clients: Path, sheet: Path) -> None:
    pages = [sheet / f"{name}.html" for name in ("index", "letters", "siskin", "avocet", "knot")]
    for told in in_browser(clients, *pages):
        assert told["violations"] == [], told["file"]
        assert told["passes"] > 10
        asked = [address for address in told["asked"] if not address.startswith("data:image/svg+xml;base64,")]
        assert asked == [f"file://{told['file']}"]  # a drawing is its own address
        assert told["said"] == []
        assert told["seen"]["wide"] <= told["width"]
        assert told["seen"]["margin"] == "0px", "the style sheet was not applied"
        assert set(told["seen"]["tags"]) <= OURS


def test_the_browser_would_tell_what_is_wrong(clients: Path, tmp_path: Path) -> None:
    page = tmp_path / "bad.html"
    page.write_text('<html><body><p style="color:#ccc">pale</p><script>console.log("ran")</script></body></html>')
    for told in in_browser(clients, page):
        assert told["said"] == ["ran"]
        assert any(one.startswith("color-contrast") for one in told["violations"])


def test_what_was_read_shows_as_it_is(clients: Path, sheet: Path) -> None:
    pages = [page for page in sorted(sheet.glob("*.html")) if page.stem in {name.replace(" ", "-") for name in ATTACKS}]
    assert len(pages) == len(ATTACKS)
    seen = in_browser(clients, *pages, sheet / "letters.html", checks=False)
    shown = "".join(told["seen"]["text"] for told in seen)
    for told in seen:
        assert told["said"] == []
        assert set(told["seen"]["tags"]) <= OURS
    for name, text in ATTACKS.items():
        plain = text.replace("::", ":\\x3a").replace("##", "#\\x23")
        assert " ".join(plain.split()) in " ".join(shown.split()), name


def test_a_hundred_aircraft_are_less_than_ten_megabytes(clients: Path, tmp_path: Path) -> None:
    text = (ROOT / "examples/club/knot.airframe.yaml").read_text()
    for i in range(100):
        (tmp_path / f"knot{i}.airframe.yaml").write_text(text)
    folder = tmp_path / "sheet"
    run(PREFLINT, "inspect", tmp_path, "--as-of", "2026-05-21", "--jobs", "2", "--report", f"sheet={folder}", code=1)
    pages = list(folder.glob("*.html"))
    assert len(pages) == 102
    assert sum(page.stat().st_size for page in pages) < 10_000_000
