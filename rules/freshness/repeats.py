"""Do two records of a kind, taken within days of each other, tell the same?"""

from preflint.api import (
    CAUTION,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Related,
    records,
    rule,
)

from ..barometer.pressure import INDICATION
from ..compass.checks import DEVIATION, MAP_LINE, POINTING
from ..power.limits import AMPERES_COMPARED, CURRENT_SCALE, VOLTAGE_SCALE, VOLTS_COMPARED
from .lasting import UNTIL_REPEATED, care, out_of_question
from .rates import APART_DAYS, last_pair
from .trends import TRENDS, trends

_FOLLOWED = frozenset(TRENDS) - {"interference_run"}


@rule(
    "freshness/repeats",
    each="record",
    severity=CAUTION,
    job=Job.LAST_LOOK,
    precaution=UNTIL_REPEATED,
    source="agreement of two results after ISO 13528 (normalised error, U at 95 %)",
    tolerances=(
        VOLTAGE_SCALE,
        *VOLTS_COMPARED,
        CURRENT_SCALE,
        *AMPERES_COMPARED,
        DEVIATION,
        MAP_LINE,
        POINTING,
        INDICATION,
    ),
)
def repeats(subject: tuple[str, records.Dated], on: Context) -> Outcome:
    """Does the latest record repeat the one of some days before?

    Two meters, one sensor, nothing done in between: where they tell two things, one of them is wrong, and the
    later one is not right because it is later. Whoever takes a second meter because the first one showed an
    error, and writes down that all is well, has not learnt which of the two to believe.

    Reasoning: of the two latest records of a kind, less than 7 days apart, the change of what freshness/drift
    follows, by the settings of now, over its U at 95 %, is the normalised error: above 1 they do not agree. Found
    if they do not, and what the earlier one showed, with the U of the later one, is outside the limit that the
    later one keeps. One instrument, by name, shares its error both times but for a third.

    The fragments are judged on 2026-05-21.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        power_sensing: {divider_ratio: 6.2}
        records:
          voltage_comparison:
            - date: 2026-05-18
              in_force: {divider_ratio: 6.2}
              loaded: false
              reference: {instrument: pocket meter, accuracy_percent: 0.3, resolution_v: 0.01}
              columns: [indicated_v, reference_v]
              rows: [[15.46, 15.15], [16.61, 16.28]]
            - date: 2026-05-20
              in_force: {divider_ratio: 6.2}
              loaded: false
              reference: {instrument: bench meter, accuracy_percent: 0.3, resolution_v: 0.01}
              columns: [indicated_v, reference_v]
              rows: [[15.46, 15.46], [16.61, 16.61]]

    Passes: the same with

        records:
          voltage_comparison:
            - date: 2026-05-18
              in_force: {divider_ratio: 6.2}
              loaded: false
              reference: {instrument: pocket meter, accuracy_percent: 0.3, resolution_v: 0.01}
              columns: [indicated_v, reference_v]
              rows: [[15.46, 15.44], [16.61, 16.59]]
            - date: 2026-05-20
              in_force: {divider_ratio: 6.2}
              loaded: false
              reference: {instrument: bench meter, accuracy_percent: 0.3, resolution_v: 0.01}
              columns: [indicated_v, reference_v]
              rows: [[15.46, 15.46], [16.61, 16.61]]

    It does not check which of the two is right, nor interference runs, which interference/successive-runs compares.
    """
    kind, record = subject
    if kind not in _FOLLOWED:
        return NotApplicable("records of this kind are not compared here")
    if out := out_of_question(kind, record, on):
        return NotApplicable(out)
    pair = last_pair(on, kind)
    if isinstance(pair, str):
        return NotApplicable(pair)
    earlier, later = pair
    if record is not later:
        return NotApplicable("a later record of the kind counts")
    days = (later.date.value.date - earlier.date.value.date).days
    if days >= APART_DAYS:
        return NotApplicable(f"the last two are {days} days apart, and what changed since is told as drift")
    if on.outdated(kind, later):
        return NotApplicable("it is stale, or may be, by what was done since")
    within = [trend for trend in trends(on, kind, earlier, later) if trend.holds(0)]
    if not within:
        return NotApplicable("the record itself is not within its limit beyond doubt, as its own rule says")
    apart = [trend for trend in within if trend.size > trend.expanded and not trend.holds(-1)]
    since = f"{earlier.date.value} and {later.date.value}"
    if not apart:
        return Clear(f"{within[0].in_words()} between {since}")
    worst, named = max(apart, key=lambda trend: trend.size / trend.expanded), records.named(kind)
    return Finding(
        again=True,
        place=later.date.place,
        message=f"the {named}s of {since} contradict each other",
        evidence=f"no work is recorded in between; {worst.in_words()}, normalised error "
        f"{worst.size / worst.expanded:.1f}, at most 1; the later one is within {worst.limit}, the earlier one is "
        "not beyond doubt",
        do=f"log any work done in between; else repeat the {named} against something else than both times, and "
        "believe what two of three say",
        related=(Related(earlier.date.place, f"the {named} before it, of {earlier.date.value}"),),
        mind=care(kind, later),
        record=kind,
    )
