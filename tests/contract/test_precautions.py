"""The hazards beside an answer are those of what it asks for: of each route of a loaded run that it leaves open, of a
hover, of a thrust stand; and of none where it asks for none.

What an answer asks for is read from its words alone, and where they only say "again", from the route that the
record before was taken by.
"""

import datetime as dt
import re
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml
from making import silence

from preflint.api import Finding, Known, Unproven
from preflint.engine.rule_module import builtin_and
from preflint.errors import NotRead
from preflint.findings.next_jobs import next_jobs
from preflint.inspection import inspect_manifest

TODAY = dt.date(2026, 5, 21)
ALL = frozenset({"restrained", "inverted-load", "hover-log"})

# Each hazard by the first words of its sentences. A run on the ground has what both of them share, too.
FIRST_WORDS = {
    "Loaded run: tie the aircraft down, put a barrier up, everyone behind it, eyes protected; ": "on the ground",
    "Flight rig: it pulls upward with more than its weight, so every tie must carry full thrust": "restrained",
    "Inverted rig: one missed prop turns it over; attitude stabilisation acts reversed": "inverted-load",
    "Hover log: only with everything else settled; open ground, everyone behind the pilot": "hover-log",
    "Thrust stand: stand and motor bolted down, a barrier in the plane of the prop": "stand",
}
OWN_WORDS = ("freshness/first-flight",)  # asks for a first hover, and says itself how

# What asks for a load, by the kind of record that is taken again.
AGAIN = {
    "interference_run": (
        r"repeat the (interference )?run\b|log the (interference )?run (again|twice)|"
        r"log time, current and field: motors still"
    ),
    "current_comparison": (
        r"(compare|and) the current\b|compare the indicated current|compare current and voltage|compare again|"
        r"repeat the current comparison|(read|readings of) (the )?display and a? ?(clamp )?meter at the same moment|"
        r"readings of display and meter just|then take the readings again"
    ),
    "sag_run": r"hold several currents|repeat the sag run|compare volts and amperes with a meter under load",
    "rotor_speeds": r"repeat the rotor speeds|read the speed of every rotor",
}
HOVER = (
    r"hover steadily|steady hover\b|hover log\b|\bhover (again|in|for|[\d.]+ m)\b|fly from (a )?full|recharge (again )?"
    r"with|over the same seconds|hot motor after a hover|repeat the (hover|recharge)\b"
)
STAND = r"\bon a (thrust )?stand\b|repeat the thrust stand"
IN_WORDS = {
    "restrained": r"tied down in the flight rig \(restrained\)|restrained in the flight rig",
    "inverted-load": r"with every prop exchanged and turned over \(inverted-load\)",
    "hover-log": r"from a hover-log|from a hover log",
}


def asks_for(result, aircraft):
    """The routes and the stand, by the words."""
    words = todo_of(result)
    motors_still = result.rule.id == "power_sensing/voltage-scale" or "repeat the voltage comparison" in words
    if motors_still or words.startswith("pack plugged in, motors still: read the display and a meter"):
        return frozenset()
    asked = {route for route, pattern in IN_WORDS.items() if re.search(pattern, words)}
    if not asked:
        for kind, pattern in AGAIN.items():
            if re.search(pattern, words):
                asked |= routes_of_the_last(aircraft, kind)
    if re.search(HOVER, words):
        asked.add("hover-log")
    if re.search(STAND, words):
        asked.add("stand")
    return frozenset(asked)


def routes_of_the_last(aircraft, kind):
    taken = [record for record in aircraft.records.of_kind(kind) if record.date.value.date <= TODAY]
    last = max(taken, key=lambda record: record.date.value.latest, default=None)
    route = getattr(last, "route", None)
    return {route.value} if isinstance(route, Known) else set(ALL)


def hazards(text):
    """What the precaution warns of; no sentence may stand in it twice."""
    sentences = re.split(r"(?<=\.) ", text)
    assert len(sentences) == len(set(sentences)), text
    return frozenset(what for first, what in FIRST_WORDS.items() for one in sentences if one.startswith(first))


def wanted(asked):
    return asked | ({"on the ground"} if asked & {"restrained", "inverted-load"} else set())


def answers(document, judged_on=TODAY):
    """The aircraft as judged; None where the manifest is refused."""
    text = silence.text_of(document)
    with tempfile.TemporaryDirectory() as folder:
        for file, content in silence.FILES.items():
            if file.endswith(".yaml") or file in text:
                Path(folder, file).parent.mkdir(parents=True, exist_ok=True)
                Path(folder, file).write_text(content, encoding="utf-8")
        path = Path(folder, "trial.airframe.yaml")
        path.write_text(text, encoding="utf-8")
        try:
            return inspect_manifest(path, judged_on, builtin_and([]))
        except NotRead:
            return None


