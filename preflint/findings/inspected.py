"""One aircraft that was read and judged."""

from preflint.aircraft.model import Aircraft
from preflint.aircraft.unjudged import NotJudged, not_judged
from preflint.findings.deferral import Deferred
from preflint.findings.result import Figure, Result, Verdict
from preflint.frozen import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Inspected:
    """``manifest`` is its file as shown to people, ``reached_by`` how the caller came to it, for commands to type.

    ``results`` are every rule's answers about every subject, in order of rule id and then layout; ``computed`` every
    figure that could be computed. ``broken`` holds (figure, message) for each that failed by itself, not for lack of
    input. ``files`` are all files read for it, relative to the tree, the manifest among them; the policy is not.
    ``flown_with`` are the labels of its packs that were named as flown today.
    """

    manifest: str
    aircraft: Aircraft
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
    def unjudged(self) -> tuple[NotJudged, ...]:
        """What was recorded and no rule or figure reads."""
        return not_judged(self.aircraft)
