"""All there is to tell: order, wording, width, and what is said once."""

import re

import pytest
from making.manifests import manifest
from wcwidth import wcswidth

from preflint.api import (
    ADVISORY,
    ANY_LOADED_RUN,
    CAUTION,
    INVERTED_LOAD,
    PACK_UNPLUGGED,
    RESTRAINED,
    Finding,
    Job,
    Related,
    name,
    rule,
)
from preflint.render.text import render_text
from preflint.testing import inspect_text


def told(report, *options, **named) -> str:
    return render_text(report, *options, **named, detail="full")


DOTTEREL = """\
NO-GO  Dotterel, no owner recorded, quad-x
       trial.airframe.yaml
       Found: 1 no-go, 1 caution. 2 things that flight needs are not proven.

                                      nose

                front-left cw ?                   X front-right ccw [1]
                                .               .
                                  .           .
                                    .       .
                                      .   .
                                        +
                                      .   .
                                    .       .
                                  .           .
                                .               .
                rear-left ccw ?                   ? rear-right cw
  Seen from above, nose up: X no-go, ? not proven; [n] finding n.

[1] NO-GO  front-right: nut tightens ccw; this shaft needs cw
    Where: trial.airframe.yaml:5:57 (retention/nut-hand)
    Why:   spin ccw seen from above
    See:   trial.airframe.yaml:5:29 spin recorded here
    First: Pack unplugged before you touch a prop, a nut or a wire.
    Then:  fit an adapter whose nut tightens cw

[2] CAUTION  heavy
    Where: trial.airframe.yaml:2:60 (mass_and_hover/throttle)
    Why:   3100 g ± 1 g, 9.81 m/s²
    First: Pack unplugged before you touch a prop, a nut or a wire.
    Then:  take something off

NOT PROVEN, and flight needs it
[3] ? every rotor: no spin test is recorded; trial.airframe.yaml:1:1
    (rotation/spin-seen)
    First: Props removed before the pack goes in; keep hands, cables and sleeves
           away from the motors.
    Then:  let each motor turn briefly and write down which way it turns, seen
           from above
[4] ? rear-left, rear-right: fixing.nut_tightens is not recorded;
    trial.airframe.yaml:6:5, trial.airframe.yaml:7:5 (retention/nut-hand)
    Then:  job 2 below

Not known either, though flight does not need it:
    papers: owner

THE NEXT 3 JOBS
Pack unplugged before you touch a prop, a nut or a wire.
 1. front-right: fit an adapter whose nut tightens cw [1]
 2. rear-left, rear-right: look at the nut: which way do you turn it to tighten
    it? [4]
 3. take something off [2]
1 more job besides; --detail jobs lists all in order.

1 manifest seen, 1 assessed, 0 not assessed. Aircraft: 1 no-go, 0 unproven, 0
go-with-cautions, 0 go.
12 rule answers: 2 finding, 1 clear, 7 unproven, 2 not applicable, 0 crashed.
Judged on 2026-05-21 by preflint 0.1.0, no policy.
A verdict is no permission: the pilot decides, and local rules come first.
"""


def test_a_ten_line_manifest_in_full(judge, report, dotterel) -> None:
    assert told(report(judge(dotterel))) == DOTTEREL


@pytest.mark.parametrize("width", [30, 40, 55, 72, 80, 100, 200])
@pytest.mark.parametrize("ascii_only", [False, True])
def test_no_line_is_wider_than_asked(judge, report, dotterel, width: int, ascii_only: bool) -> None:
    text = dotterel.replace("Dotterel", '"鳥 Kröte ' + "x" * 40 + '"')
    shown = told(report(judge(text, broken)), width, ascii_only)
    assert all(wcswidth(line) <= width for line in shown.splitlines())
    assert shown.isascii() == ascii_only


def test_on_an_ascii_console_nothing_is_missing(judge, report, dotterel) -> None:
    shown = told(report(judge(dotterel)), ascii_only=True)
    assert shown == DOTTEREL.replace("±", "+/-").replace("²", "^2")


