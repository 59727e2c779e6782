"""The packs named as flown today, against those of the aircraft that were judged."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from preflint.aircraft.field import Known
from preflint.check.near import suggestion
from preflint.errors import UsageError
from preflint.findings.inspected import Inspected
from preflint.findings.report import Note, Report
from preflint.load.quoting import in_quotes, shorten


def with_packs(report: Report, packs: Sequence[str]) -> Report:
    """The report, with a note of the aircraft that are judged without a pack of the day.

    Raises UsageError for a label that no aircraft has: a slip of the pen must not come out as go. Where some aircraft
    was not judged the label may be its own, and a note says that nobody was found to have it.
    """
    if not packs or report.spared:
        return report
    unknown = [label for label in dict.fromkeys(packs) if not any(label in one.flown_with for one in report.aircraft)]
    known = sorted(_labels(report.aircraft))
    if unknown and not report.not_read and not report.interrupted:
        raise UsageError(_nobody_has(unknown[0], known))
    notes = [Note(_nobody_has(label, known)) for label in unknown]
    if others := [one for one in report.aircraft if not one.flown_with]:
        names = ", ".join(shorten(one.about.name.value) for one in others[:3])
        more = f" and {len(others) - 3} more" if len(others) > 3 else ""
        notes.append(Note(f"{names}{more}: none of the packs flown today is theirs; judged without a pack of the day"))
    return replace(report, notes=(*report.notes, *notes))


def _nobody_has(label: str, known: Sequence[str]) -> str:
    hint = suggestion(label, known) if known else "none of them has a label"
    return f"no aircraft here has a pack labelled {in_quotes(shorten(label))}; {hint}"


def _labels(aircraft: Iterable[Inspected]) -> set[str]:
    packs = (pack for one in aircraft for pack in one.aircraft.packs)
    return {pack.label.value for pack in packs if isinstance(pack.label, Known)}
