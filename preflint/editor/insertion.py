"""A record to fill in, put where it belongs in the text of an open manifest."""

from preflint.aircraft.moment import Moment
from preflint.errors import NotRead
from preflint.findings.inspected import Inspected
from preflint.frozen import dataclass
from preflint.writing.entry import entries
from preflint.writing.facts import Facts
from preflint.writing.insert import insert


@dataclass(frozen=True, slots=True)
class Insertion:
    """``text`` goes before the character at ``index``, counted without the byte order mark."""

    index: int
    text: str


def record_to_fill_in(text: str, kind: str, aircraft: Inspected, now: Moment) -> Insertion | None:
    """None where the form of the text leaves no sure place for it."""
    made = entries(kind, Facts.of(aircraft.aircraft, now), {})
    try:
        after, _ = insert(text.encode("utf-8"), aircraft.manifest, kind, made)
    except (NotRead, UnicodeEncodeError):
        return None
    old, new = text.removeprefix("\ufeff"), after.decode("utf-8").removeprefix("\ufeff")
    start = next((i for i, (a, b) in enumerate(zip(old, new, strict=False)) if a != b), len(old))
    return Insertion(start, new[start : start + len(new) - len(old)])
