"""Does the pack stay where it is, and its plug together?"""

from preflint.api import (
    NO_GO,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    Outcome,
    fitted,
    need,
    records,
    rule,
)

from .day import asked, pull


@rule(
    "packs/held",
    each="pack",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="pull: limit manoeuvring load factor 3.5, 14 CFR 27.337 (from memory); straps: common practice, no source",
    needed_for_pack=True,
    shown_by=records.PackCheck,
)
def held(pack: fitted.Pack, on: Context) -> Outcome:
    """Is the pack of the day strapped or latched in, so that a tug does not move it?

    A pack that slides moves the centre of mass until the motors on one side have no more to give; one that comes off
    takes the power with it. Both have brought aircraft down over people.

    Reasoning: the latest pack_check of this pack; it counts on its own day only, and one that failed stands until a
    later one of the pack passes. Found where something that holds it was open (`latched: false`), or where it moved
    when tugged with 3.5 times its weight (a pack of 600 g: 20.6 N, 2.1 kgf). Clear where it is latched, straps are
    counted (0 where a latch or a tight pocket alone holds it) and nothing moved. Flight needs it of a pack that is
    named as flown today (`--pack-label`).

    Fails:

        packs: [{label: A1}]
        records:
          pack_check: [{date: 2026-05-21, pack: A1, straps: 1, latched: true, tug_moved: true}]

    Passes: the same with

        records:
          pack_check: [{date: 2026-05-21, pack: A1, straps: 2, latched: true, tug_moved: false}]

    It does not check how strong a strap is, and what holds the tray to the frame.
    """
    return asked(pack, on, lambda check: _held(check, pack), "straps", "latched", "tug_moved")


def _held(check: records.PackCheck, pack: fitted.Pack) -> Outcome:
    """What one check shows by itself."""
    seen = f"pack check of {check.date.value}"
    if isinstance(check.latched, Known) and not check.latched.value:
        nothing = isinstance(check.straps, Known) and check.straps.value == 0
        return Finding(
            place=check.latched.place,
            message="nothing holds the pack" if nothing else "the pack is not strapped tight or not latched",
            evidence=seen,
            do="fit a strap round the pack, or pull every strap tight and close every latch; tug at it; write another "
            "pack_check",
        )
    if isinstance(check.tug_moved, Known) and check.tug_moved.value:
        force = f" {pull(pack)}" if pull(pack) else ""
        return Finding(
            place=check.tug_moved.place,
            message="the pack moved when tugged",
            evidence=f"{seen}; a turn or a gust pulls at it with about 3.5 times its weight",
            do=f"lay something that grips under the pack, add a strap across the first; tug at it{force}; write "
            "another pack_check",
        )
    straps, _, _ = need(check.straps), need(check.latched), need(check.tug_moved)
    by = f"{straps.value} strap{'s' if straps.value != 1 else ''}" if straps.value else "a latch or pocket"
    return Clear(f"{seen}: held by {by}, latched, not moved by a tug")


@rule(
    "packs/plug",
    each="pack",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source (a plug half pushed home is found by a tug at it)",
    needed_for_pack=True,
    shown_by=records.PackCheck,
)
def plug(pack: fitted.Pack, on: Context) -> Outcome:
    """Does the plug of the pack stay together, and do its leads keep clear of props and edges?

    A plug that creeps apart, or was never pushed home, ends all power at once, in the air. A lead that reaches a prop
    is cut; one on a carbon edge is worn to a short, and burns.

    Reasoning: the latest pack_check of this pack; it counts on its own day only, and one that failed stands until a
    later one of the pack passes. Found where the plug crept or came apart when its halves were tugged, or where a lead
    was not clear. Flight needs it of a pack that is named as flown today (`--pack-label`).

    Fails:

        packs: [{label: A1}]
        records:
          pack_check: [{date: 2026-05-21, pack: A1, plug_tug_moved: true, leads_clear: true}]

    Passes: the same with

        records:
          pack_check: [{date: 2026-05-21, pack: A1, plug_tug_moved: false, leads_clear: true}]

    It does not check the solder inside the plug, nor what current it carries.
    """
    return asked(pack, on, _plugged, "plug_tug_moved", "leads_clear")


def _plugged(check: records.PackCheck) -> Outcome:
    """What one check shows by itself."""
    seen = f"pack check of {check.date.value}"
    if isinstance(check.plug_tug_moved, Known) and check.plug_tug_moved.value:
        return Finding(
            place=check.plug_tug_moved.place,
            message="the plug crept or came apart when tugged",
            evidence=seen,
            do="clean both halves; replace a plug that is loose, worn or scorched; push it home until it stops; write "
            "another pack_check",
        )
    if isinstance(check.leads_clear, Known) and not check.leads_clear.value:
        return Finding(
            place=check.leads_clear.place,
            message="a lead reaches a prop or an edge, or is pinched",
            evidence=seen,
            do="tie the leads back, the balance lead too; turn every prop by hand past them; replace a lead that is "
            "cut; write another pack_check",
        )
    need(check.plug_tug_moved)
    need(check.leads_clear)
    return Clear(f"{seen}: the plug held, leads clear")
