"""What all rotors lift together, fresh and with the pack nearly flown, in the air of the site."""

from __future__ import annotations

import math

from preflint.api import (
    DESK,
    Absent,
    Aircraft,
    Context,
    Known,
    Open,
    Place,
    Table,
    Tolerance,
    Unproven,
    level_of,
    name,
    need,
    records,
    rotor,
)
from preflint.arrays import np
from preflint.compute.atmosphere import SEA_LEVEL_KG_M3
from preflint.compute.decision import Decision, t_factor, u_rectangular
from preflint.compute.induced_power import COAXIAL_COPLANAR, COAXIAL_SEPARATED
from preflint.compute.least_squares import Array
from preflint.compute.lift import VOLTAGE_POWER, thrust_at_voltage, thrust_in_shared_air
from preflint.frozen import dataclass

from ..power.draw import CELL_WINDOW_V
from ..power.lift import MASS_WITHIN, Uncertain, air_density, interference

THRUST_TABLE = Tolerance(
    "thrust_table_percent",
    "%",
    10.0,
    "higher",
    "common practice, no source",
    "how far the greatest thrust of a table may be out (95 %): still air, cold motors, a fresh pack",
)
LOWEST_CELL = Tolerance(
    "lowest_cell_mv",
    "mV",
    3500.0,
    "lower",
    "common practice, no source",
    "to which voltage a lipo cell is flown, under load; a li-ion one to 200 mV less, one of life to 500 mV less",
)
THRUST = (THRUST_TABLE, LOWEST_CELL)  # what the ratio of thrust to weight reads
_LOWER_MV = {"lipo": 0.0, "lipo-hv": 0.0, "li-ion": 200.0, "life": 500.0}

# Of air nobody wrote anything of: from 1500 m at 40 °C to sea level at -20 °C.
_ANY_AIR = Uncertain(1.167, u_rectangular(0.227))
_AS_MEASURED = Uncertain(1.0, u_rectangular(0.05))  # air of another day, for thrust measured on a stand
_READ = "read the greatest thrust in the motor's table, of your prop and cell count; write max_thrust_g"
_FULL_THROTTLE = 95.0  # per cent of throttle from which a stand shows the greatest thrust


@dataclass(frozen=True, slots=True, eq=False)
class Lift:
    """What the rotors lift. ``each_g``: (rotors,), in the site's air at the lowest voltage; ``rotors`` in that order.

    ``full`` and ``lowest``: all thrust over the weight, fresh and at the lowest voltage. ``cell_v``: that voltage.
    ``at_least``: the stand did not reach full throttle, so that there is more. ``asks``: the line that would narrow
    what is uncertain, if any.
    """

    mass: Known[float]
    place: Place
    each_g: Array
    full: Uncertain
    lowest: Uncertain
    cell_v: str
    at_least: bool
    asks: str | None
    evidence: str


@dataclass(frozen=True, slots=True)
class _Greatest:
    """Of one rotor, in g: at which share of the full voltage (1 for a table), and in which air."""

    thrust_g: float
    place: Place
    whole: bool
    by_stand: bool
    cell_v: float | None


def reaches(ratio: Uncertain, least: float) -> Decision:
    """Whether a value is at least so much: *clear*, *found* (beyond its uncertainty less), or *uncertain*."""
    expanded = t_factor(math.inf) * ratio.u
    if ratio.value + expanded < least:
        return "found"
    return "clear" if ratio.value - expanded >= least else "uncertain"


def thrust_to_weight(on: Context) -> Lift:
    """Ends the rule as unproven where the take-off mass or the greatest thrust of a rotor is not recorded."""
    return on.once(_thrust_to_weight, on)


def _thrust_to_weight(on: Context) -> Lift:
    aircraft = on.aircraft
    mass = need(_weighed(aircraft))
    greatest = [_greatest(on, one) for one in aircraft.rotors]
    by_stand = all(one.by_stand for one in greatest)
    air, asks = _air(aircraft)
    lean = _AS_MEASURED if by_stand else Uncertain(air.value / SEA_LEVEL_KG_M3, air.u / SEA_LEVEL_KG_M3)
    shared = _shared(on)
    full_v, low_v, told = _lowest(on)
    if not told:
        asks = "write the chemistry of every pack"
    shares = [min(1.0, low_v / (one.cell_v or full_v)) for one in greatest]
    drops = np.array([[thrust_at_voltage(share, power) for power in VOLTAGE_POWER] for share in shares])
    table_g = np.array([one.thrust_g for one in greatest])
    factor = lean.times(shared).times(Uncertain(1.0, on.limit(THRUST_TABLE) / 100 / t_factor(math.inf)))
    each_g = table_g * drops.mean(axis=1) * factor.value
    full = Uncertain(float(table_g.sum()) / mass.value, 0.0).times(factor).times(Uncertain(1.0, _u_of_mass()))
    drop = float(each_g.sum() / (table_g.sum() * factor.value))
    between = float(table_g @ (drops[:, 0] - drops[:, 1])) / 2 / float(table_g.sum())
    lowest = full.times(Uncertain(drop, u_rectangular(between)))
    cells = [pack.cells.value for pack in aircraft.packs if isinstance(pack.cells, Known)]
    apart = f", taken as with {min(cells)} cells" if cells and min(cells) < max(cells) and not by_stand else ""
    parts = [f"greatest thrust {table_g.sum():.0f} g {'on a stand' if by_stand else 'by table'}{apart}"]
    if not by_stand:
        parts.append(f"× {lean.value:.2f} for air of {air.value:.3f} kg/m³")
    if shared.value < 0.995:
        parts.append(f"× {shared.value:.2f} for rotors in each other's air")
    parts.append(f"× {drop:.2f} at {low_v:.2f} of {full_v:.2f} V a cell")
    expanded = t_factor(math.inf) * lowest.u
    words = f"{', '.join(parts)}; over {mass.value:g} g that is {lowest.value:.2f} ± {expanded:.2f}"
    return Lift(
        mass=mass,
        place=greatest[0].place,
        each_g=each_g,
        full=full,
        lowest=lowest,
        cell_v=f"{low_v:.2f} V a cell",
        at_least=not all(one.whole for one in greatest),
        asks=asks,
        evidence=f"{words} (95 %)",
    )


