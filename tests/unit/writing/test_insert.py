"""A record is added where it belongs, and no other byte of the file is touched."""

import datetime as dt
from decimal import Decimal
from typing import Any

import pytest
from making.manifests import CLUB, opening

from preflint.aircraft.moment import Moment
from preflint.errors import NotRead
from preflint.load.yaml.events import load_yaml
from preflint.writing.insert import insert

RIG = {"date": Moment(dt.date(2026, 5, 21), dt.time(10, 5)), "rig": "flight"}
SPIN = {
    "date": Moment(dt.date(2026, 5, 21)), "props": "removed",
    "seen": {"front-left": "cw", "front-right": "ccw", "rear-left": "ccw", "rear-right": "cw"},
}  # fmt: skip
VOLTS = {
    "date": Moment(dt.date(2026, 5, 21)), "pack": "A1", "columns": ["indicated_v", "reference_v"],
    "rows": [[Decimal("24.10"), Decimal("24.2")], [Decimal("22.0"), Decimal("22.1")]],
}  # fmt: skip
DONE = {"date": Moment(dt.date(2026, 5, 21)), "kind": "replaced", "part": "motor", "at": "rear-left"}
LINE = "{date: 2026-05-21 10:05, rig: flight}"
HEAD = opening()
MARKS = "its & and * marks leave no sure place"


def added(text: str, kind: str, *entries: dict[str, Any]) -> str:
    return insert(text.encode(), "trial.airframe.yaml", kind, entries)[0].decode()


@pytest.mark.parametrize(("before", "after"), [
    # into a list of its kind
    ("records:\n  rig_check:\n    - {date: 2026-05-01, rig: flight}\n",
     "records:\n  rig_check:\n    - {date: 2026-05-01, rig: flight}\n    - LINE\n"),
    ("records:\n  rig_check:\n  - {date: 2026-05-01, rig: flight}  # on the hill\n\nlogbook: []\n",
     "records:\n  rig_check:\n  - {date: 2026-05-01, rig: flight}  # on the hill\n  - LINE\n\nlogbook: []\n"),
    ("records:\n  rig_check:\n    - {date: 2026-05-01, rig: flight}",
     "records:\n  rig_check:\n    - {date: 2026-05-01, rig: flight}\n    - LINE"),
    # into a list between brackets
    ("records:\n  rig_check: []\n", "records:\n  rig_check: [LINE]\n"),
    ("records:\n  rig_check: [ ]  # none\n", "records:\n  rig_check: [ LINE]  # none\n"),
    ("records:\n  rig_check: [{date: 2026-05-01, rig: flight}]\n",
     "records:\n  rig_check: [{date: 2026-05-01, rig: flight},\n    LINE]\n"),
    ("records:\n  rig_check: [{date: 2026-05-01, rig: flight, by: somebody who looked at it for long}]\n",
     "records:\n  rig_check: [{date: 2026-05-01, rig: flight, by: somebody who looked at it for long},\n    LINE]\n"),
    ("records:\n  rig_check: [\n    {date: 2026-05-01, rig: flight},  # first\n  ]\n",
     "records:\n  rig_check: [\n    {date: 2026-05-01, rig: flight}, LINE,  # first\n  ]\n"),
    # beside other kinds
    ("records:\n  spin_test:\n    - {date: 2026-05-01, seen: {front-left: cw}}\n",
     "records:\n  spin_test:\n    - {date: 2026-05-01, seen: {front-left: cw}}\n  rig_check:\n    - LINE\n"),
    ("records:\n spin_test:\n - {date: 2026-05-01, seen: {front-left: cw}}\n",
     "records:\n spin_test:\n - {date: 2026-05-01, seen: {front-left: cw}}\n rig_check:\n - LINE\n"),
    ("records: {}\n", "records: {rig_check: [LINE]}\n"),
    ("records: {spin_test: []}\n", "records: {spin_test: [], rig_check: [LINE]}\n"),
    # where there are no records yet
    ("", "records:\n  rig_check:\n    - LINE\n"),
    ("\npacks: []\n", "\npacks: []\n\nrecords:\n  rig_check:\n    - LINE\n"),
    ("packs: []\nlogbook: []\n", "packs: []\nrecords:\n  rig_check:\n    - LINE\nlogbook: []\n"),
    ("packs: []\n\n# what was done\nlogbook: []\n",
     "packs: []\n\nrecords:\n  rig_check:\n    - LINE\n\n# what was done\nlogbook: []\n"),
    ("packs: []\n\n# records:\n#   spin_test: []\n",
     "packs: []\n\nrecords:\n  rig_check:\n    - LINE\n\n# records:\n#   spin_test: []\n"),
])  # fmt: skip
def test_a_record_stands_where_its_neighbours_do(before: str, after: str) -> None:
    assert added(HEAD + before, "rig_check", RIG) == HEAD + after.replace("LINE", LINE)


