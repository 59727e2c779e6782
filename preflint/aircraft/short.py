"""The short forms of a manifest, written out: sessions, ``all``, ``others`` and ``as-commanded``.

Every value keeps its place: what a short line stands for stands at that line.
"""

import datetime as dt
from collections.abc import Callable, Iterator, Mapping
from dataclasses import field
from functools import cache
from typing import Any, get_args

from preflint.aircraft import layouts
from preflint.aircraft.declared import declarations, hints_of
from preflint.aircraft.moment import Moment
from preflint.aircraft.records import KINDS, Records
from preflint.aircraft.session import Session
from preflint.errors import Problem
from preflint.frozen import dataclass
from preflint.load.limits import MAX_NODES
from preflint.load.node import Node
from preflint.load.shared import merge
from preflint.places import Place

ALL, OTHERS, AS_COMMANDED = "all", "others", "as-commanded"

# What ends the keys of an instrument that can be compared with in a record of the kind. A charger, in a recharge, has
# no such key: no other record is compared with one.
UNITS: Mapping[str, str] = {
    "voltage_comparison": "_v",
    "cell_voltages": "_v",
    "pack_check": "_v",
    "current_comparison": "_a",
    "heading_check": "_deg",
    "barometer_check": "_hpa",
    "position_check": "_m",
}


@dataclass(frozen=True, slots=True)
class Written:
    """``document`` in long forms only, and what is wrong with short ones. What cannot be written out stays as it is."""

    document: Node
    problems: list[Problem] = field(default_factory=list)


def write_out(document: Node) -> Written:
    """The manifest as read, checked or not, with each short form replaced by what it stands for."""
    top = _group(document)
    writer = _Writer(_positions(top))
    long = {name: node for name, node in top.items() if name != "sessions"}
    if "sessions" in top:
        long["records"] = writer.with_sessions(top.get("records"), top["sessions"])
    if "records" in long:
        long["records"] = writer.records(long["records"])
    if "logbook" in long:
        long["logbook"] = writer.logbook(long["logbook"])
    if _word(_group(top.get("aircraft")).get("layout")) == "custom":
        writer.names_of(top.get("rotors"))
    return Written(document.holding(long) if top else document, writer.problems)


def _positions(top: Mapping[str, Node]) -> tuple[str, ...]:
    """Those of the layout, in walk-round order, or of the rotors as written; none where they are not to be told."""
    layout = _word(_group(top.get("aircraft")).get("layout"))
    if layout != "custom":
        return layouts.positions(layout)
    written = [_word(_group(rotor).get("at")) for rotor in _items(top.get("rotors"))]
    names = tuple(dict.fromkeys(filter(None, written)))
    return names if len(names) <= layouts.MOST_ROTORS else ()


