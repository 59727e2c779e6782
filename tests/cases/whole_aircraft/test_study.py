"""A fixed sample of the study: no sound aircraft is alarmed, and no kind of fault, alone or beside another, is missed.

``cd tests && python -m making.study`` runs all of it.
"""

import pytest
from making.study.run import FAULTS, of_fault, of_pair, of_sound


@pytest.mark.parametrize("seed", range(400, 412))
def test_a_sound_aircraft_alarms_nobody(seed):
    told = of_sound(seed)
    assert told.alarms == frozenset()
    assert told.verdict == "go" or told.held_up


@pytest.mark.parametrize("which", range(0, len(FAULTS), 6), ids=lambda which: FAULTS[which].name)
def test_a_fault_is_named(which):
    [line] = of_fault(which, 1)
    assert line.outcomes[0] in ("named", "refused"), line


@pytest.mark.parametrize("seed", range(500, 510))
def test_of_two_faults_none_hides_the_other(seed):
    line = of_pair(seed)
    assert set(line.outcomes) <= {"named", "refused"}, line


def test_each_kind_of_fault_has_a_name_of_its_own_and_rules():
    assert len({fault.name for fault in FAULTS}) == len(FAULTS) >= 100
    assert all(fault.rules for fault in FAULTS)
