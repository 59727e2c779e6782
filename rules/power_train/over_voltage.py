"""Does everything that a pack is plugged into bear it when it is full?"""

from collections.abc import Iterator

from preflint.api import (
    CAUTION,
    NO_GO,
    Absent,
    Clear,
    Context,
    Field,
    Finding,
    Job,
    Known,
    NotApplicable,
    Open,
    Outcome,
    Place,
    Precaution,
    Related,
    Tolerance,
    fitted,
    name,
    need,
    not_recorded,
    rule,
)
from preflint.frozen import dataclass

from ..power.draw import CELL_WINDOW_V

_LIPO_FULL_V = CELL_WINDOW_V["lipo"][1]  # what makers mean by a cell
_ROUNDING = 1e-9

OVER_VOLTAGE = Tolerance(
    "over_voltage_percent",
    "%",
    4.0,
    "lower",
    "derived: a cell of 4.35 V is 3.6 % above one of 4.20 V; the next whole cell is more, up to 25 of them",
    "how far a full pack may be above what a part is rated for and still be one for a caution",
)
KEEP_OUT = Precaution("Keep this pack unplugged until it is settled.", job=Job.MECHANICAL)
_FIRST_PLUG = "; first feed the aircraft from a current-limited supply, props removed"


@dataclass(frozen=True, slots=True)
class _Part:
    """What is behind the pack's plug, the volts that it bears, and where that is written."""

    words: str
    bears_v: float
    place: Place


@rule(
    "power_train/over-voltage",
    each="pack",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=KEEP_OUT,
    source="makers' ratings; cells of 4.20 V, 4.35 V (HV) and 3.65 V (LiFePO4) when full: common practice",
    tolerances=(OVER_VOLTAGE,),
)
def over_voltage(pack: fitted.Pack, on: Context) -> Outcome:
    """Does everything behind the plug bear the full pack?

    One cell too many destroys controllers at the moment of plugging in, by a flash or by a fire, or in the air at the
    first closed throttle. No reading on the aircraft tells it beforehand, so it is judged before the pack goes in.

    Volts of the full pack = `cells` times 4.20 V, 4.35 V for lipo-hv or 3.65 V for life. Against that stand
    `esc.max_v`, else `esc.max_cells` times 4.20 V, `esc.capacitor_v` and `regulator.most_v`. Found where the full pack
    is above one of them by more than the limit; with a chemistry that nobody wrote, where any would be.

    Fails:

        every_rotor: {esc: {max_cells: 3}}
        rotors: [{at: front-left}, {at: front-right}, {at: rear-left}, {at: rear-right}]
        regulator: none
        packs: [{label: A1, chemistry: lipo, cells: 4}]

    Passes: the same with

        every_rotor: {esc: {max_cells: 4}}

    It does not check the spike when a pack is plugged in through long leads, nor packs in series: they are one entry
    with the cells of all.
    """
    lowest, highest = _full_v(pack)
    limit = 1 + on.limit(OVER_VOLTAGE) / 100 + _ROUNDING
    parts = list(_parts(on))
    over = [part for part in parts if lowest > part.bears_v * limit]
    if over:
        return _found(pack, lowest, over, "keep this pack out; fit one of fewer cells, or parts rated for it")
    _nothing_open(pack, on, any(highest > part.bears_v * limit for part in parts))
    return Clear(_evidence(highest, parts))


