"""What a YAML scanner complains about, in words for somebody who writes a manifest, not a parser."""

import re

import yaml

from preflint.errors import Problem
from preflint.load.limits import MAX_DEPTH
from preflint.load.spaces import odd_joint, odd_space
from preflint.load.text import SourceText

TOO_DEEP = f"more than {MAX_DEPTH} groups or lists inside one another"
_TAB = "a tab stands here; indent and separate with spaces"
_INDENT = "this does not line up with the lines above it; entries of one group start in the same column"
_AFTER_END = (
    "nothing may follow here: the text or list before it is already closed; put the whole text in quotes"
)
_INNER_COLON = (
    "a second colon on the line; put text that holds a colon in quotes, and another entry on a line of its own"
)
_NO_SPACE = "a space is missing after the colon on this line"
_TOO_DEEP = "this line is indented further than the line above allows"
_AMPERSAND = "text that begins with & or * has a meaning of its own; put it in quotes"
_TAG = "text that begins with ! has a meaning of its own, which is not used here; put it in quotes"
_CODE = "this is no complete backslash code; for a plain backslash use single quotes"
_APOSTROPHE = (
    "the text in quotes ends before this point; "
    "an apostrophe inside single quotes is written twice, or use double quotes"
)
_DIRECTIVE = "a line that begins with % has a meaning of its own; only %YAML 1.1 and %YAML 1.2 are read"

_NO_VALUE = "did not find expected node content"
_WORDING = {
    "could not find expected ':'": 'a name needs a colon and a space after it, as in "cells: 6"',
    "block sequence entries are not allowed in this context": (
        "a list entry cannot start here; begin it on a line of its own"
    ),
    "mapping keys are not allowed in this context": (
        "a question mark cannot start an entry here; put text that begins with it in quotes"
    ),
    "did not find expected alphabetic or numeric character": _AMPERSAND,
    "found a tab character where an indentation space is expected": _TAB,
    "found a tab character that violates indentation": _TAB,
    "did not find expected comment or line break": "after | or > the text starts on the next line",
    "found an indentation indicator equal to 0": "after | or > the text starts on the next line",
    "found unexpected document indicator": "the quote that opens this text is not closed",
    "found unexpected end of stream": "the quote that opens this text is not closed",
    "found unknown escape character": _CODE,
    "did not find expected hexdecimal number": _CODE,
    "found invalid Unicode character escape code": _CODE,
    "did not find expected ',' or ']'": "a comma or the closing ] of the list is missing",
    "did not find expected ',' or '}'": "a comma or the closing } of the group is missing",
    _NO_VALUE: (
        "a value is missing before this point; text that begins with a sign such as ] } , needs quotes"
    ),
    "found incompatible YAML document": _DIRECTIVE,
    "found duplicate %TAG directive": _DIRECTIVE,
    "found duplicate %YAML directive": "%YAML is written twice; keep one",
    "found undefined tag handle": _TAG,
}
_MISSING = (_WORDING["did not find expected ',' or ']'"], _WORDING["did not find expected ',' or '}'"])
_BY_CONTEXT = {
    "while scanning a directive": _DIRECTIVE,
    "while scanning a %YAML directive": _DIRECTIVE,
    "while parsing a %YAML directive": _DIRECTIVE,
    "while scanning a %TAG directive": _DIRECTIVE,
    "while parsing a %TAG directive": _DIRECTIVE,
    "while parsing a tag directive": _DIRECTIVE,
    "while scanning a tag": _TAG,
    "while parsing a tag": _TAG,
    "while scanning an anchor": _AMPERSAND,
    "while scanning an alias": _AMPERSAND,
}
_NO_DOCUMENT = "did not find expected <document start>"
_SQUEEZED = re.compile(r"[ -]*[A-Za-z0-9_-]+(?=:[^\s:])")
_OTHERWISE = "the text is not YAML from here on"
# The line to look at is the one where it began, not the one where it failed.
_AT_THE_OPENING = {
    "could not find expected ':'",
    "found unexpected end of stream",
    "found unexpected document indicator",
}
_BRACKETS = {"did not find expected ',' or ']'": "[", "did not find expected ',' or '}'": "{"}
_DASHES = re.compile(r" *(?:- +)*")


