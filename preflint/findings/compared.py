"""What is new, gone and still there since an earlier report: by aircraft, rule and rotor, never by line."""

from collections.abc import Mapping, Sequence
from typing import Literal

from preflint.frozen import dataclass

State = Literal["new", "gone", "there"]
Kind = Literal["finding", "unproven"]

Key = tuple[Kind, str, str | None]
"""A finding, or what flight needs and is not proven; the rule; the rotor or pack, None for the whole aircraft."""


@dataclass(frozen=True, slots=True)
class Said:
    """What an answer said: how severe the finding is ("" of an open question), and its message."""

    severity: str
    message: str


@dataclass(frozen=True, slots=True)
class EarlierAircraft:
    """An aircraft as an earlier report told of it; one rule may have said several things of one rotor."""

    manifest: str
    name: str
    verdict: str
    flown_with: tuple[str, ...]
    said: Mapping[Key, Sequence[Said]]


@dataclass(frozen=True, slots=True)
class Earlier:
    """What of an earlier report is compared; ``not_read`` are files that it did not judge."""

    judged_on: str
    tool: str
    policy: str | None
    aircraft: tuple[EarlierAircraft, ...]
    not_read: frozenset[str]


@dataclass(frozen=True, slots=True)
class Change:
    """``now`` is, of what is gone, what the rule answers now; None where it was not asked: gone is not put right."""

    state: State
    kind: Kind
    rule: str
    at: str | None
    severity: str
    message: str
    now: str | None


@dataclass(frozen=True, slots=True)
class ComparedAircraft:
    """``before`` and ``verdict`` are those of the earlier report and of this one; None where it had no verdict.

    ``unread`` says that its manifest stands among the files not read, of the report that lacks the verdict.
    """

    manifest: str
    name: str
    before: str | None
    verdict: str | None
    unread: bool
    changes: tuple[Change, ...]

    @property
    def state(self) -> State:
        """Whether the aircraft itself is new, gone or still there."""
        return "new" if self.before is None else "gone" if self.verdict is None else "there"


@dataclass(frozen=True, slots=True)
class Compared:
    """``differently`` says in words what else was not the same, so that a change may come from there."""

    judged_on: str
    differently: tuple[str, ...]
    aircraft: tuple[ComparedAircraft, ...]
