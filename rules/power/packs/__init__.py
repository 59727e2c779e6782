"""Do the packs add up: cells, full charge, what the charger put back?"""

from . import cell_sum, full_charge, recharge, recharge_agrees, units

MODULES = (
    cell_sum,
    full_charge,
    recharge,
    recharge_agrees,
    units,
)
