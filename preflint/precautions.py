"""When a job's turn comes, and what to mind while it is done."""

from collections.abc import Mapping
from enum import IntEnum
from typing import Any


class Job(IntEnum):
    """The state in which the aircraft stands for a job, in the order of work.

    Jobs of one state stand together, so that props come off once and go on once.
    """

    RECORD = 1  # at the desk: writing down what is there, reading a manual, a label or a map
    FIRST_LOOK = 2  # pack unplugged, after a mishap: before anything is touched or turned
    MECHANICAL = 3  # pack unplugged: look, turn by hand, screw, measure
    PACK_IN = 4  # pack in, props removed, motors still: settings, sensors, volts
    PROPS_OFF = 5  # pack in, props removed, motors turning: spin, outputs, tilt, sticks, link loss
    THRUST_STAND = 6  # one motor with its prop on the stand
    LOAD = 7  # under load: all of it in one run
    FLIGHT_RIG = 8  # back to the flight rig
    LAST_LOOK = 9
    HOVER = 10  # the first hover, the look after it, and what is learnt from a hover


class Precaution(str):
    """What to mind, sentence by sentence; as text, all of them in a row.

    ``job`` is the state of the aircraft that it is made for; None where it says nothing of that.
    """

    sentences: tuple[str, ...]
    job: Job | None

    def __new__(cls, *sentences: str, job: Job | None = None) -> "Precaution":
        made = super().__new__(cls, " ".join(sentences))
        made.sentences = sentences
        made.job = job
        return made

    def __getnewargs_ex__(self) -> Any:
        """For another process: made again of its parts."""
        return self.sentences, {"job": self.job}

    @classmethod
    def of(cls, text: str) -> "Precaution":
        """As it is, or a plain text as one sentence."""
        return text if isinstance(text, Precaution) else cls(text)


_LOCAL = "Local rules and site officers come first."

DESK = Precaution(job=Job.RECORD)  # nothing to mind
PACK_UNPLUGGED = Precaution("Pack unplugged before you touch a prop, a nut or a wire.", job=Job.MECHANICAL)
FIRST_LOOK = Precaution(*PACK_UNPLUGGED.sentences, job=Job.FIRST_LOOK)
SETTINGS = Precaution("Props removed before the pack goes in.", job=Job.PACK_IN)
PACK_IN_PROPS_OFF = Precaution(
    "Props removed.", "Pack in only for the reading; do not let the meter's tips touch each other.", job=Job.PACK_IN
)
FIELD_CHECK = Precaution(
    "Props removed or motors disarmed; keep clear of the rotors while the pack is in.", job=Job.PACK_IN
)
PROPS_REMOVED = Precaution(
    "Props removed before the pack goes in; keep hands, cables and sleeves away from the motors.", job=Job.PROPS_OFF
)
PACK_CHECK = Precaution(
    "Pack unplugged while you look at it and strap it in.",
    "Plug it in last, motors disarmed, everyone clear of the rotors.",
    job=Job.LAST_LOOK,
)
RIG_CHANGE = Precaution(
    "Pack unplugged while the props are changed; count them, then look at each one again.", job=Job.FLIGHT_RIG
)

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
    job=Job.LOAD,
)
RESTRAINED = Precaution(
    *_EVERY_LOADED_RUN,
    "Flight rig: it pulls upward with more than its weight, so every tie must carry full thrust; non-magnetic ties.",
    job=Job.LOAD,
)
THRUST_STAND = Precaution(
    "Thrust stand: stand and motor bolted down, a barrier in the plane of the prop, everyone behind it, eyes "
    "protected; work it from a distance, for seconds only, pack unplugged before you reach in.",
    _LOCAL,
    job=Job.THRUST_STAND,
)
HOVER_LOG = Precaution(
    "Hover log: only with everything else settled; open ground, everyone behind the pilot, low and short, land at the "
    "first wrong sign.",
    _LOCAL,
    job=Job.HOVER,
)
AFTER_FLIGHT = Precaution(
    "Pack unplugged before you touch a motor; fingers near it first, not on it.", _LOCAL, job=Job.HOVER
)
# How the aircraft stands for a job. Where the precaution of every such job says it, it is said in the same words.
STATES: Mapping[Job, str] = {
    Job.RECORD: "At the desk.",
    Job.FIRST_LOOK: PACK_UNPLUGGED.sentences[0],
    Job.MECHANICAL: PACK_UNPLUGGED.sentences[0],
    Job.PACK_IN: "Pack in, motors still.",
    Job.PROPS_OFF: "Pack in, motors turning.",
    Job.THRUST_STAND: "On the thrust stand.",
    Job.LOAD: "Under load.",
    Job.FLIGHT_RIG: "Back to the flight rig.",
    Job.LAST_LOOK: "The last look before flight.",
    Job.HOVER: "At the field.",
}

PRECAUTION_OF_ROUTE = {"inverted-load": INVERTED_LOAD, "restrained": RESTRAINED, "hover-log": HOVER_LOG}


def together(*precautions: str) -> Precaution:
    """All that several precautions say, no sentence twice.

    The job is the latest of theirs, but what can be done in a run on the ground does not wait for a hover.
    """
    each = [Precaution.of(said) for said in precautions]
    jobs = [one.job for one in each if one.job is not None]
    on_ground = [job for job in jobs if job in (Job.THRUST_STAND, Job.LOAD)]
    return Precaution(
        *dict.fromkeys(sentence for one in each for sentence in one.sentences),
        job=max(on_ground or jobs, default=None),
    )


ANY_LOADED_RUN = together(RESTRAINED, INVERTED_LOAD, HOVER_LOG)  # for where the route is still open
