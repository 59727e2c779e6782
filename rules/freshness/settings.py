"""Settings: was every change of them written down, and what changed lately that no record speaks for?"""

from itertools import pairwise

from preflint.api import (
    ADVISORY,
    CAUTION,
    DESK,
    HOVER_LOG,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    Tolerance,
    logbook,
    records,
    rule,
)

OTHER_DAYS = Tolerance(
    "other_settings_days",
    "days",
    30.0,
    "higher",
    "common practice, no source",
    "for how long a change of other settings is told",
)
_OF_ANY_PART = frozenset({"settings-changed", "firmware", "reset"})
_OF_THE_CONTROLLER = frozenset({"replaced", "fitted"})


@rule(
    "freshness/unlogged-change",
    each="aircraft",
    severity=CAUTION,
    job=Job.RECORD,
    precaution=PACK_UNPLUGGED,
    source="configuration management, ISO 10007 (from memory): no change without an entry that tells of it",
)
def unlogged_change(aircraft: Aircraft, on: Context) -> Outcome:
    """Did the settings change without an entry in the logbook?

    Every record vouches for the aircraft as it was set then. A setting that somebody turned at the field, or that an
    update put back, ends some of them; without an entry nobody knows which. The SHA-256 of the saved settings is
    another as soon as one of them is.

    Reasoning: of two `saved_settings` that follow each other with different SHA-256 (compared as far as both are
    written), an entry that can lie between them says what was done: settings changed, reset, new firmware, or another
    flight controller. Of one day without times it can lie between. The latest change without such an entry is told.

    Fails:

        records:
          saved_settings: [{date: 2026-05-10, sha256: 9f86d081884c7d65}, {date: 2026-05-17, sha256: 60303ae22b998861}]

    Passes: the same with

        logbook:
          - {date: 2026-05-16, kind: settings-changed, part: flight-controller, touches: [failsafe]}

    It does not check what was changed, nor whether the entry names all of it.
    """
    saved = on.so_far(aircraft.records.saved_settings)
    pairs = [
        (before, after)
        for before, after in pairwise(saved)
        if not _alike(before, after) and not any(_between(entry, before, after) for entry in aircraft.logbook)
    ]
    if len(saved) < 2:
        return NotApplicable("the settings were not saved twice")
    if not pairs:
        return Clear(f"{len(saved)} times saved, every change of them is in the logbook")
    before, after = pairs[-1]
    return Finding(
        place=after.sha256.place,
        message=f"settings changed between {before.date.value} and {after.date.value}: no entry tells",
        evidence=f"SHA-256 {before.sha256.value[:12]} and {after.sha256.value[:12]}",
        do="compare the two files; write in the logbook what was changed and what it touches",
        mind=DESK,
        related=(Related(before.sha256.place, f"saved on {before.date.value}"),),
    )


def _alike(one: records.SavedSettings, other: records.SavedSettings) -> bool:
    """As far as both are written."""
    a, b = one.sha256.value.lower(), other.sha256.value.lower()
    return a.startswith(b) or b.startswith(a)


def _between(entry: logbook.LogEntry, before: records.SavedSettings, after: records.SavedSettings) -> bool:
    """Whether the entry tells of a change that can lie between the two."""
    of_controller = isinstance(entry.part, Known) and entry.part.value == "flight-controller"
    return (
        (entry.kind.value in _OF_ANY_PART or (of_controller and entry.kind.value in _OF_THE_CONTROLLER))
        and entry.date.value.after(before.date.value) is not False
        and after.date.value.after(entry.date.value) is not False
    )


@rule(
    "freshness/other-settings",
    each="aircraft",
    severity=ADVISORY,
    job=Job.HOVER,
    precaution=HOVER_LOG,
    source="common practice, no source",
    tolerances=(OTHER_DAYS,),
)
def other_settings(aircraft: Aircraft, on: Context) -> Outcome:
    """Were settings changed lately that no record speaks for?

    A change that `touches: [other]` ends no test, since none would show it. Whoever flies next is better told: from the
    day of the entry, for `other_settings_days`.

    The fragments are judged on 2026-05-21.

    Fails:

        logbook:
          - {date: 2026-05-10, kind: settings-changed, part: flight-controller, touches: [other], note: return speed}

    Passes:

        logbook:
          - {date: 2026-04-20, kind: settings-changed, part: flight-controller, touches: [other], note: return speed}

    It does not judge the change.
    """
    changed = [entry for entry in aircraft.logbook if _is_other(entry)]
    if not changed:
        return NotApplicable("no change of other settings is in the logbook")
    lately = [one for one in changed if (on.judged_on - one.date.value.date).days <= on.limit(OTHER_DAYS)]
    if not lately:
        return Clear(f"no other settings were changed in the last {on.limit(OTHER_DAYS):g} days")
    last = max(lately, key=lambda entry: entry.date.value.latest)
    return Finding(
        place=last.date.place,
        message=f"other settings were changed on {last.date.value}: no test shows what they do",
        evidence=f"changed in the last {on.limit(OTHER_DAYS):g} days; the note of the entry may say what",
        do="know what was changed before you fly; try it low and near",
        related=tuple(Related(one.date.place, "changed, too") for one in lately if one is not last),
    )


def _is_other(entry: logbook.LogEntry) -> bool:
    touched = entry.touches.value if isinstance(entry.touches, Known) else ()
    return entry.kind.value == "settings-changed" and any(word.value == "other" for word in touched)
