"""Does the bell of each motor stay on its shaft, and was it pulled to see?"""

from preflint.api import (
    ADVISORY,
    NO_GO,
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
    Unproven,
    name,
    records,
    rule,
    what_happened,
)
from preflint.api import rotor as rotors

from .held import PRACTICE

_PULL = (
    "pack unplugged: hold the arm and pull each bell along its shaft, away from the arm; write a "
    "bell_pull for each with what it did"
)


@rule(
    "retention/bell-pull",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
)
def bell_pull(rotor: rotors.Rotor, on: Context) -> Outcome:
    """The bell of the motor stays on its shaft.

    The prop hangs on the bell, and the bell on a clip or a small screw at the other end of the shaft. Where
    that is missing or loose, thrust lifts the bell off, or lets it rub. A bell that moved counts until its
    motor was fitted anew or a later pull found it firm.

    Fails:

        records:
          bell_pull: [{date: 2026-04-18, at: front-left, moved: true}]

    Passes:

        records:
          bell_pull: [{date: 2026-04-18, at: front-left, moved: false}]

    Not checked: play of the bearings across the shaft. Pulls that nobody made are asked for once for the
    aircraft, by retention/bells-pulled.
    """
    pull = on.once(_latest_pull, rotor, on)
    if pull is None:
        return NotApplicable("not pulled: retention/bells-pulled asks for it")
    old = on.outdated("bell_pull", pull, name(rotor))
    if not pull.moved.value:
        return Clear(f"bell pull of {pull.date.value}: firm") if old is None else _asked()
    if _fitted_since(rotor, pull, on):
        return _asked()
    return Finding(
        place=pull.moved.place,
        message=f"the bell moved along the shaft when it was pulled on {pull.date.value}",
        evidence="bell_pull moved true",
        do="refit the clip or screw that holds the shaft in the motor, or replace the motor; then pull again "
        "and record it",
    )


def _asked() -> NotApplicable:
    return NotApplicable("the bell pull no longer speaks: retention/bells-pulled asks for another")


def _fitted_since(rotor: rotors.Rotor, pull: records.BellPull, on: Context) -> bool:
    """Whether another motor came here after the pull, so that what moved is gone."""
    return any(
        entry.kind.value in ("fitted", "replaced")
        and isinstance(entry.part, Known)
        and entry.part.value == "motor"
        and isinstance(entry.at, Known)
        and entry.at.value == name(rotor)
        and entry.date.value.after(pull.date.value) is True
        for entry in on.so_far(on.aircraft.logbook)
    )


def _latest_pull(rotor: rotors.Rotor, on: Context) -> records.BellPull | None:
    """The latest pull here; of several whose order is open, one that moved the bell."""
    mine = on.so_far(pull for pull in on.aircraft.records.bell_pull if pull.at.value == name(rotor))
    if not mine:
        return None
    latest = mine[-1]
    open_order = [pull for pull in mine if latest.date.value.after(pull.date.value) is None]
    return next((pull for pull in open_order if pull.moved.value), latest)


@rule(
    "retention/bells-pulled",
    each="aircraft",
    severity=ADVISORY,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=PRACTICE,
)
def bells_pulled(aircraft: Aircraft, on: Context) -> Outcome:
    """Every motor's bell was pulled since it was last worked on.

    Asks once for the aircraft what retention/bell-pull judges motor by motor, so that an owner who never
    pulled a bell is told so in one line. It finds nothing by itself: a bell that nobody pulled is unproven.

    Fails:

        records:
          bell_pull: []

    Passes:

        every_rotor: {motor: {shaft_mm: 5.0}}
        records:
          bell_pull:
            - {date: 2026-04-18, at: front-left, moved: false}
            - {date: 2026-04-18, at: front-right, moved: false}
            - {date: 2026-04-18, at: rear-left, moved: false}
            - {date: 2026-04-18, at: rear-right, moved: false}

    Not checked: how hard it was pulled.
    """
    never, stale, aged = [], [], []
    for rotor in aircraft.rotors:
        pull = on.once(_latest_pull, rotor, on)
        if pull is None:
            never.append(name(rotor))
        elif old := on.outdated("bell_pull", pull, name(rotor)):
            stale.append((name(rotor), pull, old))
        elif on.too_old("bell_pull", pull):
            aged.append((name(rotor), pull))
    if not never and not stale and not aged:
        return Clear("every motor's bell was pulled since it was last worked on")
    said = [f"no bell pull is recorded of {', '.join(never)}"] if never else []
    if stale:
        said.append(f"older than work done since: the bell pull of {', '.join(at for at, _, _ in stale)}")
    if aged:
        said.append(f"too old to count: the bell pull of {', '.join(at for at, _ in aged)}")
    return Unproven(
        cause="absent" if never else stale[0][2].cause if stale else "stale",
        place=aircraft.records.place if never else (stale or aged)[0][1].place,
        message="; ".join(said),
        do=_PULL,
        related=tuple(Related(old.event.place, f"{at}: {what_happened(old.event)}") for at, _, old in stale),
    )
