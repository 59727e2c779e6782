"""Reads an earlier JSON report of ours, as far as it is compared. It is a stranger's file as any other."""

import datetime as dt
import json
import os
import stat
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, get_args

from preflint.errors import UsageError
from preflint.findings.compared import Earlier, EarlierAircraft, Key, Said
from preflint.findings.result import Verdict
from preflint.load.opening import describe_failure, too_large
from preflint.load.quoting import shorten, show

MAX_BYTES = 64 << 20
VERSION = 1

_SEVERITIES = ("no-go", "caution", "advisory")


class _Foreign(Exception):
    """The document is not what a report of ours is; the message says where."""


def read_earlier(path: Path) -> Earlier:
    """Raises UsageError where it cannot be read, is no JSON report of ours, or leaves something out."""
    try:
        return _earlier(_document(_bytes(path)))
    except _Foreign as error:
        why = f"this is no JSON report of preflint: {error}"
    except OSError as error:
        why = describe_failure(error)
    except ValueError as error:
        why = str(error)
    raise UsageError(f"--compare {show(str(path))}: {why}")


def _bytes(path: Path) -> bytes:
    kind = os.stat(path)  # a pipe would be waited for
    if not stat.S_ISREG(kind.st_mode):
        raise ValueError("this is not a regular file")
    with open(path, "rb") as file:
        data = file.read(MAX_BYTES + 1)
    if len(data) > MAX_BYTES:
        raise ValueError(too_large(max(kind.st_size, len(data)), MAX_BYTES))
    return data


def _document(data: bytes) -> Any:
    try:
        return json.loads(data)
    except RecursionError:
        raise _Foreign("it is nested too deeply") from None
    except json.JSONDecodeError as error:
        raise _Foreign(f"line {error.lineno} is no JSON; write one with --format json") from None
    except ValueError:  # bytes that are no text, or a number of too many digits
        raise _Foreign("it holds what JSON does not") from None


def _earlier(report: Any) -> Earlier:
    if not isinstance(report, Mapping) or "report" not in report:
        raise _Foreign("it does not say report: 1 at its top; write one with --format json")
    if type(report["report"]) is not int or report["report"] != VERSION:
        raise _Foreign(f"it is of version {shorten(str(report['report']))}; this preflint compares version {VERSION}")
    left_out = _list(report, "left_out") if "left_out" in report else []
    if left_out:
        raise ValueError("this report leaves something out; compare with one made without --least, --owner, --verdict")
    day = _text(report, "judged_on")
    try:
        dt.date.fromisoformat(day)
    except ValueError:
        raise _Foreign("judged_on is no day") from None
    policy = report.get("policy")
    if policy is not None and not isinstance(policy, str):
        raise _Foreign("policy is no text")
    aircraft = tuple(_aircraft(_group(one, "aircraft")) for one in _list(report, "aircraft"))
    not_read = frozenset(_text(_group(one, "not_read"), "file") for one in _list(report, "not_read"))
    return Earlier(day, _text(report, "tool"), policy, aircraft, not_read)


def _aircraft(one: Mapping[str, Any]) -> EarlierAircraft:
    said: dict[Key, list[Said]] = {}
    for key, what in _said(one):
        said.setdefault(key, []).append(what)
    flown_with = _list(one, "flown_with") if "flown_with" in one else []
    if not all(isinstance(label, str) for label in flown_with):
        raise _Foreign("a label under flown_with is no text")
    verdict = _text(one, "verdict")
    if verdict not in get_args(Verdict):
        raise _Foreign(f"{shorten(verdict)} is no verdict")
    return EarlierAircraft(_text(one, "manifest"), _text(one, "name"), verdict, tuple(flown_with), said)


def _said(one: Mapping[str, Any]) -> Iterator[tuple[Key, Said]]:
    for entry in _list(one, "findings"):
        finding = _group(entry, "findings")
        severity = _text(finding, "severity")
        if severity not in _SEVERITIES:
            raise _Foreign(f"{shorten(severity)} is no severity")
        yield ("finding", _text(finding, "rule"), _at(finding)), Said(severity, _text(finding, "message"))
    for entry in _list(one, "unproven"):
        question = _group(entry, "unproven")
        if question.get("needed_for_flight") is True:
            yield ("unproven", _text(question, "rule"), _at(question)), Said("", _text(question, "message"))


def _at(entry: Mapping[str, Any]) -> str | None:
    return None if entry.get("at") is None else _text(entry, "at")


def _group(value: Any, where: str) -> Mapping[str, Any]:
    if not isinstance(value, Mapping):
        raise _Foreign(f"an entry of {where} is no object")
    return value


def _list(group: Mapping[str, Any], name: str) -> list[Any]:
    value = group.get(name)
    if not isinstance(value, list):
        raise _Foreign(f"{name} is no list")
    return value


def _text(group: Mapping[str, Any], name: str) -> str:
    value = group.get(name)
    if not isinstance(value, str) or not value:
        raise _Foreign(f"{name} is no text")
    return value
