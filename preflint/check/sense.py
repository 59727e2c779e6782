"""What a schema cannot say: real dates, tables with even rows, labels that stand once."""

from collections.abc import Iterator
from functools import partial

from preflint.aircraft.moment import Moment
from preflint.aircraft.words import FLIGHT_ONLY, PLAIN_PARTS, PROGRAMMED
from preflint.check.complaint import Complaint, child, entries, items
from preflint.check.near import nearest, suggestion
from preflint.load.node import Node
from preflint.load.quoting import in_quotes, shorten


def check_sense(root: Node) -> Iterator[Complaint]:
    """Complaints about a manifest whose single values may be right and do not go together."""
    yield from _dates(root)
    for _, records in entries(child(root, "records")):
        for record in items(records):
            yield from _table(child(record, "columns"), child(record, "rows"))
    yield from check_days(child(root, "site", "days"))
    yield from _labels(root)
    yield from _packs_named(root)
    yield from _bags(root)
    yield from _relied_on(root)
    yield from _programmed(root)
    yield from _of_flights(root)


def _dates(root: Node) -> Iterator[Complaint]:
    dated = [record for _, records in entries(child(root, "records")) for record in items(records)]
    dated += items(child(root, "logbook"))
    dates = [child(entry, "date") for entry in dated]
    dates += [child(day, "date") for day in items(child(root, "site", "days"))]
    dates += [child(entry, "until") for entry in items(child(root, "deferred_defects"))]
    dates += [until for key, until in entries(child(root, "papers")) if key.endswith("_until")]
    for date in dates:
        if date and isinstance(date.value, str) and not _is_real(date.value):
            yield Complaint(date.place, partial(_no_such_day, date.value))


def _is_real(text: str) -> bool:
    try:
        Moment.parse(text)
    except ValueError:
        return False
    return True


def _no_such_day(text: str) -> str:
    return f"{in_quotes(shorten(text))} is not in the calendar; write 2026-04-18 or 2026-04-18 14:30"


def check_days(days: Node | None) -> Iterator[Complaint]:
    """Days whose weather stands twice: which of the two counts, nobody can tell."""
    first: dict[str, int] = {}
    for day in items(days):
        date = child(day, "date")
        if date and isinstance(date.value, str):
            on = date.value[: len("2026-05-23")]
            if on in first:
                yield Complaint(date.place, partial(_second_day, on, first[on]))
            first.setdefault(on, date.place.line)


def _second_day(date: str, line: int) -> str:
    return f"the weather of {shorten(date)} stands on line {line} already; keep one of them"


def _table(columns: Node | None, rows: Node | None) -> Iterator[Complaint]:
    names = [str(name.value) for name in items(columns)]
    for name in items(columns):
        if str(name.value).endswith("_mgauss") and str(name.value).removesuffix("mgauss") + "ut" in names:
            yield Complaint(name.place, partial(_two_units, str(name.value)))
    for row in items(rows):
        if names and isinstance(row.value, tuple) and len(row.value) != len(names):
            from preflint.check.amounts import cut_number, two_numbers

            if cut := cut_number(row, len(row.value) - len(names)):
                yield Complaint(cut[0], partial(two_numbers, cut[1]), alike="comma in a list")
            else:
                yield Complaint(row.place, partial(_ragged, len(row.value), len(names)))


def _two_units(name: str) -> str:
    return f"{in_quotes(shorten(name))} stands here in µT as well; keep one of the two columns"


def _ragged(found: int, wanted: int) -> str:
    numbers = "one number" if found == 1 else f"{found} numbers"
    too_many = "write a point as decimal sign, as in 11.0, or take out what is too many"
    what = too_many if found > wanted else "write every reading"
    return f"this row has {numbers}; columns names {wanted}: {what}"


def _labels(root: Node) -> Iterator[Complaint]:
    first: dict[str, int] = {}
    for pack in items(child(root, "packs")):
        label = child(pack, "label")
        if label and isinstance(label.value, str):
            if label.value in first:
                yield Complaint(label.place, partial(_second_pack, label.value, first[label.value]))
            first.setdefault(label.value, label.place.line)


def _second_pack(label: str, line: int) -> str:
    return f"a pack labelled {in_quotes(shorten(label))} stands on line {line}; give each its own label"


