"""Does one rotor turn at another speed than its like?"""

import math

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
    PACK_UNPLUGGED,
    RESTRAINED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Tolerance,
    Unproven,
    level_of,
    name,
    records,
    rule,
    together,
)
from preflint.api import rotor as rotors

from .speeds import HOW, READ_WITHIN, read_at

SPLIT = Tolerance(
    "speed_split_percent",
    "%",
    5.0,
    "lower",
    "common practice, no source",
    "how far the speed of one rotor may be from the median of its like, at one throttle",
)
_FEWEST = 3  # of two that differ, nobody knows which is the odd one


@rule(
    "rotors/speed-split",
    each="aircraft",
    severity=CAUTION,
    job=Job.LOAD,
    precaution=ANY_LOADED_RUN,
    source="common practice, no source",
    tolerances=(SPLIT,),
)
def speed_split(aircraft: Aircraft, on: Context) -> Outcome:
    """Does one rotor turn faster or slower than the others of its kind?

    A motor of another kv, a bearing that drags, a controller that loses steps, a prop of another pitch: at one throttle
    that rotor alone turns at another speed, and in flight the others work against it.

    Reasoning: the latest readings of one record, in groups of like rotors: of one level of a coaxial pair (the lower
    one works in the upper one's wash), one size of prop, one number of blades. Found if a single rotor is more than
    ``speed_split_percent`` off the median of its group beyond U, and all others are within. U: each speed read within
    2 % (a/√3, 95 %), of the one and of the median. A shifted centre of mass, or a yaw that is trimmed out, moves rotors
    by pairs, one faster for each slower: several off are left open, since a hover shows that of a sound aircraft, too.

    Fails:

        records:
          rotor_speeds: [{date: 2026-05-17, throttle_percent: 45,
                          rpm: {front-left: 5040, front-right: 5620, rear-left: 5030, rear-right: 5050}}]

    Passes: the same with

        records:
          rotor_speeds: [{date: 2026-05-17, throttle_percent: 45,
                          rpm: {front-left: 5040, front-right: 5060, rear-left: 5030, rear-right: 5050}}]

    Not checked: a rotor that the flight controller brings to the others' speed by more throttle.
    """
    read = {name(rotor): read_at(on, name(rotor)) for rotor in aircraft.rotors}
    latest = max((one for one in read.values() if one), key=lambda one: one.date.value.latest, default=None)
    if latest is None:
        on.freshest("rotor_speeds", aircraft.records.rotor_speeds, HOW)
        return NotApplicable("no rotor turned")
    groups: dict[object, dict[str, float]] = {}
    for rotor in aircraft.rotors:
        if read[name(rotor)] is latest:
            groups.setdefault(_like(rotor), {})[name(rotor)] = latest.rpm[name(rotor)].value
    answers = [_judged(on, latest, group) for group in groups.values() if len(group) >= _FEWEST]
    if not answers:
        return NotApplicable(f"fewer than {_FEWEST} like rotors were read")
    return next((one for kind in (Finding, Unproven) for one in answers if isinstance(one, kind)), answers[0])


def _like(rotor: rotors.Rotor) -> tuple[object, ...]:
    prop = rotor.prop
    held = (prop.diameter_in, prop.pitch_in, prop.blades, rotor.ducted)
    return (level_of(name(rotor)), *(one.value if isinstance(one, Known) else None for one in held))


def _off(speeds: dict[str, float]) -> tuple[str, dict[str, float]]:
    """The rotor that is furthest off the median of the others, and of each rotor how far, in per cent: from there."""
    from statistics import median  # loaded once it is asked

    def without(at: str) -> float:
        return median(rpm for other, rpm in speeds.items() if other != at)

    odd = max(speeds, key=lambda at: abs(speeds[at] / without(at) - 1))
    return odd, {at: 100 * (rpm / without(odd) - 1) for at, rpm in speeds.items()}


def _judged(on: Context, read: records.RotorSpeeds, speeds: dict[str, float]) -> Outcome:
    """Of one group of like rotors."""
    limit, (odd, off) = on.limit(SPLIT), _off(speeds)
    expanded = 100 * 1.96 * READ_WITHIN / math.sqrt(3) * math.sqrt(1 + 1 / (len(speeds) - 1))
    listed = ", ".join(f"{at} {part:+.1f} %" for at, part in off.items())
    evidence = f"off the median of all but {odd}: {listed}; ± {expanded:.1f} % (95 %), at most {limit:g} %"
    if abs(off[odd]) + expanded <= limit:
        return Clear(evidence)
    alone = all(abs(part) <= limit for at, part in off.items() if at != odd)
    if alone and abs(off[odd]) - expanded > limit:
        way = "faster" if off[odd] > 0 else "slower"
        return Finding(
            place=read.rpm[odd].place,
            message=f"the rotor at {odd} turns {abs(off[odd]):.0f} % {way} than the others",
            evidence=evidence,
            do="turn its bell by hand and compare; look at motor (kv), prop (pitch) and controller's settings there; "
            "then repeat the rotor speeds",
            record="rotor_speeds",
            mind=together(PACK_UNPLUGGED, ANY_LOADED_RUN),
        )
    why = "too uncertain to tell" if alone else "so would balance or trim"
    return Unproven(
        cause="uncertain",
        place=read.rpm[odd].place,
        message=f"the rotor at {odd} turns {off[odd]:+.1f} % off the others: {why}",
        do="read the rotor speeds at one throttle for all, tied down in the flight rig (restrained)",
        evidence=evidence,
        record="rotor_speeds",
        mind=RESTRAINED,
    )
