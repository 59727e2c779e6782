"""How fast successive records of a kind drift apart, and how long the latest lasts at that rate."""

import datetime as dt

from preflint.api import (
    CAUTION,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Related,
    Unproven,
    records,
    rule,
)

from ..barometer.pressure import INDICATION
from ..compass.checks import DEVIATION, MAP_LINE, POINTING
from ..interference.limits import HEADING_LIMIT
from ..interference.run import DRIFT
from ..power.limits import AMPERES_COMPARED, CURRENT_SCALE, VOLTAGE_SCALE, VOLTS_COMPARED
from .lasting import UNTIL_REPEATED, care, in_days, out_of_question
from .rates import LONGEST_DAYS, Drift, drifts, pair_apart
from .trends import TRENDS


@rule(
    "freshness/drift",
    each="record",
    severity=CAUTION,
    job=Job.LAST_LOOK,
    precaution=UNTIL_REPEATED,
    source="recalibration intervals by observed drift, after ILAC-G24 / OIML D 10 (from memory); "
    "guard bands after JCGM 106:2012",
    tolerances=(
        VOLTAGE_SCALE,
        *VOLTS_COMPARED,
        CURRENT_SCALE,
        *AMPERES_COMPARED,
        HEADING_LIMIT,
        DRIFT,
        DEVIATION,
        MAP_LINE,
        POINTING,
        INDICATION,
    ),
)
def drift(subject: tuple[str, records.Dated], on: Context) -> Outcome:
    """Does a record still hold, if what it measured goes on drifting as it did since the one before?

    An age limit is a guess for all aircraft. Two records of a kind, with nothing done in between, tell how
    fast this one drifts, and a limit that was met with little to spare is soon crossed.

    Reasoning: the change between the two latest records, over the days between them, is the rate. What is
    followed: the error of indication of volts (full and lowest voltage) and of amperes (highest reading and
    hover), both by the settings of now; µT/A at the compass; the mean error of heading; the error in hPa.
    What is left is the limit of the rule that judges the record, less the error of the later record and its U.
    Readings with one instrument share its error, which then leaves the change but for a third, by which it
    is taken to differ from day to day; names that differ count as two instruments with all of both
    accuracies. A change inside its own uncertainty is no rate. Found if even the lower bound of the rate has
    used up what was left by the day judged at, clear if the upper bound has not, otherwise too uncertain to
    tell. Records less than 7 days apart tell how well a reading repeats, and no drift.

    The fragments are judged on 2026-05-21.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        power_sensing: {divider_ratio: 6.2}
        records:
          voltage_comparison:
            - date: 2026-02-01
              in_force: {divider_ratio: 6.2}
              loaded: false
              reference: {instrument: meter, accuracy_percent: 0.3, resolution_v: 0.01}
              columns: [indicated_v, reference_v]
              rows: [[15.46, 15.46], [16.61, 16.61]]
            - date: 2026-04-01
              in_force: {divider_ratio: 6.2}
              loaded: false
              reference: {instrument: meter, accuracy_percent: 0.3, resolution_v: 0.01}
              columns: [indicated_v, reference_v]
              rows: [[15.54, 15.46], [16.69, 16.61]]

    Passes: the same with

        records:
          voltage_comparison:
            - date: 2026-05-10
              in_force: {divider_ratio: 6.2}
              loaded: false
              reference: {instrument: meter, accuracy_percent: 0.3, resolution_v: 0.01}
              columns: [indicated_v, reference_v]
              rows: [[15.46, 15.46], [16.61, 16.61]]
            - date: 2026-05-20
              in_force: {divider_ratio: 6.2}
              loaded: false
              reference: {instrument: meter, accuracy_percent: 0.3, resolution_v: 0.01}
              columns: [indicated_v, reference_v]
              rows: [[15.46, 15.46], [16.61, 16.61]]

    It does not check a drift that is no straight line, an instrument that itself drifts, nor two instruments
    written down by one name.
    """
    kind, record = subject
    if kind not in TRENDS:
        return NotApplicable("no drift is worked out for records of this kind")
    if out := out_of_question(kind, record, on):
        return NotApplicable(out)
    pair = pair_apart(on, kind)
    if isinstance(pair, str):
        return NotApplicable(pair)
    earlier, later = pair
    if record is not later:
        return NotApplicable("a later record of the kind counts")
    if on.outdated(kind, later):
        return NotApplicable("it is stale, or may be, by what was done since")
    followed = drifts(on, kind, earlier, later)
    age = (on.judged_on - later.date.value.date).days
    if not followed:
        return NotApplicable("nothing is followed in these records")
    open_margin = [one for one in followed if one.trend.holds(0)]
    if not open_margin:
        return NotApplicable("the record itself is not within its limit beyond doubt, as its own rule says")
    told = [one for one in open_margin if one.told]
    if not told:
        one = open_margin[0]
        return Clear(f"{one.trend.in_words()} between {earlier.date.value} and {later.date.value}: no drift is told")
    return _judged(kind, earlier, later, min(told, key=lambda one: _order(one, age)), age)


def _order(one: Drift, age: int) -> tuple[bool, bool, float]:
    """What is used up first, then what may be, then what has least left."""
    at_most, likely, at_least = one.lasts_days
    return age <= at_most, age <= at_least, likely


def _judged(kind: str, earlier: records.Dated, later: records.Dated, one: Drift, age: int) -> Outcome:
    named, trend = records.named(kind), one.trend
    at_most, likely, at_least = one.lasts_days
    evidence = (
        f"at this rate what was left of {trend.limit} lasts until {_day(later, likely)} ({_day(later, at_least)} to "
        f"{_day(later, at_most)}); {trend.in_words()} in {in_days(one.apart_days)} from {earlier.date.value} to "
        f"{later.date.value}"
    )
    if age <= at_least:
        return Clear(evidence)
    related = (Related(earlier.date.place, f"the {named} before it, of {earlier.date.value}"),)
    days = int(at_least)
    often = f"repeat it within {in_days(days)} each time" if days >= 1 else "repeat it each day you fly"
    again = f"repeat the {named}: {records.KINDS[kind].take}; while it drifts so, {often}"
    if age <= at_most:
        return Unproven(
            cause="uncertain",
            place=later.date.place,
            message=f"{trend.what} drifts: {trend.limit} may be used up {in_days(age)} after the {named}",
            do=again,
            evidence=evidence,
            related=related,
            mind=care(kind, later),
            record=kind,
        )
    return Finding(
        again=True,
        place=later.date.place,
        message=f"{trend.what} drifts: {trend.limit} is used up {in_days(age)} after the {named}",
        evidence=evidence,
        do=again,
        related=related,
        mind=care(kind, later),
        record=kind,
    )


def _day(later: records.Dated, days: float) -> str:
    if days >= LONGEST_DAYS:
        return "ten years from then"
    return str(later.date.value.date + dt.timedelta(days=int(days)))
