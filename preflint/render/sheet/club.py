"""What the club's page and the letters tell: a row for each aircraft, a page for each owner."""

from collections.abc import Iterable, Iterator, Sequence

from preflint.aircraft.field import Known
from preflint.findings.inspected import Inspected
from preflint.findings.ladder import ladder
from preflint.findings.outcome import Severity
from preflint.findings.report import Report, is_grounded
from preflint.frozen import dataclass
from preflint.render.entries import failed, found, where
from preflint.render.ladder import not_shown
from preflint.render.remarks import NO_ANSWER, nothing_answered
from preflint.render.sheet.told import NO_OWNER, owner

_MOST = 3  # findings in a row of the table; the page has all of them


@dataclass(frozen=True, slots=True)
class Row:
    """One aircraft in the table. ``owner_key`` is that of its owner among ``owners``."""

    one: Inspected
    page: str
    owner: str
    owner_key: int
    grounded: bool
    why: tuple[str, ...]


def owners(written: Iterable[str | None]) -> list[str | None]:
    """Each once, by name, those who differ in capitals and spaces alone as one; last None, where nobody is named."""
    named: dict[str, str] = {}
    nobody: list[str | None] = []
    for one in written:
        if one is None:
            nobody = [None]
        else:
            named.setdefault(_key(one), one)
    return [*(named[key] for key in sorted(named)), *nobody]


def is_of(written: str | None, named: str | None) -> bool:
    """Whether the owner as ``written`` is ``named``, one of :func:`owners`."""
    if written is None or named is None:
        return written is named
    return _key(written) == _key(named)


def rows(ordered: Sequence[Inspected], pages: Sequence[str], ground_at: Severity) -> list[Row]:
    """In the order given, with the names of their pages."""
    known = owners(map(owner, ordered))
    made = []
    for one, page in zip(ordered, pages, strict=True):
        key = next(i for i, named in enumerate(known) if is_of(owner(one), named))
        grounded = is_grounded(one, ground_at)
        why = tuple(_why(one, ground_at)) if grounded else ()
        made.append(Row(one, page, known[key] or NO_OWNER, key, grounded, why))
    return made


def sites(report: Report) -> list[str]:
    """The names of the sites for which it was judged."""
    named = (one.aircraft.site.name for one in report.aircraft)
    return sorted({site.value for site in named if isinstance(site, Known)})


def _why(one: Inspected, ground_at: Severity) -> Iterator[str]:
    """What keeps it down: findings that nobody answers for, what is not shown, what broke down."""
    put_off = [entry.result for entry in one.deferred]
    said = [
        f"{where(one, entry.at)}{'; '.join(entry.messages)}"
        for entry in sorted(found(one), key=lambda entry: -entry.results[0].rule.severity)
        if any(r.rule.severity >= ground_at and r not in put_off for r in entry.results)
    ]
    yield from said[:_MOST]
    if len(said) > _MOST:
        yield f"and {len(said) - _MOST} more"
    if lacks := not_shown(ladder(one)):
        yield f"not shown yet: {lacks}"
    for rule, _, _ in failed(one):
        yield f"broke down: {rule}"
    if nothing_answered(one):
        yield NO_ANSWER


def _key(written: str) -> str:
    return " ".join(written.casefold().split())
