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


@dataclass(frozen=True, slots=True)
class Common:
    """What many packed aircraft have in common: ``rules``, which their answers name by number, and what was packed of
    the first of them, ``aircraft`` and ``answers``, to which the bytes of the others point where they say the same.
    """

    rules: tuple[RuleInfo, ...]
    aircraft: bytes
    answers: bytes

    def __hash__(self) -> int:
        return hash(self.answers)


@dataclass(frozen=True, slots=True, eq=False)
class Packed:
    """The same as bytes, made and read in this run alone: a tenth of the weight, where a report has many.

    Two of them are never equal: the bytes may differ where what they hold does not.
    """

    about: Airframe
    positions: tuple[str, ...]
    broken: tuple[tuple[str, str], ...]
    common: Common
    packed_aircraft: bytes
    packed_answers: bytes

    @classmethod
    def of(cls, judged: Judged, known: dict[tuple[RuleInfo, ...], Common]) -> "Packed":
        """``known``: what is in common, by the rules, with those that were packed before."""
        rules = tuple({result.rule.id: result.rule for result in judged.answers.results}.values())
        aircraft, answers = _pickled(judged.aircraft), _pickled(_numbered(judged.answers, rules))
        if len(known) == _MOST_KNOWN:
            known.clear()
        common = known.setdefault(rules, Common(rules, aircraft[-_WINDOW:], answers[-_WINDOW:]))
        return cls(
            judged.about,
            judged.positions,
            judged.broken,
            common,
            _lighter(aircraft, common.aircraft),
            _lighter(answers, common.answers),
        )

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
        packed = _lighter(_pickled(_numbered(answers, self.common.rules)), self.common.answers)
        return replace(self, broken=answers.broken, packed_answers=packed)


_WINDOW = 2**15  # as far back as zlib looks
_MOST_KNOWN = 16  # policies differ in few rules or none, and a worker of a cluster outlives many runs


def _numbered(answers: Answers, rules: tuple[RuleInfo, ...]) -> object:
    number = {rule.id: i for i, rule in enumerate(rules)}
    results = [(number[result.rule.id], result.at, result.outcome) for result in answers.results]
    deferred = [(answers.results.index(entry.result), entry.deferral) for entry in answers.deferred]
    return results, answers.computed, deferred


def _pickled(value: object) -> bytes:
    import pickle  # only where there are many

    return pickle.dumps(value, pickle.HIGHEST_PROTOCOL)


def _lighter(data: bytes, like: bytes) -> bytes:
    press = zlib.compressobj(1, zdict=like)
    return press.compress(data) + press.flush()


def _unpacked(data: bytes, like: bytes) -> Any:
    import pickle

    return pickle.loads(zlib.decompressobj(zdict=like).decompress(data))


# Reports go aircraft by aircraft and ask each again and again: the last one is kept.
@lru_cache(1)
def _aircraft(held: Packed) -> Aircraft:
    aircraft: Aircraft = _unpacked(held.packed_aircraft, held.common.aircraft)
    return aircraft


@lru_cache(1)
def _answers(held: Packed) -> Answers:
    numbered, computed, deferred = _unpacked(held.packed_answers, held.common.answers)
    results = tuple(Result(held.common.rules[number], at, outcome) for number, at, outcome in numbered)
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

    def packed(self, known: dict[tuple[RuleInfo, ...], Common]) -> "Inspected":
        """The same, of less weight. ``known``: what those that were packed before have in common, by their rules."""
        return replace(self, held=Packed.of(self.held, known)) if isinstance(self.held, Judged) else self

    def sharing(self, known: dict[Common, Common]) -> "Inspected":
        """The same, packed in another process, with what it has in common with those before it held but once."""
        assert isinstance(self.held, Packed)
        return replace(self, held=replace(self.held, common=known.setdefault(self.held.common, self.held.common)))