class _Writer:
    def __init__(self, positions: tuple[str, ...]) -> None:
        self.problems: list[Problem] = []
        self._positions = positions
        self._left = MAX_NODES

    def with_sessions(self, records: Node | None, sessions: Node) -> Node:
        """The records, then those of the sessions in the order written, each with what its session has for it."""
        found: dict[str, Node] = dict(_group(records))
        for session in _items(sessions):
            for kind, more in self._session(session):
                before = found.get(kind, more.holding(()))
                found[kind] = before.holding(_items(before) + _items(more))
        whole = records or sessions
        return whole.holding(found) if isinstance(whole.value, dict | tuple) else whole

    def _session(self, session: Node) -> Iterator[tuple[str, Node]]:
        """The records of one session, by kind."""
        written = _group(session)
        shared = {name: node for name, node in written.items() if name in declarations(Session)}
        kinds = [kind for kind in written if kind in KINDS]
        taken = {"date"}
        for kind in kinds:
            takes = _takes(kind, shared)
            taken |= takes if _items(written[kind]) else set()
            entries = tuple(self._in_session(entry, shared, takes) for entry in _items(written[kind]))
            if isinstance(written[kind].value, tuple):
                yield kind, written[kind].holding(entries)
        if set(written) - set(shared) - set(kinds) or not all(isinstance(written[kind].value, tuple) for kind in kinds):
            return  # a kind is misspelt or no list, and may be the one that takes a line
        if written and not any(_items(written[kind]) for kind in kinds):
            self._refuse(session.key or session.place, "no record stands in this session; write one, or take it out")
            return
        for name in sorted(set(shared) - taken):
            self._refuse(shared[name].key or shared[name].place, _untaken(name))

    def _in_session(self, record: Node, shared: Mapping[str, Node], takes: set[str]) -> Node:
        own = _group(record)
        if not isinstance(record.value, dict):
            return record
        base = {name: shared[name] for name in takes}
        if "date" in shared:
            base["date"] = _dated(shared["date"], record)
        if "reference" in own:
            base.pop("reference", None)
        day, its = _word(shared.get("date"))[:10], own.get("date")
        if its and _other_day(day, _word(its)[:10]):
            self._refuse(its.place, f"this session was on {day}; write a record of another day outside of it")
        return merge(record.holding(base), record)

    def records(self, records: Node) -> Node:
        """Every kind in long forms."""
        if not isinstance(records.value, dict):
            return records
        return records.holding({kind: self._kind(kind, node) for kind, node in _group(records).items()})

    def _kind(self, kind: str, node: Node) -> Node:
        if kind not in KINDS or not isinstance(node.value, tuple):
            return node
        no = "" if _seen_alike(kind) else "readings are taken at one rotor: write its position, and a record for each"
        return self._each(node.holding(tuple(map(self._record, node.value))), lambda _: no)

    def logbook(self, logbook: Node) -> Node:
        """Work at all rotors is work at each."""
        no = "without a part it concerns the whole aircraft: leave out at"
        return self._each(logbook, lambda entry: "" if "part" in _group(entry) else no)

    def _each(self, node: Node, no: Callable[[Node], str]) -> Node:
        if not isinstance(node.value, tuple):
            return node
        return node.holding(tuple(one for entry in node.value for one in self._at_each(entry, no(entry))))

    def _at_each(self, entry: Node, no: str) -> list[Node]:
        """The entry at each position, where it says ``at: all``; ``no`` is why it may not."""
        at = _group(entry).get("at")
        if at is None or at.value != ALL or not self._positions:
            return [entry]
        if no:
            self._refuse(at.place, no)
            return []
        if not self._afford(at, len(_group(entry))):
            return []
        return [entry.holding(dict(_group(entry)) | {"at": _named(name, at)}) for name in self._positions]

    def _record(self, record: Node) -> Node:
        own = dict(_group(record))
        if not own or not self._positions:
            return record
        if "seen" in own:
            own["seen"] = self._seen(own["seen"])
        if "motors" in own:
            own["motors"] = self._with_others(own["motors"])
        turned = own.get("turned")
        if turned and turned.value == AS_COMMANDED and self._afford(turned, 1):
            own["turned"] = turned.holding({name: _named(name, turned) for name in self._positions})
        if "moves" in own and isinstance(own["moves"].value, tuple):
            own["moves"] = own["moves"].holding(tuple(map(self._move, own["moves"].value)))
        return record.holding(own)

    def _move(self, move: Node) -> Node:
        own = dict(_group(move))
        for name in ("sped_up", "slowed_down"):
            if name in own and own[name].value == ALL and self._afford(own[name], 1):
                own[name] = own[name].holding(tuple(_named(at, own[name]) for at in self._positions))
        return move.holding(own) if own else move

    def _seen(self, seen: Node) -> Node:
        if _word(seen) == "as-written":
            self._refuse(
                seen.place,
                "as-written would say something else as soon as a spin is corrected; write what was seen, as in "
                "{front-left: cw, others: ccw}",
            )
        return self._with_others(seen)

    def _with_others(self, told: Node) -> Node:
        """What is told by position, for every position where others stands for those not named."""
        named = dict(_group(told))
        if OTHERS not in named:
            return told
        others = named.pop(OTHERS)
        if not self._afford(others, 1):
            return told
        rest = [at for at in self._positions if at not in named]
        if not rest:
            self._refuse(others.key or others.place, "every rotor is named beside others; take others out")
        return told.holding({at: named.get(at, others) for at in (*self._positions, *named)})

    def names_of(self, rotors: Node | None) -> None:
        """Refuses rotors that are named as what stands for several."""
        for rotor in _items(rotors):
            at = _group(rotor).get("at")
            if at and at.value in (ALL, OTHERS):
                self._refuse(at.place, f"{at.value} stands for several rotors; give this one another name")

    def _afford(self, short: Node, values: int) -> bool:
        """Whether so many values may stand for each rotor in place of ``short``: no file fills the memory."""
        self._left -= values * len(self._positions)
        if self._left < 0:
            self._refuse(short.place, f"written out for every rotor the manifest holds more than {MAX_NODES} values")
        return self._left >= 0

    def _refuse(self, place: Place, message: str) -> None:
        self.problems.append(Problem(message, place))


def _takes(kind: str, shared: Mapping[str, Node]) -> set[str]:
    """Which of a session's lines a record of the kind takes."""
    takes = set(shared).intersection(declarations(_class_of(kind)))
    if "reference" in takes and not any(key.endswith(UNITS.get(kind, "?")) for key in _group(shared["reference"])):
        takes.remove("reference")
    return takes


def _untaken(name: str) -> str:
    if name == "reference":
        return (
            "no record of this session takes this reference; it needs a last digit or a fixed accuracy in the unit of "
            "the readings, as in resolution_v: 0.01, and a recharge writes its own"
        )
    return f"no record of this session has {name}; take it out"


def _other_day(day: str, its: str) -> bool:
    """Neither the day of the session nor the one after it, for evenings that last past midnight."""
    try:
        return not 0 <= (dt.date.fromisoformat(its) - dt.date.fromisoformat(day)).days <= 1
    except ValueError:
        return False  # no dates: said of them already


def _dated(date: Node, record: Node) -> Node:
    """The session's date where the record begins, which is what is spoken of; what is no date stays in its place."""
    try:
        Moment.parse(_word(date))
    except ValueError:
        return date
    lines = record.place.end_line - record.place.line
    first = next(iter(_group(record).values()), record)
    return Node(date.value, first.key if lines and first.key else record.place, None, date.text)


def _class_of(kind: str) -> Any:
    return get_args(hints_of(Records)[kind])[0]


@cache
def _seen_alike(kind: str) -> bool:
    """Whether a record of the kind holds words only: what is seen can be alike at every rotor, readings are not."""
    cls = _class_of(kind)
    return not any(said.columns or _numbers(hints_of(cls)[name]) for name, said in declarations(cls).items())


def _numbers(hint: Any) -> bool:
    return hint in (float, int) or any(map(_numbers, get_args(hint)))


def _named(position: str, at: Node) -> Node:
    return Node(position, at.place, at.key, position)


def _group(node: Node | None) -> Mapping[str, Node]:
    return node.value if node and isinstance(node.value, dict) else {}


def _items(node: Node | None) -> tuple[Node, ...]:
    return node.value if node and isinstance(node.value, tuple) else ()


def _word(node: Node | None) -> str:
    return node.value if node and isinstance(node.value, str) else ""
