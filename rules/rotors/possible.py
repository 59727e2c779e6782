"""Can the motors turn as fast, and as slowly, as was read?"""

from preflint.api import (
    ANY_LOADED_RUN,
    CAUTION,
    DESK,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    name,
    need,
    rule,
)
from preflint.api import rotor as rotors

from .speeds import read_at, share_of_motor

GREATEST = Tolerance(
    "speed_share_most",
    "1",
    1.0,
    "lower",
    "derived: a motor turns slower than kv times its volts, by what its load takes",
    "greatest speed of a rotor over kv, volts and the root of the throttle",
)
LEAST = Tolerance(
    "speed_share_least",
    "1",
    0.4,
    "higher",
    "common practice, no source",
    "least speed of a rotor over kv, volts and throttle, from 25 % throttle on",
)
_FROM_PERCENT = 25.0  # below, friction and the controller's start take more than the prop
_K = 1.96


@rule(
    "rotors/speed-possible",
    each="rotor",
    severity=CAUTION,
    job=Job.LOAD,
    precaution=ANY_LOADED_RUN,
    source="derived: no-load speed is kv times volts; the least share is common practice, no source",
    tolerances=(GREATEST, LEAST),
)
def speed_possible(rotor: rotors.Rotor, on: Context) -> Outcome:
    """Can this motor turn as fast as was read, at those volts and that throttle?

    A motor of another kv than written draws another current and lifts another mass. A speed that no such motor has
    tells of that, or of a count by another number of magnets, or of volts of another pack.

    Reasoning: without load a motor turns kv·V·d, with d the part of the volts that the controller lets through. d is
    the throttle; where a flight controller makes thrust go with the throttle it is more, up to √throttle. Loaded it is
    less: about 0.6 to 0.9. Found if rpm/(kv·V·√throttle) is above ``speed_share_most``, or from 25 % throttle on
    rpm/(kv·V·throttle) below ``speed_share_least``, beyond what is uncertain: kv within 10 %, volts and speed within
    2 % (a/√3 each, 95 %). Clear if both are within by as much, otherwise too uncertain to tell.

    Fails:

        every_rotor: {motor: {kv_rpm_per_v: 620}}
        records:
          rotor_speeds: [{date: 2026-05-17, throttle_percent: 50, voltage_v: 15.2, rpm: {front-left: 12000}}]

    Passes: the same with

        records:
          rotor_speeds: [{date: 2026-05-17, throttle_percent: 50, voltage_v: 15.2, rpm: {front-left: 4000}}]

    Not checked: a motor of another kv that the flight controller turns as fast as the others, by more throttle.
    """
    at = name(rotor)
    read = read_at(on, at)
    if read is None:
        return NotApplicable("no speed of this rotor is on record: rotors/speed-split asks for it")
    kv, volts, throttle = need(rotor.motor.kv_rpm_per_v), need(read.voltage_v), need(read.throttle_percent)
    share = share_of_motor(rotor, read, at)
    if share is None:
        return NotApplicable("the throttle was closed")
    most, least, rpm = on.limit(GREATEST), on.limit(LEAST), read.rpm[at]
    judged_low = throttle.value >= _FROM_PERCENT
    evidence = (
        f"{rpm.value:.0f} rpm / ({kv.value:g} rpm/V x {volts.value:g} V x {throttle.value:g} %) = "
        f"{share.by_throttle:.2f}, at least {least:g}; by the root of the throttle {share.by_root:.2f}, at most "
        f"{most:g}; ± {100 * _K * share.u:.0f} % (95 %)"
    )
    wide = _K * share.u
    if share.by_root * (1 - wide) > most:
        words = f"{rpm.value:.0f} rpm are more than this motor can turn at {volts.value:g} V and {throttle.value:g} %"
    elif judged_low and share.by_throttle * (1 + wide) < least:
        words = f"{rpm.value:.0f} rpm are too few for this motor at {volts.value:g} V and {throttle.value:g} %"
    elif share.by_root * (1 + wide) <= most and (not judged_low or share.by_throttle * (1 - wide) >= least):
        return Clear(evidence)
    else:
        return Unproven(
            cause="uncertain",
            place=rpm.place,
            message="whether the motor can turn as fast as was read is too uncertain to tell",
            do="look whether kv is that of the motor; then repeat the rotor speeds and note throttle and volts",
            evidence=evidence,
            record="rotor_speeds",
        )
    return Finding(
        place=rpm.place,
        message=words,
        evidence=evidence,
        do="compare kv_rpm_per_v with the motor's label, throttle and volts with the log, and the number of magnets "
        "that the controller counts by; put right what is written wrong",
        related=(Related(kv.place, "the motor's kv"),),
        mind=DESK,
    )
