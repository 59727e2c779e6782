"""Throttle, current and volts that the first hover is expected to show, and when to land."""

import math
from collections.abc import Iterator
from contextlib import suppress

from preflint.api import Context, Figure, Known, Open, figure, fitted, need
from preflint.compute.atmosphere import SEA_LEVEL_KG_M3
from preflint.compute.decision import u_rectangular
from preflint.compute.hover_throttle import alone_g, by_power_law, by_readings, by_square_law

from ..power.draw import pack_window_v
from ..power.hover_bounds import hover_bounds_a
from ..power.lift import Uncertain, air_density, interference, lift_shares
from ..power.sag.fit import latest_sag

# Half-widths, relative where no unit is named. Common practice, no source.
_STAND_WITHIN = 0.10  # a throttle read on a stand: another voltage, other air
_TABLE_WITHIN = 0.15  # a greatest thrust read in a maker's table
_CURRENT_WITHIN = 0.10  # a current of another day and pack
_FULL_WITHIN_V = 0.03  # V a cell: how full a full pack is, and what the minutes of the hover take of it
# Thrust goes with the throttle to a power between these: some controllers make it nearly even. Measured of one
# propeller over its speed: 2.23. Common practice, no source.
_LEAST_POWER, _MOST_POWER = 1.6, 2.4
# V a cell under hover at which the first hover ends. Common practice, no source.
_LAND_AT_CELL_V = {"lipo": 3.6, "lipo-hv": 3.6, "li-ion": 3.2, "life": 3.0}


@figure("predicted-hover-throttle")
def throttle_figures(on: Context) -> Iterator[Figure]:
    """Mean throttle of a hover at the take-off mass: by the thrust stand, else by the greatest thrust.

    The stand tells it between its readings, by the square root of thrust (10 % half-width); the greatest thrust by
    the square-root law (15 % half-width of the thrust, and any power of the throttle from 1.6 to 2.4), at the air's
    density where the site tells it. Rotors that share air need more. None where the rotors cannot lift so much.
    """
    aircraft = on.aircraft
    mass = need(aircraft.about.takeoff_mass_g)
    shared = on.once(interference, aircraft)
    each = [alone_g(share * mass.value, shared.value) for share in lift_shares(aircraft)]
    expected = _by_stand(on, each)
    if expected is None:
        expected = _by_greatest(on, each)
    if expected is not None:
        u = math.hypot(expected.u, expected.value * shared.u / shared.value / 3)
        yield Figure("predicted_hover_throttle_percent", None, expected.value, u, "%", None, mass.place)


def _by_stand(on: Context, each_g: list[float]) -> Uncertain | None:
    """Mean over the rotors; None where no stand that speaks notes throttles on both sides of what they lift."""
    stands = [one for one in on.so_far(on.aircraft.records.thrust_stand) if on.speaks("thrust_stand", one)]
    for stand in reversed(stands):
        if isinstance(stand.table, Known) and "throttle_percent" in stand.table.value.columns:
            table = stand.table.value
            with suppress(ValueError):
                read = [by_readings(g, table.column("throttle_percent"), table.column("thrust_g")) for g in each_g]
                return _mean(read, u_rectangular(_STAND_WITHIN))
    return None


def _by_greatest(on: Context, each_g: list[float]) -> Uncertain | None:
    """Mean over the rotors, by the greatest thrust of each; None where they cannot lift it."""
    thinner = 1.0
    with suppress(Open):
        thinner = SEA_LEVEL_KG_M3 / on.once(air_density, on.aircraft.site).value
    greatest = [need(one.motor.max_thrust_g).value for one in on.aircraft.rotors]
    wanted = [g * thinner for g in each_g]
    if any(g > most for g, most in zip(wanted, greatest, strict=True)):
        return None
    of = list(zip(wanted, greatest, strict=True))
    middle = _mean([by_square_law(g, most) for g, most in of], u_rectangular(_TABLE_WITHIN / 2))
    least = _mean([by_power_law(g, most, _LEAST_POWER) for g, most in of], 0.0).value
    highest = _mean([by_power_law(g, most, _MOST_POWER) for g, most in of], 0.0).value
    return Uncertain(middle.value, math.hypot(middle.u, u_rectangular((highest - least) / 2)))


def _mean(read: list[float], u_relative: float) -> Uncertain:
    value = sum(read) / len(read)
    return Uncertain(value, value * u_relative)


@figure("predicted-hover-current")
def current_figures(on: Context) -> Iterator[Figure]:
    """Current of a hover at the take-off mass: of an earlier hover or the thrust stand (10 % half-width), else any
    between what the ideal power asks for over an efficiency of 0.75 and of 0.25.
    """
    least, most, _ = on.once(hover_bounds_a, on)
    middle = (least + most) / 2
    half = (most - least) / 2 if most > least else _CURRENT_WITHIN * middle
    place = on.aircraft.about.place
    yield Figure("predicted_hover_current_a", None, middle, u_rectangular(half), "A", None, place)


@figure("predicted-hover-volts")
def voltage_figures(on: Context) -> Iterator[Figure]:
    """Volts of each pack, full, under the expected current: by its sag run. And those at which to land.

    To land: under hover current 3.6 V a cell of lipo, 3.2 of li-ion, 3.0 of life; common practice, no source.
    """
    least, most, _ = on.once(hover_bounds_a, on)
    for pack in on.aircraft.packs:
        with suppress(Open):
            _, full = pack_window_v(pack)
            cells, chemistry = need(pack.cells).value, need(pack.chemistry).value
            at = pack.label.value if isinstance(pack.label, Known) else None
            land_at = cells * _LAND_AT_CELL_V[chemistry]
            yield Figure("land_at_voltage_v", at, land_at, None, "V", None, pack.place)
            yield from _under_load(on, pack, Uncertain(full, u_rectangular(cells * _FULL_WITHIN_V)), (least, most), at)


def _under_load(
    on: Context, pack: fitted.Pack, full: Uncertain, amperes: tuple[float, float], label: str | None
) -> Iterator[Figure]:
    told = on.once(latest_sag, pack, on)
    if not isinstance(told, tuple):
        return
    _, sag = told
    assert sag.covariance is not None
    middle, half = sum(amperes) / 2, max((amperes[1] - amperes[0]) / 2, _CURRENT_WITHIN * sum(amperes) / 2)
    u = math.hypot(full.u, middle * math.sqrt(float(sag.covariance[1, 1])), sag.ohm * u_rectangular(half))
    yield Figure("predicted_hover_voltage_v", label, full.value - sag.ohm * middle, u, "V", None, pack.place)
