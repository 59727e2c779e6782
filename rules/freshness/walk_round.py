"""Was the aircraft looked at after a crash, a hard landing or a tip-over?"""

from preflint.api import (
    FIRST_LOOK,
    NO_GO,
    WHOLE_AIRCRAFT,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Open,
    Outcome,
    Related,
    Unproven,
    need,
    records,
    rule,
    what_happened,
)

_HOW = (
    "walk round the aircraft; look at arms, mounts, wires, pack, bells and props; write in a walk_round what you "
    "looked at and what was damaged"
)


@rule(
    "freshness/walk-round",
    each="aircraft",
    severity=NO_GO,
    job=Job.FIRST_LOOK,
    precaution=FIRST_LOOK,
    source="common practice, no source",
    needed_for_flight=True,
    shown_by=records.WalkRound,
)
def walk_round(aircraft: Aircraft, on: Context) -> Outcome:
    """After a crash, a hard landing or a tip-over somebody walked round the aircraft and found it whole.

    A mishap cracks an arm from within, bends a shaft, pulls a plug half out, dents a pack. None of it shows in a
    test of spin or sticks, and a dented pack burns an hour later. So before any motor turns again somebody looks, with
    the pack unplugged, at arms, mounts, wires, pack, bells and props, and writes a `walk_round`: what was looked at,
    and what was damaged. Damage counts until a later walk-round found none.

    Fails:

        records:
          walk_round: [{date: 2026-05-10, looked_at: [arms, mounts, wires, pack, bells, props], damaged: [arms]}]
        logbook:
          - {date: 2026-05-09, kind: crashed}

    Passes: the same with

        records:
          walk_round: [{date: 2026-05-10, looked_at: [arms, mounts, wires, pack, bells, props], damaged: []}]

    It does not check what the mishap did to tests and readings: each of them says so itself.
    """
    looks = aircraft.records.walk_round
    if failed := on.failed("walk_round", looks, _found_whole):
        return failed
    mishaps = [entry for entry in aircraft.logbook if entry.kind.value in WHOLE_AIRCRAFT]
    if not mishaps:
        return NotApplicable("no crash, hard landing or tip-over is in the logbook")
    last = max(mishaps, key=lambda entry: (*entry.date.value.latest, what_happened(entry)))
    if not on.so_far(looks):
        return Unproven(
            place=last.place,
            message=f"no walk-round is recorded after this: {what_happened(last)}",
            do=_HOW,
            record="walk_round",
        )
    # A look at some parts takes nothing away from one at all of them.
    complete = [look for look in looks if not _not_looked_at(look)]
    return _found_whole(on.freshest("walk_round", complete or looks, _HOW, says=lambda look: None))


def _found_whole(look: records.WalkRound) -> Outcome:
    """What one walk-round shows by itself."""
    damaged = need(look.damaged)
    if damaged.value:
        found = ", ".join(part.value for part in damaged.value)
        return Finding(
            place=damaged.value[0].place,
            message=f"damaged in the walk-round: {found}",
            evidence=f"walk-round of {look.date.value}",
            do=f"repair or replace what is damaged ({found}); write the work in the logbook; walk round again",
        )
    if missing := _not_looked_at(look):
        raise Open(
            Unproven(
                place=look.date.place,
                message=f"the walk-round of {look.date.value} did not look at {', '.join(missing)}",
                do=_HOW,
                record="walk_round",
                related=(Related(look.place, f"looked at {', '.join(part.value for part in look.looked_at)}"),),
            )
        )
    return Clear(f"walk-round of {look.date.value}: nothing damaged")


def _not_looked_at(look: records.WalkRound) -> list[str]:
    looked_at = [part.value for part in look.looked_at]
    return [part for part in records.LOOKED_AT if part not in looked_at]
