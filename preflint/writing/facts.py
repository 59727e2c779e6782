"""What a manifest tells already, so that nobody types it again: positions, packs, settings, the meter last used."""

from collections.abc import Mapping
from dataclasses import field, fields
from typing import Any

from preflint.aircraft.dated import Dated, InForce, Reference
from preflint.aircraft.declared import declarations
from preflint.aircraft.field import Known
from preflint.aircraft.layouts import positions
from preflint.aircraft.model import Aircraft, name
from preflint.aircraft.moment import Moment
from preflint.aircraft.records import Records
from preflint.aircraft.words import PROGRAMMED
from preflint.frozen import dataclass

_READ_EACH_TIME = ("zero_a",)  # stands with the instrument, and is no property of it
_ON_CUSTOM = ("one", "two", "three", "four")  # names for rotors that nobody has named yet


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """``now``: when the record is made. ``packs``: cells by label (None where not told). ``pack``: the label last used,
    or the only one.

    ``installed``: the settings that the flight controller has, by their names in ``in_force``; none where the logbook
    has a change of settings after ``now``. ``references``: by kind of record, what was last written of the instrument.
    """

    layout: str
    positions: tuple[str, ...]
    now: Moment
    spins: Mapping[str, str] = field(default_factory=dict)
    packs: Mapping[str, int | None] = field(default_factory=dict)
    pack: str | None = None
    installed: Mapping[str, object] = field(default_factory=dict)
    references: Mapping[str, Mapping[str, object]] = field(default_factory=dict)

    @classmethod
    def of_layout(cls, layout: str, now: Moment, packs: Mapping[str, int | None] | None = None) -> "Facts":
        """Of an aircraft of which nothing is written yet but its layout, and its packs where they are given."""
        given = packs or {}
        return cls(
            layout=layout, positions=positions(layout) or _ON_CUSTOM, now=now, packs=given,
            pack=next(iter(given)) if len(given) == 1 else None,
        )  # fmt: skip

    @classmethod
    def of(cls, aircraft: Aircraft, now: Moment) -> "Facts":
        """Of an aircraft as its manifest tells it; what it does not tell is left out."""
        packs = {
            pack.label.value: pack.cells.value if isinstance(pack.cells, Known) else None
            for pack in aircraft.packs
            if isinstance(pack.label, Known)
        }
        used = _last_of([one for kind in Records.kinds() for one in aircraft.records.of_kind(kind)], "pack")
        pack = used.value if isinstance(used, Known) else next(iter(packs)) if len(packs) == 1 else None
        return cls(
            layout=aircraft.about.layout.value,
            positions=aircraft.positions,
            now=now,
            spins={name(rotor): rotor.spin.value for rotor in aircraft.rotors if isinstance(rotor.spin, Known)},
            packs=packs,
            pack=pack,
            installed={} if _changed_since(aircraft, now) else _installed(aircraft),
            references={
                kind: {name: value for name, value in written.items() if name not in _READ_EACH_TIME}
                for kind in Records.kinds()
                if (written := _written(_last_of(aircraft.records.of_kind(kind), "reference")))
            },
        )


def _changed_since(aircraft: Aircraft, moment: Moment) -> bool:
    changes = (entry.date.value for entry in aircraft.logbook if entry.kind.value in PROGRAMMED)
    return any(change.after(moment) for change in changes)


def _installed(aircraft: Aircraft) -> Mapping[str, object]:
    found: dict[str, object] = {}
    for fitted in (aircraft.power_sensing, aircraft.compass):
        if isinstance(fitted, Known):
            told = _written(fitted.value)
            found |= {key: told[key] for key in declarations(InForce) if key in told}
    return found


def _last_of(records: Any, what: str) -> Any:
    """The field of that name in the last record, by date, that has something written there; None where none has."""
    found: Any = None
    for record in sorted(records, key=_when):
        value = getattr(record, what, None)
        if isinstance(value, Known) or (isinstance(value, Reference) and _written(value)):
            found = value
    return found


def _when(record: Dated) -> Any:
    return record.date.value.latest


def _written(group: Any) -> Mapping[str, object]:
    """The values of a group that somebody wrote, by key."""
    if group is None:
        return {}
    held = ((item.name, getattr(group, item.name)) for item in fields(group))
    return {key: value.value for key, value in held if isinstance(value, Known)}
