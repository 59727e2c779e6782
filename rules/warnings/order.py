"""Do the warnings come in the right order?"""

from collections.abc import Iterator
from itertools import combinations

from preflint.api import (
    NO_GO,
    SETTINGS,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    fitted,
    rule,
)

from .set import BY_VOLTS, cell_v, in_words, name_of, number, told_number, warnings_of

_ROUNDED_V = 0.005  # of a cell: volts of a pack are set to a tenth
_TURN = {"tells": 0, "comes-home": 1, "lands": 2}  # the order in which it is to happen
Pair = tuple[fitted.BatteryWarning, fitted.BatteryWarning, fitted.Pack | None]


@rule(
    "warnings/order",
    each="aircraft",
    severity=NO_GO,
    job=Job.PACK_IN,
    precaution=SETTINGS,
    source="common practice, no source (first told, then home, then down)",
)
def order(aircraft: Aircraft, on: Context) -> Outcome:
    """Is the pilot told first, and does the aircraft come home before it lands?

    An aircraft that lands by itself before anybody was told comes down wherever it is: on water, on a road, on people.

    Warnings that watch the same thing are compared: what tells must come no later than what comes home, and that no
    later than what lands. Volts come down, charge used and minutes go up. All volts are compared as those of a cell,
    `at_v` over the cells of each pack, and the lowest cell is taken to stand where the others do: it is never higher.

    Fails:

        battery_warnings:
          - {watches: pack-voltage, at_cell_v: 3.4, does: tells}
          - {watches: pack-voltage, at_cell_v: 3.6, does: lands}

    Passes:

        battery_warnings:
          - {watches: pack-voltage, at_cell_v: 3.6, does: tells}
          - {watches: pack-voltage, at_cell_v: 3.4, does: lands}
          - {watches: flight-time, at_min: 8, does: tells}

    It does not check warnings of different things against each other, such as volts against charge used, nor how far
    one weak cell brings a warning of the lowest cell before those of the pack.
    """
    told = warnings_of(aircraft)
    if isinstance(told, NotApplicable):
        return told
    pairs = list(_comparable(told, aircraft.packs))
    if not pairs:
        return NotApplicable("no two warnings of the same thing do different things")
    for first, later, pack in pairs:
        if _margin(first, later, pack) < -_ROUNDED_V:
            by_cells = "" if pack is None else f"; {_cells(first, later, pack)}"
            return Finding(
                place=number(later).place,
                message=f"it {_does(later)} before it {_does(first)}: {in_words(later)}",
                evidence=f"{_does(first)} by {in_words(first)}, {_does(later)} by {in_words(later)}{by_cells}",
                do=f"set the two so that it {_does(first)} first",
                related=(Related(number(first).place, f"{_does(first)} only here"),),
            )
    told_once = dict.fromkeys((first, later) for first, later, _ in pairs)
    return Clear("; ".join(f"{_does(first)} by {in_words(first)}, then {_does(later)}" for first, later in told_once))


def _does(warning: fitted.BatteryWarning) -> str:
    assert isinstance(warning.does, Known)
    return str(warning.does.value)


def _comparable(told: tuple[fitted.BatteryWarning, ...], packs: tuple[fitted.Pack, ...]) -> Iterator[Pair]:
    """Pairs that do different things, what is to come first before the other; of one pack where its cells decide.

    Ends the rule as unproven where they are not recorded.
    """
    known = [one for one in told if isinstance(one.does, Known) and told_number(one)]
    for one, other in combinations(sorted(known, key=lambda warning: _TURN[_does(warning)]), 2):
        if _does(one) == _does(other):
            continue
        by_volts = [each.watches.value in BY_VOLTS for each in (one, other)]
        if _of_a_cell(one) == _of_a_cell(other) and (all(by_volts) or one.watches.value == other.watches.value):
            yield one, other, None
        elif all(by_volts):
            yield from ((one, other, pack) for pack in packs)


def _of_a_cell(warning: fitted.BatteryWarning) -> bool:
    return number(warning) is warning.at_cell_v


def _margin(first: fitted.BatteryWarning, later: fitted.BatteryWarning, pack: fitted.Pack | None) -> float:
    """By how much the first comes before the later one; negative where it comes after."""
    if pack is not None:
        return cell_v(first, pack) - cell_v(later, pack)
    by = number(first).value - number(later).value
    return by if first.watches.value in BY_VOLTS else -by


def _cells(first: fitted.BatteryWarning, later: fitted.BatteryWarning, pack: fitted.Pack) -> str:
    return f"in {name_of(pack)} at {cell_v(first, pack):.2f} and {cell_v(later, pack):.2f} V a cell"
