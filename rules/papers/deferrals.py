"""Deferred defects: does each one still stand for something?"""

import datetime as dt

from preflint.api import (
    ADVISORY,
    CAUTION,
    DESK,
    LONGEST_DEFERRAL,
    NO_GO,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    logbook,
    rule,
)

_SOURCE = "common practice, no source (a list of deferred defects names who, why and until when)"


@rule(
    "papers/deferral-unmatched",
    each="deferral",
    severity=ADVISORY,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source=_SOURCE,
)
def deferral_unmatched(deferral: logbook.Deferral, on: Context) -> Outcome:
    """Does a deferral match a finding?

    A deferral says that a known caution or advisory is left until a day. One that matches nothing is a
    mistake in its rule or position, or it outlived its defect. Left in the file it would hide the next
    finding of that kind from whoever counts what grounds the aircraft.

    A deferral matches a finding of the same rule at the same position; one without `at` matches only findings
    about the whole aircraft.

    Fails:

        deferred_defects:
          - {rule: freshness/no-such-rule, until: 2026-06-01, by: R. Ashdown, because: parts ordered}

    Passes:

        deferred_defects:
          - {rule: freshness/first-flight, until: 2026-06-01, by: R. Ashdown, because: booked for Sunday}

    It does not judge whether the reason is a good one.
    """
    known = {known.id for known in on.rules}
    wanted = deferral.rule.value
    where = f" at {deferral.at.value}" if isinstance(deferral.at, Known) else ""
    if wanted not in known:
        from difflib import get_close_matches  # only where a rule is not known

        close = get_close_matches(wanted, sorted(known), 1)
        hint = f"; did you mean {close[0]}?" if close else ""
        return Finding(
            place=deferral.rule.place,
            message=f"{wanted} is no rule{hint}",
            evidence=f"deferred until {deferral.until.value} by {deferral.by.value}: {deferral.because.value}",
            do="write the rule as the report names it, or take the deferral out",
            mind=DESK,
        )
    if _severity(wanted, on) == NO_GO or _about_deferrals(wanted, on):
        return NotApplicable("its rule may not be deferred at all")
    if on.deferrable(deferral):
        return Clear(f"a finding of {wanted}{where} is deferred")
    elsewhere = [r for r in on.results if r.rule.id == wanted and isinstance(r.outcome, Finding)]
    others = tuple(Related(r.outcome.place, _elsewhere(r.at)) for r in elsewhere if isinstance(r.outcome, Finding))
    return Finding(
        place=deferral.rule.place,
        message=f"{wanted}{where} is deferred, but nothing is found there",
        evidence=f"deferred until {deferral.until.value} by {deferral.by.value}: {deferral.because.value}",
        do="correct its position" if others else "take the deferral out of the list",
        mind=DESK,
        related=others,
    )


@rule(
    "papers/deferral-expired",
    each="deferral",
    severity=CAUTION,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source=_SOURCE,
)
def deferral_expired(deferral: logbook.Deferral, on: Context) -> Outcome:
    """Has a deferral run out while its defect is still there?

    Somebody answered for the defect until a day. After that day nobody does, and the defect counts again. The
    last day itself is still covered.

    The fragments are judged on 2026-05-21.

    Fails:

        deferred_defects:
          - {rule: freshness/first-flight, until: 2026-05-20, by: R. Ashdown, because: booked for Sunday}

    Passes:

        deferred_defects:
          - {rule: freshness/first-flight, until: 2026-05-21, by: R. Ashdown, because: booked for Sunday}

    It does not judge how far ahead a deferral runs; papers/deferral-too-long does.
    """
    if not on.deferrable(deferral):
        return NotApplicable("it matches no finding that can be deferred")
    until = deferral.until.value
    if until.date >= on.judged_on:
        return Clear(f"runs until {until}")
    where = f" at {deferral.at.value}" if isinstance(deferral.at, Known) else ""
    return Finding(
        place=deferral.until.place,
        message=f"{deferral.rule.value}{where} was deferred until {until}: the defect is still there",
        evidence=f"deferred by {deferral.by.value}: {deferral.because.value}; judged on {on.judged_on}",
        do="put the defect right, or have somebody answer for it again until a new day",
        related=_defects(deferral, on),
    )


