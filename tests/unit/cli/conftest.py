"""A small aircraft on disk, for commands that write."""

from pathlib import Path

import pytest

SMALL = """\
# Trial, built in a shed
preflint: 1
aircraft: {name: Trial, layout: quad-x}
packs: [{label: A1, cells: 6}]   # the blue one
power_sensing: {divider_ratio: 14.6, sensor_mv_per_a: 26.4, zero_mv: 330}

records:
  # what was seen
  rig_check:
    - {date: 2026-05-01, rig: flight}   # by two

logbook: []
"""


@pytest.fixture
def trial(tmp_path: Path) -> Path:
    path = tmp_path / "trial.airframe.yaml"
    path.write_text(SMALL, encoding="utf-8")
    return path