def _weighed(aircraft: Aircraft) -> Known[float] | Absent:
    """The take-off mass. Ends the rule as unproven where nothing of the thrust is recorded either: one job, not two."""
    mass, shown = aircraft.about.takeoff_mass_g, bool(aircraft.records.thrust_stand)
    shown = shown or any(isinstance(one.motor.max_thrust_g, Known) for one in aircraft.rotors)
    if isinstance(mass, Absent) and not shown:
        raise Open(
            Unproven(
                place=mass.place,
                message="neither take-off mass nor greatest thrust is recorded",
                do=f"{mass.do}; {_READ}",
                mind=mass.mind,
            )
        )
    return mass


def _u_of_mass() -> float:
    return u_rectangular(MASS_WITHIN)


def _greatest(on: Context, one: rotor.Rotor) -> _Greatest:
    """By the motor's own figure, else by the latest stand that still speaks, of this rotor before any other."""
    told = one.motor.max_thrust_g
    if isinstance(told, Known):
        return _Greatest(told.value, told.place, True, False, None)
    stands = [s for s in on.so_far(on.aircraft.records.thrust_stand) if on.speaks("thrust_stand", s)]
    for stand in [s for s in reversed(stands) if _at(s) == name(one)] or stands[::-1]:
        if isinstance(stand.table, Known) and (found := _of_stand(on, stand, stand.table.value)):
            return found
    assert isinstance(told, Absent)
    raise Open(
        Unproven(
            place=told.place,
            message=f"the greatest thrust of {name(one)} is not recorded",
            do=_READ,
            mind=DESK,
        )
    )


def _at(stand: records.ThrustStand) -> str | None:
    return stand.at.value if isinstance(stand.at, Known) else None


def _of_stand(on: Context, stand: records.ThrustStand, table: Table) -> _Greatest | None:
    """The most that it showed, at the voltage of a cell that it had then; of the pack with the fewest cells."""
    thrust = table.column("thrust_g")
    row = int(thrust.argmax())
    packs = on.aircraft.packs
    if not packs or thrust[row] <= 0:
        return None
    throttle = table.column("throttle_percent")[row] if "throttle_percent" in table.columns else 0.0
    # Over the cells of the pack that has fewest: with that one the motors turn slowest.
    cell_v = float(table.column("voltage_v")[row]) / min(need(pack.cells).value for pack in packs)
    return _Greatest(float(thrust[row]), stand.place, throttle >= _FULL_THROTTLE, True, cell_v)


def _air(aircraft: Aircraft) -> tuple[Uncertain, str | None]:
    """At the site, and what is to be written where nothing tells it."""
    try:
        air = air_density(aircraft.site)
    except Open:
        return _ANY_AIR, "write the site's elevation_m and temperature_c"
    unsaid = isinstance(aircraft.site.temperature_c, Absent)
    return air, "write the site's temperature_c" if unsaid else None


def _shared(on: Context) -> Uncertain:
    """What is left of the thrust of rotors that share air; where no prop's diameter is recorded only pairs count."""
    aircraft = on.aircraft
    if all(isinstance(one.prop.diameter_in, Known) for one in aircraft.rotors):
        power = on.once(interference, aircraft)
    else:
        pairs = sum(level_of(name(one)) is not None for one in aircraft.rotors) / len(aircraft.rotors)
        doubt = u_rectangular((COAXIAL_COPLANAR - COAXIAL_SEPARATED) * pairs)
        power = Uncertain(1 + (COAXIAL_SEPARATED - 1) * pairs, doubt)
    left = thrust_in_shared_air(power.value)
    return Uncertain(left, left * 2 / 3 * power.u / power.value)


def _lowest(on: Context) -> tuple[float, float, bool]:
    """Full and lowest voltage of a cell of the pack that falls furthest, and whether every chemistry is recorded."""
    packs = on.aircraft.packs
    told = {need(pack.chemistry).value for pack in packs if isinstance(pack.chemistry, Known)}
    known = bool(packs) and all(isinstance(pack.chemistry, Known) for pack in packs)

    def fall(chemistry: str) -> tuple[float, float]:
        return CELL_WINDOW_V[chemistry][1], (on.limit(LOWEST_CELL) - _LOWER_MV[chemistry]) / 1000

    full, low = min((fall(one) for one in (told if known else _LOWER_MV)), key=lambda pair: pair[1] / pair[0])
    return full, low, known
