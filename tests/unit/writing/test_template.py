"""The lines that are drafted: ready to paste, filled in as far as the manifest tells, never an answer."""

import datetime as dt
from pathlib import Path

import pytest
import yaml
from making.answering import usual_answer
from making.manifests import CLUB, GO, opening

from preflint.aircraft.layouts import NAMES, positions
from preflint.aircraft.moment import Moment
from preflint.aircraft.records import KINDS
from preflint.errors import NotRead
from preflint.interface import inspect
from preflint.testing import inspect_text
from preflint.writing.facts import Facts
from preflint.writing.questions import questions
from preflint.writing.template import log_template, template

NOW = Moment(dt.date(2026, 5, 21), dt.time(10, 5))
LAYOUTS = [name for name in NAMES if name != "custom"]
BLANK = ("___", "|")


def bare(layout: str = "quad-x") -> Facts:
    return Facts.of_layout(layout, NOW, {"A1": 6})


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("kind", KINDS)
def test_it_is_one_record_below_its_kind_within_a_hundred_columns(layout: str, kind: str) -> None:
    lines = template(kind, bare(layout))
    assert lines[0] == f"  {kind}:"
    assert max(map(len, lines)) < 100
    read = yaml.safe_load("\n".join(("records:", *lines)))["records"][kind]
    assert {str(entry["date"]) for entry in read} == {"2026-05-21 10:05"}
    each = ("nut_test", "bell_pull", "prop_balance", "prop_look")
    assert len(read) == (len(positions(layout)) if kind in each else 1)


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_left_blank_is_refused_whatever_else_was_filled_in(kind: str) -> None:
    facts = bare()
    given = {one.name: one.read(usual_answer(one)) for one in questions(kind, facts)}
    inspect_text(whole(template(kind, facts, given)))
    for name in given:
        lines = template(kind, facts, {other: value for other, value in given.items() if other != name})
        if name != "pack":  # that of the one pack is told by the manifest
            assert any(mark in line for line in lines for mark in BLANK)
            with pytest.raises(NotRead):
                inspect_text(whole(lines))


def whole(lines: tuple[str, ...]) -> str:
    return opening() + "\n".join(("packs: [{label: A1, cells: 6}]", "records:", *lines)) + "\n"


@pytest.mark.parametrize("given", [{}, {"kind": "replaced"}, {"kind": "settings-changed", "part": "flight-controller"}])
def test_a_logbook_entry_as_drafted_is_refused(given: dict[str, str]) -> None:
    lines = log_template(bare(), **given)
    with pytest.raises(NotRead):
        inspect_text(opening() + "\n".join(("logbook:", *lines)) + "\n")


def test_a_logbook_entry_with_all_that_applies_is_read() -> None:
    lines = log_template(bare(), kind="replaced", part="motor", at="rear-left")
    assert lines == ("  - {date: 2026-05-21 10:05, kind: replaced, part: motor, at: rear-left}",)
    inspect_text(opening() + "\n".join(("logbook:", *lines)) + "\n")


def test_what_happened_to_the_whole_aircraft_has_no_part() -> None:
    assert log_template(bare(), kind="crashed") == ("  - {date: 2026-05-21 10:05, kind: crashed}",)


def test_no_direction_is_suggested() -> None:
    for kind, words in {"spin_test": "cw|ccw", "nut_test": "cw|ccw", "rig_check": "flight|inverted-load"}.items():
        drafted = "\n".join(template(kind, bare()))
        left = drafted.replace(words, "").replace("runs-on|runs-off", "")
        assert "cw" not in left
        assert "flight" not in left
    assert "front-left: front" not in "\n".join(template("output_test", bare()))


@pytest.fixture
def siskin() -> Facts:
    return Facts.of(inspect(CLUB / "siskin.airframe.yaml", judged_on=NOW.date).aircraft, NOW)


def test_settings_pack_and_meter_are_those_of_the_manifest(siskin: Facts) -> None:
    assert template("voltage_comparison", siskin) == (
        "  voltage_comparison:",
        "    - date: 2026-05-21 10:05",
        "      pack: SI1",
        "      in_force: {divider_ratio: 6.2}",
        "      loaded: true|false",
        "      reference: {instrument: bench multimeter, accuracy_percent: 0.2,",
        "                  resolution_v: 0.01}",
        "      columns: [indicated_v, reference_v]",
        "      rows: [[___, ___], [___, ___]]",
    )
    assert siskin.spins == {"front-left": "cw", "front-right": "ccw", "rear-left": "ccw", "rear-right": "cw"}
    assert siskin.installed["hard_iron_ut"] == (4.1, -12.0, 7.7)


def test_what_the_meter_showed_then_is_not_what_it_shows_now() -> None:
    avocet = Facts.of(inspect(CLUB / "avocet.airframe.yaml", judged_on=NOW.date).aircraft, NOW)
    assert "zero_a: 0.0" in (CLUB / "avocet.airframe.yaml").read_text(encoding="utf-8")
    drafted = "\n".join(template("current_comparison", avocet))
    assert "instrument: clamp meter, accuracy_percent: 1" in drafted
    assert "zero_a" not in drafted


@pytest.mark.parametrize(("when", "filled"), [("2026-05-19", False), ("2026-05-20", True), ("2026-05-21 10:00", True)])
def test_settings_changed_since_then_are_not_those_of_then(when: str, filled: bool) -> None:
    """On the day of the change the order is open, and what is installed is all that is known."""
    done = "logbook: [{date: 2026-05-20, kind: settings-changed, part: flight-controller, touches: [voltage-scale]}]\n"
    aircraft = inspect_text(opening() + "power_sensing: {divider_ratio: 14.6}\n" + done).aircraft
    drafted = template("voltage_comparison", Facts.of(aircraft, Moment.parse(when)))
    assert ("      in_force: {divider_ratio: 14.6}" in drafted) is filled
    assert ("      in_force: {divider_ratio: ___}" in drafted) is not filled


def test_of_several_packs_that_none_was_used_of_one_must_be_chosen() -> None:
    facts = Facts.of_layout("quad-x", NOW, {"A1": 6, "A2": 6})
    assert "      pack: A1|A2" in template("sag_run", facts)


@pytest.mark.parametrize("name", GO)
def test_the_last_record_of_a_pack_tells_the_pack(name: str) -> None:
    path = Path(CLUB / f"{name}.airframe.yaml")
    aircraft = inspect(path, judged_on=NOW.date).aircraft
    facts = Facts.of(aircraft, NOW)
    plain = yaml.safe_load(path.read_text(encoding="utf-8"))
    dated = [(str(one["date"]), one["pack"]) for each in plain["records"].values() for one in each if "pack" in one]
    latest = max(day[:10] for day, _ in dated)
    assert facts.pack in {pack for day, pack in dated if day.startswith(latest)}
