"""Every aircraft of the club on one real screen of 24 lines of 80 columns; every seeded fault: test_seeded_faults."""

import pytest
from making import one_screen
from making.manifests import CLUB, FILES

from preflint.testing import inspect_text


@pytest.mark.parametrize("name", sorted(path.name for path in CLUB.glob("*.airframe.yaml")))
def test_each_aircraft_of_the_club(name: str) -> None:
    one_screen.check(inspect_text((CLUB / name).read_text(encoding="utf-8"), files=FILES))
