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

from .set import BY_VOLTS, in_words, number, told_number, warnings_of

_TURN = {"tells": 0, "comes-home": 1, "lands": 2}  # the order in which it is to happen
Pair = tuple[fitted.BatteryWarning, fitted.BatteryWarning]


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

    Warnings that watch the same thing in the same number are compared: what tells must come no later than what comes
    home, and that no later than what lands. Volts come down, charge used and minutes go up.

    Fails:

        battery_warnings:
          - {watches: pack-voltage, at_cell_v: 3.4, does: tells}
          - {watches: pack-voltage, at_cell_v: 3.6, does: lands}

    Passes:

        battery_warnings:
          - {watches: pack-voltage, at_cell_v: 3.6, does: tells}
          - {watches: pack-voltage, at_cell_v: 3.4, does: lands}
          - {watches: flight-time, at_min: 8, does: tells}

    It does not check warnings of different things against each other, such as volts against charge used.
    """
    told = warnings_of(aircraft)
    if isinstance(told, NotApplicable):
        return told
    pairs = list(_comparable(told))
    if not pairs:
        return NotApplicable("no two warnings of the same thing do different things")
    for first, later in pairs:
        if _margin(first, later) < 0:
            return Finding(
                place=number(later).place,
                message=f"it {_does(later)} before it {_does(first)}: {in_words(later)}",
                evidence=f"{_does(first)} by {in_words(first)}, {_does(later)} by {in_words(later)}",
                do=f"set the two so that it {_does(first)} first",
                related=(Related(number(first).place, f"{_does(first)} only here"),),
            )
    return Clear("; ".join(f"{_does(first)} by {in_words(first)}, then {_does(later)}" for first, later in pairs))


def _does(warning: fitted.BatteryWarning) -> str:
    assert isinstance(warning.does, Known)
    return str(warning.does.value)


def _comparable(told: tuple[fitted.BatteryWarning, ...]) -> Iterator[Pair]:
    """Pairs of one kind of number that do different things, what is to come first before the other."""
    known = [one for one in told if isinstance(one.does, Known) and told_number(one)]
    for one, other in combinations(sorted(known, key=lambda warning: _TURN[_does(warning)]), 2):
        alike = one.watches.value == other.watches.value and _of_a_cell(one) == _of_a_cell(other)
        if alike and _does(one) != _does(other):
            yield one, other


def _of_a_cell(warning: fitted.BatteryWarning) -> bool:
    return number(warning) is warning.at_cell_v


def _margin(first: fitted.BatteryWarning, later: fitted.BatteryWarning) -> float:
    """By how much the first comes before the later one; negative where it comes after."""
    by = number(first).value - number(later).value
    return by if first.watches.value in BY_VOLTS else -by
