"""Does what is recorded of a nut fit what holds the prop?"""

from collections.abc import Iterator

from preflint.api import (
    NO_GO,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Place,
    Related,
    name,
    need,
    rule,
)
from preflint.api import rotor as rotors

from .evidence import nut_tests

_NUTLESS = ("screws", "clip", "set-screw")
_OF_A_NUT = ("nut_tightens", "thread_hand", "bag_says", "nut_kind", "thread_past_locknut")


@rule(
    "retention/kind-agrees",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="derived: a prop that no nut holds has no nut to write about",
)
def kind_agrees(rotor: rotors.Rotor, on: Context) -> Outcome:
    """Nothing is recorded of a nut where no nut holds the prop.

    Whether a nut unscrews is asked only where a nut holds the prop. Where screws, a clip or a set-screw are
    written beside facts of a nut (nut_tightens, thread_hand, bag_says, nut_kind, thread_past_locknut, or a
    nut_test that still speaks), one of the two is wrong, and a nut of the wrong hand may hide behind it.

    Fails:

        rotors:
          - {at: front-left, spin: cw, fixing: {kind: screws, nut_tightens: cw}}

    Passes:

        rotors:
          - {at: front-left, spin: cw, fixing: {kind: screws}}

    Not checked: a collet, which may be closed by a nut, and a threaded hub, which is one.
    """
    kind = need(rotor.fixing.kind)
    if kind.value not in _NUTLESS:
        return NotApplicable(f"a {kind.value} may go with a nut")
    said = list(_said_of_a_nut(rotor, on))
    if not said:
        return Clear(f"held by {kind.value}, and nothing is recorded of a nut")
    (first, _), *more = said
    return Finding(
        place=kind.place,
        message=f"kind says {kind.value}, but a nut is written about: {', '.join(words for words, _ in said)}",
        evidence=f"kind {kind.value}; {', '.join(words for words, _ in said)}",
        do=f"look at what holds the prop; where it is a nut write kind: nut, else take out {first}"
        + "".join(f", {words}" for words, _ in more),
        related=tuple(Related(place, words) for words, place in said),
    )


def _said_of_a_nut(rotor: rotors.Rotor, on: Context) -> Iterator[tuple[str, Place]]:
    for key in _OF_A_NUT:
        value = getattr(rotor.fixing, key)
        if isinstance(value, Known):
            yield key, value.place
    for test in on.once(nut_tests, rotor, on):
        if on.outdated("nut_test", test, name(rotor)) is None:
            yield f"the nut test of {test.date.value}", test.place
