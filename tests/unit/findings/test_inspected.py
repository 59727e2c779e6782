"""An aircraft that was packed to weigh less is the same, packed once or twice."""

from making.manifests import manifest

from preflint.findings.inspected import Packed
from preflint.findings.rule_info import RuleInfo
from preflint.testing import inspect_text


def test_packed_once_or_twice_it_is_the_same() -> None:
    one = inspect_text(manifest(more="owner: I. Merrick"))
    rules: dict[tuple[RuleInfo, ...], tuple[RuleInfo, ...]] = {}
    packed = one.packed(rules)
    for light in (packed, packed.packed(rules)):
        assert isinstance(light.held, Packed)
        assert light.held.rules is next(iter(rules))
        assert (light.results, light.computed, light.deferred) == (one.results, one.computed, one.deferred)
        assert (light.aircraft, light.about, light.positions) == (one.aircraft, one.about, one.positions)
        assert light.unjudged == one.unjudged
    assert len(rules) == 1
