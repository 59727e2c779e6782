"""What text reports say once although several rotors or rules say it, in walk-round order."""

import re
from collections.abc import Callable, Hashable, Iterable, Sequence
from typing import TypeVar

from preflint.findings.inspected import Inspected
from preflint.findings.outcome import Crashed, Finding, Unproven
from preflint.findings.result import Result
from preflint.frozen import dataclass
from preflint.places import Place

Answer = TypeVar("Answer", Finding, Unproven)


def _station(result: Result, positions: Sequence[str]) -> tuple[int, int]:
    if result.at in positions:
        return 0, positions.index(result.at)
    return 1, result.job


def bare(message: str, at: str | None) -> str:
    """The message without the name of the rotor it is about, to say once what is the same of several.

    Only where it can be nothing but the name: a rotor may be called left, and so may a thread.
    """
    if at is None:
        return message
    named = re.escape(at)
    message = re.sub(rf"(?<![\w-]){named}\.(?=[a-z])", "", message)
    return re.sub(rf" (?:of|at) {named}(?= is | on |[,;:]|$)", "", message)


def _grouped(
    results: Iterable[Result], same: Callable[[Result, Answer], Hashable], kind: type[Answer]
) -> list["Entry"]:
    groups: dict[Hashable, list[Result]] = {}
    for result in results:
        if isinstance(result.outcome, kind):
            groups.setdefault(same(result, result.outcome), []).append(result)
    return [Entry(tuple(group)) for group in groups.values()]


@dataclass(frozen=True, slots=True)
class Entry:
    """Results that ask for the same at several rotors, or of one record for several rules."""

    results: tuple[Result, ...]

    @property
    def at(self) -> tuple[str, ...]:
        """The rotors or packs concerned, in walk-round order."""
        return tuple(dict.fromkeys(r.at for r in self.results if r.at is not None))

    @property
    def rules(self) -> tuple[str, ...]:
        """The rules that say it."""
        return tuple(dict.fromkeys(r.rule.id for r in self.results))

    @property
    def places(self) -> tuple[Place, ...]:
        """Where it stands."""
        return tuple(dict.fromkeys(outcome.place for outcome in self._outcomes))

    @property
    def related(self) -> dict[str, tuple[Place, ...]]:
        """What else to look at: each message with its places."""
        said: dict[str, dict[Place, None]] = {}
        for result, outcome in zip(self.results, self._outcomes, strict=True):
            for item in outcome.related:
                message = item.message if len(self.at) < 2 else bare(item.message, result.at)
                said.setdefault(message, {})[item.place] = None
        return {message: tuple(places) for message, places in said.items()}

    @property
    def messages(self) -> dict[str, tuple[str, ...]]:
        """What is said, each message once with its rotors; without their names where several are concerned."""
        return self._said_of([outcome.message for outcome in self._outcomes])

    @property
    def grounds(self) -> dict[str, tuple[str, ...]]:
        """The evidence, likewise; none is left out."""
        evidence = self._said_of([outcome.evidence for outcome in self._outcomes])
        return {text: at for text, at in evidence.items() if text}

    @property
    def _outcomes(self) -> list[Finding | Unproven]:
        return [r.outcome for r in self.results if isinstance(r.outcome, Finding | Unproven)]

    def _said_of(self, texts: Sequence[str]) -> dict[str, tuple[str, ...]]:
        if len(self.at) < 2:
            return {texts[0]: self.at}
        said: dict[str, dict[str, None]] = {}
        for result, text in zip(self.results, texts, strict=True):
            if result.at is not None:
                said.setdefault(bare(text, result.at), {})[result.at] = None
        return {text: tuple(at) for text, at in said.items()}


def where(inspected: Inspected, positions: Sequence[str]) -> str:
    """The rotors or packs that something is said of, in front of it; "" for the whole aircraft."""
    if len(positions) > 1 and set(positions) == set(inspected.positions):
        return "every rotor: "
    return f"{', '.join(positions)}: " if positions else ""


def walk_round(inspected: Inspected, results: Iterable[Result]) -> list[Result]:
    """Rotor by rotor, then the aircraft in the order in which work is done; the worst first at each."""
    positions = inspected.positions
    return sorted(results, key=lambda r: (_station(r, positions), -r.rule.severity, r.rule.id))


def found(inspected: Inspected) -> list[Entry]:
    """All findings; where one rule asks for the same at several rotors they are one entry, at the first of them.

    Records that are to be taken again are one entry only where all words are the same, as of old bell pulls of one day.
    """
    return _grouped(
        walk_round(inspected, (r for r in inspected.results if isinstance(r.outcome, Finding))),
        lambda r, o: (r.rule.id, r.at is None, o.do, o.again and (o.message, o.evidence)),
        Finding,
    )


def open_for_flight(inspected: Inspected) -> list[Entry]:
    """What flight needs and is not proven, said once for all rotors and rules that wait for the same."""
    waiting = (r for r in inspected.results if isinstance(r.outcome, Unproven) and r.rule.needed_for_flight)
    return _grouped(walk_round(inspected, waiting), _same_question, Unproven)


def _same_question(result: Result, outcome: Unproven) -> Hashable:
    return result.at is None, outcome.place if outcome.cause in ("stale", "order-open") else outcome.do


def not_needed(inspected: Inspected) -> dict[str, list[Result]]:
    """The other open questions by topic."""
    topics: dict[str, list[Result]] = {}
    for result in inspected.results:
        if isinstance(result.outcome, Unproven) and not result.rule.needed_for_flight:
            topics.setdefault(result.rule.topic, []).append(result)
    return topics


def failed(inspected: Inspected) -> list[tuple[str, str | None, str]]:
    """Rules and figures that failed by themselves: (id, position, what happened)."""
    rules = [(r.rule.id, r.at, r.outcome.message) for r in inspected.results if isinstance(r.outcome, Crashed)]
    return rules + [(source, None, message) for source, message in inspected.broken]