def test_the_owners_words_are_never_respelled(judge, report, dotterel) -> None:
    shown = told(report(judge(dotterel.replace("Dotterel", "µ"), file="µ.airframe.yaml")), ascii_only=True)
    assert shown.startswith("NO-GO  \\xb5, no owner recorded, quad-x\n       \\xb5.airframe.yaml\n")
    assert "    Where: \\xb5.airframe.yaml:5:57 (retention/nut-hand)\n" in shown


def test_colour_adds_nothing_but_colour(judge, report, dotterel) -> None:
    coloured = told(report(judge(dotterel)), colour=True)
    assert coloured != DOTTEREL
    assert re.sub("\x1b\\[[0-9;]*m", "", coloured) == DOTTEREL


WHOLE = """\
preflint: 1
aircraft: {name: Dunlin, layout: y6, owner: R. Ashdown, takeoff_mass_g: 2000}
every_rotor: {fixing: {kind: nut}}
rotors:
  - {at: front-left-upper, spin: cw, fixing: {nut_tightens: ccw}}
  - {at: front-left-lower, spin: ccw, fixing: {nut_tightens: cw}}
  - {at: front-right-upper, spin: cw, fixing: {nut_tightens: ccw}}
  - {at: front-right-lower, spin: ccw, fixing: {nut_tightens: cw}}
  - {at: rear-upper, spin: cw, fixing: {nut_tightens: ccw}}
  - {at: rear-lower, spin: ccw, fixing: {nut_tightens: cw}}
records:
  spin_test:
    - date: 2026-05-01
      props: removed
      seen: {front-left-upper: cw, front-left-lower: ccw, front-right-upper: cw,
             front-right-lower: ccw, rear-upper: cw, rear-lower: ccw}
"""


def test_an_aircraft_with_nothing_found(judge, report) -> None:
    shown = told(report(judge(WHOLE)))
    assert shown.startswith("GO  Dunlin, R. Ashdown, y6\n    trial.airframe.yaml\n    Found: nothing wrong.\n")
    assert "No job is open before the pilot's own last look." in shown
    assert "[" not in shown


def test_findings_alike_are_one_entry_with_all_places(judge, report) -> None:
    text = WHOLE.replace("nut_tightens: cw", "nut_tightens: ccw")
    shown = told(report(judge(text)))
    assert "[1] NO-GO  front-left-lower, front-right-lower, rear-lower: nut tightens ccw;\n" in shown
    assert "trial.airframe.yaml:6:" in shown
    assert "trial.airframe.yaml:10:" in shown
    assert shown.count("Then:  fit an adapter") == 1
    assert "Found: 3 no-go." in shown


@rule("control/broken", each="aircraft", severity=CAUTION, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED, source="none")
def broken(aircraft, on):
    """A rule that fails by itself."""
    return [][1]


def test_a_rule_that_breaks_down_is_named(judge, report) -> None:
    shown = told(report(judge(WHOLE, broken)))
    assert shown.startswith("UNPROVEN  Dunlin, R. Ashdown, y6\n")
    assert "Found: nothing wrong. 1 rule broke down." in shown
    assert "    control/broken: IndexError: list index out of range\n" in shown


@rule(
    "vibration/balance", each="rotor", severity=ADVISORY, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED, source="none"
)
def balance(rotor, on):
    """Finds the lower rotors."""
    return Finding(place=rotor.place, message=f"{name(rotor)} shakes", evidence="", do=f"balance {name(rotor)}")


@rule("control/wobble", each="rotor", severity=ADVISORY, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED, source="none")
def wobble(rotor, on):
    """Finds every rotor, by an id that comes before the others."""
    return Finding(place=rotor.place, message=f"{name(rotor)} wobbles", evidence="", do=f"balance {name(rotor)}")


