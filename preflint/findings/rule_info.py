"""What is known of a rule without the function that judges."""

from typing import Literal

from preflint.findings.manual import of_docstring, written_out
from preflint.findings.outcome import Severity
from preflint.frozen import dataclass
from preflint.precautions import Job, Precaution

Each = Literal["aircraft", "rotor", "pack", "record", "deferral"]


@dataclass(frozen=True, slots=True)
class Tolerance:
    """A limit that a rule judges by. ``stricter`` says which way a policy may move it freely.

    ``age_of`` names the kind of record whose age it limits, None where it limits anything else.
    """

    name: str
    unit: str
    default: float
    stricter: Literal["lower", "higher"]
    origin: str  # the standard, "derived: ..." or "common practice, no source"
    meaning: str
    age_of: str | None = None

    @property
    def told(self) -> str:
        """The limit as people read it, without its meaning."""
        return f"{self.name} {self.with_unit(self.default)} ({self.stricter} is stricter; {self.origin})"

    def with_unit(self, value: float) -> str:
        """A value of this limit; a plain number has no unit to show."""
        return f"{value:g}" if self.unit == "1" else f"{value:g} {self.unit}"


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleInfo:
    """One judgement as people are told of it.

    ``id`` is how it is named everywhere, ``topic/name``. ``source`` is the clause or "common practice, no source";
    ``docstring`` that of the rule's function, which holds its page. ``needed_for_pack``: flight needs it of a pack
    that is named as flown today, and of no other. ``shown_by`` is the kind of record, or the group of fields, that
    shows what flight needs: it tells the rung and the minutes. None where flight does not need it, or only a policy
    asks. ``published`` is the address of its page on the club's site, where the club's policy names one.
    """

    id: str
    each: Each
    severity: Severity
    job: Job
    precaution: Precaution
    source: str
    needed_for_flight: bool
    tolerances: tuple[Tolerance, ...]
    docstring: str
    shown_by: type | None = None
    needed_for_pack: bool = False
    published: str | None = None

    def __hash__(self) -> int:
        return hash(self.id)  # of all its words it would take a tenth of a report's time

    @property
    def topic(self) -> str:
        """The first part of the id."""
        return self.id.partition("/")[0]

    @property
    def name(self) -> str:
        """The second part of the id."""
        return self.id.partition("/")[2]

    @property
    def manual(self) -> str:
        """The page as its author wrote it."""
        return of_docstring(self.docstring)

    @property
    def page(self) -> str:
        """The manual page as people read it, every fragment whole."""
        return written_out(self.manual)

    @property
    def title(self) -> str:
        """The first line of the manual page."""
        return self.manual.splitlines()[0]
