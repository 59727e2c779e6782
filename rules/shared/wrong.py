"""Several things that one test shows to be wrong, said in one finding."""

from collections.abc import Sequence

from preflint.api import Finding, Place, Related
from preflint.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Wrong:
    """One thing that is not as it ought to be: where it is written, in words, and what to do."""

    place: Place
    words: str
    remedy: str


def finding(wrong: Sequence[Wrong], evidence: str, then: str) -> Finding:
    """All that is wrong, the first at its place; ``then`` is what to do once each is put right."""
    return Finding(
        place=wrong[0].place,
        message="; ".join(each.words for each in wrong),
        evidence=evidence,
        do="; ".join([*dict.fromkeys(each.remedy for each in wrong), then]),
        related=tuple(Related(each.place, each.words) for each in wrong[1:]),
    )
