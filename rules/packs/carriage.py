"""Figures of each pack for carriage, storage and the tug."""

from collections.abc import Iterator

from preflint.api import Context, Figure, Known, figure
from preflint.compute.pack import energy_wh, tug_force_n

# V a cell as labels give it; common practice, no source.
_NOMINAL_V = {"lipo": 3.7, "lipo-hv": 3.8, "li-ion": 3.6, "life": 3.2}


@figure("pack-energy")
def energy_figures(on: Context) -> Iterator[Figure]:
    """Watt-hours by the label: what carriers and chargers' sheds ask for. A label has no uncertainty to state."""
    for pack in on.aircraft.packs:
        cells, chemistry, capacity = pack.cells, pack.chemistry, pack.capacity_mah
        if isinstance(cells, Known) and isinstance(chemistry, Known) and isinstance(capacity, Known):
            label = pack.label.value if isinstance(pack.label, Known) else None
            watt_hours = energy_wh(cells.value * _NOMINAL_V[chemistry.value], capacity.value)
            yield Figure("pack_energy_wh", "by-label", watt_hours, None, "Wh", label, capacity.place)


@figure("pack-tug")
def tug_figures(on: Context) -> Iterator[Figure]:
    """The pull that must not move the pack: 3.5 times what it weighs."""
    for pack in on.aircraft.packs:
        if isinstance(pack.mass_g, Known):
            label = pack.label.value if isinstance(pack.label, Known) else None
            force = tug_force_n(pack.mass_g.value / 1000)
            yield Figure("pack_tug_n", None, force, None, "N", label, pack.mass_g.place)
