"""Asking somebody on a terminal, one value after the other; what makes no sense is asked again."""

import contextlib
import shutil
import sys
import textwrap
from typing import TYPE_CHECKING

import click

from preflint.writing.answers import EVERYWHERE
from preflint.writing.questions import LEAVE_OUT, NoSense, Question, how_taken

if TYPE_CHECKING:
    from preflint.cli.record.manifest import Manifest

_WIDEST = 80


def can_ask() -> bool:
    """Whether somebody sits there who sees what is asked."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def edit_lines() -> None:
    """Arrow keys and corrections within a line, where Python has them."""
    with contextlib.suppress(ImportError):
        import readline  # noqa: F401


def ask(manifest: "Manifest") -> bool:
    """Asks for all that is missing; False where nothing is. Raises KeyboardInterrupt, EOFError where it is ended."""
    if not manifest.open_questions():
        return False
    edit_lines()
    mind = manifest.mind
    told = set(mind.sentences)
    say(f"{manifest.title}: {how_taken(manifest.kind)}.")
    for sentence in mind.sentences:
        say(f"! {sentence}", "  ")
    if filled := _filled_in(manifest):
        say(f"Filled in as the manifest tells; --set changes it: {', '.join(filled)}.")
    say(f"{LEAVE_OUT} leaves a value out. Ctrl-C ends, and nothing is written.")
    while still := manifest.open_questions():
        put(still[0], told)
        _answer(manifest, still[0])
    return True


def settle_log(manifest: "Manifest") -> None:
    """Shows what a log comes down to, and asks whether to take it. Raises KeyboardInterrupt where it is not taken."""
    for line in manifest.reduced:
        _put_line(line)
    if manifest.reduced and can_ask() and not agreed("Take this? yes or no > "):
        raise KeyboardInterrupt


def agreed(prompt: str) -> bool:
    """Asked until it is yes or no."""
    while True:
        told = typed(prompt).strip().lower()
        if told in ("yes", "y", "no", "n"):
            return told.startswith("y")


def _filled_in(manifest: "Manifest") -> list[str]:
    from preflint.writing.questions import questions
    from preflint.writing.yaml_text import flow

    known = [one for one in questions(manifest.kind, manifest.facts, manifest.answers) if one.known is not None]
    return [f"date {manifest.facts.now}", *(f"{one.name} {flow(one.known)}" for one in known)]


def put(one: Question, told: set[str]) -> None:
    """The question, with the cautions that nobody has read yet."""
    click.echo()
    meaning = one.meaning.replace("true where", "Yes where", 1) if one.shape.form == "yes-no" else one.meaning
    say(f"{one.title}{f' [{one.unit}]' if one.unit else ''}. {meaning}".rstrip())
    if one.how:
        say(f"How: {one.how}{'' if one.how.endswith('?') else '.'}", "  ")
        for sentence in one.mind.sentences:
            if sentence not in told:
                say(f"! {sentence}", "  ")
        told |= set(one.mind.sentences)
    if one.positions:
        say(f"One each, in this order: {' '.join(one.positions)}", "  ")
    if one.columns:
        say(f"One row a line: {_row_of(one)}. An empty line ends.", "  ")
        say("Or the name of a CSV file with these columns, as the manifest would name it.", "  ")
    if one.choices and one.shape.deep:
        say(f"Any of: {', '.join(one.choices)}; or {', '.join([*one.offers, 'none'])}", "  ")
    elif one.choices:
        words = ("yes", "no") if one.shape.form == "yes-no" else one.choices
        say(f"{'Each one' if one.positions else 'One'} of: {', '.join(words)}", "  ")
        if one.positions and one.shape.form != "position":
            say(f"Or {EVERYWHERE} and one word, where it is the same everywhere", "  ")
    if one.offers and not one.shape.deep:
        say(f"Or {' or '.join(one.offers)}, where you saw just that", "  ")
    if one.example:
        say(f"For example: {one.example}", "  ")


def _row_of(one: Question) -> str:
    needed = [name.split("|")[0] for name in one.columns if not name.endswith("?")]
    every = [name.removesuffix("?").split("|")[0] for name in one.columns]
    return " ".join(needed) + (f" (or {' '.join(every)})" if len(every) > len(needed) else "")


def _answer(manifest: "Manifest", one: Question) -> None:
    """Takes the value; what makes no sense is said and asked again."""
    while True:
        try:
            return manifest.answer(one, one.read(typed_rows(one) if one.columns else typed("> ")))
        except NoSense as why:
            say(f"No: {why}.", "  ")


def typed_rows(one: Question) -> str:
    """Row after row, each looked at as it is typed."""
    rows: list[str] = []
    while True:
        told = typed(f"{len(rows) + 1} > ")
        if told.strip() in ("", LEAVE_OUT) or (not rows and told.strip().endswith(".csv")):
            return "\n".join(rows) if rows else told
        try:
            one.read("\n".join([*rows, told]))
            rows.append(told)
        except NoSense as why:
            say(f"No: {why}.", "  ")


def typed(prompt: str) -> str:
    while True:
        try:
            return input(prompt)
        except UnicodeDecodeError:
            say("No: that is no text in the encoding of this terminal.", "  ")


def say(text: str, indent: str = "") -> None:
    """To standard output, within the width of the terminal; a path is never broken."""
    width = min(_WIDEST, max(40, shutil.get_terminal_size().columns))
    lines = textwrap.wrap(
        text, width - 1, initial_indent=indent, subsequent_indent=indent + "  " * text.startswith("! "),
        break_long_words=False, break_on_hyphens=False,
    )  # fmt: skip
    for line in lines:
        _put_line(line)


def _put_line(line: str) -> None:
    """What the terminal has no sign for is shown as its code."""
    encoding = sys.stdout.encoding or "ascii"
    click.echo(line.encode(encoding, "backslashreplace").decode(encoding))
