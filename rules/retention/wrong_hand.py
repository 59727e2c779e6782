"""How bad a nut of the wrong hand is: by itself, on a small prop with a locknut, or one of a whole kit."""

from preflint.api import Context, Known, Tolerance
from preflint.api import rotor as rotors

from .nut import NutHand, nut_hand_of

SMALL_PROP = Tolerance(
    "locknut_small_prop_in",
    "in",
    10.0,
    "lower",
    "common practice, no source",
    "largest prop that a new, fully engaged locknut may hold on a thread of the wrong hand",
)


def no_mere_caution(rotor: rotors.Rotor, on: Context) -> str | None:
    """Why a wrong hand is worse here than retention/nut-hand-locknut says; None where that rule says it."""
    fixing, diameter = rotor.fixing, rotor.prop.diameter_in
    if isinstance(fixing.kind, Known) and fixing.kind.value != "nut":
        return f"no locknut holds a {fixing.kind.value}"
    if not isinstance(fixing.nut_kind, Known):
        return "what kind of nut it is is not recorded"
    if fixing.nut_kind.value == "plain":
        return "it is a plain nut"
    if fixing.nut_kind.value == "locknut-reused":
        return "the locknut has been used before"
    if not isinstance(fixing.thread_past_locknut, Known):
        return "whether thread shows past the locknut is not recorded"
    if not fixing.thread_past_locknut.value:
        return "no thread shows past the locknut"
    if not isinstance(diameter, Known):
        return "the diameter of the prop is not recorded"
    if diameter.value > on.limit(SMALL_PROP):
        most = on.limit(SMALL_PROP)
        return f"a prop of {diameter.value:g} in is over the {most:g} in that a locknut alone may hold"
    return None


def one_handed(on: Context) -> list[tuple[rotors.Rotor, NutHand]]:
    """The wrong nuts of a kit whose nuts all tighten one way; empty where it is no such kit."""
    hands = [(rotor, hand) for rotor in on.aircraft.rotors if (hand := on.once(nut_hand_of, rotor, on))]
    if len({hand.tightens for _, hand in hands}) != 1 or len({hand.must for _, hand in hands}) != 2:
        return []
    wrong = [(rotor, hand) for rotor, hand in hands if not hand.is_right and no_mere_caution(rotor, on)]
    return wrong if len(wrong) > 1 else []