def complaints(inspected, seen=None) -> Iterator[str]:
    """Where hazards are missing or too many; ``seen`` collects what was asked for, by findings and open questions."""
    for result in inspected.results:
        if not isinstance(result.outcome, Finding | Unproven) or result.rule.id in OWN_WORDS:
            continue
        asked, shown = wanted(asks_for(result, inspected.aircraft)), hazards(result.precaution)
        if seen is not None:
            seen.add((type(result.outcome).__name__, asked))
        if asked != shown:
            yield f"{result.rule.id} asks for {sorted(asked)}, shows {sorted(shown)}: {todo_of(result)}"
    for job in next_jobs(inspected):
        said = [r for r in job.results if todo_of(r) in job.do and r.rule.id not in OWN_WORDS]
        asked = frozenset().union(*(wanted(asks_for(result, inspected.aircraft)) for result in said))
        if asked != hazards(job.precaution):
            yield f"job asks for {sorted(asked)}, shows {sorted(hazards(job.precaution))}: {job.do}"


def todo_of(result):
    return result.outcome.do


CLUB = sorted(path.name.partition(".")[0] for path in silence.CLUB.glob("*.airframe.yaml"))


@pytest.mark.parametrize("name", CLUB)
def test_of_each_aircraft_of_the_club(name: str) -> None:
    assert not list(complaints(answers(silence.club_aircraft(name))))


def avocet():
    """A complete aircraft, but for its rotation, which asks for no load and takes half of the time."""
    document = silence.club_aircraft("avocet")
    del document["records"]["compass_rotation"]
    return document


# What rules of loads read; of other tests only whether they are there.
READ = re.compile(
    r"aircraft\.(takeoff_mass_g|relies_on)|every_rotor\.(motor|prop)\.(full_throttle_draw_a|diameter_in)|site|"
    r"power_sensing(\.(divider_ratio|sensor_mv_per_a|zero_mv|input_full_scale_mv))?|compass(\.\w+)?|"
    r"packs(\.\*\.(label|chemistry|cells|lead|lead\.gauge_awg))?|logbook\.\*|records|records\.\w+|"
    r"records\.(current_comparison|sag_run|interference_run|hover|recharge)\.\*"
    r"(\.(?!columns|date|rows\.\*\.)[\w.*]+|\.date \(time of day\))?"
)


def test_with_any_one_thing_left_out() -> None:
    firsts = {}
    for what, _, document in silence.silences(avocet()):
        if READ.fullmatch(what):
            firsts.setdefault(what, document)
    read = [inspected for document in firsts.values() if (inspected := answers(document))]
    assert len(read) > 60
    assert not [complaint for inspected in read for complaint in complaints(inspected)]


