"""How long a prop or a motor has flown since it was fitted, by the logbook."""

from collections.abc import Iterator
from typing import Literal

from preflint.api import Context, Figure, Known, arm_of, figure, logbook, name
from preflint.api import rotor as rotors
from preflint.frozen import dataclass

Part = Literal["prop", "motor"]
_NEW = frozenset({"fitted", "replaced"})


@dataclass(frozen=True, slots=True)
class Flown:
    """``minutes`` that surely count; ``untold``: flights that may count, too, or tell no minutes; ``since``: the
    fitting, None where the logbook has none.
    """

    minutes: float
    untold: tuple[logbook.LogEntry, ...]
    since: logbook.LogEntry | None

    @property
    def whole(self) -> bool:
        """Whether there was nothing besides these minutes, as the logbook tells it."""
        return self.since is not None and not self.untold

    def in_words(self) -> str:
        since = f"since it was {self.since.kind.value} on {self.since.date.value}" if self.since else "in the logbook"
        return f"{'' if self.whole else 'at least '}{self.minutes / 60:.1f} h {since}"


def flown_with(rotor: rotors.Rotor, part: Part, on: Context) -> Flown:
    """Up to the day judged at. Of two entries of one day without times, the flight may be the later one."""
    at, log = name(rotor), on.so_far(on.aircraft.logbook)
    since = on.latest(entry for entry in log if _fits(entry, part, at))
    minutes, untold = 0.0, []
    for entry in log:
        after = True if since is None else entry.date.value.after(since.date.value)
        if entry.kind.value != "flown" or after is False:
            continue
        if after and isinstance(entry.minutes, Known):
            minutes += entry.minutes.value
        else:
            untold.append(entry)
    return Flown(minutes, tuple(untold), since)


def _fits(entry: logbook.LogEntry, part: Part, at: str) -> bool:
    here = not isinstance(entry.at, Known) or entry.at.value in (at, arm_of(at))
    return here and entry.kind.value in _NEW and isinstance(entry.part, Known) and entry.part.value == part


@figure("minutes-since-fitted")
def minutes_figures(on: Context) -> Iterator[Figure]:
    """Of each part whose fitting is in the logbook; the least where a flight tells no minutes."""
    parts: tuple[Part, ...] = ("prop", "motor")
    for rotor in on.aircraft.rotors:
        for part in parts:
            flown = flown_with(rotor, part, on)
            if flown.since:
                u = 0.0 if flown.whole else None
                yield Figure("minutes_since_fitted", part, flown.minutes, u, "min", name(rotor), flown.since.place)
