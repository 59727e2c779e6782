"""One of several packs or rotors of which a thing is not written down: no rule fails, and nothing gets better."""

import copy

import pytest
from making import silence

from preflint.findings.outcome import Crashed

# What another pack may leave out beside one that has it, and the aircraft stays go: flight does not wait for it.
NOT_WAITED_FOR = {"label", "capacity_mah", "rated_c", "lead", "connector_continuous_a"}


def crashed(answers):
    return {subject: told for subject, told in answers.items() if isinstance(told, Crashed)}


@pytest.mark.parametrize("name", ["avocet", "curlew", "tern"])
def test_a_second_pack(name):
    document = silence.club_aircraft(name)
    first = document["packs"][0]
    for gone in first:
        other = {key: "ZZ9" if key == "label" else value for key, value in first.items() if key != gone}
        verdict, answers = silence.judged({**document, "packs": [first, other]})
        assert crashed(answers) == {}, gone
        assert verdict == ("go" if gone in NOT_WAITED_FOR else "unproven"), gone


def written_for_each(document, part, key):
    """The same with a part, or one key of it, written at each rotor but the last."""
    changed = copy.deepcopy(document)
    shared = changed["every_rotor"]
    value = shared.pop(part) if key is None else shared[part].pop(key)
    for rotor in changed["rotors"][:-1]:
        if key is None:
            rotor.setdefault(part, value)
        else:
            rotor.setdefault(part, {}).setdefault(key, value)
    return changed


def test_the_last_rotor():
    document = silence.club_aircraft("avocet")
    tried = 0
    for part, values in document["every_rotor"].items():
        for key in values if isinstance(values, dict) else [None]:
            everywhere = copy.deepcopy(document)
            everywhere["every_rotor"].pop(part) if key is None else everywhere["every_rotor"][part].pop(key)
            verdict, answers = silence.judged(written_for_each(document, part, key))
            assert crashed(answers) == {}, (part, key)
            assert verdict == silence.judged(everywhere)[0], (part, key)  # as where no rotor has it
            tried += 1
    assert tried > 20
