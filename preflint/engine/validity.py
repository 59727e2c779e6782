"""How long a record proves anything with nothing done to the aircraft: the validity of its kind, in days."""

import datetime as dt
from collections.abc import Iterable, Mapping

from preflint.aircraft.dated import Dated
from preflint.aircraft.records import named
from preflint.findings.outcome import Unproven
from preflint.findings.rule_info import RuleInfo
from preflint.frozen import dataclass


@dataclass(frozen=True, slots=True)
class TooOld:
    """A record past its validity: ``days`` old on the day judged at, and at most ``most`` count."""

    kind: str
    record: Dated
    days: int
    most: float

    def __str__(self) -> str:
        called = named(self.kind)
        if self.most < 1:
            return f"the {called} of {self.record.date.value} counted on that day only"
        are = "are" if called.endswith("s") else "is"
        return f"the {called} of {self.record.date.value} {are} {self.days} days old, and at most {self.most:g} count"

    def unproven(self, do: str, mind: str | None) -> Unproven:
        """The answer of a rule that asks for the record; ``do`` says how it is taken."""
        return Unproven(
            cause="stale", place=self.record.date.place, message=str(self), do=do, mind=mind, record=self.kind
        )


def validities(rules: Iterable[RuleInfo], limits: Mapping[str, float]) -> dict[str, float]:
    """Days by kind of record, as the rules declare them and the policy (``limits``) moves them."""
    ages = [limit for rule in rules for limit in rule.tolerances if limit.age_of is not None]
    return {str(limit.age_of): limits.get(limit.name, limit.default) for limit in ages}


def too_old(kind: str, record: Dated, judged_on: dt.date, valid: Mapping[str, float]) -> TooOld | None:
    """None within its validity, and where its kind has none."""
    days = (judged_on - record.date.value.date).days
    return TooOld(kind, record, days, valid[kind]) if kind in valid and days > valid[kind] else None
