"""Papers: do they still hold, on the day judged at?"""

from preflint.api import (
    ADVISORY,
    CAUTION,
    DESK,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    Moment,
    NotApplicable,
    Outcome,
    Related,
    Tolerance,
    rule,
)

SOON = Tolerance(
    "papers_end_within_days",
    "days",
    30.0,
    "higher",
    "common practice, no source",
    "how many days before a paper ends it is told",
)
_SOURCE = "local law, which decides what papers an aircraft needs; the dates are the owner's"
_NONE = "no last day of a paper is recorded; local law decides which are needed"


@rule(
    "papers/dates",
    each="aircraft",
    severity=CAUTION,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source=_SOURCE,
)
def dates(aircraft: Aircraft, on: Context) -> Outcome:
    """Did a paper end before the day judged at?

    Registration, certificate of competence and insurance end on a day that nobody thinks of at the field. Whoever
    wrote the day down is told once it has passed; the last day itself still counts.

    The fragments are judged on 2026-05-21.

    Fails:

        papers: {insurance_until: 2026-05-20}

    Passes:

        papers: {insurance_until: 2026-05-21}

    It does not judge which papers local law asks for, nor asks for a date that nobody wrote down.
    """
    ends = _ends(aircraft)
    if not ends:
        return NotApplicable(_NONE)
    ended = [(what, until) for what, until in ends if until.value.date < on.judged_on]
    if not ended:
        return Clear("; ".join(f"{what} until {until.value}" for what, until in ends))
    (what, first), *others = ended
    return Finding(
        place=first.place,
        message=f"the {what} ended on {first.value}" + "".join(f", the {what} on {u.value}" for what, u in others),
        evidence=f"judged on {on.judged_on}; local law decides what is needed",
        do=f"renew the {' and the '.join(what for what, _ in ended)}, and write the new last day",
        mind=DESK,
        related=tuple(Related(until.place, f"the last day of the {what}") for what, until in others),
    )


@rule(
    "papers/ends-soon",
    each="aircraft",
    severity=ADVISORY,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source=_SOURCE,
    tolerances=(SOON,),
)
def ends_soon(aircraft: Aircraft, on: Context) -> Outcome:
    """Does a paper end within the next weeks?

    Renewing takes weeks. It is told from `papers_end_within_days` before the last day on. One that has ended is told
    by papers/dates.

    The fragments are judged on 2026-05-21.

    Fails:

        papers: {registration_until: 2026-06-20}

    Passes:

        papers: {registration_until: 2026-06-21}

    It does not judge which papers local law asks for.
    """
    ends = _ends(aircraft)
    if not ends:
        return NotApplicable(_NONE)
    left = [(what, until, (until.value.date - on.judged_on).days) for what, until in ends]
    soon = [one for one in left if 0 <= one[2] <= on.limit(SOON)]
    if not soon:
        return Clear("; ".join(f"{what} until {until.value}" for what, until, _ in left))
    (what, first, days), *others = sorted(soon, key=lambda one: one[2])
    return Finding(
        place=first.place,
        message=f"the {what} ends {_in(days)}, on {first.value}"
        + "".join(f", the {what} on {until.value}" for what, until, _ in others),
        evidence=f"judged on {on.judged_on}; local law decides what is needed",
        do=f"renew the {' and the '.join(what for what, *_ in soon)}",
        mind=DESK,
        related=tuple(Related(until.place, f"the last day of the {what}") for what, until, _ in others),
    )


@rule(
    "papers/label",
    each="aircraft",
    severity=ADVISORY,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=_SOURCE,
)
def label(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the number that local law asks for stand on the aircraft?

    Who finds an aircraft in a field, or is hit by it, reads from it whose it is.

    Fails:

        papers: {label_on_aircraft: false}

    Passes:

        papers: {label_on_aircraft: true}

    It does not judge whether local law asks for one, nor which number it is.
    """
    said = aircraft.papers.label_on_aircraft
    if not isinstance(said, Known):
        return NotApplicable("whether a label is on the aircraft is not recorded; local law decides")
    if said.value:
        return Clear("the label is on the aircraft")
    return Finding(
        place=said.place,
        message="the label is not on the aircraft",
        evidence="local law decides which number must stand on it",
        do="put the label where it can be read without a tool",
    )


def _ends(aircraft: Aircraft) -> list[tuple[str, Known[Moment]]]:
    """The papers of which a last day is recorded."""
    papers = aircraft.papers
    told = {
        "registration": papers.registration_until,
        "certificate of competence": papers.competence_until,
        "insurance": papers.insurance_until,
    }
    return [(what, until) for what, until in told.items() if isinstance(until, Known)]


def _in(days: int) -> str:
    return "today" if days == 0 else "tomorrow" if days == 1 else f"in {days} days"
