"""In which state of the aircraft a job is done: the rule's, unless the answer brings a precaution for another one."""

import pytest

from preflint.api import DESK, NO_GO, PACK_UNPLUGGED, SETTINGS, Job, Precaution, Unproven, rule
from preflint.findings.result import Result
from preflint.places import Place
from preflint.precautions import FIRST_LOOK

HERE = Place("trial.airframe.yaml", 1, 1, 1, 2)


@rule("day/trial", each="aircraft", severity=NO_GO, job=Job.RECORD, precaution=PACK_UNPLUGGED, source="none")
def reads_the_weather(aircraft, on):
    """A rule whose job is done at the desk, whatever its precaution is made for."""


@pytest.mark.parametrize(("mind", "job"), [
    (None, Job.RECORD),
    (PACK_UNPLUGGED, Job.RECORD),
    (Precaution("Mind the wind."), Job.RECORD),  # says nothing of a state
    (Precaution("Pack unplugged; mind the knife.", job=Job.MECHANICAL), Job.MECHANICAL),
    (FIRST_LOOK, Job.FIRST_LOOK),  # in the same words, for another state
    (SETTINGS, Job.PACK_IN),
    (DESK, Job.RECORD),
])  # fmt: skip
def test_the_rules_state_holds_unless_the_answer_brings_another_precaution(mind, job):
    told = Unproven(place=HERE, message="open", do="look", mind=mind)
    assert Result(reads_the_weather.info, None, told).job is job
