"""What was done to the aircraft and what happened to it, and which defects somebody answers for."""

from preflint.aircraft.dated import Dated
from preflint.aircraft.declare import group, says
from preflint.aircraft.field import Field, Known
from preflint.aircraft.moment import Moment
from preflint.aircraft.words import HAPPENED, PARTS, SETTINGS, WORK, Position
from preflint.places import Place
from preflint.precautions import DESK


@group(
    "Logbook entry",
    examples=[{"date": "2026-05-09", "kind": "replaced", "part": "motor", "at": "rear-left"}],
    also={
        "if": {"required": ["kind"], "properties": {"kind": {"enum": list(WORK)}}},
        "then": {"required": ["part"]},
    },
    asks=("kind", "part", "at", "touches", "note"),
)
class LogEntry(Dated):
    """Work done, or what happened. A part is needed unless the kind is crashed, hard-landing, tipped-over,
    stored or flown.
    """

    # Without a part it is about the whole aircraft.
    kind: Known[str] = says(
        "Kind", "What was done, or what happened.",
        one_of=(*WORK, *HAPPENED), examples=["replaced"],
    )
    part: Field[str] = says(
        "Part", "Which part it was done to.",
        do="say which part", mind=DESK, one_of=PARTS, examples=["motor"],
    )
    at: Field[Position] = says(
        "Position", "At which rotor, where the part belongs to one; all where it was done at every rotor.",
        do="say at which position", mind=DESK, examples=["rear-left", "all"],
    )
    touches: Field[tuple[Known[str], ...]] = says(
        "Touches",
        "Of settings-changed: which of these were changed; [] where none of them. arming includes the cut-off, "
        "mounting the way the flight controller and the compass sit; other ends no record, and is told of for a month.",
        do="say which settings were changed, or touches: [] where none of these", mind=DESK, on_paper=True,
        one_of=SETTINGS, examples=[["voltage-scale"], []],
    )
    minutes: Field[float] = says(
        "Minutes", "Of flown: how long, in minutes.",
        do="write how many minutes it flew", mind=DESK, on_paper=True, above=0, most=1000, examples=[7.5],
    )
    pack: Field[str] = says(
        "Pack", "Of flown: the label of the pack it flew on.",
        do="write the label of the pack it flew on", mind=DESK, on_paper=True, longest=40, examples=["A1"],
    )
    put_back_mah: Field[float] = says(
        "Put back", "Of flown: what the charger put back until the pack was full again, in mAh.",
        do="read the charger when the pack is full again", mind=DESK, least=0, most=1000000, examples=[4260],
    )
    to_warning: Field[bool] = says(
        "To the warning", "Of flown: true where it was flown until a battery warning came.",
        do="say whether it was flown until a battery warning came", mind=DESK, on_paper=True, examples=[True],
    )
    note: Field[str] = says(
        "Note", "Why, or what was seen.", do="say why", mind=DESK, longest=2000, examples=["bearing noise"],
        unjudged="label",
    )


@group(
    "Deferred defect",
    examples=[{"rule": "vibration/harmonic", "until": "2026-06-01", "by": "R. Ashdown", "because": "new prop ordered"}],
)
class Deferral:
    """A known caution or advisory that somebody answers for until a day. It never changes the verdict."""

    place: Place
    rule: Known[str] = says(
        "Rule", "The rule's name as the report gives it.",
        do="copy it from the report",
        pattern=r"^[a-z0-9_-]+/[a-z0-9_-]+$", longest=100, examples=["vibration/harmonic"],
    )
    at: Field[str] = says(
        "Position", "At which rotor, or the label of the pack.",
        do="say which rotor", mind=DESK, longest=40, examples=["rear-left"],
    )
    until: Known[Moment] = says("Until", "The last day on which it is deferred: YYYY-MM-DD.", examples=["2026-06-01"])
    by: Known[str] = says("By", "Who answers for it.", examples=["R. Ashdown"])
    because: Known[str] = says("Because", "Why it can wait.", longest=2000, examples=["new prop ordered"])
