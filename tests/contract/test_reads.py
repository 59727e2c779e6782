"""``rules/reads.json`` tells what each rule reads of an aircraft, as it is when the rules are watched."""

import json

from making.reads import GROUPS, TABLE, text

from preflint.aircraft.declared import declarations
from preflint.engine.rule_module import builtin_and

MAKE_AGAIN = 'cd tests && python -c "from making.reads import write; write()"'


def test_the_table_is_what_the_rules_read():
    assert TABLE.read_text(encoding="utf-8") == text(), f"a rule reads something else than before: {MAKE_AGAIN}"


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
