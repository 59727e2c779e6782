"""The sheets printed by a real browser: a page a rung on both usual papers, whatever the layout."""

import re
import shutil
import sys
from pathlib import Path

import pytest

from preflint.aircraft.layouts import NAMES

from .conftest import run

PRINT = (
    "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
    "--no-pdf-header-footer",
)  # fmt: skip


@pytest.fixture(scope="session")
def browser(clients: Path) -> str:
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    assert found, "no browser that prints: apt-get install chromium"
    return found


@pytest.mark.parametrize("layout", NAMES)
@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_a_rung_is_a_page(layout: str, size: str, browser: str, tmp_path: Path) -> None:
    page, pdf = tmp_path / "bench.html", tmp_path / "bench.pdf"
    preflint = Path(sys.executable).with_name("preflint")
    run(preflint, "draft", "--layout", layout, "--cells", "6", "--paper", page)
    text = page.read_text()
    page.write_text(text.replace("@page { margin", f"@page {{ size: {size}; margin"))
    run(browser, *PRINT, f"--user-data-dir={tmp_path / 'profile'}", f"--print-to-pdf={pdf}", page)
    assert len(re.findall(rb"/Type\s*/Page\b", pdf.read_bytes())) == text.count("<section") == 3
