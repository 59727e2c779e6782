"""The precautions that stand beside what somebody is asked to do."""

import re

PACK_UNPLUGGED = "Pack unplugged before you touch a prop, a nut or a wire."
PROPS_REMOVED = "Props removed before the pack goes in; keep hands, cables and sleeves away from the motors."
PACK_IN_PROPS_OFF = "Props removed. Pack in only for the reading; do not let the meter's tips touch each other."
RIG_CHANGE = "Pack unplugged while the props are changed; count them, then look at each one again."
FIELD_CHECK = "Props removed or motors disarmed; keep clear of the rotors while the pack is in."

_EVERY_LOADED_RUN = (
    "Loaded run: tie the aircraft down, put a barrier up, everyone behind it, eyes protected; "
    "work it from a distance, for seconds only, with the cut-off rehearsed. Local rules and site officers come first."
)
INVERTED_LOAD = _EVERY_LOADED_RUN + (
    " Inverted rig: one missed prop turns it over; attitude stabilisation acts reversed, so direct equal throttle "
    "only; the legs carry weight plus thrust and folding arms are loaded backwards; air comes from the bench side, "
    "so clear it of everything loose for at least two prop radii; non-magnetic hold-downs."
)
RESTRAINED = _EVERY_LOADED_RUN + (
    " Flight rig: it pulls upward with more than its weight, so every tie must carry full thrust; non-magnetic ties."
)
THRUST_STAND = (
    "Thrust stand: stand and motor bolted down, a barrier in the plane of the prop, everyone behind it, eyes "
    "protected; work it from a distance, for seconds only, pack unplugged before you reach in. Local rules and site "
    "officers come first."
)
HOVER_LOG = (
    "Hover log: only with everything else settled; open ground, everyone behind the pilot, low and short, land at the "
    "first wrong sign. Local rules and site officers come first."
)
PRECAUTION_OF_ROUTE = {"inverted-load": INVERTED_LOAD, "restrained": RESTRAINED, "hover-log": HOVER_LOG}


def together(*precautions: str) -> str:
    """All that several precautions say, no sentence twice."""
    return " ".join(dict.fromkeys(one for text in precautions for one in re.split(r"(?<=\.) ", text)))


ANY_LOADED_RUN = together(RESTRAINED, INVERTED_LOAD, HOVER_LOG)  # for where the route is still open
