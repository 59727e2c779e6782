"""What the aircraft does in the air when the link is lost, for whatever depends on it."""

from preflint.api import Absent, Aircraft, Unproven, not_recorded

IN_WORDS = {
    "comes-home": "it comes home",
    "lands": "it lands where it is",
    "holds": "it holds its place",
    "stops": "every motor stops and it falls",
}


def not_home(aircraft: Aircraft) -> str | Unproven | None:
    """None where it comes home; else why a rule about coming home does not apply, or that nobody says."""
    does, relies = aircraft.home.on_link_loss, aircraft.relies_on("satellite")
    if not isinstance(does, Absent):
        return None if does.value == "comes-home" else f"when the link is lost in the air {IN_WORDS[does.value]}"
    if isinstance(relies, Absent):
        return not_recorded(relies)
    return not_recorded(does) if relies else "the aircraft does not rely on position by satellite"
