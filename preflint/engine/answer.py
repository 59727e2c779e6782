"""What a rule or figure answered, looked at before anybody relies on it: its code is a stranger's."""

import math
from collections.abc import Mapping
from typing import get_args

import numpy as np

from preflint.findings.outcome import Cause, Clear, Finding, NotApplicable, Related, Unproven
from preflint.findings.result import Figure
from preflint.places import Place
from preflint.precautions import Precaution

_TEXTS: Mapping[type, tuple[str, ...]] = {
    Finding: ("message", "evidence", "do"),
    Clear: ("evidence",),
    Unproven: ("message", "do", "evidence"),
    NotApplicable: ("because",),
}


def told(failure: BaseException) -> str:
    """Its class and its text, as far as it lets itself be told."""
    try:
        return f"{type(failure).__name__}: {failure}"
    except BaseException:  # the class is a stranger's, too
        return "an error that cannot be told"


def wrong_with(answer: object) -> str | None:
    """Why it is no answer of a rule. Types count exactly: a class of their own may behave in any way."""
    if type(answer) not in _TEXTS:
        return f"answered with {type(answer).__name__}, which is no outcome"
    for name in _TEXTS[type(answer)]:
        if type(getattr(answer, name)) is not str:
            return f"answered with {name} that is no text"
    if type(answer) is Finding or type(answer) is Unproven:
        return _wrong_with_places(answer) or _wrong_with_rest(answer)
    return None


def _wrong_with_places(answer: Finding | Unproven) -> str | None:
    if type(answer.related) is not tuple or any(type(related) is not Related for related in answer.related):
        return "answered with related places that are no tuple of Related"
    if not all(map(_is_place, (answer.place, *(related.place for related in answer.related)))):
        return "pointed at something that is no place"
    if any(type(related.message) is not str for related in answer.related):
        return "answered with a related message that is no text"
    return None


def _wrong_with_rest(answer: Finding | Unproven) -> str | None:
    if answer.mind is not None and type(answer.mind) not in (str, Precaution):
        return "answered with mind that is no text"
    if isinstance(answer, Finding):
        return None if type(answer.again) is bool else "answered with again that is neither true nor false"
    if type(answer.cause) is not str or answer.cause not in get_args(Cause):
        return f"answered with a cause that is none of {', '.join(get_args(Cause))}"
    return None if type(answer.on_paper) is bool else "answered with on_paper that is neither true nor false"


def wrong_with_figure(figure: object) -> str | None:
    """Why it is no figure that can be told."""
    if type(figure) is not Figure:
        return f"gave {type(figure).__name__}, which is no Figure"
    texts = (figure.quantity, figure.unit, figure.case or "", figure.at or "")
    if any(type(text) is not str for text in texts):
        return "gave a figure whose quantity, case, unit or position is no text"
    if not _is_number(figure.value) or (u := figure.standard_uncertainty) is not None and not _is_number(u):
        return "gave a figure whose value or uncertainty is no finite number"
    return None if _is_place(figure.place) else "gave a figure at something that is no place"


def _is_number(value: object) -> bool:
    return type(value) in (int, float, np.float64) and math.isfinite(value)  # type: ignore[arg-type]


def _is_place(place: object) -> bool:
    numbers = ("line", "column", "end_line", "end_column")
    return (
        type(place) is Place
        and type(place.file) is str
        and type(place.pointer) is str
        and all(type(getattr(place, name)) is int for name in numbers)
    )
