"""Is the pack whole?"""

from preflint.api import (
    NO_GO,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    Outcome,
    Precaution,
    fitted,
    need,
    records,
    rule,
)

from .day import asked

_SWOLLEN = Precaution(
    *PACK_UNPLUGGED.sentences,
    "A swollen pack may burn: lay it outdoors where a fire harms nothing, do not press or puncture it.",
    job=Job.MECHANICAL,
)


@rule(
    "packs/swollen",
    each="pack",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=_SWOLLEN,
    source="common practice, no source (a swollen pack does not lie flat)",
    needed_for_pack=True,
    shown_by=records.PackCheck,
)
def swollen(pack: fitted.Pack, on: Context) -> Outcome:
    """Does the pack of the day lie flat, so that no cell has swollen?

    Gas in a cell means that it has come apart inside. It may burn under load, while charging, or in the car; and a
    pack that has swollen no longer fits its strap and comes off.

    Reasoning: the latest pack_check of this pack; it counts on its own day only, and one that failed stands until a
    later one of the pack passes. Found where the pack, laid on a flat table, rocks or bulges. A hard case may rock by
    its shape alone, and round cells do not lie flat: of these it is asked whether the case bulges or has opened. Flight
    needs it of a pack that is named as flown today (`--pack-label`).

    Fails:

        packs: [{label: A1}]
        records:
          pack_check: [{date: 2026-05-21, pack: A1, rocks_on_flat: true}]

    Passes: the same with

        records:
          pack_check: [{date: 2026-05-21, pack: A1, rocks_on_flat: false}]

    It does not check a dent or a hole, nor what a hard case hides.
    """
    return asked(pack, on, _whole, "rocks_on_flat")


def _whole(check: records.PackCheck) -> Outcome:
    """What one check shows by itself."""
    rocks, seen = need(check.rocks_on_flat), f"pack check of {check.date.value}"
    if not rocks.value:
        return Clear(f"{seen}: it lies flat")
    return Finding(
        place=rocks.place,
        message="the pack does not lie flat: a cell has swollen",
        evidence=seen,
        do="neither fly nor charge this pack; dispose of it by local rules, and take it and its records out of the "
        "manifest; of a hard case that is shut and rocks by its shape alone, write rocks_on_flat: false",
    )
