"""Manifests with one thing left out: every key, every entry of a list, and every time of day.

``python -m making.silence``, in the folder tests, prints what is asked for where one thing of a go aircraft is gone.
"""

import json
import re
from collections.abc import Iterable, Iterator
from typing import Any

import yaml

from making.manifests import CLUB, FILES, GO
from preflint.errors import NotRead
from preflint.findings.outcome import Outcome, Unproven
from preflint.testing import inspect_text

Steps = tuple[str | int, ...]
_TIME_OF_DAY = re.compile(r"(\d{4}-\d\d-\d\d) \d\d:\d\d")


def club_aircraft(name: str) -> dict[str, Any]:
    """The manifest as plain data, every scalar as it is written, with its site in place."""
    document = yaml.load((CLUB / f"{name}.airframe.yaml").read_text(encoding="utf-8"), Loader=yaml.CBaseLoader)
    if isinstance(document.get("site"), str):
        document["site"] = yaml.load(FILES[document["site"]], Loader=yaml.CBaseLoader)
    return dict(document)


def text_of(document: dict[str, Any]) -> str:
    """As YAML, one line for each top-level key."""
    return "".join(f"{key}: {_flow(value)}\n" for key, value in document.items())


def _flow(node: Any) -> str:
    if isinstance(node, dict):
        return "{" + ", ".join(f"{key}: {_flow(value)}" for key, value in node.items()) + "}"
    if isinstance(node, list):
        return "[" + ", ".join(map(_flow, node)) + "]"
    return node if re.fullmatch(r"[\w./+-]+( \d\d:\d\d)?", node) else json.dumps(node)


def changed(node: Any, steps: Steps, value: Any) -> Any:
    """The same with ``value`` at the end of the steps; a step "+" appends."""
    step, *rest = steps
    if step == "+":
        return [*node, value]
    copy: Any = dict(node) if isinstance(node, dict) else list(node)
    copy[step] = (
        changed(copy.get(step, {}) if isinstance(copy, dict) else copy[step], tuple(rest), value) if rest else value
    )
    return copy


def _without(node: Any, steps: Steps) -> Any:
    step, *rest = steps
    if not rest:
        return (
            {key: value for key, value in node.items() if key != step}
            if isinstance(node, dict)
            else [value for index, value in enumerate(node) if index != step]
        )
    copy: Any = dict(node) if isinstance(node, dict) else list(node)
    copy[step] = _without(node[step], tuple(rest))
    return copy


def _everywhere(node: Any, at: Steps = ()) -> Iterator[tuple[Steps, Any]]:
    entries = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for step, value in entries:
        yield (*at, step), value
        yield from _everywhere(value, (*at, step))


_BY_POSITION = {"expects_spin", "start_throttle_percent", "seen", "turned"}


def generic(steps: Steps) -> str:
    """The steps in words, with * for any entry of a list and any position."""
    before: tuple[str | int | None, ...] = (None, *steps)
    return ".".join(
        "*" if isinstance(step, int) or holder in _BY_POSITION else step
        for holder, step in zip(before, steps, strict=False)
    )


def silences(document: dict[str, Any]) -> Iterator[tuple[str, Steps, dict[str, Any]]]:
    """Each thing that can be left out: in general words, its steps, and the manifest without it."""
    for steps, value in _everywhere(document):
        yield generic(steps), steps, _without(document, steps)
        if isinstance(value, str) and (day := _TIME_OF_DAY.fullmatch(value)):
            yield f"{generic(steps)} (time of day)", steps, changed(document, steps, day[1])


Answers = dict[tuple[str, str | None], Outcome]


def judged(document: dict[str, Any]) -> tuple[str, Answers]:
    """Verdict and outcomes; "not read" and none where the manifest is refused."""
    text = text_of(document)
    files = {file: content for file, content in FILES.items() if file.endswith(".yaml") or file in text}
    try:
        inspected = inspect_text(text, files=files)
    except NotRead:
        return "not read", {}
    return inspected.verdict, {(result.rule.id, result.at): result.outcome for result in inspected.results}


def left_out(document: dict[str, Any], seen: Iterable[str] = ()) -> Iterator[tuple[str, Steps, dict[str, Any]]]:
    """What can be left out, once for each name not yet seen; of the entries of a list the first two."""
    known = set(seen)
    met = set(known)
    for words, steps, without in silences(document):
        entries = [step for step in steps if isinstance(step, int)]
        alike = words.endswith("*") and len(entries) > 0 and entries[-1] < 2 and words not in known
        if ".rows.*.*" not in words and (alike or words not in met):
            yield words, steps, without
        met.add(words)


def asks(answers: Answers) -> set[str]:
    """What is open, why, and what is asked for, a line each: with the precaution, the paper and the record."""
    return {
        f"{rule}: {told.message}. {told.do}. [{told.mind}] {told.cause}, {told.record or 'no record'}"
        + (", on paper" if told.on_paper else "")
        for (rule, _), told in answers.items()
        if isinstance(told, Unproven)
    }


if __name__ == "__main__":
    asked, seen = set[str](), set[str]()
    for name in GO:
        document = club_aircraft(name)
        for words, _, without in list(left_out(document, seen)):
            seen.add(words)
            asked |= asks(judged(without)[1])
    print("\n".join(sorted(asked)))
