"""Records that name a pack, against the packs listed."""

from collections.abc import Callable, Iterator
from typing import Any

import preflint_schemas
import pytest

from preflint.errors import Problem

Problems = Callable[[str], list[Problem]]
Marked = Callable[[str, Problem], str]

START = "preflint: 1\naircraft: {name: Wren, layout: quad-x}\n"
PACKS = "packs: [{label: Alpha 1, cells: 6}, {label: Beta}]\n"
MORE = {
    "cell_voltages": "cells_v: [4.1]",
    "recharge": "counted_mah: 900, put_back_mah: 950",
    "hover": "mean_current_a: 12",
    "pack_check": "straps: 1",
    "after_flight_look": "nuts_moved: []",
}


def kinds() -> Iterator[str]:
    """Every kind of record whose schema has an entry ``pack``."""
    definitions: dict[str, Any] = preflint_schemas.airframe()["$defs"]
    for kind, slot in definitions["Records"]["properties"].items():
        name = slot["items"]["$ref"].rpartition("/")[2]
        if "pack" in definitions[name]["properties"]:
            yield kind


KINDS = tuple(kinds())


def record(kind: str, pack: str) -> str:
    return f"records: {{{kind}: [{{date: 2026-05-01, pack: {pack}, {MORE.get(kind, 'file: log.csv')}}}]}}\n"


def test_the_kinds_are_found() -> None:
    assert {"voltage_comparison", "current_comparison", "sag_run", *MORE} == set(KINDS)


@pytest.mark.parametrize("kind", KINDS)
def test_a_pack_that_is_not_listed(kind: str, problems: Problems, marked: Marked) -> None:
    text = START + PACKS + record(kind, "alpha-1")
    (problem,) = problems(text)
    said = 'no pack is labelled "alpha-1"; did you mean "Alpha 1"? If not, list the pack under packs'
    assert (problem.message, marked(text, problem)) == (said, "alpha-1")
    (far,) = problems(START + PACKS + record(kind, "ZZ"))
    assert far.message == 'no pack is labelled "ZZ"; write Alpha 1 or Beta, or list the pack under packs'


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(("packs", "pack"), [
    (PACKS, "Alpha 1"),
    (PACKS, "Beta"),
    ("", "ZZ"),
    ("packs: []\n", "ZZ"),
    ("packs: [{cells: 6}]\n", "ZZ"),
    ("packs: [{label: Alpha 1}, parts/packs/beta.yaml]\n", "Beta"),
])
def test_a_pack_that_is_or_may_be_there(kind: str, packs: str, pack: str, problems: Problems) -> None:
    found = [problem.message for problem in problems(START + packs + record(kind, pack))]
    # What is seen of a pack is asked of the packs listed: where nobody is listed it would be asked of none.
    unheard = kind == "pack_check" and "label" not in packs
    assert found == (['no pack is labelled "ZZ": list it with its label under packs'] if unheard else [])


def test_a_flight_on_a_pack_that_is_not_listed(problems: Problems) -> None:
    text = START + PACKS + "logbook: [{date: 2026-05-01, kind: flown, minutes: 6, pack: Gamma, put_back_mah: 900}]\n"
    (found,) = problems(text)
    assert found.message.startswith('no pack is labelled "Gamma"')