def syntax_problem(
    error: Exception, text: SourceText, flow: int | None = None, quoted: tuple[int, int] | None = None
) -> Problem:
    """One problem, worded anew, at the character where reading stopped or the mistake began.

    ``flow`` is where the innermost open bracket stands, ``quoted`` the text in quotes before, if it runs over a line.
    """
    if not isinstance(error, yaml.MarkedYAMLError) or error.problem_mark is None:
        return Problem(_OTHERWISE, text.place(0, 0))
    problem, context = error.problem or "", error.context or ""
    start, opening = error.problem_mark.index, error.context_mark
    if problem in _AT_THE_OPENING and opening is not None:
        start = opening.index
    start = min(start, len(text.content))
    if odd := _odd_space_near(text.content, start):
        return Problem(odd_space(text.content[odd]), text.place(odd, odd + 1))
    if quoted and problem not in _AT_THE_OPENING and "\n" not in text.content[quoted[1] : start]:
        closed = text.place(quoted[1] - 1, quoted[1]).line
        return Problem(f"this quote is closed only on line {closed}; close it where its text ends",
                       text.place(quoted[0], quoted[0] + 1))  # fmt: skip
    message = _BY_CONTEXT.get(context) or _WORDING.get(problem, _OTHERWISE)
    if problem == "found character that cannot start any token":
        message = _cannot_start(text.content[start : start + 1])
    elif problem in ("did not find expected key", "did not find expected '-' indicator", _NO_DOCUMENT):
        message = _AFTER_END if _line_before(text.content, start).strip(" -") else _out_of_line(text.content, start)
        if problem == _NO_DOCUMENT and message != _AFTER_END:
            message = "nothing may follow the end of the document"
    elif problem.startswith("exceeded maximum nesting depth"):
        message = TOO_DEEP
    elif problem == _NO_VALUE and not text.content[start:].strip():
        message = "the file ends inside a [ or { that is not closed"
        if flow is not None:
            message, start = f"the {text.content[flow]} here is not closed", flow
    elif problem == "mapping values are not allowed in this context":
        message, start = _stray_colon(text.content, start)
    elif problem in _BRACKETS and opening is not None and "\n" in text.content[opening.index : start]:
        line = text.place(start, start).line
        closing = problem[-2]
        message = f"the {_BRACKETS[problem]} here is not closed: a comma or {closing} is missing before line {line}"
        start = opening.index
    if message in (_AFTER_END, *_MISSING) and text.content[:start].rstrip(" ").endswith("'"):
        message = _APOSTROPHE
    at_line_end = text.content[start : start + 1] in ("", "\r", "\n")
    return Problem(message, text.place(start, start if at_line_end else start + 1))


def _cannot_start(character: str) -> str:
    return _TAB if character == "\t" else f"text cannot begin with {character}; put it in quotes"


def _line_before(content: str, index: int) -> str:
    return content[content.rfind("\n", 0, index) + 1 : index]


def _odd_space_near(content: str, index: int) -> int | None:
    """The index of an odd space on the line or the one above that breaks an indent or the end of a name."""
    begin = content.rfind("\n", 0, index) + 1
    for start in (begin, content.rfind("\n", 0, max(0, begin - 1)) + 1):
        end = content.find("\n", start)
        at = odd_joint(content[start : end if end >= 0 else None])
        if at is not None:
            return start + at
    return None


def _out_of_line(content: str, index: int) -> str:
    """What does not line up: where it starts, and where the entry on the line above does."""
    above = content[:index].rstrip().rpartition("\n")[2]
    of_list = content[index : index + 2] in ("- ", "-\n")
    column = len(_line_before(content, index)) + 1
    other = len(above) - len(above.lstrip(" ")) + 1
    if not of_list and (dashes := _DASHES.match(above)):
        other = dashes.end() + 1
    apart = of_list and not above.lstrip(" ").startswith("- ")
    if other == column or apart or above.lstrip(" ").startswith("#"):
        return _INDENT
    what = "list entry" if of_list else "entry"
    return (
        f"this {what} starts in column {column}, the one above it in column {other}; "
        f"entries of one {'list' if of_list else 'group'} start in the same column"
    )


def _stray_colon(content: str, index: int) -> tuple[str, int]:
    """A colon where no entry can start; the line above may lack its space and have run on as text."""
    before = _line_before(content, index)
    if ": " in before:
        return _INNER_COLON, index
    above_end = index - len(before) - 1
    above = _line_before(content, max(0, above_end))
    if squeezed := _SQUEEZED.match(above):
        return _NO_SPACE, above_end - len(above) + squeezed.end()
    return _TOO_DEEP, index - len(before.lstrip(" "))
