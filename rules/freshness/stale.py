"""Is what was proven once still true? Judged by what happened since, and by age."""

from typing import Any

from preflint.api import (
    ADVISORY,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    Unproven,
    records,
    rule,
    what_happened,
)

from .lasting import AGE, UNTIL_REPEATED, care, in_days, one, out_of_question

_FAILED = "it failed, and that stands until a later one passes"
_SOURCE = "common practice, no source (a reading vouches only for the aircraft it was taken on)"


@rule(
    "freshness/stale-record",
    each="record",
    severity=ADVISORY,
    job=Job.LAST_LOOK,
    precaution=UNTIL_REPEATED,
    source=_SOURCE,
)
def stale_record(subject: tuple[str, records.Dated], on: Context) -> Outcome:
    """Did work or a mishap end what a record proves?

    A reading vouches for the aircraft as it was. A new motor may turn the other way; a moved battery tray
    changes the field of its leads at the compass; a crash moves everything a little. The file
    `lasting.yaml` lists, for each kind of record, which work on which part ends it. Work at one rotor ends
    a record of single rotors at that rotor only. Work dated after the day judged at counts as done.

    On one day, without times of day in both entries, the order is open and nothing is taken for granted.
    The latest record of a kind counts (of each rotor, and of each pack); the earlier ones are history.
    A rule that flight waits for is unproven without a record that still speaks; one that no such rule asks for is
    history, so this is no more than a word of advice. One that failed proves nothing that could end: the rule that
    judges it tells of it.

    Fails:

        records:
          spin_test: [{date: 2026-04-18, props: removed, seen: {rear-left: ccw}}]
        logbook:
          - {date: 2026-05-09, kind: replaced, part: motor, at: rear-left}

    Passes: the same with

        records:
          spin_test: [{date: 2026-05-10, props: removed, seen: {rear-left: ccw}}]

    It does not check what nobody wrote in the logbook, nor whether the reading itself is right.
    """
    kind, record = subject
    out = out_of_question(kind, record, on)
    if out:
        return NotApplicable(out)
    if not on.ended_by(kind):
        return NotApplicable("no work ends a record of this kind")
    if on.stands_failed(record):
        return NotApplicable(_FAILED)
    latest = _latest_for(kind, record, on)
    if not latest:
        return NotApplicable("a later record of the kind counts")
    old = {unit: found for unit in latest if (found := on.outdated(kind, record, _rotor(unit, on)))}
    if not old:
        return Clear(f"nothing since {record.date.value} ends it")
    stale = {unit: found for unit, found in old.items() if found.cause == "stale"}
    whom, since = _whom(list(stale or old), _units(kind, record)), [found.event for found in (stale or old).values()]
    named, again = records.named(kind), records.KINDS[kind].take
    are = "are" if named.endswith("s") else "is"
    repeat = f"repeat the {named}{f' of {whom}' if whom else ''}: {again}"
    related = tuple(dict.fromkeys(Related(event.place, what_happened(event)) for event in since))
    if not stale:
        return Unproven(
            cause="order-open",
            place=record.date.place,
            message=f"which came first, the {named} or this? {_since(since[0], on)}",
            do=f"write the time of day in both; if the {named} came first: {repeat}",
            evidence=f"the {named} is dated {record.date.value}",
            related=related,
            mind=care(kind, record),
        )
    every = dict.fromkeys(_since(event, on) for event in since)
    return Finding(
        again=True,
        place=record.date.place,
        message=f"the {named} of {record.date.value} {are} outdated{f' for {whom}' if whom else ''}: "
        f"{_since(since[0], on)}",
        evidence=f"since then {', '.join(every)}" if len(every) > 1 else "",  # one is in the message
        do=repeat,
        related=related,
        mind=care(kind, record),
        record=kind,
    )


@rule(
    "freshness/age",
    each="record",
    severity=ADVISORY,
    job=Job.LAST_LOOK,
    precaution=UNTIL_REPEATED,
    source="common practice, no source",
    tolerances=AGE.values(),
)
def age(subject: tuple[str, records.Dated], on: Context) -> Outcome:
    """Has a record grown old, with nothing recorded that ends it?

    Instruments drift, magnets age, threads wear, and logbooks have gaps. Each kind of record is valid for so many
    days, generously; a club may move that. Counted from the day of the record to the day judged at. After that a
    rule that asks for the record is unproven, and so is the aircraft where flight waits for that rule. A test that
    failed stays failed, however old.

    The fragments are judged on 2026-05-21.

    Fails:

        records:
          range_test: [{date: 2025-05-20, distance_m: 60, control_held: true}]

    Passes:

        records:
          range_test: [{date: 2025-05-21, distance_m: 60, control_held: true}]

    It does not check records that work or a later record has ended already.
    """
    kind, record = subject
    out = out_of_question(kind, record, on)
    if out:
        return NotApplicable(out)
    if on.stands_failed(record):
        return NotApplicable(_FAILED)
    latest = _latest_for(kind, record, on)
    if not latest:
        return NotApplicable("a later record of the kind counts")
    if all(on.outdated(kind, record, _rotor(unit, on)) for unit in latest):
        return NotApplicable("it is stale, or may be, by what was done since")
    days, limit, named = (
        (on.judged_on - record.date.value.date).days,
        on.limit(AGE[kind]),
        records.named(kind),
    )
    if days <= limit:
        return Clear(f"{in_days(days)} old; at most {limit:g}")
    return Finding(
        again=True,
        place=record.date.place,
        message=f"the {named} of {record.date.value} {'are' if named.endswith('s') else 'is'} {in_days(days)} old",
        evidence=f"at most {limit:g} days are allowed for {one(named)}",
        do=f"repeat the {named}: {records.KINDS[kind].take}",
        mind=care(kind, record),
        record=kind,
    )


def _units(kind: str, record: Any) -> tuple[str | None, ...]:
    """What a record speaks for: rotors, a pack, or (None) the whole aircraft."""
    for several in ("seen", "turned", "rpm"):
        if getattr(record, several, None):
            return tuple(getattr(record, several))
    single = getattr(record, "pack" if kind in ("cell_voltages", "sag_run", "pack_check") else "at", None)
    return (single.value if isinstance(single, Known) else None,)


def _latest_for(kind: str, record: records.Dated, on: Context) -> list[str | None]:
    """Those of the record's units that no later record of the kind speaks for."""
    last = on.once(_last_of_units, kind, on)
    return [unit for unit in _units(kind, record) if last[unit] is record]


def _last_of_units(kind: str, on: Context) -> dict[str | None, records.Dated]:
    """The last record of the kind that speaks for each unit."""
    return {unit: record for record in on.so_far(on.aircraft.records.of_kind(kind)) for unit in _units(kind, record)}


def _rotor(unit: str | None, on: Context) -> str | None:
    return unit if unit in on.aircraft.positions else None


def _whom(chosen: list[str | None], covered: tuple[str | None, ...]) -> str:
    if len(chosen) > 1 and len(chosen) == len(covered):
        return "every rotor"
    return ", ".join(unit for unit in chosen if unit)


def _since(event: records.Dated, on: Context) -> str:
    later = f" (after {on.judged_on}, the day judged at)" if event.date.value.date > on.judged_on else ""
    return f"{what_happened(event)}{later}"
