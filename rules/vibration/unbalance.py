"""Are the rotors in balance?"""

from preflint.api import (
    ADVISORY,
    CAUTION,
    NO_GO,
    PACK_UNPLUGGED,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    NotApplicable,
    Open,
    Outcome,
    Tolerance,
    Unproven,
    name,
    records,
    rule,
)
from preflint.api import rotor as rotors

from .grade import Grade, balances, grade, latest_balance

_BALANCE = records.KINDS["prop_balance"].take
_SOURCE = "ISO 21940-11 (balance quality grades), by analogy: which grade a multirotor needs no standard says"
_ORIGIN = "derived: a grade of ISO 21940-11, taken by analogy"


def _limit(name: str, grade: float) -> Tolerance:
    return Tolerance(name, "mm/s", grade, "lower", _ORIGIN, "balance grade G of a rotor in a hover")


SMOOTH, ROUGH, DANGEROUS = (_limit(f"balance_grade_{what}", by) for what, by in (
    ("aim", 16.0), ("caution", 40.0), ("most", 160.0),
))  # fmt: skip


@rule(
    "vibration/unbalance-most",
    each="rotor",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=_SOURCE,
    tolerances=(DANGEROUS,),
)
def unbalance_most(rotor: rotors.Rotor, on: Context) -> Outcome:
    """Is the rotor not so far out of balance that it shakes itself loose?

    A chipped or wrongly assembled prop pulls at its shaft once a turn with newtons. Nuts walk, arms crack, and the
    flight controller no longer knows which way is down.

    Reasoning: as unbalance; found above ``balance_grade_most``.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        every_rotor: {motor: {mass_g: 96, kv_rpm_per_v: 620}, prop: {mass_g: 19}}
        records:
          rotor_speeds: [{date: 2026-05-17, rpm: {front-left: 4800}}]
          prop_balance: [{date: 2026-05-10, at: front-left, residual_g_mm: 60}]

    Passes: the same with

        records:
          rotor_speeds: [{date: 2026-05-17, rpm: {front-left: 4800}}]
          prop_balance: [{date: 2026-05-10, at: front-left, residual_g_mm: 1}]

    Not checked: as unbalance.
    """
    return _of_rotor(rotor, on, DANGEROUS)


@rule(
    "vibration/unbalance",
    each="rotor",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=_SOURCE,
    tolerances=(ROUGH, DANGEROUS),
)
def unbalance(rotor: rotors.Rotor, on: Context) -> Outcome:
    """Is the rotor balanced well enough to fly?

    What is left out of balance shakes camera, sensors and nuts at the speed of the rotor.

    Reasoning: G = e·ω with e = U/m, as in ISO 21940-11. U is what the balancing left, in g mm, known to 20 %, and
    what the prop may shift on its seat: half the play of its hole times its mass (none with a ring). m is all that
    turns: prop, and bell (`motor.bell_mass_g`, else 0.45 to 0.75 of the motor). ω is that of a hover: as read in
    rotor_speeds, converted to the hover's throttle; else 0.2 to 0.85 of kv times the full pack's volts. Found if the
    least G that all this allows is above ``balance_grade_caution``, clear if the greatest is not, otherwise too
    uncertain to tell. G 6.3, as asked of fans, is met by hardly any prop on its seat, and is not asked.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        every_rotor: {motor: {mass_g: 96, kv_rpm_per_v: 620}, prop: {mass_g: 19}}
        records:
          rotor_speeds: [{date: 2026-05-17, rpm: {front-left: 4800}}]
          prop_balance: [{date: 2026-05-10, at: front-left, residual_g_mm: 12}]

    Passes: the same with

        records:
          rotor_speeds: [{date: 2026-05-17, rpm: {front-left: 4800}}]
          prop_balance: [{date: 2026-05-10, at: front-left, residual_g_mm: 1}]

    Not checked: what the friction of a static balancer hides (1 to 2 g mm with large props, from memory), blades of
    unlike angle, a bent shaft, and the unbalance of the bell by itself.
    """
    return _of_rotor(rotor, on, ROUGH, above=DANGEROUS, above_rule="vibration/unbalance-most")


