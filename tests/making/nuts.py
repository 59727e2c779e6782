"""One rotor with its nut, and what is said of it."""

from making.manifests import opening
from preflint.findings.outcome import Outcome
from preflint.testing import findings, inspect_text, outcome

NUT = "retention/nut-hand"
SPINS_CW = (
    "the shaft spins cw seen from above; its free end points up (as usual at this position), so it spins "
    "cw looking at the nut; drag turns the nut ccw on the shaft"
)
WRONG_MESSAGE = "the nut tightens cw, but must tighten ccw here: the drag of the prop unscrews it"


def rotor(fixing: str, rest: str = "spin: cw") -> str:
    """A manifest of the rotor front-left alone."""
    return opening() + f"rotors:\n  - {{at: front-left, {rest}, fixing: {{{fixing}}}}}\n"


def answer(text: str, rule: str = NUT, at: str | None = "front-left") -> Outcome:
    """What one rule says of that rotor."""
    return outcome(inspect_text(text), rule, at)


def found_in(text: str) -> list[tuple[str, str | None]]:
    """All that is found about what holds a prop: (rule, position)."""
    return [(rule, at) for rule, at, _ in findings(inspect_text(text)) if rule.startswith("retention/")]
