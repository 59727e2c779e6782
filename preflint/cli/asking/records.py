"""Asking for one record: each answer is kept in the file at once, and the record written when all are there."""

import re
from dataclasses import dataclass, field
from pathlib import Path

import click

from preflint.cli.record.conversation import put, say, typed, typed_rows
from preflint.cli.record.manifest import DoesNotFit, Manifest
from preflint.errors import UsageError
from preflint.precautions import Precaution
from preflint.writing.begun import begun, with_begun, without_begun
from preflint.writing.entry import Value
from preflint.writing.questions import NoSense, Question, how_taken
from preflint.writing.save import save
from preflint.writing.yaml_text import flow

_REMOVED = "props=removed"


@dataclass(slots=True)
class Asked:
    """What was said in this sitting: the precautions last read, and whether the props are off."""

    mind: Precaution | None = None
    told: set[str] = field(default_factory=set)
    props_removed: bool = False


def ask_record(path: Path, kind: str, sitting: Asked) -> None:
    """Asks for a record of the kind and writes it. Raises KeyboardInterrupt, EOFError, NotRead, OutputError."""
    while True:
        manifest = _opened(path, kind, sitting)
        if _asked_whole(manifest, sitting):
            return


def say_mind(mind: Precaution, sitting: Asked) -> None:
    """The precaution, where it is another than that said last."""
    if mind != sitting.mind:
        for sentence in mind.sentences:
            say(f"! {sentence}", "  ")
    sitting.mind = mind
    sitting.told |= set(mind.sentences)


def _opened(path: Path, kind: str, sitting: Asked) -> Manifest:
    """With what was answered before, of it or of the props."""
    empty = Manifest.read(path, kind, (), None, None)
    # The props may have come on again since the last sitting, so they are asked for once in each.
    kept = tuple(answer for answer in begun(empty.text, kind) if not answer.startswith("props="))
    if kept and not any(answer.startswith("date=") for answer in kept):
        kept = ()  # nobody knows when it was seen
    if sitting.props_removed and any(one.name == "props" for one in empty.open_questions()):
        kept += (_REMOVED,)
    try:
        return Manifest.read(path, kind, kept, None, None)
    except UsageError as error:
        say(f"What was answered before of this cannot be taken: {error}. It is asked again.")
        _keep(empty, without_begun(empty.text, kind))
        return empty


def _asked_whole(manifest: Manifest, sitting: Asked) -> bool:
    """Whether the record was written; False where it does not fit, and is asked again."""
    click.echo()
    say(f"{manifest.title}: {how_taken(manifest.kind)}.")
    say_mind(manifest.mind, sitting)
    for name, value in manifest.answers.items():
        say(f"Told already on {manifest.facts.now}: {name} {flow(value)}")
    while still := manifest.open_questions():
        pair = _movement(still)
        if pair:
            _ask_movement(manifest, *pair)
        else:
            _ask_one(manifest, still[0], sitting)
        say_mind(manifest.mind, sitting)
    sitting.props_removed |= manifest.answers.get("props") == "removed"
    before = manifest.text
    manifest.text = without_begun(before, manifest.kind)
    try:
        place = manifest.write(over=before)
    except DoesNotFit as error:
        for problem in error.problems.problems:
            say(f"No: {problem.message}.", "  ")
        save(manifest.tree, manifest.name, before, manifest.text)
        say("With this the manifest could not be read; it is asked again.")
        return False
    say(f"Written: {manifest.title} of {manifest.facts.now}, line {place.line}.")
    return True


def _ask_one(manifest: Manifest, one: Question, sitting: Asked) -> None:
    put(one, sitting.told)
    while True:
        raw = typed_rows(one) if one.columns else typed("> ")
        try:
            _take(manifest, one, raw)
        except NoSense as why:
            say(f"No: {why}.", "  ")
        else:
            return


def _movement(still: tuple[Question, ...]) -> tuple[Question, Question] | None:
    """What was indicated and which rotors answered, where both are still open: they are told in one line."""
    if len(still) < 2 or not still[0].name.startswith("moves."):
        return None
    first, second = still[:2]
    same = first.name.rpartition(".")[0] == second.name.rpartition(".")[0]
    return (first, second) if same and first.name.endswith(".indicated") else None


def _ask_movement(manifest: Manifest, indicated: Question, rotors: Question) -> None:
    did = indicated.name.split(".")[1]
    click.echo()
    say(f"{manifest.title}, {did}. Write what was indicated, then the rotors that sped up (or all, or none).")
    say(f"Indicated: {', '.join(indicated.choices)}", "  ")
    say(f"Rotors: {', '.join(rotors.choices)}", "  ")
    while True:
        first, _, rest = typed("> ").strip().partition(" ")
        try:
            if not rest.strip():
                raise NoSense("two things are needed: what was indicated, and the rotors")
            rotors.read(rest)
            _take(manifest, indicated, first)
            _take(manifest, rotors, rest)
        except NoSense as why:
            say(f"No: {why}.", "  ")
        else:
            return


def _take(manifest: Manifest, one: Question, raw: str) -> None:
    """Keeps an answer, in memory and in the file. Raises NoSense."""
    value: Value | None = one.read(raw)
    manifest.answer(one, value)
    for line in manifest.reduced if one.columns else ():
        say(line)
    kept = re.sub(r"[^\S ]", " ", raw.strip().replace("\n", ";"))  # no sign that a manifest must not have
    # With the moment of the first answer, which dates the record: work done before the last one may concern it.
    text = with_begun(manifest.text, manifest.kind, f"date={manifest.facts.now}")
    _keep(manifest, with_begun(text, manifest.kind, f"{one.name}={kept}"))


def _keep(manifest: Manifest, text: bytes) -> None:
    save(manifest.tree, manifest.name, manifest.text, text)
    manifest.text = text