@rule(
    "vibration/unbalance-aim",
    each="rotor",
    severity=ADVISORY,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source=_SOURCE,
    tolerances=(SMOOTH, ROUGH),
)
def unbalance_aim(rotor: rotors.Rotor, on: Context) -> Outcome:
    """Is the rotor balanced as well as it can be with a balancer and tape?

    A camera and the sensors work best on an aircraft that does not hum.

    Reasoning: as unbalance; found above ``balance_grade_aim``.

    Fails:

        packs: [{label: A1, chemistry: lipo, cells: 4}]
        every_rotor: {motor: {mass_g: 96, kv_rpm_per_v: 620}, prop: {mass_g: 19}}
        records:
          rotor_speeds: [{date: 2026-05-17, rpm: {front-left: 4800}}]
          prop_balance: [{date: 2026-05-10, at: front-left, residual_g_mm: 4}]

    Passes: the same with

        records:
          rotor_speeds: [{date: 2026-05-17, rpm: {front-left: 4800}}]
          prop_balance: [{date: 2026-05-10, at: front-left, residual_g_mm: 1}]

    Not checked: as unbalance.
    """
    return _of_rotor(rotor, on, SMOOTH, above=ROUGH, above_rule="vibration/unbalance")


def _of_rotor(
    rotor: rotors.Rotor, on: Context, limit: Tolerance, above: Tolerance | None = None, above_rule: str = ""
) -> Outcome:
    """By its own limit; what is, or may be, above the one ``above`` is said by that rule."""
    most, worse = on.limit(limit), None if above is None else on.limit(above)

    def judge(balance: records.PropBalance) -> Outcome:
        found = grade(on, rotor, balance)
        if worse is not None and found.high > worse and (found.low > worse or found.low <= most):
            return NotApplicable(f"said by {above_rule}")
        return _against(found, balance, most)

    try:
        if failed := on.failed("prop_balance", balances(on, rotor), judge, name(rotor)):
            return failed
        balance = latest_balance(on, rotor)
        if balance is None:
            return NotApplicable("not balanced, or no longer: vibration/balanced asks for it")
        return judge(balance)
    except Open:
        if above is None:
            raise
        return NotApplicable("what is missing is asked for by vibration/unbalance-most")


def _against(found: Grade, balance: records.PropBalance, most: float) -> Outcome:
    """What one balancing shows by itself."""
    evidence = f"G {found.value:.1f} mm/s ({found.low:.1f} to {found.high:.1f}), at most {most:g}; {found.in_words}"
    place, leave = balance.residual_g_mm.place, found.to_leave_g_mm(most)
    again = f"balance it to {leave:.1f} g mm or less"
    if leave < 0.05:
        again = "fit the ring that centres it; balance it again"
    if found.high <= most:
        return Clear(evidence)
    if found.low > most:
        return Finding(
            place=place,
            message=f"the rotor is out of balance: grade G {found.value:.0f}, more than {most:g}",
            evidence=f"{evidence}; it pulls at the shaft with {found.force_n:.1f} N",
            do=f"look at the prop for damage; {again}; replace it where tape does not do; write a prop_balance",
        )
    return Unproven(
        cause="uncertain",
        place=place,
        message=f"whether the rotor's balance, G {found.value:.0f}, is better than {most:g} is too uncertain to tell",
        do=f"weigh the bell and write motor.bell_mass_g; or {again} and write a prop_balance",
        evidence=evidence,
        record="prop_balance",
    )


@rule(
    "vibration/balanced",
    each="aircraft",
    severity=ADVISORY,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="common practice, no source",
)
def balanced(aircraft: Aircraft, on: Context) -> Outcome:
    """Every prop was balanced since it was last worked on.

    It finds nothing by itself: a prop that nobody balanced is unproven, asked for once for the aircraft. What the
    balancing left is judged rotor by rotor, by unbalance.

    Fails:

        records:
          prop_balance: []

    Passes:

        records:
          prop_balance:
            - {date: 2026-05-10, at: front-left, residual_g_mm: 0.8}
            - {date: 2026-05-10, at: front-right, residual_g_mm: 0.6}
            - {date: 2026-05-10, at: rear-left, residual_g_mm: 0.9}
            - {date: 2026-05-10, at: rear-right, residual_g_mm: 0.7}

    Not checked: how it was balanced.
    """
    missing = [name(rotor) for rotor in aircraft.rotors if latest_balance(on, rotor) is None]
    if not missing:
        return Clear("every prop was balanced since it was last worked on")
    whose = "the props" if len(missing) == len(aircraft.rotors) else ", ".join(missing)
    return Unproven(
        place=aircraft.records.place,
        message=f"no prop balance that still counts is recorded of {whose}",
        do=f"{_BALANCE}; write what is left in a prop_balance",
        record="prop_balance",
    )
