"""Every single fault, seeded into every aircraft that has none, is found where it stands; the table is printed."""

import importlib.util
import re
import sys
from pathlib import Path
from types import ModuleType

import pytest

from preflint.api import Finding, Unproven
from preflint.testing import findings, inspect_text, open_questions

CLUB = Path(__file__).parents[2] / "examples" / "club"
GO = ("wheatear", "curlew", "heron", "gannet", "tern", "avocet", "turnstone")
FILES = {
    path.relative_to(CLUB).as_posix(): path.read_text(encoding="utf-8")
    for path in CLUB.rglob("*")
    if path.is_file() and path.suffix in (".yaml", ".csv") and ".airframe" not in path.name
}


def load_seeded() -> ModuleType:
    spec = importlib.util.spec_from_file_location("seeded_faults", Path(__file__).with_name("seeded.py"))
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


FAULTS = load_seeded().FAULTS
TABLE: dict[str, dict[str, str]] = {}


def manifest(name: str) -> str:
    return (CLUB / f"{name}.airframe.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", GO)
def test_the_untouched_aircraft_gives_nothing(name: str) -> None:
    inspected = inspect_text(manifest(name), files=FILES)
    assert (inspected.verdict, findings(inspected), open_questions(inspected)) == ("go", [], [])


@pytest.mark.parametrize("name", GO)
@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.name.replace(" ", "-"))
def test_a_seeded_fault_is_found(fault, name: str) -> None:  # type: ignore[no-untyped-def]
    seeded = fault.seed(manifest(name))
    if seeded is None:
        TABLE.setdefault(fault.name, {})[name] = "-"
        return
    inspected = inspect_text(seeded.text, files=FILES)
    rule, kind = fault.rule.removesuffix("?"), Unproven if fault.rule.endswith("?") else Finding
    matching = [r for r in inspected.results if r.rule.id == rule and isinstance(r.outcome, kind)]
    if fault.name == "rig looked at before the inverted run" and "route: inverted-load" not in seeded.text:
        assert matching == []  # nothing was ever loaded upside down: the look is not needed
        TABLE.setdefault(fault.name, {})[name] = "-"
        return
    assert matching, [
        (r.rule.id, r.at) for r in inspected.results if isinstance(r.outcome, (Finding, Unproven))
    ]
    here = next((r for r in matching if seeded.at in (None, r.at) or r.at is None), None)
    assert here, (seeded.at, [r.at for r in matching])
    assert isinstance(here.outcome, (Finding, Unproven))
    place = here.outcome.place
    if seeded.mark:
        marked = [i for i, line in enumerate(seeded.text.split("\n"), start=1) if seeded.mark in line]
        assert place.line in marked, (place, marked)
    if isinstance(here.outcome, Finding):
        assert seeded.remedy in here.outcome.remedy
        for key, right, share in seeded.settings:
            told = re.search(rf"{key} to \[?(-?[\d.]+)", here.outcome.remedy)
            assert told, here.outcome.remedy
            assert float(told[1]) == pytest.approx(right, rel=share)
    assert inspected.verdict != "go" or here.rule.severity.name == "ADVISORY"
    TABLE.setdefault(fault.name, {})[name] = "found"


def test_the_table_of_faults_and_aircraft(capsys: pytest.CaptureFixture[str]) -> None:
    with capsys.disabled():
        print("\n" + "fault".ljust(48) + " ".join(name[:9].ljust(9) for name in GO))
        for fault, row in TABLE.items():
            print(fault.ljust(48) + " ".join(row.get(name, "MISSED").ljust(9) for name in GO))
    if len(TABLE) == len(FAULTS):  # the whole file ran
        assert all("found" in row.values() for row in TABLE.values())
        assert len(FAULTS) >= 30
