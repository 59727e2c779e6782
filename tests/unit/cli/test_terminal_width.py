"""The report on a real terminal: as wide as that is, from 40 to 100 columns, in colour, and all of it in view."""

import os
import re
from pathlib import Path

import pexpect
import pyte
import pytest
from making.manifests import CLUB
from making.program import DAY
from making.sitting import Sitting

SISKIN = CLUB / "siskin.airframe.yaml"


def on_a_terminal(rows: int, columns: int, *arguments: object) -> str:
    """All that the program writes to a terminal of that size."""
    sitting = Sitting(["inspect", *DAY, *arguments], Path.cwd(), rows, columns, stderr=os.devnull)
    sitting.expect(pexpect.EOF)
    sitting.close()
    assert sitting.exitstatus == 1
    return str(sitting.before)


def plain(written: str) -> list[str]:
    return re.sub("\x1b\\[[0-9;]*m", "", written).replace("\r", "").splitlines()


@pytest.mark.parametrize("name", ["siskin", "pipit", "plover", "whimbrel", "redshank"])
def test_a_grounded_aircraft_is_all_in_view_with_its_verdict_above(name: str) -> None:
    screen = pyte.Screen(80, 24)
    written = on_a_terminal(24, 80, CLUB / f"{name}.airframe.yaml")
    pyte.Stream(screen).feed(written.removesuffix("\n").removesuffix("\r"))
    seen = [line.rstrip() for line in screen.display]
    assert seen[0].startswith(("NO-GO  ", "UNPROVEN  "))
    assert "A verdict is no permission: the pilot decides, and local rules come first." in seen
    assert screen.buffer[0][0].bold


@pytest.mark.parametrize(("columns", "widest"), [(20, 40), (40, 40), (63, 63), (80, 80), (100, 100), (200, 100)])
def test_lines_are_as_wide_as_the_terminal_within_bounds(columns: int, widest: int) -> None:
    lines = plain(on_a_terminal(50, columns, SISKIN, "--detail", "full"))
    paragraphs = [line for line in lines if not line.lstrip().startswith("- {")]
    assert widest - 12 < max(map(len, paragraphs)) <= widest


def test_the_words_are_those_of_a_file(tmp_path) -> None:
    target = tmp_path / "siskin.txt"
    on_a_terminal(24, 80, SISKIN, "--output", target)
    assert plain(on_a_terminal(24, 80, SISKIN)) == target.read_text(encoding="utf-8").splitlines()


def test_a_file_is_80_columns_wide_whatever_the_terminal(tmp_path) -> None:
    target = tmp_path / "siskin.txt"
    on_a_terminal(24, 40, SISKIN, "--output", target)
    assert 70 < max(map(len, target.read_text(encoding="utf-8").splitlines())) <= 80
