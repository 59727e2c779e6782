"""Names of pages: harmless on any system, no two alike."""

import re

import pytest

from preflint.render.sheet.names import page_names


@pytest.mark.parametrize("manifest", [
    "../../etc/passwd", "C:\\aux.airframe.yaml", "index.airframe.yaml", "Letters.airframe.yaml", "con.airframe.yaml",
    "a b?c*.airframe.yaml", ".airframe.yaml", "-rf.airframe.yaml", "x" * 300 + ".airframe.yaml", "ü.airframe.yaml",
    "javascript:alert(1).airframe.yaml", "a\x00b\n.airframe.yaml",
])  # fmt: skip
def test_a_name_is_harmless(manifest: str) -> None:
    (name,) = page_names([manifest])
    assert re.fullmatch(r"[a-z0-9_][a-z0-9_-]{0,70}\.html", name)
    assert name not in ("index.html", "letters.html", "con.html", "aux.html")


def test_two_of_one_name_have_each_their_page() -> None:
    names = page_names(["a/kite.airframe.yaml", "b/Kite.airframe.yaml", "kite-2.airframe.yaml", "kite.airframe.yml"])
    assert names == ["a-kite.html", "b-kite.html", "kite-2.html", "kite.html"]
    assert page_names(["a/kite.airframe.yaml", "a-kite.airframe.yaml", "b/kite.airframe.yaml"]) == [
        "a-kite.html", "a-kite-2.html", "b-kite.html",
    ]  # fmt: skip