def _packs_named(root: Node) -> Iterator[Complaint]:
    """Records and flights of a pack that is none of those listed.

    Where none is listed by its label any may be named, but in a pack check: what it says is asked of listed packs.
    """
    packs = list(items(child(root, "packs")))
    written = [label.value for pack in packs if (label := child(pack, "label"))]
    labels = [label for label in written if isinstance(label, str)]
    if any(isinstance(pack.value, str) for pack in packs):  # the name of a file not read yet
        return
    named = [
        record
        for kind, records in entries(child(root, "records"))
        if labels or kind == "pack_check"
        for record in items(records)
    ]
    for record in (*named, *(items(child(root, "logbook")) if labels else ())):
        pack = child(record, "pack")
        if pack and isinstance(pack.value, str) and pack.value not in labels:
            yield Complaint(pack.place, partial(_no_such_pack, pack.value, labels))


def _no_such_pack(name: str, labels: list[str]) -> str:
    if not labels:
        return f"no pack is labelled {in_quotes(shorten(name))}: list it with its label under packs"
    otherwise = ", or list" if nearest(name, labels) is None else " If not, list"
    hint = f"{suggestion(name, labels)}{otherwise} the pack under packs"
    return f"no pack is labelled {in_quotes(shorten(name))}; {hint}"


def _bags(root: Node) -> Iterator[Complaint]:
    """``bag_means`` without ``bag_says``, once ``every_rotor`` and the rotor are taken together."""
    shared = child(root, "every_rotor", "fixing")
    own = [fixing for rotor in items(child(root, "rotors")) if (fixing := child(rotor, "fixing"))]
    for fixing in own:
        if _lacks_saying(fixing) and not _may_say(shared):
            yield _bag(fixing)
    if shared and _lacks_saying(shared) and not any(map(_may_say, own)):
        yield _bag(shared)


def _lacks_saying(fixing: Node) -> bool:
    return bool(child(fixing, "bag_means")) and not child(fixing, "bag_says")


def _may_say(fixing: Node | None) -> bool:
    """Whether the group says it, or is the name of a file that could."""
    return fixing is not None and (isinstance(fixing.value, str) or child(fixing, "bag_says") is not None)


def _bag(fixing: Node) -> Complaint:
    means = child(fixing, "bag_means")
    assert means is not None
    return Complaint(means.key or means.place, _no_saying)


def _no_saying() -> str:
    return "bag_means needs bag_says: write what the bag says, cw or ccw"


def _relied_on(root: Node) -> Iterator[Complaint]:
    """What the aircraft relies on and, by another line, does not have."""
    for thing in items(child(root, "aircraft", "relies_on")):
        key = "satellite_receiver" if thing.value == "satellite" else str(thing.value)
        fitted = child(root, key)
        if fitted and fitted.value == "none":
            yield Complaint(thing.place, partial(_not_fitted, key, fitted.place.line))


def _not_fitted(key: str, line: int) -> str:
    return f"flight cannot rely on what is not fitted: line {line} says {key}: none; correct one of the two"


def _programmed(root: Node) -> Iterator[Complaint]:
    """Settings and firmware of a part that has none: which part was meant, nobody can tell."""
    for entry in items(child(root, "logbook")):
        kind, part = child(entry, "kind"), child(entry, "part")
        if kind and part and kind.value in PROGRAMMED and part.value in PLAIN_PARTS:
            yield Complaint(part.place, partial(_not_programmed, str(kind.value), str(part.value)))


def _not_programmed(kind: str, part: str) -> str:
    settings = " (arming is set in the flight-controller)" if part == "arm" else ""
    return f"{kind} needs a part with settings, and {part} has none: name the part that was meant{settings}"


def _of_flights(root: Node) -> Iterator[Complaint]:
    """Minutes, pack and charge of an entry of the logbook that is no flight."""
    for entry in items(child(root, "logbook")):
        kind = child(entry, "kind")
        if kind is None or kind.value == "flown":
            continue
        for name in FLIGHT_ONLY:
            if written := child(entry, name):
                yield Complaint(written.key or written.place, partial(_no_flight, name, str(kind.value)))


def _no_flight(name: str, kind: str) -> str:
    return f"{name} belongs to a flight, and {shorten(kind)} is none: write it with kind: flown, or take it out"
