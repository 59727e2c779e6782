"""Adds entries to a manifest's text by the places that loading tells; every other byte stays as it is.

No library that reads a document and writes it again is used: those that keep comments still move blanks, quotes and
breaks between lines, and they read what loading here refuses. A place in the text and a look at what came of it are
surer: the new text must load to the old document and the entries, or nothing is given back.
"""

from typing import Any

from preflint.errors import NotRead, Problem
from preflint.load.node import Node, Plain
from preflint.load.yaml.events import load_yaml
from preflint.places import Place
from preflint.writing.asked import LOG
from preflint.writing.spot import BY_HAND, Entries, ManifestText
from preflint.writing.yaml_text import plain

ROTORS = "rotors"
"""The word for rotors that nobody has written yet, where otherwise a kind of record is named."""

_SECTIONS = {LOG: "logbook", ROTORS: "rotors"}  # lists that stand at the top of the manifest
_BOM = b"\xef\xbb\xbf"


def insert(data: bytes, file: str, kind: str, entries: Entries) -> tuple[bytes, Place]:
    """The text with the entries of a kind of record, of the logbook ("log") or of ``ROTORS`` after those of their list.

    Also the place of the first of them. ``file`` is the name shown to people.

    Raises:
        NotRead: the text does not load, or its form leaves no sure place for them, which is said.
    """
    root = load_yaml(data, file)
    mark = _BOM if data.startswith(_BOM) else b""
    text = ManifestText(data[len(mark) :].decode("utf-8"), root)
    section = _SECTIONS.get(kind)
    at, added = text.section(section, None, entries) if section else text.records(kind, entries)
    after = mark + (text.content[:at] + added + text.content[at:]).encode("utf-8")
    loaded = load_yaml(after, file)
    if loaded.plain() != _with(root.plain(), kind, entries):
        raise NotRead(file, [Problem(f"its & and * marks leave no sure place: {BY_HAND}", root.place)])
    return after, _list(loaded, kind)[-len(entries)].place


def _with(document: Plain, kind: str, entries: Entries) -> Plain:
    assert isinstance(document, dict)
    made: Any = {**document}
    section = _SECTIONS.get(kind)
    holder, key = (made, section) if section else (dict(made.get("records", {})), kind)
    holder[key] = [*holder.get(key, []), *map(plain, entries)]
    return made if section else {**made, "records": holder}


def _list(root: Node, kind: str) -> Any:
    top: Any = root.value
    section = _SECTIONS.get(kind)
    return top[section].value if section else top["records"].value[kind].value
