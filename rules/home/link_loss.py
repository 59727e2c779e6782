"""What does it do in the air when the link is lost, and can it?"""

from preflint.api import (
    NO_GO,
    SETTINGS,
    Absent,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Related,
    fitted,
    need,
    not_recorded,
    rule,
)

from .does import IN_WORDS

_BY_POSITION = ("comes-home", "holds")


@rule(
    "return/on-link-loss",
    each="aircraft",
    severity=NO_GO,
    job=Job.PACK_IN,
    precaution=SETTINGS,
    source="common practice, no source (what it does on loss of link is known before flight)",
    needed_for_flight=True,
    shown_by=fitted.Home,
)
def on_link_loss(aircraft: Aircraft, on: Context) -> Outcome:
    """What does it do in the air when the link is lost?

    The link is lost behind a tree, at the far end, by an empty transmitter. An aircraft that relies on position by
    satellite can then do one of several things by itself: come home, land, hold its place, stop. Whoever does not know
    which, stands under it, looks for it in the wrong place, or fights it when the link comes back. The flight
    controller's settings say it, `on_link_loss` under `return` repeats it.

    It finds nothing: it asks. Whether the aircraft can do what is set is asked by return/needs-position and
    return/height.

    Fails:

        aircraft: {name: Lapwing, layout: quad-x, relies_on: [satellite]}

    Passes: the same with

        return: {on_link_loss: lands}

    It does not check that it does so: switching the transmitter off in flight is no test for a field with people.
    """
    relies = aircraft.relies_on("satellite")
    if isinstance(relies, Absent):
        return not_recorded(relies)
    if not relies:
        return NotApplicable("the aircraft does not rely on position by satellite")
    does = need(aircraft.home.on_link_loss)
    return Clear(f"when the link is lost in the air {IN_WORDS[does.value]}")


@rule(
    "return/needs-position",
    each="aircraft",
    severity=NO_GO,
    job=Job.PACK_IN,
    precaution=SETTINGS,
    source="common practice, no source (holding a place takes a position and a heading)",
)
def needs_position(aircraft: Aircraft, on: Context) -> Outcome:
    """Does flight rely on position and compass, where it is to come home or to hold its place by itself?

    Coming home and holding a place take a position by satellite and a heading. Without a receiver the aircraft cannot;
    with a compass that nobody checked it flies a curve that widens until it hits something. Where flight is said not to
    rely on them, nothing asks for their checks, so one of the two is wrong: the setting, or what is said of it.

    Reasoning: `on_link_loss` comes-home or holds needs satellite and compass among what `relies_on` lists (left out:
    what is fitted). Their own checks, which flight then waits for, are position/where and compass/heading-check.

    Fails:

        aircraft: {name: Lapwing, layout: quad-x, relies_on: [barometer]}
        return: {on_link_loss: comes-home}

    Passes: the same with

        aircraft: {name: Lapwing, layout: quad-x, relies_on: [compass, barometer, satellite]}

    It does not check position and heading themselves.
    """
    does = need(aircraft.home.on_link_loss)
    if does.value not in _BY_POSITION:
        return Clear(f"when the link is lost in the air {IN_WORDS[does.value]}, which takes no position")
    lacking = []
    for what in ("satellite", "compass"):
        relies = aircraft.relies_on(what)
        if isinstance(relies, Absent):
            return not_recorded(relies)
        if not relies:
            lacking.append(what)
    if not lacking:
        return Clear(f"{IN_WORDS[does.value]} by satellite and compass, and flight relies on both")
    names = " and ".join(lacking)
    listed = aircraft.about.relies_on
    return Finding(
        place=does.place,
        message=f"{IN_WORDS[does.value]} when the link is lost, and flight does not rely on {names}",
        evidence=f"on_link_loss is {does.value}, which takes a position and a heading; {names}: not relied on",
        do=f"fit what is missing, write {names} in relies_on and check it; or let the aircraft land when the link is "
        "lost",
        related=() if isinstance(listed, Absent) else (Related(listed.place, "what flight relies on"),),
    )
