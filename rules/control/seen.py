"""What was seen to answer a tilt or a stick, held against what ought to."""

from collections.abc import Callable, Collection, Iterable
from dataclasses import replace

from preflint.api import Absent, Aircraft, Context, Finding, Known, Open, Place, Unproven, records

from ..shared.wrong import Wrong, finding
from .answer import axis_of, ought_to_speed_up, said

_AXES = {"pitch": "tip the nose down", "roll": "tip the right side down", "yaw": "turn to the right"}
_CHECK = "check the layout that is set, the order of the outputs, and the direction of that axis"
REVERSE = "reverse or swap that stick"


def all_wrong(
    moves: Iterable[records.Move], wanted: Callable[[str], str], moved: str, indicated: str, remedy: str, on: Context
) -> list[Wrong]:
    """All that the movements show to be wrong, in their order.

    ``wanted`` gives the movement that the rotors ought to make of each. ``moved`` says in words what was done, in place
    of ``{}``; ``indicated`` says it and what was indicated; ``remedy`` is for a wrong indication. Ends the rule as
    unproven where nothing is wrong, and something stays open.
    """
    wrong: list[Wrong] = []
    still_open: list[Open] = []
    for move in moves:
        did = said(move.did.value)
        if isinstance(move.indicated, Known) and move.indicated.value != move.did.value:
            wrong.append(Wrong(move.indicated.place, indicated.format(did, said(move.indicated.value)), remedy))
        try:
            wrong += _wrong_answers(move, wanted(move.did.value), moved.format(did), on)
        except Open as end:
            still_open.append(end)
    if still_open and not wrong:
        raise still_open[0]
    return wrong


def _wrong_answers(move: records.Move, wanted: str, after: str, on: Context) -> list[Wrong]:
    """The rotors that answered the wrong way. Ends the rule as unproven where the record contradicts itself."""
    sped, slowed = _answered(move.sped_up), _answered(move.slowed_down)
    if not sped and not slowed:
        return []
    both = [at for at in sped if at in slowed]
    if both:
        message = f"{after}: {', '.join(both)} is written both as sped up and as slowed down"
        raise Open(
            Unproven(
                cause="uncertain",
                place=sped[both[0]],
                message=message,
                do="repeat that movement and write what each rotor did",
                record=_kind_of(move),
            )
        )
    aircraft = on.aircraft
    ought = on.once(ought_to_speed_up, aircraft, wanted)
    rising, falling = (sped, slowed) if not ought.by_slowing else (slowed, sped)
    up, down = ("sped up", "slowed down") if not ought.by_slowing else ("slowed down", "sped up")
    wrong_way = {at: place for at, place in rising.items() if at in ought.must_not}
    failing = {at: place for at, place in falling.items() if at in ought.must}
    if not wrong_way and not failing:
        return []
    seen = [f"{_listed(aircraft, rotors)} {how}" for rotors, how in ((wrong_way, up), (failing, down)) if rotors]
    ought_to = f"ought to {'slow down' if ought.by_slowing else 'speed up'}" if failing else "ought to"
    first = next(iter((wrong_way or failing).values()))
    words = f"{after}, {' and '.join(seen)}; {_listed(aircraft, ought.must)} {ought_to}"
    return [Wrong(first, words, _remedy(aircraft, wanted, failing))]


def all_answered(move: records.Move, wanted: str, how: str, on: Context) -> None:
    """Ends the rule as unproven where a rotor that must answer was not seen to."""
    ought = on.once(ought_to_speed_up, on.aircraft, wanted)
    seen = _answered(move.slowed_down if ought.by_slowing else move.sped_up)
    missing = [at for at in ought.must if at not in seen]
    if missing:
        so = "slowed down" if ought.by_slowing else "sped up"
        message = f"{said(move.did.value)}: whether {', '.join(missing)} {so} is not recorded"
        raise Open(Unproven(cause="uncertain", place=move.place, message=message, do=how, record=_kind_of(move)))


def _kind_of(move: records.Move) -> str:
    return "stick_check" if isinstance(move, records.StickMove) else "tilt_test"


def answered(move: records.Move) -> bool:
    """Whether it is written which rotors answered the way that the movement asks for."""
    return isinstance(move.slowed_down if move.did.value == "throttle-down" else move.sped_up, Known)


def all_axes(test: records.Dated, seen: Collection[str], what: str, how: str) -> None:
    """Ends the rule as unproven where an axis was not tried."""
    missing = [words for axis, words in _AXES.items() if axis not in seen]
    if missing:
        raise Open(
            Unproven(
                place=test.date.place,
                message=f"not recorded as {what}: {', '.join(missing)}",
                do=how,
                record="stick_check" if isinstance(test, records.StickCheck) else "tilt_test",
            )
        )


def all_in_one(wrong: list[Wrong], test: str) -> Finding:
    """All that is wrong in one finding; ``test`` says in which."""
    seen_from = "right and left as seen from above, nose forward"
    whole = finding(wrong, f"{test}; {seen_from}", then="then repeat the test")
    more = f"; {len(wrong) - 1} more" if len(wrong) > 1 else ""  # which stand at their own places
    return replace(whole, message=f"{wrong[0].words}{more}")


def _remedy(aircraft: Aircraft, wanted: str, failing: Collection[str]) -> str:
    if axis_of(wanted) != "throttle":
        return _CHECK
    if set(failing) == set(aircraft.positions):
        return REVERSE
    return f"look at motor, speed controller and wires at {_listed(aircraft, failing)}, pack unplugged"


def _answered(field: Known[tuple[Known[str], ...]] | Absent) -> dict[str, Place]:
    return {at.value: at.place for at in field.value} if isinstance(field, Known) else {}


def _listed(aircraft: Aircraft, rotors: Iterable[str]) -> str:
    rotors = tuple(rotors)
    if set(rotors) == set(aircraft.positions):
        return "every rotor"
    return ", ".join(rotors)
