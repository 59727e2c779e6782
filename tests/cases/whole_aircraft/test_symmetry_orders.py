"""Order, units, dates and notes say nothing about an aircraft: however it is written down, the answers stay."""

import datetime as dt
import random
import re

import pytest
from making import symmetry

from preflint.engine.rule_module import builtin_and

FILES, answers, document, figures, text_of = (
    symmetry.FILES, symmetry.answers, symmetry.document, symmetry.figures, symmetry.text_of,
)  # fmt: skip

# A plus, a hexa whose run is a log in a file, coaxial pairs, and two with something found or open.
NAMES = ["wheatear", "curlew", "tern", "pipit", "redshank"]
PAIRS = ("voltage_comparison", "current_comparison", "heading_check")  # their rows may come in any order


ABOUT_EACH_RECORD = {rule.info.id for rule in builtin_and([]).rules if rule.info.each == "record"}


def said(aircraft, files=FILES):
    """Every answer in full, but for where things stand in the file."""
    inspected = symmetry.inspect_text(text_of(aircraft), files=files)
    words = ("message", "evidence", "do", "mind", "because")
    return inspected.verdict, sorted(
        (r.rule.id, r.at or "", type(r.outcome).__name__, *(str(getattr(r.outcome, word, "")) for word in words))
        for r in inspected.results
    )


def same_numbers(one, other):
    assert one.keys() == other.keys()
    for key, (value, u) in one.items():
        assert other[key][0] == pytest.approx(value, rel=1e-6, abs=1e-9), key
        assert (other[key][1] or 0.0) == pytest.approx(u or 0.0, rel=1e-6, abs=1e-9), key


def shuffled(node, rng, keep=()):
    """Keys of every map in another order; entries of the lists named in ``keep`` too."""
    if isinstance(node, dict):
        keys = list(node)
        rng.shuffle(keys)
        return {key: shuffled(node[key], rng, keep) for key in keys}
    return [shuffled(one, rng, keep) for one in node] if isinstance(node, list) else node


@pytest.mark.parametrize("name", NAMES)
def test_the_order_of_rotors_records_and_keys(name):
    rng = random.Random(name)
    aircraft = document(name)
    other = {key: shuffled(value, rng) for key, value in aircraft.items()}  # the sections keep their lines
    rng.shuffle(other["rotors"])
    for entries in (*other["records"].values(), other["logbook"]):
        rng.shuffle(entries)
    for moves in (test["moves"] for kind in ("tilt_test", "stick_check") for test in other["records"].get(kind, [])):
        rng.shuffle(moves)
    assert said(other) == said(aircraft)


@pytest.mark.parametrize("name", NAMES)
def test_the_order_of_readings(name):
    aircraft, other = document(name), document(name)
    for record in (record for kind in PAIRS for record in other["records"].get(kind, [])):
        record["rows"] = record["rows"][::-1]
    assert answers(text_of(other)) == answers(text_of(aircraft))
    same_numbers(figures(text_of(other)), figures(text_of(aircraft)))


def milligauss(head, rows):
    """One µT is ten mG."""
    field = [i for i, one in enumerate(head) if one.startswith("field_")]
    rows = [[f"{float(cell) * 10:.6g}" if i in field else cell for i, cell in enumerate(row)] for row in rows]
    return [one.replace("_ut", "_mgauss") for one in head], rows


@pytest.mark.parametrize("name", ["wheatear", "curlew"])
def test_a_field_in_milligauss(name):
    aircraft, other = document(name), document(name)
    for record in other["records"]["interference_run"]:
        if "rows" in record:
            record["columns"], record["rows"] = milligauss(record["columns"], record["rows"])
    files = symmetry.tables_changed(milligauss)
    assert files != FILES
    assert answers(text_of(other), files) == answers(text_of(aircraft))
    same_numbers(figures(text_of(other), files), figures(text_of(aircraft)))


@pytest.mark.parametrize("name", ["wheatear", "tern"])
def test_a_table_in_a_file_beside_the_manifest(name):
    aircraft, other, files = document(name), document(name), dict(FILES)
    for kind, entries in other["records"].items():
        for record in entries:
            if "rows" in record:
                lines = [record.pop("columns"), *record.pop("rows")]
                files[f"logs/{kind}.csv"] = "".join(",".join(line) + "\r\n" for line in lines)
                record["file"] = f"logs/{kind}.csv"
    assert len(files) > len(FILES)
    assert answers(text_of(other), files) == answers(text_of(aircraft))
    same_numbers(figures(text_of(other), files), figures(text_of(aircraft)))


@pytest.mark.parametrize("days", [-500, -1, 3, 1000])
@pytest.mark.parametrize("name", NAMES)
def test_everything_some_days_earlier_or_later(name, days):
    # From 2025 to 2029: while one model of the Earth's field speaks, it changes too little to change an answer.
    def later(text):
        return re.sub(
            r"\b20\d\d-\d\d-\d\d\b", lambda day: str(dt.date.fromisoformat(day[0]) + dt.timedelta(days)), text
        )

    text = text_of(document(name))
    files = {later(file): later(content) for file, content in FILES.items()}
    assert answers(later(text), files, judged_on=later("2026-05-21")) == answers(text)


def test_days_of_the_calendar_count_not_their_names():
    # Not everything moved along: judged a year later, records are old.
    text = text_of(document("wheatear"))
    assert answers(text, judged_on="2028-05-21") != answers(text)


NOTE = "the cat sat on it; nothing else"


@pytest.mark.parametrize("name", NAMES)
def test_a_note_or_an_older_record_changes_nothing(name):
    aircraft, other = document(name), document(name)
    for entry in other["logbook"]:
        entry["note"] = NOTE
    # Before everything else: an aircraft just built, which then lay on a shelf.
    other["logbook"].insert(0, {"date": "2024-02-01", "kind": "stored", "note": NOTE})
    for kind in ("rig_check", "range_test", "barometer_check", "spin_test", "bell_pull", "link_loss_test"):
        entries = other["records"].get(kind, [])
        entries[:0] = [{**entry, "date": "2024-03-01"} for entry in entries]
    verdict, before = answers(text_of(aircraft))
    same_verdict, after = answers(text_of(other))
    assert verdict == same_verdict

    def but_for_records(told):
        return [one for one in told if one[0] not in ABOUT_EACH_RECORD]

    assert but_for_records(after) == but_for_records(before)


def test_a_unit_mistaken_is_another_aircraft():
    # The test can fail: ten times the field is not the same field.
    other = document("wheatear")
    for record in other["records"]["interference_run"]:
        record["rows"] = milligauss(record["columns"], record["rows"])[1]
    assert answers(text_of(other)) != answers(text_of(document("wheatear")))
