"""One screen of one aircraft: what is on it, in which order, and what gives way where there is no room."""

import re

import pytest
from wcwidth import wcswidth

from preflint.api import (
    ADVISORY,
    CAUTION,
    NO_GO,
    PACK_UNPLUGGED,
    PROPS_REMOVED,
    RESTRAINED,
    Finding,
    Job,
    Precaution,
    name,
    rule,
)
from preflint.findings.next_jobs import next_jobs
from preflint.render.text import render_text

WHOLE = """\
preflint: 1
aircraft: {name: Dunlin, layout: quad-x, owner: R. Ashdown, takeoff_mass_g: 2000}
rotors:
  - {at: front-left, spin: cw, fixing: {nut_tightens: ccw}}
  - {at: front-right, spin: ccw, fixing: {nut_tightens: cw}}
  - {at: rear-left, spin: ccw, fixing: {nut_tightens: cw}}
  - {at: rear-right, spin: cw, fixing: {nut_tightens: ccw}}
records:
  spin_test:
    - {date: 2026-05-20, props: removed, seen: {front-left: cw, front-right: ccw, rear-left: ccw, rear-right: cw}}
"""

DOTTEREL = """\
NO-GO  Dotterel, quad-x (trial.airframe.yaml)

NO-GO     front-right: nut tightens ccw; this shaft needs cw
          trial.airframe.yaml:5:57
CAUTION   heavy trial.airframe.yaml:2:60
Not shown yet, and flight needs it: nut test, spin test.
0 of 2 needed things shown; next step: bench look, about 9 minutes.

                                      nose
                      front-left cw ?       X front-right ccw
                                      .   .
                                        +
                                      .   .
                      rear-left ccw ?       ? rear-right cw
  Seen from above, nose up: X no-go, ? not proven.
Pack unplugged before you touch a prop, a nut or a wire.
 1. front-right: fit an adapter whose nut tightens cw
 2. rear-left, rear-right: look at the nut: which way do you turn it to tighten
    it?
 3. take something off
Add --detail full for the evidence, --detail jobs for 1 more job.

Judged on 2026-05-21 by preflint 0.1.0, no policy.
A verdict is no permission: the pilot decides, and local rules come first.
"""


def test_a_ten_line_manifest_on_one_screen(judge, report, dotterel) -> None:
    assert render_text(report(judge(dotterel))) == DOTTEREL


def found_at(topic: str, severity, job: Job, precaution: str, words: str = "is not as it should be"):
    """A rule that finds something at every rotor, to be put right in another way at each."""

    @rule(f"{topic}/trial", each="rotor", severity=severity, job=job, precaution=precaution, source="none")
    def trial(rotor, on):
        """Finds."""
        at = name(rotor)
        return Finding(place=rotor.place, message=f"{topic} {words}", evidence="", do=f"put {topic} at {at} right")

    return trial


def test_a_state_is_said_once_for_jobs_that_need_no_more(judge, report) -> None:
    careful = found_at("paint", CAUTION, Job.MECHANICAL, Precaution(*PACK_UNPLUGGED.sentences, "Mind the solvent."))
    plain = found_at("screws", CAUTION, Job.MECHANICAL, PACK_UNPLUGGED)
    shown = render_text(report(judge(WHOLE, careful, plain)), detail="jobs")
    assert re.findall(r"^\S.*", shown, re.M)[1:3] == [
        "Pack unplugged before you touch a prop, a nut or a wire. Mind the solvent.",
        "Judged on 2026-05-21 by preflint 0.1.0, no policy.",
    ]


def on_screen(text: str) -> str:
    """The text without its folding."""
    return " ".join(text.split())


def test_every_no_go_and_its_job_are_there_whatever_the_room(judge, report, dotterel) -> None:
    no_gos = [
        found_at(topic, NO_GO, job, precaution, "is wrong, and these words are as many as would be cut in others")
        for topic, job, precaution in (
            ("wires", Job.PROPS_OFF, PROPS_REMOVED), ("screws", Job.MECHANICAL, PACK_UNPLUGGED),
            ("field", Job.LOAD, RESTRAINED),
        )
    ]  # fmt: skip
    rest = [found_at("paint", CAUTION, Job.LAST_LOOK, "Look."), found_at("dust", ADVISORY, Job.LAST_LOOK, "Look.")]
    one = judge(dotterel, *no_gos, *rest)
    shown = on_screen(render_text(report(one)))
    for result in one.results:
        if isinstance(result.outcome, Finding) and result.rule.severity == NO_GO:
            assert result.outcome.message in shown
    urgent = [job for job in next_jobs(one) if job.severity == NO_GO]
    assert len(urgent) > 3
    for job in urgent:
        assert job.do in shown
        assert all(sentence in shown for sentence in job.precaution.sentences)
    assert "paint is not as it should be" in shown  # three cautions stay
    assert "Found besides: 2 cautions, 4 advisories." in shown
    assert "nose" not in shown


