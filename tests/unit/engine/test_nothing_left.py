"""What judging one aircraft made goes with its answer: the program looks for circles rarely."""

import gc
from collections.abc import Iterator
from pathlib import Path

import pytest
from making.manifests import CLUB

import preflint


@pytest.fixture
def without_looking_for_circles() -> Iterator[None]:
    gc.freeze()  # all that is there already
    gc.disable()
    yield
    gc.enable()


@pytest.mark.usefixtures("without_looking_for_circles")
@pytest.mark.parametrize("path", sorted(CLUB.glob("*.airframe.yaml")), ids=lambda path: path.name.partition(".")[0])
def test_judging_leaves_no_circle(path: Path) -> None:
    for _ in range(2):  # what is loaded or worked out for all aircraft comes with the first
        gc.collect()
        preflint.inspect(path)
    assert gc.collect() == 0
