"""How the rotors share the weight where it acts: what the hardest worked one gives of its greatest thrust."""

from __future__ import annotations

import math

from preflint.api import Aircraft, Context, Known, name
from preflint.arrays import np
from preflint.compute.decision import Decision, decide, t_factor
from preflint.compute.handedness import yaw_reaction_sign
from preflint.compute.least_squares import Array
from preflint.compute.lift import thrust_and_moments, weight_at
from preflint.compute.zonotope import even_shares, least_greatest_share
from preflint.frozen import dataclass

from ..power.lift import Uncertain
from .balance import Balance, balance, flat_places_mm
from .thrust import Lift, thrust_to_weight

# Steps round the centre of mass by which its doubt is tried: in eight directions.
_ROUND = [(math.cos(math.pi / 4 * i), math.sin(math.pi / 4 * i)) for i in range(8)]


@dataclass(frozen=True, slots=True, eq=False)
class Trim:
    """What the hardest worked rotor gives.

    ``share``: of its greatest thrust at the lowest voltage, the load shared as well as can be; infinite where the
    rotors cannot hold the weight level there at all, and with an infinite uncertainty where that is in doubt.
    ``centred``: the same with the weight at the centre of the rotors. ``hardest``: the rotors that give most.
    """

    balance: Balance
    lift: Lift
    share: Uncertain
    centred: float
    hardest: tuple[str, ...]
    evidence: str

    def also_centred(self, limit: float) -> bool:
        """Whether what thrust and weight are not known by leaves as much open with the weight in the centre."""
        u = self.centred * self.lift.lowest.u / self.lift.lowest.value
        return decide(self.centred, u, math.inf, limit) == "uncertain"


def rotors_give(aircraft: Aircraft, each: Array, places: Array) -> tuple[Array, bool]:
    """Thrust, moments and torque of each rotor at ``each``, and whether torque is among them.

    It is left out where a spin is not recorded, or where spin alone does not balance torque at all, as of three rotors.
    """
    yaw = yaw_arms(aircraft)
    if yaw is not None:
        gives = thrust_and_moments(places, each, yaw)
        if math.isfinite(least_greatest_share(gives, weight_at((0.0, 0.0), 1.0, True))):
            return gives, True
    return thrust_and_moments(places, each, None), False


def yaw_arms(aircraft: Aircraft) -> Array | None:
    """Torque over thrust of each rotor with its sign, as diameters go; None where a spin is not recorded."""
    signs = [yaw_reaction_sign(one.spin.value) for one in aircraft.rotors if isinstance(one.spin, Known)]
    if len(signs) < len(aircraft.rotors):
        return None
    sized = [one.prop.diameter_in.value for one in aircraft.rotors if isinstance(one.prop.diameter_in, Known)]
    arms = np.array(sized) / max(sized) if len(sized) == len(signs) else np.ones(len(signs))
    return np.array(signs) * arms


def trim(on: Context) -> Trim:
    """Ends the rule as unproven where balance point, take-off mass, a thrust or the arm is not recorded."""
    return on.once(_trim, on)


def _trim(on: Context) -> Trim:
    aircraft = on.aircraft
    held, lift = balance(on), thrust_to_weight(on)
    places = flat_places_mm(aircraft)
    gives, yaw = rotors_give(aircraft, lift.each_g, places)
    mass = lift.mass.value

    expanded = t_factor(math.inf)
    centres = [held.centre, np.zeros(2), *(held.centre + expanded * held.u * step for step in _ROUND)]
    loads = [weight_at(centre, mass, yaw) for centre in centres]
    value, centred, *around = least_greatest_share(gives, loads).tolist()
    if math.isinf(value):
        u = 0.0 if all(math.isinf(one) for one in around) else math.inf
    else:
        by_place = max(abs(one - value) for one in around) / expanded
        u = math.hypot(by_place, value * lift.lowest.u / lift.lowest.value)
    shares = even_shares(gives, loads[0])
    hardest = () if shares is None else _most(aircraft, shares)
    told = "more than any rotor has"
    if math.isfinite(value):
        told = f"{100 * value:.0f} ± {100 * expanded * u:.0f} % (95 %)"
    evidence = (
        f"{held.evidence}; at {lift.cell_v} the hardest worked rotor gives {told} of its greatest thrust"
        + ("" if yaw else ", torque left out")
        + f"; {lift.evidence}"
    )
    return Trim(held, lift, Uncertain(value, u), centred, hardest, evidence)


def decide_share(share: Uncertain, limit: float) -> Decision:
    """As ``decide``; a share that is infinite is beyond any limit, unless it is in doubt."""
    if math.isinf(share.value):
        return "uncertain" if share.u else "found"
    return "uncertain" if math.isinf(share.u) else decide(share.value, share.u, math.inf, limit)


def _most(aircraft: Aircraft, shares: Array) -> tuple[str, ...]:
    top = float(shares.max())
    return tuple(name(one) for one, share in zip(aircraft.rotors, shares, strict=True) if share > 0.99 * top)


def towards(centre: Array) -> str:
    """Where the load is to go, in words, so that the centre of mass comes nearer to the centre of the rotors."""
    forward, right = centre
    words = []
    if abs(forward) >= abs(right) / 3:
        words.append("back" if forward > 0 else "forward")
    if abs(right) >= abs(forward) / 3:
        words.append("left" if right > 0 else "right")
    return " and ".join(words)
