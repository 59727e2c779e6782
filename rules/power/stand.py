"""What the rotors take together at a lift, by a thrust stand on which one of them was measured."""

from __future__ import annotations

import math

from preflint.api import (
    THRUST_STAND,
    Context,
    Known,
    Open,
    Unproven,
    need,
    records,
)
from preflint.arrays import np

from .lift import Uncertain, interference, lift_shares

HOW = "measure thrust, current and voltage of one motor with its prop on a stand, on both sides of the hover thrust"


def stand_power_w(on: Context, stand: records.ThrustStand, lifted_g: float) -> Uncertain:
    """Electrical power of all rotors; its uncertainty is that of the share of air alone.

    Each lifts its share by disc area; between the readings on both sides the power goes by a power law; rotors
    that share air take more. Where a prop's diameter is not recorded all are taken as alike and apart.
    Ends the rule as unproven where the stand does not reach that lift.
    """
    aircraft = on.aircraft
    table = need(stand.table).value
    thrust, watts = table.column("thrust_g"), table.column("current_a") * table.column("voltage_v")
    loaded = (thrust > 0) & (watts > 0)
    order = np.argsort(thrust[loaded], kind="stable")
    thrust, watts = thrust[loaded][order], watts[loaded][order]
    sized = all(isinstance(one.prop.diameter_in, Known) for one in aircraft.rotors)
    shares = lift_shares(aircraft) if sized else [1 / len(aircraft.rotors)] * len(aircraft.rotors)
    total = 0.0
    for share in shares:
        each_g = share * lifted_g
        if thrust.size == 0 or not thrust[0] <= each_g <= thrust[-1]:
            reach = f"from {thrust[0]:.0f} to {thrust[-1]:.0f} g" if thrust.size else "over no thrust at all"
            message = f"the thrust stand goes {reach}, but at hover a rotor lifts {each_g:.0f} g"
            raise Open(Unproven(place=stand.place, message=message, do=HOW, mind=THRUST_STAND))
        total += math.exp(float(np.interp(math.log(each_g), np.log(thrust), np.log(watts))))
    alone = Uncertain(total, 0.0)
    return alone.times(on.once(interference, aircraft)) if sized else alone