@rule(
    "power_train/voltage-headroom",
    each="pack",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=KEEP_OUT,
    source="makers' ratings; cells of 4.20 V, 4.35 V (HV) and 3.65 V (LiFePO4) when full: common practice",
    tolerances=(OVER_VOLTAGE,),
)
def voltage_headroom(pack: fitted.Pack, on: Context) -> Outcome:
    """Is the full pack within what everything behind the plug is rated for?

    HV cells on a controller for as many plain ones are 3.6 % above its rating when full, and a capacitor of 25 V on six
    cells is 0.2 V short: both often live, and neither was promised to. Braking motors add to it.

    As in over-voltage; found where the full pack is above a rating by no more than that rule's limit.

    Fails:

        every_rotor: {esc: {max_cells: 4}}
        rotors: [{at: front-left}, {at: front-right}, {at: rear-left}, {at: rear-right}]
        regulator: none
        packs: [{label: A1, chemistry: lipo-hv, cells: 4}]

    Passes: the same with

        every_rotor: {esc: {max_cells: 4, max_v: 17.4}}

    It does not check how far a maker's rating is below what the part bears.
    """
    lowest, highest = _full_v(pack)
    limit = 1 + on.limit(OVER_VOLTAGE) / 100 + _ROUNDING
    parts = list(_parts(on))
    over = [part for part in parts if part.bears_v * (1 + _ROUNDING) < lowest]
    if [part for part in over if lowest > part.bears_v * limit]:
        return NotApplicable("the pack is above a rating by more than a little")
    if over:
        how = "charge it to what the parts bear, or fit parts rated for it; write max_v where their maker gives volts"
        return _found(pack, lowest, over, how + _FIRST_PLUG)
    above = any(highest > part.bears_v * (1 + _ROUNDING) for part in parts)
    _nothing_open(pack, on, above)
    return Clear(_evidence(highest, parts))


def _full_v(pack: fitted.Pack) -> tuple[float, float]:
    """Of the full pack, by its chemistry; else least and most of any."""
    cells = need(pack.cells).value
    if isinstance(pack.chemistry, Known):
        full = CELL_WINDOW_V[pack.chemistry.value][1]
        return cells * full, cells * full
    any_v = [full for _, full in CELL_WINDOW_V.values()]
    return cells * min(any_v), cells * max(any_v)


def _parts(on: Context) -> Iterator[_Part]:
    """Each rating that is recorded, once where it is written once."""
    written: dict[Place, tuple[str, str, float, list[str]]] = {}
    for one in on.aircraft.rotors:
        esc = one.esc
        told: list[tuple[str, str, Field[float], float]] = [("controller", "", esc.max_v, 1.0)]
        if isinstance(esc.max_v, Absent) and isinstance(esc.max_cells, Known):
            cells = Known(float(esc.max_cells.value), esc.max_cells.place)
            count = esc.max_cells.value
            told = [("controller", f", {count} cell{'s' if count != 1 else ''}", cells, _LIPO_FULL_V)]
        for what, more, field, times in (*told, ("capacitor", "", esc.capacitor_v, 1.0)):
            if isinstance(field, Known):
                made = written.setdefault(field.place, (what, more, field.value * times, []))
                made[3].append(name(one))
    for place, (what, more, volts, at) in written.items():
        yield _Part(f"{what}{f' of {at[0]}' if len(at) == 1 else ''}{more}", volts, place)
    regulator = on.aircraft.regulator
    if isinstance(regulator, Known) and isinstance(regulator.value.most_v, Known):
        yield _Part("regulator", regulator.value.most_v.value, regulator.value.most_v.place)


def _nothing_open(pack: fitted.Pack, on: Context, by_chemistry: bool) -> None:
    """Ends the rule as unproven where a controller or regulator has no rating, or the chemistry would decide."""
    for one in on.aircraft.rotors:
        if isinstance(one.esc.max_v, Absent):
            need(one.esc.max_cells)
    if isinstance(on.aircraft.regulator, Known):
        need(on.aircraft.regulator.value.most_v)
    if by_chemistry and isinstance(pack.chemistry, Absent):
        raise Open(not_recorded(pack.chemistry))


def _found(pack: fitted.Pack, full_v: float, over: list[_Part], how: str) -> Finding:
    least = min(over, key=lambda part: part.bears_v)
    percent = 100 * (full_v / least.bears_v - 1)
    return Finding(
        place=need(pack.cells).place,
        message=f"it has {full_v:.2f} V when full; the {least.words.partition(',')[0]} bears {least.bears_v:.2f} V",
        evidence=f"{percent:.1f} % over; {_evidence(full_v, over)}",
        do=how,
        related=tuple(Related(part.place, f"the {part.words}: {part.bears_v:.2f} V") for part in over),
    )


def _evidence(full_v: float, parts: list[_Part]) -> str:
    lowest = min(parts, key=lambda part: part.bears_v)
    return f"{full_v:.2f} V when full; the lowest rating behind the plug is {lowest.bears_v:.2f} V ({lowest.words})"
