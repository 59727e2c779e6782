"""One aircraft that was read and judged."""

import zlib
from dataclasses import replace
from functools import lru_cache
from typing import Any

from preflint.aircraft.airframe import Airframe
from preflint.aircraft.model import Aircraft
from preflint.aircraft.unjudged import NotJudged, not_judged
from preflint.findings.deferral import Deferred
from preflint.findings.result import Figure, Result, Verdict
from preflint.findings.rule_info import RuleInfo
from preflint.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Answers:
    """What was found out about one aircraft; see :class:`Inspected`."""

    results: tuple[Result, ...]
    computed: tuple[Figure, ...]
    broken: tuple[tuple[str, str], ...]
    deferred: tuple[Deferred, ...]


@dataclass(frozen=True, slots=True)
class Judged:
    """One aircraft and what was found out about it."""

    aircraft: Aircraft
    answers: Answers

    @property
    def about(self) -> Airframe:
        """What the aircraft is."""
        return self.aircraft.about

    @property
    def positions(self) -> tuple[str, ...]:
        """The names of all rotors in walk-round order."""
        return self.aircraft.positions

    @property
    def broken(self) -> tuple[tuple[str, str], ...]:
        """What failed by itself."""
        return self.answers.broken

    def with_answers(self, answers: Answers) -> "Judged":
        """The same aircraft with others."""
        return replace(self, answers=answers)


@dataclass(frozen=True, slots=True, eq=False)
class Packed:
    """The same as bytes, made and read in this run alone: a tenth of the weight, where a report has many.

    Two of them are never equal: the bytes may differ where what they hold does not.
    ``rules`` are those of the answers, which point to them by their number: many aircraft have them in common.
    """

    about: Airframe
    positions: tuple[str, ...]
    broken: tuple[tuple[str, str], ...]
    rules: tuple[RuleInfo, ...]
    packed_aircraft: bytes
    packed_answers: bytes

    @classmethod
    def of(cls, judged: Judged) -> "Packed":
        rules = tuple({result.rule.id: result.rule for result in judged.answers.results}.values())
        packed = cls(judged.about, judged.positions, (), rules, _bytes(judged.aircraft), b"")
        return packed.with_answers(judged.answers)

    @property
    def aircraft(self) -> Aircraft:
        """Unpacked."""
        return _aircraft(self)

    @property
    def answers(self) -> Answers:
        """Unpacked."""
        return _answers(self)

    def with_answers(self, answers: Answers) -> "Packed":
        """The same aircraft with others, by some of the same rules."""
        number = {rule.id: i for i, rule in enumerate(self.rules)}  # an id's hash is known already
        results = [(number[result.rule.id], result.at, result.outcome) for result in answers.results]
        deferred = [(answers.results.index(entry.result), entry.deferral) for entry in answers.deferred]
        packed = _bytes((results, answers.computed, deferred))
        return replace(self, broken=answers.broken, packed_answers=packed)


def _bytes(value: object) -> bytes:
    import pickle  # only where there are many

    return zlib.compress(pickle.dumps(value, pickle.HIGHEST_PROTOCOL), 1)


def _unpacked(data: bytes) -> Any:
    import pickle

    return pickle.loads(zlib.decompress(data))


# Reports go aircraft by aircraft and ask each again and again: the last one is kept.
@lru_cache(1)
def _aircraft(held: Packed) -> Aircraft:
    aircraft: Aircraft = _unpacked(held.packed_aircraft)
    return aircraft


@lru_cache(1)
def _answers(held: Packed) -> Answers:
    numbered, computed, deferred = _unpacked(held.packed_answers)
    results = tuple(Result(held.rules[number], at, outcome) for number, at, outcome in numbered)
    return Answers(results, computed, held.broken, tuple(Deferred(results[i], deferral) for i, deferral in deferred))


@dataclass(frozen=True, slots=True, kw_only=True)
class Inspected:
    """``manifest`` is its file as shown to people, ``reached_by`` how the caller came to it, for commands to type.

    ``files`` are all files read for it, relative to the tree, the manifest among them; the policy is not.
    ``flown_with`` are the labels of its packs that were named as flown today.
    """

    manifest: str
    held: Judged | Packed
    verdict: Verdict
    policy: str | None
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
        """All that is recorded of it."""
        return self.held.aircraft

    @property
    def results(self) -> tuple[Result, ...]:
        """Every rule's answers about every subject, in order of rule id and then layout."""
        return self.held.answers.results

    @property
    def computed(self) -> tuple[Figure, ...]:
        """Every figure that could be computed."""
        return self.held.answers.computed

    @property
    def broken(self) -> tuple[tuple[str, str], ...]:
        """(figure, message) for each that failed by itself, not for lack of input."""
        return self.held.broken

    @property
    def deferred(self) -> tuple[Deferred, ...]:
        """Each finding that somebody answers for."""
        return self.held.answers.deferred

    @property
    def unjudged(self) -> tuple[NotJudged, ...]:
        """What was recorded and no rule or figure reads."""
        return not_judged(self.aircraft)

    def with_results(self, results: tuple[Result, ...]) -> "Inspected":
        """The same with fewer results, of which nobody puts one off."""
        return replace(self, held=self.held.with_answers(replace(self.held.answers, results=results, deferred=())))

    def packed(self, rules: dict[tuple[RuleInfo, ...], tuple[RuleInfo, ...]]) -> "Inspected":
        """The same, of less weight. ``rules`` holds those of all that were packed before, each once."""
        held = Packed.of(self.held) if isinstance(self.held, Judged) else self.held
        return replace(self, held=replace(held, rules=rules.setdefault(held.rules, held.rules)))