def test_of_long_advisories_the_first_clause_stays_before_jobs_are_left_out(judge, report, dotterel) -> None:
    many = [
        found_at(topic, ADVISORY, Job.LAST_LOOK, PACK_UNPLUGGED, "is bleached: " + "the sun did it, " * 5)
        for topic in ("paint", "dust")
    ]
    shown = render_text(report(judge(dotterel, *many)))
    assert len(shown.splitlines()) <= 24
    assert re.search(r"^ADVISORY  front-left: paint is bleached trial\.airframe\.yaml:4:5$", shown, re.M)
    assert "..." not in shown
    assert "\n 3. take something off\n" in shown


def test_a_finding_at_several_rotors_is_one_line(judge, report, dotterel) -> None:
    shown = render_text(report(judge(dotterel.replace("spin: ccw}", "spin: ccw, fixing: {nut_tightens: ccw}}"))))
    assert "NO-GO     front-right, rear-left: nut tightens ccw; this shaft needs cw\n" in shown


@pytest.mark.parametrize("severity", [NO_GO, CAUTION, ADVISORY])
def test_a_drawing_stands_only_where_it_marks_a_rotor(judge, report, severity) -> None:
    @rule("paint/trial", each="aircraft", severity=severity, job=Job.MECHANICAL, precaution="Look.", source="none")
    def trial(aircraft, on):
        """Finds the aircraft, or its first rotor."""
        at = on.aircraft.rotors[0] if on.aircraft.about.name.value == "Marked" else aircraft
        return Finding(place=at.place, message="bleached", evidence="", do="paint it")

    drawn = {
        named: "Seen from above" in render_text(report(judge(WHOLE.replace("Dunlin", named), trial)))
        for named in ("Marked", "Whole")
    }
    assert drawn == {"Marked": True, "Whole": False}


def test_a_deferred_finding_says_so_and_is_no_next_job(judge, report, dotterel) -> None:
    text = dotterel + (
        "deferred_defects:\n"
        "  - {rule: mass_and_hover/throttle, until: 2026-06-01, by: R. Ashdown, because: lighter pack ordered}\n"
    )
    shown = render_text(report(judge(text)))
    assert "CAUTION   deferred to 2026-06-01: heavy trial.airframe.yaml:2:60\n" in shown
    assert "take something off" not in shown


def test_rotors_whose_finding_is_deferred_are_told_apart(judge, report, dotterel) -> None:
    paint = found_at("paint", CAUTION, Job.MECHANICAL, "Look.")
    text = dotterel + (
        "deferred_defects:\n"
        "  - {rule: paint/trial, at: front-left, until: 2026-06-01, by: R. Ashdown, because: winter}\n"
    )
    shown = render_text(report(judge(text, paint)), width=100)
    assert "CAUTION   deferred to 2026-06-01: front-left: paint is not" in shown
    assert "\nCAUTION   front-right: paint is not" in shown


@pytest.mark.parametrize("width", [40, 55, 72, 80, 100])
def test_no_line_is_wider_than_the_terminal(judge, report, dotterel, width: int) -> None:
    paint = found_at("paint", CAUTION, Job.MECHANICAL, PACK_UNPLUGGED, "is bleached on every side and on the other")
    text = dotterel.replace("Dotterel", '"鳥 Kröte ' + "x" * 40 + '"')
    shown = render_text(report(judge(text, paint)), width)
    assert all(wcswidth(line) <= width for line in shown.splitlines())
    for words in ("nut tightens ccw; this shaft needs cw", "fit an adapter whose nut tightens cw", "9 minutes"):
        assert words in on_screen(shown)


def test_no_line_says_what_another_says(judge, report, dotterel) -> None:
    lines = [line.strip() for line in render_text(report(judge(dotterel))).splitlines()]
    told = [line for line in lines if re.search("[a-z]{3}", line)]
    assert len(told) == len(set(told))
    assert "rule answers" not in "\n".join(lines)
    assert "manifest seen" not in "\n".join(lines)


def test_an_aircraft_that_flies_needs_ten_lines(judge, report) -> None:
    assert render_text(report(judge(WHOLE))) == """\
GO  Dunlin, quad-x (trial.airframe.yaml)

Found: nothing wrong.
2 of 2 needed things shown.

No job is open before the pilot's own last look.
Add --detail full for the evidence.

Judged on 2026-05-21 by preflint 0.1.0, no policy.
A verdict is no permission: the pilot decides, and local rules come first.
"""
