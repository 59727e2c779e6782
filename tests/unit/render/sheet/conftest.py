"""Drawings taken apart: every shape with its attributes, by what it stands for."""

import datetime as dt
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

import preflint
from preflint import Inspected

DAY = dt.date(2026, 5, 21)


@pytest.fixture
def judged(tmp_path: Path) -> Callable[[str], Inspected]:
    """judged(text): a manifest read from a real file and judged by the built-in rules."""

    def by_all(text: str) -> Inspected:
        path = tmp_path / "trial.airframe.yaml"
        path.write_text(text, encoding="utf-8")
        return preflint.inspect(path, judged_on=DAY)

    return by_all


@pytest.fixture
def parts() -> Callable[..., list[ET.Element]]:
    """parts(svg, part, **attributes): all elements of a part, as ``parts(svg, "disc", rotor="rear")``."""

    def found(svg: str, part: str, **own: str) -> list[ET.Element]:
        root = ET.fromstring(svg)
        return [
            one
            for one in root.iter()
            if one.get("data-part") == part and all(one.get(f"data-{key}") == value for key, value in own.items())
        ]

    return found
