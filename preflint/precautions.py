"""The precautions that stand beside what somebody is asked to do."""

from typing import Any


class Precaution(str):
    """What to mind, sentence by sentence; as text, all of them in a row."""

    sentences: tuple[str, ...]

    def __new__(cls, *sentences: str) -> "Precaution":
        made = super().__new__(cls, " ".join(sentences))
        made.sentences = sentences
        return made

    def __getnewargs__(self) -> Any:
        """For another process: made again of its sentences."""
        return self.sentences

    @classmethod
    def of(cls, text: str) -> "Precaution":
        """As it is, or a plain text as one sentence."""
        return text if isinstance(text, Precaution) else cls(text)


_LOCAL = "Local rules and site officers come first."

PACK_UNPLUGGED = Precaution("Pack unplugged before you touch a prop, a nut or a wire.")
PROPS_REMOVED = Precaution(
    "Props removed before the pack goes in; keep hands, cables and sleeves away from the motors."
)
PACK_IN_PROPS_OFF = Precaution(
    "Props removed.", "Pack in only for the reading; do not let the meter's tips touch each other."
)
RIG_CHANGE = Precaution("Pack unplugged while the props are changed; count them, then look at each one again.")
FIELD_CHECK = Precaution("Props removed or motors disarmed; keep clear of the rotors while the pack is in.")

_EVERY_LOADED_RUN = Precaution(
    "Loaded run: tie the aircraft down, put a barrier up, everyone behind it, eyes protected; "
    "work it from a distance, for seconds only, with the cut-off rehearsed.",
    _LOCAL,
).sentences
INVERTED_LOAD = Precaution(
    *_EVERY_LOADED_RUN,
    "Inverted rig: one missed prop turns it over; attitude stabilisation acts reversed, so direct equal throttle "
    "only; the legs carry weight plus thrust and folding arms are loaded backwards; air comes from the bench side, "
    "so clear it of everything loose for at least two prop radii; non-magnetic hold-downs.",
)
RESTRAINED = Precaution(
    *_EVERY_LOADED_RUN,
    "Flight rig: it pulls upward with more than its weight, so every tie must carry full thrust; non-magnetic ties.",
)
THRUST_STAND = Precaution(
    "Thrust stand: stand and motor bolted down, a barrier in the plane of the prop, everyone behind it, eyes "
    "protected; work it from a distance, for seconds only, pack unplugged before you reach in.",
    _LOCAL,
)
HOVER_LOG = Precaution(
    "Hover log: only with everything else settled; open ground, everyone behind the pilot, low and short, land at the "
    "first wrong sign.",
    _LOCAL,
)
PRECAUTION_OF_ROUTE = {"inverted-load": INVERTED_LOAD, "restrained": RESTRAINED, "hover-log": HOVER_LOG}


def together(*precautions: str) -> Precaution:
    """All that several precautions say, no sentence twice."""
    return Precaution(*dict.fromkeys(one for said in precautions for one in Precaution.of(said).sentences))


ANY_LOADED_RUN = together(RESTRAINED, INVERTED_LOAD, HOVER_LOG)  # for where the route is still open
