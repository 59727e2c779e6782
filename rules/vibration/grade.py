"""The balance grade of a rotor: from what was left at the balancing, what turns, and how fast."""

from collections.abc import Iterator

from preflint.api import (
    PACK_UNPLUGGED,
    Absent,
    Context,
    Figure,
    Known,
    Open,
    Unproven,
    figure,
    name,
    need,
    records,
)
from preflint.api import rotor as rotors
from preflint.compute.unbalance import balance_grade_mm_s, centrifugal_force_n, permissible_unbalance_g_mm
from preflint.frozen import dataclass

from ..rotors.speeds import hover_speed

# Common practice, no source: what turns of a motor's mass, between bounds; how well tape and place tell what is left.
_BELL_SHARE, _BELL_BETWEEN = 0.6, (0.45, 0.75)
_WEIGHED_WITHIN, _TAPE_WITHIN = 0.02, 0.2


@dataclass(frozen=True, slots=True)
class Grade:
    """G of one rotor in a hover, in mm/s, with bounds; ``force_n`` is what pulls at the shaft.

    ``lightest_g`` and ``fastest_rpm`` make the greatest G of what is left, and ``shift_g_mm`` by the prop's play.
    """

    value: float
    low: float
    high: float
    force_n: float
    in_words: str
    lightest_g: float
    fastest_rpm: float
    shift_g_mm: float

    def to_leave_g_mm(self, grade_mm_s: float) -> float:
        """What a balancing may leave so that the grade is surely met; zero where the play alone is too much."""
        most = permissible_unbalance_g_mm(grade_mm_s, self.lightest_g, self.fastest_rpm)
        return max(0.0, (most - self.shift_g_mm) / (1 + _TAPE_WITHIN))


def grade(on: Context, rotor: rotors.Rotor, balance: records.PropBalance) -> Grade:
    """Ends the rule as unproven where a mass or the speed is not known."""
    return on.once(_grade, on, rotor, balance)


def _grade(on: Context, rotor: rotors.Rotor, balance: records.PropBalance) -> Grade:
    left, speed = need(balance.residual_g_mm).value, hover_speed(on, rotor)
    mass, lightest, heaviest, of_bell = _turning_g(rotor)
    slack = _slack_mm(rotor) / 2 * need(rotor.prop.mass_g).value
    most, least = left * (1 + _TAPE_WITHIN) + slack, max(0.0, left * (1 - _TAPE_WITHIN) - slack)
    shifts = f" and up to {slack:.2f} g mm by the play of its hole" if slack > 0 else ""
    return Grade(
        balance_grade_mm_s(left, mass, speed.rpm),
        balance_grade_mm_s(least, heaviest, speed.low),
        balance_grade_mm_s(most, lightest, speed.high),
        centrifugal_force_n(left, 1.0, speed.rpm),
        f"{left:g} g mm left{shifts}, {mass:.0f} g turning ({of_bell}), {speed.in_words}",
        lightest,
        speed.high,
        slack,
    )


def _turning_g(rotor: rotors.Rotor) -> tuple[float, float, float, str]:
    """Prop and bell: mass, its bounds, in words. Nut and adapter weigh little beside them; they are in the bounds."""
    prop, bell = need(rotor.prop.mass_g).value, rotor.motor.bell_mass_g
    if isinstance(bell, Known):
        whole = prop + bell.value
        return whole, whole * (1 - _WEIGHED_WITHIN), whole * (1 + 5 * _WEIGHED_WITHIN), "prop and bell"
    if isinstance(rotor.motor.mass_g, Absent):
        raise Open(
            Unproven(
                place=rotor.motor.place,
                message=f"the mass of the bell at {name(rotor)} is not recorded, nor that of the motor",
                do="write motor.mass_g; or weigh the bell and write motor.bell_mass_g",
                mind=PACK_UNPLUGGED,
            )
        )
    motor = rotor.motor.mass_g.value
    lightest, heaviest = (prop + share * motor for share in _BELL_BETWEEN)
    return prop + _BELL_SHARE * motor, lightest, heaviest, f"prop and {_BELL_SHARE:g} of the motor"


def _slack_mm(rotor: rotors.Rotor) -> float:
    """By how much the hole is wider than its seat; none where a ring fills it, or nobody measured."""
    ring, bore, seat = rotor.fixing.centring_ring, rotor.prop.bore_mm, rotor.fixing.seat_mm
    if (isinstance(ring, Known) and ring.value == "fitted") or isinstance(bore, Absent) or isinstance(seat, Absent):
        return 0.0
    return max(0.0, bore.value - seat.value)


def balances(on: Context, rotor: rotors.Rotor) -> list[records.PropBalance]:
    """Those of this rotor."""
    return [one for one in on.aircraft.records.prop_balance if one.at.value == name(rotor)]


def latest_balance(on: Context, rotor: rotors.Rotor) -> records.PropBalance | None:
    """The latest that still speaks."""
    latest = on.latest(balances(on, rotor))
    return latest if latest and on.speaks("prop_balance", latest, name(rotor)) else None


@figure("unbalance")
def unbalance_figures(on: Context) -> Iterator[Figure]:
    """Balance grade in a hover, and the force that goes round with the shaft. u as of what lies between two bounds."""
    for rotor in on.aircraft.rotors:
        balance = latest_balance(on, rotor)
        if balance is None:
            continue
        try:
            found = grade(on, rotor, balance)
        except Open:
            continue
        u, at = (found.high - found.low) / 12**0.5, name(rotor)
        yield Figure("balance_grade_mm_s", "hover", found.value, u, "mm/s", at, balance.place)
        relative = u / found.value if found.value > 0 else None
        u_force = None if relative is None else found.force_n * relative
        yield Figure("unbalance_force_n", "hover", found.force_n, u_force, "N", at, balance.place)
