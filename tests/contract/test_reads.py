"""What each rule reads of an aircraft stands in ``rules/reads.json``; what none reads is declared as not judged."""

import json

from making.reads import GROUPS, TABLE, all_read, text

from preflint.aircraft.declared import declarations
from preflint.engine.rule_module import builtin_and

MAKE_AGAIN = 'cd tests && python -c "from making.reads import write; write()"'


def test_the_table_is_what_the_rules_read():
    assert TABLE.read_text(encoding="utf-8") == text(), f"a rule reads something else than before: {MAKE_AGAIN}"


# They stand in the place of the site's before a rule is asked: tests/unit/policy/test_days.py.
IN_PLACE_OF_THE_SITES = {"Day.station_pressure_hpa", "Day.sea_level_pressure_hpa"}


def test_what_nothing_reads_is_declared_so_and_nothing_else():
    read = set().union(*all_read().values())
    every = {(group, name): said.unjudged for group in GROUPS for name, said in declarations(group).items()}
    silent = {f"{group.__name__}.{name}" for group, name in every if (group, name) not in read}
    declared = {f"{group.__name__}.{name}" for (group, name), unjudged in every.items() if unjudged}
    unread = "read by nothing: write a rule, or say unjudged= in its declaration"
    assert silent - declared == IN_PLACE_OF_THE_SITES, unread
    assert declared - silent == set(), "declared as not judged, and read all the same"


def test_it_has_every_rule_and_only_fields_that_there_are():
    table = json.loads(TABLE.read_text(encoding="utf-8"))
    assert list(table) == [rule.info.id for rule in builtin_and([]).rules]
    fields = {f"{group.__name__}.{name}" for group in GROUPS for name in declarations(group)}
    assert {name for read in table.values() for name in read} <= fields
    assert all(table.values()), "a rule that reads nothing judges nothing"


def test_a_rule_is_told_by_what_it_is_about():
    table = json.loads(TABLE.read_text(encoding="utf-8"))
    assert {"SpinTest.seen", "Rotor.spin"} <= set(table["rotation/spin-seen"])
    assert "Compass.hard_iron_ut" not in table["rotation/spin-seen"]
    # When a record was taken decides for every rule alike, and is the engine's to read.
    assert "LogEntry.kind" not in table["rotation/spin-seen"]
