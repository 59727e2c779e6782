"""How fast the blade tips are."""

from collections.abc import Iterator

from preflint.api import Context, Figure, Known, Place, figure, name, records
from preflint.compute.atmosphere import tip_mach, tip_speed_m_s
from preflint.compute.decision import u_rectangular

from ..power.draw import CELL_WINDOW_V
from .geometry import MM_PER_IN

_STANDARD_C = 15.0  # ISO 2533, at sea level
_WITHIN = 0.01  # of diameter and speed each; common practice, no source


@figure("tip-speed")
def tip_figures(on: Context) -> Iterator[Figure]:
    """Speed of the fastest blade tip, in m/s and over the speed of sound; no limit is known that a source gives.

    As recorded: by the latest rotor speeds that speak. At most: by the no-load speed, kv times the full pack, which a
    loaded motor never reaches; a bound has no uncertainty. Sound by the site's temperature, else at 15 °C.
    """
    site = on.aircraft.site.temperature_c
    celsius = site.value if isinstance(site, Known) else _STANDARD_C
    for case, found in (("as-recorded", _recorded(on)), ("at-most", _bound(on))):
        if found is None:
            continue
        diameter_m, rpm, place = found
        u = u_rectangular(_WITHIN) * 2**0.5 if case == "as-recorded" else None
        for quantity, value, unit in (
            ("tip_speed_m_s", tip_speed_m_s(diameter_m, rpm), "m/s"),
            ("tip_mach", tip_mach(diameter_m, rpm, celsius), "1"),
        ):
            yield Figure(quantity, case, value, None if u is None else u * value, unit, None, place)


_Fastest = tuple[float, float, Place]


def _recorded(on: Context) -> _Fastest | None:
    """Diameter in m, rpm and place, of the fastest tip."""
    taken: records.RotorSpeeds | None = on.latest(
        record for record in on.aircraft.records.rotor_speeds if on.speaks("rotor_speeds", record)
    )
    speeds = taken.rpm if taken is not None else {}
    found = [
        (one.prop.diameter_in.value * MM_PER_IN / 1000, rpm.value, rpm.place)
        for one in on.aircraft.rotors
        if isinstance(one.prop.diameter_in, Known) and (rpm := speeds.get(name(one))) is not None
    ]
    return max(found, key=lambda each: each[0] * each[1], default=None)


def _bound(on: Context) -> _Fastest | None:
    full = [
        pack.cells.value * CELL_WINDOW_V[pack.chemistry.value][1]
        for pack in on.aircraft.packs
        if isinstance(pack.cells, Known) and isinstance(pack.chemistry, Known)
    ]
    found = [
        (one.prop.diameter_in.value * MM_PER_IN / 1000, kv.value * max(full), kv.place)
        for one in on.aircraft.rotors
        if full and isinstance(one.prop.diameter_in, Known) and isinstance(kv := one.motor.kv_rpm_per_v, Known)
    ]
    return max(found, key=lambda each: each[0] * each[1], default=None)
