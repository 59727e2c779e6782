"""Writes one value into a manifest's text, over the line that a draft left open for it; all else stays to the byte.

As in :mod:`preflint.writing.insert` the new text must load to the old document and the value, or nothing is given back.
"""

import re
from collections.abc import Mapping, Sequence
from typing import Any

from preflint.errors import NotRead, Problem
from preflint.load.node import Node
from preflint.load.yaml.events import load_yaml
from preflint.writing.draft import MARK

Path = Sequence[str | int]


def fill(data: bytes, file: str, path: Path, value: str) -> bytes:
    """The text with ``value``, YAML on one line, under the key that ``path`` ends in, which is not there yet.

    ``path``: keys, and numbers of entries from 0, from the top. Groups that hold the key need not be there yet, nor
    a list at the top of which it is the first entry.

    Raises:
        NotRead: the text does not load, or its form leaves no sure place for the value, which is said.
    """
    root = load_yaml(data, file)
    holder, left, written = root, list(path), value
    while len(left) > 1 and (inner := _inside(holder, left[0])) is not None:
        holder, left = inner, left[1:]
    if len(left) == 3 and left[1] == 0 and left[0] != "rotors" and holder is root:  # a rotor is nothing without its at
        left, written = left[:1], f"[{{{left[2]}: {value}}}]"
    if not isinstance(holder.value, Mapping) or any(isinstance(step, int) for step in left):
        raise NotRead(file, [Problem(f"there is no place for {left[-1]} here: write it by hand", holder.place)])
    key, *more = map(str, left)
    text, group = data.decode(), written
    for name in reversed(more[1:]):
        group = f"{{{name}: {group}}}"
    opened = _group_opened(text, key, more[0], group) if more and holder is root else None
    after = opened or _filled(text, holder, key, f"{{{more[0]}: {group}}}" if more else written)
    try:
        loaded = load_yaml(after.encode(), file).plain()
    except NotRead:
        loaded = None
    if loaded != _with(root.plain(), path, load_yaml(f"v: {value}\n".encode(), file).plain()):
        by_hand = f"write {path[-1]}: {value} by hand"
        raise NotRead(file, [Problem(f"there is no sure place for {path[-1]}: {by_hand}", root.place)])
    return after.encode()


def _inside(node: Node, step: str | int) -> Node | None:
    held = node.value
    if isinstance(step, int):
        return held[step] if isinstance(held, tuple) and step < len(held) else None
    return held.get(step) if isinstance(held, Mapping) else None


def _with(document: Any, path: Path, value: Any) -> Any:
    step, *rest = path
    if isinstance(step, int):
        held = document[step] if step < len(document) else {}
    else:
        held = document.get(step, [] if rest and isinstance(rest[0], int) else {})
    inner = _with(held, rest, value) if rest else value["v"]
    if isinstance(step, int):
        return [*document[:step], inner, *document[step + 1 :]]
    return {**document, step: inner}


def _filled(text: str, holder: Node, key: str, value: str) -> str:
    lines, end = text.split("\n"), "\r" if "\r\n" in text else ""
    assert isinstance(holder.value, Mapping)
    line, column = holder.place.line - 1, holder.place.column - 1
    if lines[line][column : column + 1] == "{":
        at = sum(len(one) + 1 for one in lines[: holder.place.end_line - 1]) + holder.place.end_column - 2
        return f"{text[:at]}{', ' if holder.value else ''}{key}: {value}{text[at:]}"
    first = min((node.key or node.place for node in holder.value.values()), key=lambda place: place.line)
    indent = " " * (first.column - 1)
    mark = re.escape(MARK)
    marked = re.compile(rf"(?:{indent}{mark}|{mark}{indent}){re.escape(key)}:(?: |$)")
    for number in range(first.line, len(lines)):
        if marked.match(lines[number]):
            after = number + 1 + _open_entry(lines[number + 1 :], indent)
            return "\n".join([*lines[:number], f"{indent}{key}: {value}{end}", *lines[after:]])
        ahead = lines[number].lstrip(" ")
        if ahead and not ahead.startswith("#") and len(lines[number]) - len(ahead) < len(indent):
            break
    if not indent:
        gap = "" if text.endswith("\n") else f"{end}\n"
        return f"{text}{gap}{key}: {value}{end}\n"
    last = first.line
    return "\n".join([*lines[:last], f"{indent}{key}: {value}{end}", *lines[last:]])


def _open_entry(lines: Sequence[str], indent: str) -> int:
    """How many lines of a list that a draft left open follow: an entry behind marks, deeper than its key."""
    mark = re.escape(MARK)
    if not lines or not re.match(rf"{mark}{indent}  - ", lines[0]):
        return 0
    return next((i for i, line in enumerate(lines) if not re.match(rf"{mark}{indent}  ", line)), len(lines))


def _group_opened(text: str, name: str, key: str, value: str) -> str | None:
    """Over a group that a draft left open, line by line; None where it has no such lines."""
    mark, inner = re.escape(MARK), re.escape(key)
    lines = rf"^{mark}{re.escape(name)}:\n((?:{mark}  .*\n)*?){mark}  {inner}:.*$"
    found = re.search(lines, text, re.MULTILINE)
    if found is None:
        return None
    return f"{text[: found.start()]}{name}:\n{found[1]}  {key}: {value}{text[found.end() :]}"