@rule(
    "papers/deferral-too-long",
    each="deferral",
    severity=CAUTION,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source=_SOURCE,
    tolerances=(LONGEST_DEFERRAL,),
)
def deferral_too_long(deferral: logbook.Deferral, on: Context) -> Outcome:
    """Does a deferral run further ahead than one may?

    A defect that is put off for a season is forgotten, and so is who answers for it. A deferral therefore runs for
    so many days at most, from the day judged at; one that runs further sets nothing aside. Whoever answers for the
    defect looks at it again by then and writes another day.

    The fragments are judged on 2026-05-21.

    Fails:

        deferred_defects:
          - {rule: freshness/first-flight, until: 2026-06-21, by: R. Ashdown, because: booked for Sunday}

    Passes:

        deferred_defects:
          - {rule: freshness/first-flight, until: 2026-06-20, by: R. Ashdown, because: booked for Sunday}

    It does not judge how often a defect was put off before.
    """
    if not on.deferrable(deferral):
        return NotApplicable("it matches no finding that can be deferred")
    until, limit = deferral.until.value, on.limit(LONGEST_DEFERRAL)
    ahead = (until.date - on.judged_on).days
    if ahead <= limit:
        return Clear(f"runs until {until}; at most {limit:g} days ahead")
    where = f" at {deferral.at.value}" if isinstance(deferral.at, Known) else ""
    last = on.judged_on + dt.timedelta(days=int(limit))
    return Finding(
        place=deferral.until.place,
        message=f"the deferral of {deferral.rule.value}{where} runs for {ahead} days: it sets nothing aside",
        evidence=f"until {until}, deferred by {deferral.by.value}: {deferral.because.value}; judged on "
        f"{on.judged_on}; at most {limit:g} days",
        do=f"put the defect right, or write {last} or a day before it, and look at the defect again by then",
        related=_defects(deferral, on),
    )


@rule(
    "papers/deferral-not-allowed",
    each="deferral",
    severity=CAUTION,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source=_SOURCE,
)
def deferral_not_allowed(deferral: logbook.Deferral, on: Context) -> Outcome:
    """Does a deferral try to set a no-go aside?

    A no-go is likely, or without warning, to hurt someone or lose the aircraft. It is put right before
    flight, not answered for. Only cautions and advisories can be deferred, and not the findings about
    deferrals themselves.

    Fails:

        deferred_defects:
          - {rule: failsafe/link-loss, until: 2026-06-01, by: R. Ashdown, because: new receiver ordered}

    Passes:

        deferred_defects:
          - {rule: freshness/first-flight, until: 2026-06-01, by: R. Ashdown, because: booked for Sunday}

    It does not check whether the rule found anything.
    """
    wanted = deferral.rule.value
    severity = _severity(wanted, on)
    if severity is None:
        return NotApplicable("no such rule")
    if severity != NO_GO and not _about_deferrals(wanted, on):
        return Clear(f"{wanted} may be deferred")
    why = "a no-go is put right before flight" if severity == NO_GO else "it is about deferrals themselves"
    return Finding(
        place=deferral.rule.place,
        message=f"{wanted} cannot be deferred: {why}",
        evidence=f"deferred until {deferral.until.value} by {deferral.by.value}: {deferral.because.value}",
        do="take the deferral out of the list and put the defect right",
    )


def _severity(wanted: str, on: Context) -> int | None:
    return next((known.severity for known in on.rules if known.id == wanted), None)


def _about_deferrals(wanted: str, on: Context) -> bool:
    return any(known.id == wanted and known.each == "deferral" for known in on.rules)


def _defects(deferral: logbook.Deferral, on: Context) -> tuple[Related, ...]:
    found = (result.outcome for result in on.deferrable(deferral))
    return tuple(Related(outcome.place, "the defect") for outcome in found if isinstance(outcome, Finding))


def _elsewhere(at: str | None) -> str:
    return f"found at {at}" if at else "found for the whole aircraft"
