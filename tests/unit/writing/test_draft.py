"""A draft is legal as it is, honest about what is open, and cannot be filled in by taking the marks away."""

import re
from collections.abc import Iterable

import pytest

from preflint.aircraft.field import Absent, Known
from preflint.aircraft.layouts import NAMES
from preflint.aircraft.moment import Moment
from preflint.aircraft.records import KINDS
from preflint.api import Job
from preflint.errors import NotRead
from preflint.findings.inspected import Inspected
from preflint.findings.ladder import ladder, needed_kinds
from preflint.findings.next_jobs import next_jobs
from preflint.load.names import SUFFIX
from preflint.testing import findings, inspect_text
from preflint.writing.draft import FITTED, Start, draft_text, file_name

NOW = Moment.parse("2026-05-20")
SPIN = (
    "let each motor turn briefly; look from above the aircraft; write its spin under rotors and in a spin_test"
)
STARTS = (
    *(Start(layout=layout) for layout in NAMES),
    *(Start(layout="quad-x", cells=4, fitted=frozenset(words)) for words in ((), FITTED, ("power",), ("compass",))),
)
NAMED = [f"{start.layout}-{'-'.join(sorted(start.fitted or ('open',)))}" for start in STARTS]
BLANK = re.compile(r"\[___\]|___|[a-z-]+(?:\|(?:\{\}|[a-z-]+))+")
CHOICE = re.compile(r"[a-z-]+(?:\|(?:\{\}|[a-z-]+))+")


def text_of(start: Start, kinds: Iterable[str] | None = None) -> str:
    """What the command writes; all kinds of record where flight may need any."""
    return draft_text(start, NOW, list(KINDS if kinds is None else kinds))


def uncovered(text: str) -> str:
    """Every mark taken away; what is for people to read, and the line for editors, stays."""
    first, *rest = text.split("\n")
    return "\n".join([first, *(re.sub(r"^( *)# ", r"\1", line) for line in rest)])


def filled(text: str) -> str:
    """The first word of each choice, and a number for each other blank of what is no record."""
    none = re.sub(r"(?<=relies_on: )\[.*?\]", "[]", text)
    lines = re.sub(r"\[___\]", "A1", none).replace("___", "12").split("\n")
    return "\n".join(line if line.lstrip().startswith("##") else CHOICE.sub(first_word, line) for line in lines)


def first_word(choice: re.Match[str]) -> str:
    return choice[0].split("|")[0]


def judged(text: str) -> Inspected:
    return inspect_text(text)


@pytest.mark.parametrize("start", STARTS, ids=NAMED)
def test_an_empty_draft_is_unproven_and_finds_nothing(start: Start) -> None:
    inspected = judged(text_of(start))
    assert inspected.verdict == "unproven"
    assert [f for f in findings(inspected) if f[0] != "freshness/first-flight"] == []


@pytest.mark.parametrize("start", STARTS, ids=NAMED)
def test_with_all_marks_away_just_the_blanks_are_refused(start: Start) -> None:
    for kind in KINDS:  # a report of what is wrong is cut short, so kind by kind
        text = uncovered(text_of(start, [kind]))
        code = [line.split("          ##")[0] for line in text.split("\n")]
        blank = {
            number
            for number, line in enumerate(code, 1)
            if BLANK.search(line) and not line.lstrip().startswith(("##", "file: "))  # no such file: told last
        }
        with pytest.raises(NotRead) as refused:
            judged(text)
        wrong = {problem.place.line for problem in refused.value.problems if problem.place}
        assert wrong == blank


@pytest.mark.parametrize("start", STARTS, ids=NAMED)
def test_with_the_blanks_filled_it_loads(start: Start) -> None:
    """Records by themselves are tried where templates are."""
    text = filled(uncovered(draft_text(start, NOW, ()).partition("\n# logbook:")[0]))
    aircraft = judged(text).aircraft
    assert all(isinstance(rotor.spin, Known) and isinstance(rotor.prop.face, Known) for rotor in aircraft.rotors)
    assert isinstance(aircraft.rotors[0].fixing.kind, Known)
    assert not any(isinstance(part, Absent) for part in (aircraft.power_sensing, aircraft.compass, aircraft.barometer))


def test_a_choice_is_never_one_of_its_words() -> None:
    for start in STARTS:
        code = [line for line in text_of(start).split("\n") if not line.lstrip().startswith("##")]
        suggested = re.compile(r"\b(spin|hand|face|nut|kind): *(cw|ccw|up|down|nut)\b(?!\|)")
        assert not [line for line in code if suggested.search(line)]
        assert not [line for line in code if re.search(r"\b(true|false)\b(?!\|)(?<!true\|false)", line)]


def test_it_holds_what_flight_needs_for_what_is_fitted_and_no_more() -> None:
    by_fitted = {
        (): set(),
        ("power",): {"voltage_comparison", "current_comparison"},
        ("compass",): {"heading_check", "interference_run"},
        ("barometer", "satellite"): {"barometer_check", "position_check"},
    }
    always = {"nut_test", "spin_test", "output_test", "tilt_test", "stick_check", "link_loss_test", "cut_off_test"}
    for fitted, more in by_fitted.items():
        start = Start(layout="hexa-x", fitted=frozenset(fitted))
        assert set(needed_kinds(ladder(judged(text_of(start, ()))))) == always | more


def test_records_stand_by_rung_each_with_its_precaution() -> None:
    text = text_of(Start(layout="quad-x", cells=4, fitted=frozenset(FITTED)))
    marks = [text.index(word) for word in ("BENCH LOOK: about", "#   nut_test:", "#   tilt_test:", "METER: about",
             "#   voltage_comparison:", "LOAD: about", "#   current_comparison:")]  # fmt: skip
    assert marks == sorted(marks)
    flat = re.sub(r"\n## +", " ", text)
    for title in ("Nut test, 8 min: hold the nut", "Tilt test, 2 min: tip the nose down"):
        assert title in flat
    before = flat[: flat.index("#   current_comparison:")]
    assert "land at the first wrong sign." in before[-100:]


@pytest.mark.parametrize("name", ['a "quoted" name', "back\\slash", "new\nline", "-: {#}", "\x1b[2J", "\u202e"])
def test_any_name_stays_one_value(name: str) -> None:
    about = judged(text_of(Start(layout="quad-x", name=name))).aircraft.about
    assert about.name.value == "".join(c if c.isprintable() and c not in '"\\' else " " for c in name)


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("Kestrel", "kestrel"), ("My aircraft", "my-aircraft"), ("../../etc/passwd", "etc-passwd"), ("", "aircraft"),
        ("  .hidden ", "hidden"), ("Ünsinn 7/3", "ünsinn-7-3"), ("a" * 300, "a" * 60), ("\n", "aircraft"),
    ],
)  # fmt: skip
def test_the_file_is_named_as_the_aircraft(name: str, file: str) -> None:
    assert file_name(name) == f"{file}{SUFFIX}"


def test_the_first_jobs_of_a_draft() -> None:
    """Each act at the bench once, writing first."""
    for layout in NAMES:
        first, *more = next_jobs(judged(text_of(Start(layout=layout))))
        assert first.stage is Job.RECORD
        for part in ("power_sensing", "compass", "barometer"):
            assert f"write {part}: what is fitted, or {part}: none" in first.do
        at_the_bench = [job.do for job in more if job.stage is Job.PROPS_OFF and job.needed_for_flight]
        assert at_the_bench.count(SPIN) == 1
        assert sum("spin_test" in do for do in at_the_bench) == 1
