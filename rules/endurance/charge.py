"""How much charge a pack gives, by what is recorded of it, and what hover takes."""

import math

from preflint.api import DESK, Context, Known, Open, Place, Unproven, fitted, logbook, need
from preflint.compute.decision import u_rectangular
from preflint.frozen import dataclass

from ..power.draw import hover_current_a
from ..power.hover.shown import u_of_display
from ..power.lift import Uncertain
from ..power.limits import CURRENT_SCALE
from ..power.packs.counted import in_ampere_hours

# Common practice, no source.
_OF_LABEL = 0.8  # of what stands on the label a pack in use still gives
_LEFT_AT_WARNING = 0.3  # of the charge is left at the most where a warning comes
_CHARGER_WITHIN = 0.03  # of the charge put back, which is a little more than was taken
_OVER_FULL = 1.1  # of the label: more does not go in
_HOVER_WITHIN = 0.05  # of the current, from one day's air, pack and mass to another's
_STAND_WITHIN = 0.15  # of the current, where one motor on a stand tells it
TELLS_MORE = "a flight to the warning, with to_warning and put_back_mah in the logbook, tells the charge better"


@dataclass(frozen=True, slots=True)
class Capacity:
    """What a pack gives, in mAh, anywhere alike from ``least`` to ``most``; ``words`` say by what evidence."""

    least: float
    most: float
    words: str
    place: Place

    @property
    def middle(self) -> Uncertain:
        """With its standard uncertainty."""
        return Uncertain((self.least + self.most) / 2, u_rectangular((self.most - self.least) / 2))


def flights(pack: fitted.Pack, on: Context) -> tuple[logbook.LogEntry, ...]:
    """The flights on this pack up to the day judged at, first to last, since a pack was last replaced."""
    log = on.so_far(on.aircraft.logbook)
    new = [entry for entry in log if entry.kind.value == "replaced" and _of_a_pack(entry)]
    return tuple(
        entry
        for entry in log
        if entry.kind.value == "flown"
        and _on_it(entry, pack, on)
        and not any(entry.date.value.after(one.date.value) is False for one in new)
    )


def _of_a_pack(entry: logbook.LogEntry) -> bool:
    return isinstance(entry.part, Known) and entry.part.value == "pack"


def _on_it(entry: logbook.LogEntry, pack: fitted.Pack, on: Context) -> bool:
    """Whether it names this pack, or there is no other."""
    if isinstance(entry.pack, Known):
        return isinstance(pack.label, Known) and entry.pack.value == pack.label.value
    return len(on.aircraft.packs) == 1


def capacity(pack: fitted.Pack, on: Context) -> Capacity:
    """By the latest flight to a warning, else by the most put back, else by the label.

    Ends the rule as unproven where none is recorded, or a charge put back cannot be one of this pack.
    """
    return on.once(_capacity, pack, on)


def _capacity(pack: fitted.Pack, on: Context) -> Capacity:
    label = pack.capacity_mah.value if isinstance(pack.capacity_mah, Known) else None
    put_back = [(entry, entry.put_back_mah) for entry in flights(pack, on)]
    told = [(entry, mah) for entry, mah in put_back if isinstance(mah, Known) and mah.value > 0]
    for _, mah in told:
        _must_be_possible(mah, label)
    to_warning = [one for one in told if isinstance(one[0].to_warning, Known) and one[0].to_warning.value]
    if to_warning:
        entry, mah = to_warning[-1]
        least, most = (1 - _CHARGER_WITHIN) * mah.value, (1 + _CHARGER_WITHIN) * mah.value / (1 - _LEFT_AT_WARNING)
        words = f"{mah.value:g} mAh put back after the flight to the warning of {entry.date.value}"
        return Capacity(least, max(least, min(most, label or most)), words, mah.place)
    stands = need(pack.capacity_mah)
    least, words = _OF_LABEL * stands.value, f"{100 * _OF_LABEL:.0f} to 100 % of the label's {stands.value:g} mAh"
    entry_most = max(told, key=lambda one: one[1].value, default=None)
    if entry_most and (1 - _CHARGER_WITHIN) * entry_most[1].value > least:
        least = (1 - _CHARGER_WITHIN) * entry_most[1].value
        words = f"{entry_most[1].value:g} mAh put back on {entry_most[0].date.value}, {stands.value:g} on the label"
    return Capacity(least, max(least, stands.value), words, stands.place)


def _must_be_possible(mah: Known[float], label: float | None) -> None:
    if in_ampere_hours(mah.value, label):
        message = f"{mah.value:g} mAh were put back: that may be a number of Ah"
    elif label is not None and mah.value > _OVER_FULL * label:
        message = f"{mah.value:g} mAh are said to be put back into a pack of {label:g}"
    else:
        return
    how = "look at the charge put back, the pack's label and its capacity_mah"
    raise Open(Unproven(cause="uncertain", place=mah.place, message=message, do=how, mind=DESK))


def hover(on: Context) -> tuple[Uncertain, str]:
    """Current at hover at the take-off mass, in A, and in words where it is from."""
    return on.once(_hover, on)


def _hover(on: Context) -> tuple[Uncertain, str]:
    current, whence = hover_current_a(on)
    hovers = [one for one in on.so_far(on.aircraft.records.hover) if isinstance(one.mean_current_a, Known)]
    scale = u_of_display(on, "a", current)
    by_scale = scale[0] if scale else u_rectangular(CURRENT_SCALE.default / 100)
    within = u_rectangular(_HOVER_WITHIN if hovers else _STAND_WITHIN)
    return Uncertain(current, current * math.hypot(by_scale, within)), whence


def of_pack(pack: fitted.Pack) -> str:
    """What people call it."""
    return f"pack {pack.label.value}" if isinstance(pack.label, Known) else "the pack"
