"""Is every prop whole, and was it looked at after a mishap?"""

from collections.abc import Callable

from preflint.api import (
    CAUTION,
    NO_GO,
    PACK_UNPLUGGED,
    WHOLE_AIRCRAFT,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Related,
    Unproven,
    logbook,
    name,
    records,
    rule,
    what_happened,
)
from preflint.api import rotor as rotors

_LOOK = (
    "look along every blade's edges, bend each blade a little, look where it meets the hub; write a prop_look (at: "
    "all where every one is whole)"
)
_REPLACE = "replace the prop and cut the old one up; write it in the logbook; look at the new one and write a prop_look"
_BROKEN = {
    "crack": ("the prop is cracked", _REPLACE),
    "bent": ("a blade of the prop is bent", _REPLACE),
    "root-mark": ("a line shows at a blade's root: it begins to break there", _REPLACE),
    "loose-blade-bolt": (
        "a blade's bolt is loose",
        "tighten the bolt as the maker says, with thread lock; look at hub and blade; write a prop_look",
    ),
}


@rule(
    "props/damage",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source (damaged propellers are not used); 14 CFR 107.15 asks for a look before flight",
)
def damage(rotor: rotors.Rotor, on: Context) -> Outcome:
    """The prop has no crack, no bent blade, no mark at its root, no loose blade.

    The pull on a blade's root is hundreds of times its weight (the figure ``blade_root_pull_n``). A crack grows with
    every start, a white line at the root is one that begins, and a blade that leaves takes the arm along, or somebody's
    eye. What was found counts until a later `prop_look` found the prop, or a new one, whole; a prop fitted since, and
    not looked at, takes nothing away. A nick is a caution of nicked.

    Fails:

        records:
          prop_look: [{date: 2026-05-18, at: front-left, found: crack}]

    Passes:

        records:
          prop_look: [{date: 2026-05-18, at: front-left, found: nothing}]

    Not checked: what nobody looked at; after a mishap looked asks for it.
    """
    return _judged(rotor, on, _broken)


@rule(
    "props/nicked",
    each="rotor",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source (damaged propellers are not used)",
)
def nicked(rotor: rotors.Rotor, on: Context) -> Outcome:
    """The prop's edges have no nick.

    A notch in an edge is where a crack begins, and it puts the prop out of balance. A nick counts until a later
    `prop_look` found the prop, or a new one, whole.

    Fails:

        records:
          prop_look: [{date: 2026-05-18, at: front-left, found: nick}]

    Passes:

        records:
          prop_look: [{date: 2026-05-18, at: front-left, found: nothing}]

    Not checked: how deep it is. A prop that is cracked or bent is said by damage.
    """
    if on.failed("prop_look", _looks(rotor, on), _broken, name(rotor)):
        return NotApplicable("said by props/damage")
    return _judged(rotor, on, _nicked)


def _broken(look: records.PropLook) -> Outcome:
    """What one look shows by itself: a nick neither fails nor passes."""
    if look.found.value == "nick":
        return NotApplicable("a nick: props/nicked says so")
    if look.found.value == "nothing":
        return Clear(f"prop look of {look.date.value}: whole")
    message, remedy = _BROKEN[look.found.value]
    return Finding(
        place=look.found.place,
        message=message,
        evidence=f"prop look of {look.date.value}: {look.found.value}",
        do=remedy,
    )


def _nicked(look: records.PropLook) -> Outcome:
    if look.found.value == "nick":
        return Finding(
            place=look.found.place,
            message="an edge of the prop has a nick",
            evidence=f"prop look of {look.date.value}: nick",
            do=_REPLACE,
        )
    return _broken(look)


def _looks(rotor: rotors.Rotor, on: Context) -> list[records.PropLook]:
    return [look for look in on.aircraft.records.prop_look if look.at.value == name(rotor)]


def _judged(rotor: rotors.Rotor, on: Context, judge: Callable[[records.PropLook], Outcome]) -> Outcome:
    looks = _looks(rotor, on)
    if failed := on.failed("prop_look", looks, judge, name(rotor)):
        return failed
    latest = on.latest(looks)
    if latest is None or not on.speaks("prop_look", latest, name(rotor)):
        return NotApplicable("no look at this prop speaks: props/looked asks for one after a mishap")
    return judge(latest)


@rule(
    "props/looked",
    each="aircraft",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source",
    needed_for_flight=True,
    shown_by=records.PropLook,
)
def looked(aircraft: Aircraft, on: Context) -> Outcome:
    """After a crash, a hard landing or a tip-over every prop was looked at close by.

    A prop that struck the ground looks whole from a step away. The crack is at the root, or shows only while the
    blade is bent. So each prop is looked at once more than on the walk-round: edges, tips, root, bent a little by
    hand. It finds nothing by itself: what was found is judged by damage and nicked.

    Fails:

        logbook:
          - {date: 2026-05-09, kind: crashed}

    Passes: the same with

        records:
          prop_look: [{date: 2026-05-10, at: all, found: nothing}]

    Not checked: a prop that was not on the aircraft then.
    """
    mishaps = [entry for entry in aircraft.logbook if entry.kind.value in WHOLE_AIRCRAFT]
    if not mishaps:
        return NotApplicable("no crash, hard landing or tip-over is in the logbook")
    last = max(mishaps, key=lambda entry: (*entry.date.value.latest, what_happened(entry)))
    open_order: list[str] = []
    missing: list[str] = []
    for rotor in aircraft.rotors:
        after = [look.date.value.after(last.date.value) for look in on.so_far(_looks(rotor, on))]
        if True not in after:
            (open_order if None in after else missing).append(name(rotor))
    if missing:
        return _not_looked_at(last, missing, aircraft)
    if open_order:
        return Unproven(
            cause="order-open",
            place=last.date.place,
            message=f"which came first, the look at the props or this? {what_happened(last)}",
            do=f"write the time of day in both; if the look came first: {_LOOK}",
            evidence=f"props of {', '.join(open_order)}",
        )
    return Clear(f"every prop was looked at after this: {what_happened(last)}")


def _not_looked_at(mishap: logbook.LogEntry, missing: list[str], aircraft: Aircraft) -> Unproven:
    whose = "the props were" if len(missing) == len(aircraft.rotors) else f"the prop of {', '.join(missing)} was"
    return Unproven(
        place=mishap.date.place,
        message=f"{whose} not looked at after this: {what_happened(mishap)}",
        do=_LOOK,
        record="prop_look",
        related=(Related(mishap.place, what_happened(mishap)),),
    )