@rule(
    "interference/looks", each="aircraft", severity=ADVISORY, job=Job.PACK_IN, precaution=PACK_UNPLUGGED, source="none"
)
def compass(aircraft, on):
    """Finds the whole aircraft."""
    return Finding(place=aircraft.place, message="compass beside the pack", evidence="", do="move it")


@rule("control/looks", each="aircraft", severity=CAUTION, job=Job.LAST_LOOK, precaution=PACK_UNPLUGGED, source="none")
def control(aircraft, on):
    """Finds the whole aircraft."""
    return Finding(place=aircraft.place, message="sticks are worn", evidence="", do="change them")


@rule(
    "packs/looks", each="aircraft", severity=ADVISORY, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED, source="none"
)
def pack(aircraft, on):
    """Finds the whole aircraft."""
    return Finding(place=aircraft.place, message="pack is old", evidence="", do="weigh it")


def test_the_worst_comes_first_at_a_rotor(judge, report) -> None:
    rotor = "front-left-lower, spin: ccw, fixing: {nut_tightens: "
    shown = told(report(judge(WHOLE.replace(f"{rotor}cw", f"{rotor}ccw"), wobble)))
    found = re.findall(r"^\[\d+\] ([A-Z-]+)  front-left-lower", shown, re.M)
    assert found == ["NO-GO", "ADVISORY"]


def test_findings_walk_round_the_aircraft_then_in_the_order_of_the_work(judge, report) -> None:
    shown = told(report(judge(WHOLE.replace("2000", "4000"), balance, compass, control, pack)))
    found = re.findall(r"^\[\d+\] [A-Z-]+  (.*)", shown, re.M)
    assert found == [
        "front-left-upper: front-left-upper shakes", "front-left-lower: front-left-lower shakes",
        "front-right-upper: front-right-upper shakes", "front-right-lower: front-right-lower shakes",
        "rear-upper: rear-upper shakes", "rear-lower: rear-lower shakes", "heavy", "pack is old",
        "compass beside the pack", "sticks are worn",
    ]


@rule("retention/kit", each="aircraft", severity=CAUTION, job=Job.MECHANICAL, precaution=PACK_UNPLUGGED, source="none")
def kit(aircraft, on):
    """One finding for the aircraft that stands at one rotor."""
    place = aircraft.rotor("rear-lower").spin.place
    beside = Related(aircraft.rotor("rear-upper").spin.place, "as here", compared=True)
    other = Related(aircraft.rotor("front-left-lower").spin.place, "here too")
    return Finding(place=place, message="one-handed kit", evidence="", do="fit another", related=(beside, other))


def test_a_finding_about_the_aircraft_marks_the_rotor_it_points_at(judge, report) -> None:
    shown = told(report(judge(WHOLE, kit)))
    marked = re.findall(r"([\w-]+) c?cw \[1\]", shown)
    assert marked == ["front-left-lower", "rear-lower"]  # not what is as it should be


STALE = (
    WHOLE
    + """\
  hover: [{date: 2026-05-02, mean_current_a: 9.0}]
  current_comparison:
    - {date: 2026-05-01 09:00, route: restrained, columns: [indicated_a, reference_a], rows: [[1, 1]]}
  interference_run:
    - date: 2026-05-01
      route: restrained
      field_is: raw
      columns: [time_s, throttle_percent, current_a, field_x_ut, field_y_ut, field_z_ut]
      rows: [[0, 0, 0.1, 9.0, 24.0, 38.0]]
logbook:
  - {date: 2026-05-09, kind: moved, part: battery-tray}
"""
)


def test_a_stale_record_is_named_with_what_made_it_so(judge, report) -> None:
    shown = " ".join(told(report(judge(STALE))).split())
    assert "interference run of 2026-05-01" in shown
    line = STALE.split("\n").index("  - {date: 2026-05-09, kind: moved, part: battery-tray}") + 1
    assert f"See: trial.airframe.yaml:{line}:" in shown


