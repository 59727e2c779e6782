"""A manifest in long forms written in short ones, by chance; and the long one in the order that the short one has."""

import random
from collections.abc import Iterator
from itertools import groupby
from typing import Any

Document = dict[str, Any]

# The fields of each kind that a session can hold, and what ends the keys of its instrument.
_HAS = {
    **dict.fromkeys(("spin_test", "output_test", "tilt_test", "stick_check"), "props"),
    **dict.fromkeys(("link_loss_test", "cut_off_test"), "props"),
    "voltage_comparison": "pack in_force reference _v",
    "current_comparison": "pack route in_force reference _a",
    "cell_voltages": "pack reference _v",
    "recharge": "pack in_force reference",
    "sag_run": "pack route",
    "hover": "pack in_force",
    "interference_run": "route in_force",
    "compass_rotation": "in_force",
    "heading_check": "reference _deg",
    "barometer_check": "reference _hpa",
    "position_check": "reference _m",
}


def shortened(document: Document, positions: tuple[str, ...], rng: random.Random) -> tuple[Document, Document]:
    """The short manifest, and the long one that it must be equal to."""
    days = sorted({str(record["date"])[:10] for records in document["records"].values() for record in records})
    chosen = [day for day in days if rng.random() < 0.8]
    long = {**document, "records": dict(_in_order(document["records"], chosen, positions))}
    short = {**long, "records": {}, "sessions": []}
    for kind, records in long["records"].items():
        if rest := [record for record in records if str(record["date"])[:10] not in chosen]:
            short["records"][kind] = _folded([_words(record, positions, rng) for record in rest], positions, rng)
    for day in chosen:
        entries = [(k, one) for k, records in long["records"].items() for one in records if one["date"][:10] == day]
        short["sessions"].append(_session(entries, positions, rng))
    if not short["records"]:
        del short["records"]
    short["logbook"] = _folded(document.get("logbook", []), positions, rng)
    return short, long


def _in_order(
    kinds: dict[str, list[Document]], chosen: list[str], positions: tuple[str, ...]
) -> Iterator[tuple[str, list[Document]]]:
    """Records in no session first, then session by session; and by position in walk-round order."""
    for kind, records in kinds.items():
        yield kind, sorted((_walked(one, positions) for one in records), key=lambda one: _turn(one["date"], chosen))


def _turn(date: str, chosen: list[str]) -> int:
    return chosen.index(date[:10]) if date[:10] in chosen else -1


def _walked(record: Document, positions: tuple[str, ...]) -> Document:
    """What names every rotor names them in walk-round order."""
    one = {**record}
    for name in {"seen", "turned"} & set(one):
        if set(one[name]) == set(positions):
            one[name] = {at: one[name][at] for at in positions}
    if "moves" in one:
        one["moves"] = [
            {key: list(positions) if _is_all(value, positions) else value for key, value in move.items()}
            for move in one["moves"]
        ]
    return one


def _is_all(value: Any, positions: tuple[str, ...]) -> bool:
    return isinstance(value, list) and sorted(value) == sorted(positions)


def _words(record: Document, positions: tuple[str, ...], rng: random.Random) -> Document:
    one = {**record}
    if "seen" in one and set(one["seen"]) == set(positions) and rng.random() < 0.8:
        most = rng.choice(sorted(set(one["seen"].values())))
        one["seen"] = {at: way for at, way in one["seen"].items() if way != most} | {"others": most}
    if one.get("turned") == {at: at for at in positions} and rng.random() < 0.8:
        one["turned"] = "as-commanded"
    if "moves" in one:
        one["moves"] = [
            {key: "all" if _is_all(value, positions) and rng.random() < 0.8 else value for key, value in move.items()}
            for move in one["moves"]
        ]
    return one


def _folded(entries: list[Document], positions: tuple[str, ...], rng: random.Random) -> list[Document]:
    """Neighbours that are alike but for their position, one at each, as one at all."""
    found: list[Document] = []
    for _, same in groupby(entries, key=lambda one: sorted((k, str(v)) for k, v in one.items() if k != "at")):
        group = list(same)
        at_each = [one.get("at") for one in group] == list(positions) and "residual_g_mm" not in group[0]
        found += [{**group[0], "at": "all"}] if at_each and rng.random() < 0.8 else group
    return found


def _session(entries: list[tuple[str, Document]], positions: tuple[str, ...], rng: random.Random) -> Document:
    session: Document = {"date": rng.choice([record["date"] for _, record in entries])}
    for field in ("props", "pack", "route", "in_force", "reference"):
        holders = [(kind, one) for kind, one in entries if field in _HAS.get(kind, "").split()]
        values = [one[field] for _, one in holders if field in one]
        if values and rng.random() < 0.8 and _may_share(field, shared := rng.choice(values), holders):
            session[field] = shared
    for kind, record in entries:
        own = {key: value for key, value in record.items() if key not in session or not _left_out(key, value, session)}
        if kind == "recharge" and "reference" in record:
            own["reference"] = record["reference"]
        session.setdefault(kind, []).append(_words(own, positions, rng))
    for kind in {kind for kind, _ in entries}:
        session[kind] = _folded(session[kind], positions, rng)
    return session


def _left_out(key: str, value: Any, session: Document) -> bool:
    return bool(value == session[key])


def _may_share(field: str, shared: Any, holders: list[tuple[str, Document]]) -> bool:
    """Whether no record would be given by it what it does not say."""
    if field == "reference":
        unit = {kind: next((u for u in _HAS[kind].split() if u[0] == "_"), "?") for kind, _ in holders}
        takers = [one for kind, one in holders if any(key.endswith(unit[kind]) for key in shared)]
        alike = [one for _, one in holders if one.get(field) == shared and one not in takers]
        return bool(takers) and not alike and all(field in one for one in takers)
    if field == "in_force":
        return all(set(shared) <= set(one.get(field, {})) for _, one in holders)
    return all(field in one for _, one in holders)
