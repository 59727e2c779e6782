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
    "hold the arm and pull each bell along its shaft, away from the arm; write a bell_pull for each with "
    "what it did"
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
    that is missing or loose, thrust lifts the bell off, or lets it rub. A bell that moved counts until a
    later pull found it firm, whatever was fitted since.

    Fails:

        records:
          bell_pull: [{date: 2026-04-18, at: front-left, moved: true}]

    Passes:

        records:
          bell_pull: [{date: 2026-04-18, at: front-left, moved: false}]

    Not checked: play of the bearings across the shaft. Pulls that nobody made are asked for once for the
    aircraft, by retention/bells-pulled.
    """
    pulls = [pull for pull in on.aircraft.records.bell_pull if pull.at.value == name(rotor)]
    failed = on.failed("bell_pull", pulls, _moved, name(rotor))
    if failed:
        return failed
    pull = on.once(_latest_pull, rotor, on)
    if pull is None:
        return NotApplicable("not pulled: retention/bells-pulled asks for it")
    if not on.speaks("bell_pull", pull, name(rotor)):
        return NotApplicable("the bell pull no longer speaks: retention/bells-pulled asks for another")
    return _moved(pull)


def _moved(pull: records.BellPull) -> Outcome:
    """What one pull shows by itself."""
    if not pull.moved.value:
        return Clear(f"bell pull of {pull.date.value}: firm")
    return Finding(
        place=pull.moved.place,
        message=f"the bell moved along the shaft when it was pulled on {pull.date.value}",
        evidence="bell_pull moved true",
        do="refit the clip or screw that holds the shaft in the motor, or replace the motor; then pull again "
        "and record it",
    )


def _latest_pull(rotor: rotors.Rotor, on: Context) -> records.BellPull | None:
    """The latest pull here."""
    return on.latest(pull for pull in on.aircraft.records.bell_pull if pull.at.value == name(rotor))


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
            - {date: 2026-04-18, at: all, moved: false}

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
        record="bell_pull",
        related=tuple(Related(old.event.place, f"{at}: {what_happened(old.event)}") for at, _, old in stale),
    )
