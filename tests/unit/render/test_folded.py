"""What is the same of several rotors or aircraft is one result, and names all of them."""

import json

import pytest

from preflint.api import NO_GO, PACK_UNPLUGGED, Finding, Job, need, rule
from preflint.findings.outcome import Clear
from preflint.render.annotations import render_annotations
from preflint.render.markdown import render_markdown
from preflint.render.sarif import render_sarif

PART = "shaft_mm: 3\nmass_g: 90\n"


@rule(
    "control/shaft", each="rotor", severity=NO_GO, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED,
    source="none",
)  # fmt: skip
def shaft(rotor, on):
    """Is the shaft as thick as it must be?"""
    held = need(rotor.motor.shaft_mm)
    if held.value >= 4:
        return Clear("thick")
    return Finding(place=held.place, message=f"{rotor.at.value}.motor.shaft_mm is 3", evidence="", do="fit another")


def manifest(name: str, more: str = "") -> str:
    return (
        f"preflint: 1\n{more}aircraft: {{name: {name}, layout: quad-x, takeoff_mass_g: 2000}}\n"
        "every_rotor: {motor: parts/m.yaml}\n"
    )


@pytest.fixture
def three(judge, tmp_path):
    """Three aircraft that share one motor, whose shaft is wrong."""
    (tmp_path / "parts").mkdir()
    (tmp_path / "parts/m.yaml").write_text(PART)
    (tmp_path / "preflint.yaml").write_text("preflint: 1\n")
    return [judge(manifest(name), shaft, file=f"{name.lower()}.airframe.yaml") for name in ("Avocet", "Curlew", "Tern")]


def results(report) -> list[dict]:
    return json.loads("".join(render_sarif(report)))["runs"][0]["results"]


def test_one_wrong_number_in_a_shared_part_is_one_result_that_names_all_aircraft(three, report) -> None:
    [one] = [r for r in results(report(*three)) if r["ruleId"] == "control/shaft"]
    assert one["message"]["text"].startswith("Avocet, Curlew, Tern: motor.shaft_mm is 3. ")
    place = one["locations"][0]["physicalLocation"]
    assert (place["artifactLocation"]["uri"], place["region"]["startLine"]) == ("parts/m.yaml", 1)
    others = [
        (r["physicalLocation"]["artifactLocation"]["uri"], r["message"]["text"]) for r in one["relatedLocations"]
    ]
    assert others == [
        ("curlew.airframe.yaml", "Curlew, front-left: motor.shaft_mm is 3"),
        ("tern.airframe.yaml", "Tern, front-left: motor.shaft_mm is 3"),
    ]


def test_its_fingerprint_stays_whoever_else_uses_the_part(three, report) -> None:
    def mark(*aircraft) -> str:
        [one] = [r for r in results(report(*aircraft)) if r["ruleId"] == "control/shaft"]
        return one["partialFingerprints"]["primaryLocationLineHash"]

    assert mark(*three) == mark(three[0]) == mark(three[2])


def test_its_fingerprint_stays_when_lines_above_move_and_when_more_is_wrong(judge, three, report, tmp_path) -> None:
    def marks(*aircraft) -> list[str]:
        found = [r for r in results(report(*aircraft)) if r["ruleId"] == "control/shaft"]
        return [r["partialFingerprints"]["primaryLocationLineHash"] for r in found]

    before = marks(*three)
    (tmp_path / "parts/m.yaml").write_text(f"# weighed again\n\n{PART.replace('3', '2.5')}")
    moved = [judge(manifest("Avocet", "# moved\n"), shaft, file="avocet.airframe.yaml")]
    assert moved[0].results[0].outcome.place.line == 3
    assert marks(*moved) == before


def test_annotations_tell_it_once(three, report) -> None:
    lines = [line for line in render_annotations(report(*three)).splitlines() if "control/shaft" in line]
    assert len(lines) == 1
    assert lines[0].count("Avocet, Curlew, Tern: ") == 1


def test_the_summary_tells_it_once_and_says_of_whom_it_is_true_too(three, report) -> None:
    details = [line for line in render_markdown(report(*three)).splitlines() if line.startswith("- ")]
    told = [line for line in details if "control/shaft" in line]
    assert len(told) == 1
    assert told[0].endswith("; also of Curlew, Tern")
    assert details.count("- **no-go** as told of Avocet") == 2


def test_what_waits_for_the_same_at_several_rotors_is_one_result(judge, report, dotterel) -> None:
    one = report(judge(dotterel))
    found = [r["message"]["text"].partition(". ")[0] for r in results(one) if r["level"] == "error"]
    assert found == [
        "Dotterel, front-left, front-right, rear-left, rear-right: not proven: no spin test is recorded",
        "Dotterel, front-right: nut tightens ccw; this shaft needs cw",
        "Dotterel, rear-left, rear-right: not proven: fixing.nut_tightens is not recorded",
    ]
