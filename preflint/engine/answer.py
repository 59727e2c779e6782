"""What a rule or figure answered, looked at before anybody relies on it: its code is a stranger's."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import get_args

from preflint.aircraft.records import KINDS
from preflint.arrays import np
from preflint.findings.outcome import Cause, Clear, Finding, NotApplicable, Related, Unproven
from preflint.findings.result import Figure
from preflint.places import Place
from preflint.precautions import Job, Precaution

# The likeliest first.
_TEXTS: Mapping[type, tuple[str, ...]] = {
    NotApplicable: ("because",),
    Clear: ("evidence",),
    Finding: ("message", "evidence", "do"),
    Unproven: ("message", "do", "evidence"),
}

_CAUSES = get_args(Cause)


def are(kind: type, *values: object) -> bool:
    """Whether each is of exactly this class: one derived from it may behave in any way.

    A class is asked for by ``is``, here as below: one of a stranger's may say that it equals any other.
    """
    for value in values:  # noqa: SIM110 (half the time of all(), and asked for every answer)
        if type(value) is not kind:
            return False
    return True


def wrong_with(answer: object) -> str | None:
    """Why it is no answer of a rule."""
    for known, names in _TEXTS.items():  # noqa: B007 (as above)
        if type(answer) is known:
            break
    else:
        return f"answered with {type(answer).__name__}, which is no outcome"
    for name in names:
        if type(getattr(answer, name)) is not str:
            return f"answered with {name} that is no text"
    if isinstance(answer, Finding | Unproven):
        return _wrong_with_places(answer) or _wrong_with_rest(answer)
    return None


def _wrong_with_places(answer: Finding | Unproven) -> str | None:
    others = answer.related
    if type(others) is not tuple or not are(Related, *others):
        return "answered with related places that are no tuple of Related"
    if not _is_place(answer.place) or not all(_is_place(related.place) for related in others):
        return "pointed at something that is no place"
    if not are(str, *(related.message for related in others)):
        return "answered with a related message that is no text"
    if not are(bool, *(related.compared for related in others)):
        return "answered with a related place whose compared is neither true nor false"
    return None


def _wrong_with_rest(answer: Finding | Unproven) -> str | None:
    if not (answer.mind is None or are(str, answer.mind) or is_precaution(answer.mind)):
        return "answered with mind that is no text"
    if not (answer.record is None or (are(str, answer.record) and answer.record in KINDS)):
        return "answered with record that is no kind of record"
    if isinstance(answer, Finding):
        return None if are(bool, answer.again) else "answered with again that is neither true nor false"
    if not are(str, answer.cause) or answer.cause not in _CAUSES:
        return f"answered with a cause that is none of {', '.join(_CAUSES)}"
    return None if are(bool, answer.on_paper) else "answered with on_paper that is neither true nor false"


def wrong_with_figure(figure: object) -> str | None:
    """Why it is no figure that can be told."""
    if not isinstance(figure, Figure) or not are(Figure, figure):
        return f"gave {type(figure).__name__}, which is no Figure"
    texts = (figure.quantity, figure.unit, *(text for text in (figure.case, figure.at) if text is not None))
    if not are(str, *texts):
        return "gave a figure whose quantity, case, unit or position is no text"
    u = figure.standard_uncertainty
    if not _is_number(figure.value) or not (u is None or _is_number(u)):
        return "gave a figure whose value or uncertainty is no number"
    if not (figure.dof is None or _is_number(figure.dof)):
        return "gave a figure whose degrees of freedom are no number"
    return None if _is_place(figure.place) else "gave a figure at something that is no place"


def _is_number(value: object) -> bool:
    """Infinity is one: a figure may be without bound."""
    known = are(int, value) or are(float, value) or are(np.float64, value)  # which is loaded for what is neither
    return known and not math.isnan(value)  # type: ignore[arg-type]


def _is_place(place: object) -> bool:
    if not isinstance(place, Place) or type(place) is not Place or len(place) != len(Place._fields):
        return False  # one that was made past its class may have any parts
    file, line, column, end_line, end_column, pointer = place
    return type(file) is type(pointer) is str and are(int, line, column, end_line, end_column)


def is_precaution(mind: object) -> bool:
    """One of exactly the class. It travels between processes, and holds nothing that could not."""
    return (
        isinstance(mind, Precaution)
        and are(Precaution, mind)
        and vars(mind).keys() == {"sentences", "job"}
        and are(tuple, mind.sentences)
        and are(str, *mind.sentences)
        and (mind.job is None or are(Job, mind.job))
    )
