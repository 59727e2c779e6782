"""Between which bounds the hover current lies before anybody has hovered."""

from contextlib import suppress

from preflint.api import Context, Open, need

from .draw import full_current_a, hover_current_a, pack_window_v
from .lift import ANOTHER_DAY, interference, least_power_w

# Ideal power over the electrical power of hover: of a small, fast prop and of a large one that is driven well.
# Common practice, no source.
_EFFICIENCY = 0.25, 0.75


def hover_bounds_a(on: Context) -> tuple[float, float, str]:
    """Least and greatest current at hover, and in words where they are from: no hover is asked for.

    One and the same where a hover or a thrust stand tells it. Else the ideal power over an efficiency of 0.25 to
    0.75, at the voltages of the packs, and no more than full throttle draws. Ends the rule as unproven where
    neither can be told.
    """
    return on.once(_hover_bounds, on)


def _hover_bounds(on: Context) -> tuple[float, float, str]:
    try:
        current, whence = hover_current_a(on)
    except Open:
        aircraft = on.aircraft
        lifted_g = need(aircraft.about.takeoff_mass_g).value
        shared = on.once(interference, aircraft)
        ideal_w = on.once(least_power_w, aircraft, lifted_g, ANOTHER_DAY).times(shared).value
        windows = [pack_window_v(pack) for pack in aircraft.packs]
        if not windows:
            raise
        worst, best = _EFFICIENCY
        least = ideal_w / best / max(full for _, full in windows)
        most = ideal_w / worst / min(low for low, _ in windows)
        with suppress(Open):
            most = max(least, min(most, full_current_a(aircraft)))
        return least, most, f"{ideal_w:.0f} W ideal power over {worst:g} to {best:g}"
    return current, current, whence
