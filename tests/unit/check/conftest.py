"""What the tests of checks ask of a manifest's text: its problems, and what a problem points at."""

from collections.abc import Callable

import pytest

from preflint.check import check_manifest
from preflint.errors import Problem
from preflint.load.yaml.events import load_yaml


@pytest.fixture
def problems() -> Callable[[str], list[Problem]]:
    return lambda text: check_manifest(load_yaml(text.encode(), "wren.airframe.yaml"))


@pytest.fixture
def marked() -> Callable[[str, Problem], str]:
    return _marked


def _marked(text: str, problem: Problem) -> str:
    """The piece of text that a problem points at, as far as its first line goes."""
    assert problem.place is not None
    line = text.splitlines()[problem.place.line - 1]
    one_line = problem.place.end_line == problem.place.line
    return line[problem.place.column - 1 : problem.place.end_column - 1 if one_line else None]
