"""What the records of one evening share."""

from preflint.aircraft.dated import LOAD, PACK_LABEL, PROPS, SETTINGS_IN_FORCE, InForce, Reference
from preflint.aircraft.declare import group, like, says
from preflint.aircraft.field import Field, Known
from preflint.aircraft.moment import Moment
from preflint.aircraft.words import Props, Route
from preflint.places import Place


@group("Session", examples=[{"date": "2026-04-18", "props": "removed", "bell_pull": [{"at": "all", "moved": False}]}])
class Session:
    """One evening's records, by kind, under what they share. Each record takes the lines that its kind has; what it
    writes itself wins.
    """

    place: Place
    date: Known[Moment] = says(
        "Date",
        "The day: YYYY-MM-DD, or YYYY-MM-DD HH:MM for when the session began, local. A record may write its own time.",
        examples=["2026-04-18", "2026-04-18 18:30"],
    )
    props: Field[Props] = like(PROPS)
    pack: Field[str] = like(PACK_LABEL)
    route: Field[Route] = like(LOAD)
    reference: Reference = says(
        "Reference",
        "The instrument compared with. A record takes it where it names the record's unit, in a last digit or a fixed "
        "accuracy: in V for volts, in A for amperes. A recharge writes its own. It is never mixed with a record's own.",
        examples=[{"instrument": "inline meter", "accuracy_percent": 0.5, "resolution_v": 0.01, "resolution_a": 0.1}],
    )
    in_force: InForce = like(SETTINGS_IN_FORCE)
