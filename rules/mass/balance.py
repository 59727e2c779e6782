"""Where the weight acts, by what scales showed under the aircraft."""

from __future__ import annotations

import math

from preflint.api import Aircraft, Context, Open, Tolerance, Unproven, need, records
from preflint.arrays import np
from preflint.compute.decision import u_rectangular
from preflint.compute.least_squares import Array
from preflint.compute.lift import centre_of_mass, u_of_centre
from preflint.frozen import dataclass

from ..shared.places import places_mm

SUPPORT = Tolerance(
    "support_mm",
    "mm",
    2.0,
    "higher",
    "common practice, no source",
    "how well the place of a support on its scales is measured: a half-width",
)
SCALES = Tolerance(
    "scales_percent",
    "%",
    1.0,
    "higher",
    "common practice, no source",
    "how far kitchen scales may be out, and one step of their last digit: a half-width",
)
BALANCED = (SUPPORT, SCALES)  # what a balance point reads
HOW = records.KINDS["balance_point"].take


@dataclass(frozen=True, slots=True, eq=False)
class Balance:
    """``centre`` and ``u``: (2,), forward and right of the centre of the rotors, in mm. ``mass_g`` is the sum."""

    record: records.BalancePoint
    centre: Array
    u: Array
    mass_g: float
    evidence: str


def balance(on: Context) -> Balance:
    """By the latest record that speaks. Ends the rule as unproven where there is none, or it tells nothing."""
    return on.once(_balance, on)


def _balance(on: Context) -> Balance:
    record = on.freshest("balance_point", on.aircraft.records.balance_point, HOW)
    return on.once(balance_of, on, record)


def balance_of(on: Context, record: records.BalancePoint) -> Balance:
    """As one record tells it. Ends the rule as unproven where it has less than two supports, or one without load."""
    table = need(record.table).value
    masses = table.column("mass_g")
    sideways = "right_mm" in table.columns
    right = table.column("right_mm") if sideways else np.zeros(len(masses))
    at = np.column_stack([table.column("forward_mm"), right])
    if len(masses) < 2 or not np.all(masses > 0):
        raise Open(
            Unproven(
                place=record.place,
                message="the balance point has less than two supports that carry something",
                do=HOW,
                record="balance_point",
            )
        )
    errs = np.hypot(on.limit(SCALES) / 100 * masses, table.last_digit("mass_g"))
    centre = centre_of_mass(at, masses)
    u = u_of_centre(at, masses, u_rectangular(on.limit(SUPPORT)), errs / math.sqrt(3))
    if not sideways:
        u = np.array([u[0], 0.0])
    evidence = (
        f"balance point of {record.date.value}: {off(centre)} of the centre of the rotors"
        + ("" if sideways else ", taken as centred from left to right")
        + f", {masses.sum():.0f} g in all"
    )
    return Balance(record, centre, u, float(masses.sum()), evidence)


def off(centre: Array) -> str:
    """How far it is off the centre, in words: "19 mm forward and 3 mm left"; "within 1 mm"."""
    forward, right = centre
    ways = (forward, "forward" if forward > 0 else "back"), (right, "right" if right > 0 else "left")
    return " and ".join(f"{abs(by):.0f} mm {way}" for by, way in ways if abs(by) >= 0.5) or "within 1 mm"


def flat_places_mm(aircraft: Aircraft) -> Array:
    """Forward and right of every rotor in mm, (rotors, 2). Ends the rule as unproven where the arm is not recorded."""
    return np.array([place[:2] for place in places_mm(aircraft).values()])
