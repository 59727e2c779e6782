"""Do the packs add up: cells, full charge, what the charger put back?"""

from . import apart, cell_sum, full_charge, recharge, recharge_agrees, units

MODULES = (
    apart,
    cell_sum,
    full_charge,
    recharge,
    recharge_agrees,
    units,
)