@rule("freshness/stale", each="aircraft", severity=CAUTION, job=Job.LAST_LOOK, precaution="Look first.", source="none")
def stale(aircraft, on):
    """Finds the interference run that the tray outlived."""
    (run,) = aircraft.records.interference_run
    return Finding(
        place=run.date.place, message="the run no longer speaks", evidence="", do="measure again", again=True
    )


def test_what_waits_for_a_stale_record_refers_to_the_finding_about_it(judge, report) -> None:
    shown = told(report(judge(STALE, stale)))
    assert "[1] CAUTION  the run no longer speaks\n" in shown
    assert "[2] ? interference/offset waits for the record that [1] is about\n" in shown
    assert " measure again [1][2]\n" in shown
    assert shown.count("Look first.") == 2  # beside the remedy and in the job


def test_old_records_are_told_once_where_all_words_are_the_same(report) -> None:
    pulls = [f"date: 2025-04-18, at: {at}, moved: false" for at in ("front-left", "front-right", "rear-left")]
    text = manifest(records={"bell_pull": [*pulls, "date: 2025-04-19, at: rear-right, moved: false"]})
    shown = told(report(inspect_text(text, "2026-05-21")))
    assert shown.count("ADVISORY  the bell pull of 2025-04-18 is 398 days old\n") == 1
    assert shown.count("ADVISORY  the bell pull of 2025-04-19 is 397 days old\n") == 1
    lines = [i for i, line in enumerate(text.split("\n"), 1) if "2025-04-18" in line]
    assert len(lines) == 3
    assert all(f":{line}:" in shown for line in lines)


def test_a_deferral_is_told_beside_the_finding_and_is_no_next_job(judge, report) -> None:
    text = WHOLE.replace("2000", "4000") + (
        "deferred_defects:\n"
        "  - {rule: mass_and_hover/throttle, until: 2026-06-01, by: R. Ashdown,\n"
        "     because: lighter pack ordered}\n"
    )
    shown = told(report(judge(text)))
    assert shown.startswith("GO WITH CAUTIONS  Dunlin, R. Ashdown, y6\n")
    assert "    Until: 2026-06-01, deferred by R. Ashdown: lighter pack ordered\n" in shown
    assert "No job is open" in shown


def test_a_hazard_stands_in_full_once(judge, report) -> None:
    shown = " ".join(told(report(judge(WHOLE, *(long_rule(i) for i in range(4))))).split())
    found, _, jobs = shown.partition("THE NEXT")
    for part, hazards in ((found, ANY_LOADED_RUN), (jobs, f"{RESTRAINED} {INVERTED_LOAD}")):  # jobs go to the bench
        assert {part.count(sentence) for sentence in hazards.split(". ") if len(sentence) > 100} == {1}
    mild = "Local rules and site officers come first."
    assert found.count(f"First: Loaded run, flight rig: as at [1]. {mild} Then:") == 1
    assert found.count(f"First: Loaded run: as at [1]. {mild} Inverted rig: one missed prop") == 1
    assert found.count(f"First: Loaded run, flight rig: as at [1]; inverted rig: as at [3]. {mild} Hover log:") == 1
    assert " 1. remedy 0 [1] 2. remedy 1 [2] Loaded run: as for job 1. Pack unplugged before you touch" in jobs
    assert f"{mild} Inverted rig: one missed prop" in jobs


def long_rule(i: int):
    @rule(
        f"vibration/looks-{'abcd'[i]}", each="aircraft", severity=CAUTION, job=Job.MECHANICAL, source="none",
        precaution=(RESTRAINED, RESTRAINED, INVERTED_LOAD, ANY_LOADED_RUN)[i],
    )  # fmt: skip
    def looks(aircraft, on):
        """Finds."""
        return Finding(place=aircraft.place, message=f"finding {i}", evidence="", do=f"remedy {i}")

    return looks


def test_the_word_safe_is_never_used(judge, report, dotterel) -> None:
    for text in (dotterel, WHOLE, STALE):
        assert not re.search(r"\bsafe\b", told(report(judge(text, broken))), re.I)
