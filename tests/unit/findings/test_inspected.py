"""An aircraft that was packed to weigh less is the same, packed once or twice."""

from making.manifests import manifest

from preflint.testing import inspect_text


def test_packed_once_or_twice_it_is_the_same() -> None:
    one = inspect_text(manifest(more="owner: I. Merrick"))
    packed = one.packed({})
    for light in (packed, packed.packed({})):
        assert light.held is packed.held
        assert (light.aircraft, light.about, light.positions) == (one.aircraft, one.about, one.positions)
        assert light.unjudged == one.unjudged
