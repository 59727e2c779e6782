"""What holds the prop on its motor."""

from typing import Literal

from preflint.api import Known, NotApplicable
from preflint.api import rotor as rotors

PRACTICE = "common practice, no source"
NOT_RECORDED = "how the prop is held is not recorded: retention/nut-hand asks for it"


def held_by(rotor: rotors.Rotor, *kinds: str) -> NotApplicable | None:
    """Why a question about props held by one of ``kinds`` does not arise here; None where it does."""
    kind = rotor.fixing.kind
    if not isinstance(kind, Known):
        return NotApplicable(NOT_RECORDED)
    return None if kind.value in kinds else NotApplicable(f"the prop is held by {kind.value}")


def thing_of(rotor: rotors.Rotor) -> Literal["nut", "hub"]:
    """What is screwed on: of a threaded hub the hub itself is the nut."""
    kind = rotor.fixing.kind
    return "hub" if isinstance(kind, Known) and kind.value == "threaded-hub" else "nut"