@pytest.mark.parametrize(("before", "more"), [
    ("records:\n    rig_check:\n        -   date: 2026-05-01\n            rig: flight\n",
     "        -   date: 2026-05-21 10:05\n            rig: flight\n"),
    ("records:\n  rig_check:\n    -\n      date: 2026-05-01\n      rig: flight\n",
     "    - date: 2026-05-21 10:05\n      rig: flight\n"),
    ("records:\n  rig_check:\n    - date: 2026-05-01\n      rig: flight\n      # seen by two\n",
     "    - date: 2026-05-21 10:05\n      rig: flight\n"),
])  # fmt: skip
@pytest.mark.parametrize("below", ["", "    # the next\n", "# a remark\n\nlogbook: []\n"])
def test_a_record_is_dressed_as_its_neighbours(before: str, more: str, below: str) -> None:
    assert added(HEAD + before + below, "rig_check", RIG) == HEAD + before + more + below


def test_before_the_first_line_of_what_comes_later() -> None:
    text = "logbook: []\npreflint: 1\naircraft: {name: T, layout: quad-x}\n"
    assert added(text, "rig_check", RIG) == f"records:\n  rig_check:\n    - {LINE}\n{text}"


@pytest.mark.parametrize(("before", "after"), [
    ("", "logbook:\n  - ENTRY\n"),
    ("logbook: []\n", "logbook: [ENTRY]\n"),
    ("logbook:\n- {date: 2026-05-01, kind: flown}\ndeferred_defects: []\n",
     "logbook:\n- {date: 2026-05-01, kind: flown}\n- ENTRY\ndeferred_defects: []\n"),
    ("deferred_defects: []\n", "logbook:\n  - ENTRY\ndeferred_defects: []\n"),
])  # fmt: skip
def test_work_stands_in_the_logbook(before: str, after: str) -> None:
    entry = "{date: 2026-05-21, kind: replaced, part: motor, at: rear-left}"
    assert added(HEAD + before, "log", DONE) == HEAD + after.replace("ENTRY", entry)


def test_several_at_once_and_readings_with_their_last_digit() -> None:
    text = added(HEAD, "voltage_comparison", VOLTS, VOLTS)
    assert text.count("rows: [[24.10, 24.2], [22.0, 22.1]]") == 2


def test_a_long_record_between_brackets_is_broken() -> None:
    text = added(HEAD + "records: {spin_test: []}\n", "spin_test", SPIN, SPIN)
    assert max(map(len, text.splitlines())) < 100
    kept: Any = load_yaml(text.encode(), "t").plain()
    assert kept["records"]["spin_test"][1]["seen"] == SPIN["seen"]


def test_line_ends_and_byte_order_mark_stay() -> None:
    text = HEAD + "records:\n  rig_check:\n    - {date: 2026-05-01, rig: flight}\nlogbook: []\n"
    data = b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode()
    after, place = insert(data, "t", "rig_check", [RIG])
    assert after == data.replace(b"logbook", f"    - {LINE}\r\nlogbook".encode())
    assert (place.line, place.column) == (6, 7)


@pytest.mark.parametrize(("text", "why"), [
    (HEAD + "records:\n  spin_test: &a []\n  rig_check: *a\n", "a * mark stands for this list"),
    (HEAD + "records:\n  rig_check: &a [{date: 2026-05-01, rig: flight}]\n  walk_round: *a\n", MARKS),
    (HEAD + "records:\n  rig_check: [&a {date: 2026-05-01, rig: flight}, *a]\n", MARKS),
    ("{preflint: 1, aircraft: {name: T, layout: quad-x}}\n", "the whole manifest stands between braces"),
    (HEAD + "records:\n\trig_check: []\n", "tab"),
    (HEAD + "records:\n", "nothing is written after"),
    (HEAD + "records: none\n", "names with values are needed here"),
    (HEAD + "records: []\n", "names with values are needed here"),
    (HEAD + "records:\n  rig_check: 5\n", "a list of entries is needed here"),
    (HEAD + "records:\n  rig_check: {date: 2026-05-01}\n", "a list of entries is needed here"),
    ("- 1\n", "must begin with names"),
])  # fmt: skip
def test_what_leaves_no_sure_place_is_refused(text: str, why: str) -> None:
    with pytest.raises(NotRead) as refused:
        added(text, "rig_check", RIG)
    assert why in "; ".join(problem.message for problem in refused.value.problems)


def test_a_list_with_a_mark_that_nothing_names_is_added_to() -> None:
    text = HEAD + "records:\n  rig_check: &a\n    - {date: 2026-05-01, rig: flight}\n"
    assert added(text, "rig_check", RIG) == f"{text}    - {LINE}\n"


@pytest.mark.parametrize("path", sorted(CLUB.glob("*.airframe.yaml")), ids=lambda path: path.name.partition(".")[0])
@pytest.mark.parametrize("kind", ["rig_check", "spin_test", "voltage_comparison", "log"])
def test_the_clubs_aircraft_are_added_to(path: Any, kind: str) -> None:
    data = path.read_bytes()
    entry = {"rig_check": RIG, "spin_test": SPIN, "voltage_comparison": VOLTS, "log": DONE}[kind]
    after, place = insert(data, path.name, kind, [entry])
    start = next(at for at in range(len(after)) if at >= len(data) or after[at] != data[at])
    assert after[start + len(after) - len(data) :] == data[start:]
    assert "2026-05-21" in after.decode().splitlines()[place.line - 1]