# One thing wrong or done since. Steps, and what stands there instead (+ appends).
FAULTS = {
    "offset turned round": {"compass.interference_offset_ut_per_a": "[0.0896, 0.0503, -0.0302]"},
    "offset a little off": {"compass.interference_offset_ut_per_a": "[-0.06, -0.0503, 0.0302]"},
    "used as if raw": {
        "records.interference_run.0.field_is": "compensated",
        "records.interference_run.0.in_force": "{sensor_mv_per_a: 30.0, interference_offset_ut_per_a: [0.2, 0.1, 0]}",
        "compass.interference_offset_ut_per_a": "[-0.0896, -0.0503, 0.0302]",
    },
    "scale set anew": {"power_sensing.sensor_mv_per_a": "30.2"},
    "scale set wrong": {"power_sensing.sensor_mv_per_a": "25.0"},
    "display 8 % high": {
        "records.current_comparison.0.rows": "[[0, 0, 0], [25, 4.2, 3.9], [40, 9.3, 8.6], [70, 20.7, 19.2]]"
    },
    "meter near the limit": {"records.current_comparison.0.reference.accuracy_percent": "6.0"},
    "compared too low": {"records.current_comparison.0.rows": "[[0, 0.0, 0.0], [25, 3.9, 3.9]]"},
    "compared with motors running": {"records.current_comparison.0.rows": "[[40, 8.6, 8.7], [70, 19.2, 19.2]]"},
    "display stands still": {"records.current_comparison.0.rows": "[[0, 3.9, 0], [25, 3.9, 3.9], [70, 3.9, 19.2]]"},
    "beyond the sensor": {"records.current_comparison.0.rows": "[[0, 0.0, 0.0], [70, 119.2, 119.2]]"},
    "run on steel": {
        "records.interference_run.0.steel_nearby": "true",
        "records.interference_run.0.payload_on": "false",
    },
    "run too short": {
        "records.interference_run.0.columns": "[current_a, field_x_ut, field_y_ut, field_z_ut]",
        "records.interference_run.0.rows": "[[0, 9.1, 24.4, 38.2], [2, 9.3, 24.5, 38.1], [5, 9.5, 24.7, 38.1]]",
    },
    "run of one current": {
        "records.interference_run.0.columns": "[current_a, field_x_ut, field_y_ut, field_z_ut]",
        "records.interference_run.0.rows": "[[5, 9.1, 24.4, 38.2], [5, 9.3, 24.5, 38.1]]",
    },
    "sag run too low": {"records.sag_run.0.rows": "[[0.2, 16.59, 1], [3.9, 16.54, 11], [2.0, 16.56, 17]]"},
    "sag that is none": {"records.sag_run.0.rows": "[[0.2, 16.2, 1], [4, 16.3, 11], [9, 16.4, 35], [14, 16.5, 75]]"},
    "held too short": {"records.sag_run.0.dwell_s": "1"},
    "hover near the ground": {"records.hover.0.height_m": "0.2"},
    "hover on half the power": {"records.hover.0.mean_current_a": "7.0"},
    "hover on too much": {"records.hover.0.mean_current_a": "40.0"},
    "recharge 10 % off": {"records.recharge.0.counted_mah": "3260"},
    "recharge not told": {"records.recharge.0.reference.accuracy_percent": "9"},
    "stand that tells too little": {
        "records.thrust_stand": "[{date: 2026-05-10, at: nose-left, columns: [thrust_g, current_a, voltage_v], "
        "rows: [[100, 1, 15], [200, 2, 15]]}]",
        "records.hover": "[]",
    },
    "stand that took less": {
        "records.thrust_stand": "[{date: 2026-05-10, at: nose-left, columns: [thrust_g, current_a, voltage_v], "
        "rows: [[300, 1.2, 15], [700, 2.9, 15]]}]"
    },
    "battery tray moved": {"logbook.+": "{date: 2026-05-19, kind: moved, part: battery-tray}"},
    "power sensor replaced": {"logbook.+": "{date: 2026-05-19, kind: replaced, part: power-sensor}"},
    "crashed": {"logbook.+": "{date: 2026-05-19, kind: crashed}"},
    "some order is open": {
        "logbook.+": "{date: 2026-05-16, kind: replaced, part: power-sensor}",
        "records.interference_run.0.date": "2026-05-16",
    },
    "two runs that differ": {
        "records.interference_run.+": "{date: 2026-05-18, route: ROUTE, field_is: raw, "
        "in_force: {sensor_mv_per_a: 30.0}, magnetic_restraint: false, steel_nearby: false, payload_on: true, "
        "columns: [current_a, field_x_ut, field_y_ut, field_z_ut], rows: [[0, 9.1, 24.4, 38.2], "
        "[5, 12.1, 24.4, 38.2], [10, 15.1, 24.4, 38.2], [16, 18.7, 24.4, 38.2], [0, 9.1, 24.4, 38.2]]}"
    },
    "compass off the other way": {
        "records.heading_check.0.rows": "[[0, 8], [90, 98], [180, 188], [270, 278]]",
        "compass.interference_offset_ut_per_a": "[-0.06, -0.0503, 0.0302]",
    },
    "all of it old": {},
}


def faulty(route: str | None, fault: dict[str, str]):
    document = avocet()
    for kind in ("current_comparison", "interference_run", "sag_run"):
        if route is None:
            del document["records"][kind][0]["route"]
        else:
            document["records"][kind][0]["route"] = route
    for path, text in fault.items():
        steps = tuple(int(step) if step.isdigit() else step for step in path.split("."))
        value = text.replace("route: ROUTE, ", f"route: {route}, " if route else "")
        document = silence.changed(document, steps, yaml.load(value, Loader=yaml.CBaseLoader))
    return document


@pytest.mark.parametrize("route", ["inverted-load", "hover-log", None])  # restrained is the club's
def test_with_one_thing_wrong(route: str | None) -> None:
    told, seen = [], set()
    for name, fault in FAULTS.items():
        inspected = answers(faulty(route, fault), dt.date(2031, 1, 1) if name == "all of it old" else TODAY)
        assert inspected, name
        told += [f"{name}: {complaint}" for complaint in complaints(inspected, seen)]
    assert not told
    of_run = wanted(frozenset({route} if route else ALL))
    asked = [of_run, frozenset({"hover-log"}), frozenset()]
    assert {(kind, one) for kind in ("Finding", "Unproven") for one in asked} <= seen
    assert any("stand" in hazards for _, hazards in seen)
