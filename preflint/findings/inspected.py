"""One aircraft that was read and judged."""

import pickle
import zlib
from dataclasses import replace

from preflint.aircraft.airframe import Airframe
from preflint.aircraft.model import Aircraft
from preflint.aircraft.unjudged import NotJudged, not_judged
from preflint.findings.deferral import Deferred
from preflint.findings.result import Figure, Result, Verdict
from preflint.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Packed:
    """An aircraft as bytes, made and read in this run alone: a twelfth of its weight, where a report has many."""

    about: Airframe
    positions: tuple[str, ...]
    data: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Inspected:
    """``manifest`` is its file as shown to people, ``reached_by`` how the caller came to it, for commands to type.

    ``results`` are every rule's answers about every subject, in order of rule id and then layout; ``computed`` every
    figure that could be computed. ``broken`` holds (figure, message) for each that failed by itself, not for lack of
    input. ``files`` are all files read for it, relative to the tree, the manifest among them; the policy is not.
    ``flown_with`` are the labels of its packs that were named as flown today.
    """

    manifest: str
    held: Aircraft | Packed
    results: tuple[Result, ...]
    computed: tuple[Figure, ...]
    broken: tuple[tuple[str, str], ...]
    verdict: Verdict
    policy: str | None
    deferred: tuple[Deferred, ...]
    files: tuple[str, ...]
    reached_by: str = ""
    flown_with: tuple[str, ...] = ()

    @property
    def about(self) -> Airframe:
        """What the aircraft is: its name, owner and layout."""
        return self.held.about

    @property
    def positions(self) -> tuple[str, ...]:
        """The names of all rotors in walk-round order."""
        return self.held.positions

    @property
    def aircraft(self) -> Aircraft:
        """All that is recorded of it. Of many it is unpacked each time: keep it rather than ask again."""
        if isinstance(self.held, Aircraft):
            return self.held
        aircraft: Aircraft = pickle.loads(zlib.decompress(self.held.data))
        return aircraft

    def packed(self) -> "Inspected":
        """The same, of less weight."""
        if isinstance(self.held, Packed):
            return self
        data = zlib.compress(pickle.dumps(self.held, pickle.HIGHEST_PROTOCOL), 1)
        return replace(self, held=Packed(self.about, self.positions, data))

    @property
    def unjudged(self) -> tuple[NotJudged, ...]:
        """What was recorded and no rule or figure reads."""
        return not_judged(self.aircraft)
