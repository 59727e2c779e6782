"""What the tests of fleets have to look at."""

from pathlib import Path

import pytest
from making.folders import three


@pytest.fixture
def club(tmp_path: Path) -> Path:
    """A tree of three: two share a motor and a site, the third names neither."""
    return three(tmp_path)
