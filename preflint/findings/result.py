"""One rule's outcome about one subject, a computed figure, and what becomes of all of them together."""

from collections.abc import Iterable
from typing import Literal

from preflint.findings.outcome import CAUTION, NO_GO, Clear, Crashed, Finding, Outcome, Unproven
from preflint.findings.rule_info import RuleInfo
from preflint.frozen import dataclass
from preflint.places import Place
from preflint.precautions import DESK, Job, Precaution

Verdict = Literal["no-go", "unproven", "go-with-cautions", "go"]


@dataclass(frozen=True, slots=True)
class Result:
    """``at`` is the position (or pack label) that the rule was asked about, None for the whole aircraft."""

    rule: RuleInfo
    at: str | None
    outcome: Outcome

    @property
    def only_to_write(self) -> bool:
        """Whether a line in the manifest settles it."""
        return isinstance(self.outcome, Unproven) and self.outcome.on_paper

    @property
    def do(self) -> str:
        """What puts a finding right or answers an open question; "" for the other answers."""
        return self.outcome.do if isinstance(self.outcome, Finding | Unproven) else ""

    @property
    def record(self) -> str | None:
        """The kind of record that is written down when it is done, if any."""
        return self.outcome.record if isinstance(self.outcome, Finding | Unproven) else None

    @property
    def precaution(self) -> Precaution:
        """What to mind while it is done: the outcome's own, else the rule's; a line on paper needs none."""
        if self.only_to_write:
            return DESK
        own = self.outcome.mind if isinstance(self.outcome, Finding | Unproven) else None
        return self.rule.precaution if own is None else Precaution.of(own)

    @property
    def job(self) -> Job:
        """The state in which the aircraft stands for what is to be done: by the outcome's own precaution, if any."""
        own, usual = self.precaution, self.rule.precaution
        return self.rule.job if own.job is None or (own == usual and own.job is usual.job) else own.job


@dataclass(frozen=True, slots=True)
class Figure:
    """A computed value with its standard uncertainty in the same unit; None where none can be stated.

    ``dof``: effective degrees of freedom of that, by Welch and Satterthwaite (GUM G.4); None or infinite where it
    comes of what is known of instruments alone (type B, GUM 4.3), or nobody says.
    """

    quantity: str
    case: str | None
    value: float
    standard_uncertainty: float | None
    unit: str
    at: str | None
    place: Place
    dof: float | None = None


def verdict(results: Iterable[Result]) -> Verdict:
    """What follows for flight. Nothing that flight needs was clear: unproven."""
    results = tuple(results)
    severities = {r.rule.severity for r in results if isinstance(r.outcome, Finding)}
    if NO_GO in severities:
        return "no-go"
    needed = [r.outcome for r in results if r.rule.needed_for_flight]
    crashed = any(isinstance(r.outcome, Crashed) for r in results)
    if crashed or any(isinstance(o, Unproven) for o in needed) or not any(isinstance(o, Clear) for o in needed):
        return "unproven"
    return "go-with-cautions" if CAUTION in severities else "go"
