"""How fast each rotor turns: as it was read, or between what its motor and pack allow."""

import math
from collections.abc import Iterator

from preflint.api import (
    ANY_LOADED_RUN,
    Absent,
    Context,
    Figure,
    Known,
    Open,
    Unproven,
    figure,
    name,
    records,
)
from preflint.api import rotor as rotors
from preflint.compute.unbalance import centrifugal_force_n, tip_speed_m_s
from preflint.frozen import dataclass

from ..power.draw import pack_window_v

READ_WITHIN = 0.02  # of a speed read with a tachometer or counted by a controller; common practice, no source
CONVERTED_WITHIN = 0.1  # of a speed converted to the throttle of a hover; common practice, no source
# Between which shares of kv times the full pack's volts a motor turns in a hover: common practice, no source. Open
# and loaded it turns at some three quarters of that, and by √2 slower for half the thrust.
HOVERS_BETWEEN = (0.2, 0.85)
HOW = "read the speed of every rotor at the throttle of a hover, by a tachometer or the controllers' own count"
# Of a blade, common practice, no source: what the hub keeps of the prop's mass, and where the rest has its centre.
_BLADES_SHARE, _BLADES_WITHIN = 0.8, 0.15
_CENTRE_SHARE, _CENTRE_WITHIN = 0.38, 0.05


@dataclass(frozen=True, slots=True)
class Speed:
    """Speed of a rotor in a hover, in rpm, with bounds that hold it (95 % where it was read), and in words."""

    rpm: float
    low: float
    high: float
    in_words: str

    @property
    def u(self) -> float:
        """As of anything that lies between two bounds."""
        return (self.high - self.low) / math.sqrt(12)


def read_at(on: Context, at: str) -> records.RotorSpeeds | None:
    """The latest reading of this rotor's speed that still speaks."""
    kept = on.so_far(one for one in on.aircraft.records.rotor_speeds if at in one.rpm and one.rpm[at].value > 0)
    return next((one for one in reversed(kept) if on.speaks("rotor_speeds", one, at)), None)


def hover_speed(on: Context, rotor: rotors.Rotor) -> Speed:
    """As read, converted to the throttle of the last hover; else what motor and pack allow.

    Ends the rule as unproven where neither is known.
    """
    return on.once(_hover_speed, on, rotor)


def _hover_speed(on: Context, rotor: rotors.Rotor) -> Speed:
    at = name(rotor)
    if read := read_at(on, at):
        return _as_read(on, read, read.rpm[at].value)
    kv = rotor.motor.kv_rpm_per_v
    if isinstance(kv, Absent) or not on.aircraft.packs:
        raise Open(
            Unproven(
                place=on.aircraft.records.place,
                message="how fast the rotors turn is not known: no speed is read, or kv and pack not recorded",
                do=f"write motor.kv_rpm_per_v and the pack; or {HOW}",
                record="rotor_speeds",
                mind=ANY_LOADED_RUN,
            )
        )
    full = max(pack_window_v(pack)[1] for pack in on.aircraft.packs)
    low, high = (share * kv.value * full for share in HOVERS_BETWEEN)
    return Speed((low + high) / 2, low, high, f"{low:.0f} to {high:.0f} rpm, by kv and the full pack")


def _as_read(on: Context, read: records.RotorSpeeds, rpm: float) -> Speed:
    """Speed goes with the throttle, nearly, over the little way from a reading to a hover."""
    hover, then = on.latest(on.aircraft.records.hover), read.throttle_percent
    within, words = READ_WITHIN, f"{rpm:.0f} rpm read on {read.date.value.date}"
    if hover and isinstance(hover.throttle_percent, Known) and isinstance(then, Known):
        of_hover = hover.throttle_percent.value
        if then.value > 0 and of_hover > 0 and abs(of_hover - then.value) > 1:
            rpm, within = rpm * of_hover / then.value, CONVERTED_WITHIN
            words = f"{rpm:.0f} rpm in a hover, converted from {words} at {then.value:g} % throttle"
    return Speed(rpm, rpm * (1 - within), rpm * (1 + within), words)


@figure("rotor-speeds")
def speed_figures(on: Context) -> Iterator[Figure]:
    """Speed in a hover, of the tips, and the pull on each blade's root; speed over kv, volts and throttle as read."""
    for rotor in on.aircraft.rotors:
        try:
            speed = hover_speed(on, rotor)
        except Open:
            continue
        at, prop, place = name(rotor), rotor.prop, rotor.prop.place
        yield Figure("hover_speed_rpm", None, speed.rpm, speed.u, "rpm", at, place)
        if isinstance(prop.diameter_in, Known):
            inches = prop.diameter_in.value
            tip = tip_speed_m_s(inches, speed.rpm)
            yield Figure("tip_speed_m_s", "hover", tip, tip_speed_m_s(inches, speed.u), "m/s", at, place)
            if isinstance(prop.mass_g, Known) and isinstance(prop.blades, Known):
                blade = _BLADES_SHARE * prop.mass_g.value / prop.blades.value
                pull = centrifugal_force_n(blade, _CENTRE_SHARE * inches * 12.7, speed.rpm)
                parts = (_BLADES_WITHIN / _BLADES_SHARE, _CENTRE_WITHIN / _CENTRE_SHARE)
                of_all = math.hypot(*(part / math.sqrt(3) for part in parts), 2 * speed.u / speed.rpm)
                yield Figure("blade_root_pull_n", "hover", pull, pull * of_all, "N", at, place)
        read = read_at(on, at)
        if read and (share := share_of_motor(rotor, read, at)):
            u, read_here = share.by_throttle * share.u, read.rpm[at].place
            yield Figure("speed_share", None, share.by_throttle, u, "1", at, read_here)


@dataclass(frozen=True, slots=True)
class Share:
    """Speed read over what motor, volts and throttle give without load; ``u`` is relative.

    ``by_throttle``: the motor's volts go with the throttle; ``by_root``: with its root, as where the flight controller
    makes thrust go with the throttle.
    """

    by_throttle: float
    by_root: float
    u: float


def share_of_motor(rotor: rotors.Rotor, read: records.RotorSpeeds, at: str) -> Share | None:
    """None where kv, volts or throttle are not recorded, or the throttle is closed."""
    parts = (rotor.motor.kv_rpm_per_v, read.voltage_v, read.throttle_percent)
    kv, volts, throttle = (part.value if isinstance(part, Known) else 0.0 for part in parts)
    if not kv or not volts or not throttle:
        return None
    whole = read.rpm[at].value / (kv * volts)
    # Makers round kv, and wind a motor within some per cent of it; volts sag while somebody reads.
    u = math.hypot(0.1, 0.02, READ_WITHIN) / math.sqrt(3)
    return Share(whole / (throttle / 100), whole / math.sqrt(throttle / 100), u)
