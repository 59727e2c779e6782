"""What ``preflint draft`` does: the manifest that it writes, and under which name."""

import contextlib
import datetime as dt
import sys
import textwrap
from pathlib import Path

import click

from preflint.aircraft.field import Absent
from preflint.aircraft.layouts import NAMES
from preflint.aircraft.moment import Moment
from preflint.check.near import suggestion
from preflint.cli.output import write
from preflint.cli.terminal import width
from preflint.engine.rule_module import builtin_and
from preflint.errors import UsageError
from preflint.findings.inspected import Inspected
from preflint.findings.ladder import ladder, needed_kinds
from preflint.inspection import inspect_in, inspect_manifest
from preflint.load.names import SUFFIX
from preflint.load.quoting import as_argument, in_quotes, show
from preflint.load.tree import Tree
from preflint.render.ladder import how_far
from preflint.writing.draft import FITTED, Start, draft_text, file_name
from preflint.writing.facts import Facts
from preflint.writing.paper import Sheet, paper


def new_manifest(start: Start, output: Path | None) -> None:
    """Writes a draft; says how long the first step takes, and what comes next."""
    target = None if output == Path("-") else target_of(output, start.name)
    now = Moment(dt.date.today())
    steps = ladder(judged(draft_text(start, now, ()), now.date))
    write(draft_text(start, now, needed_kinds(steps)), target, new=True)
    if target is not None:
        _say(f"{show(str(target))} is written: {how_far(steps)}.")
        with contextlib.suppress(OSError):
            click.echo(f"Fill it in, then run: preflint inspect {as_argument(str(target))}", err=True)


def to_start_with(start: Start) -> Sheet:
    """All that flight needs of an aircraft of which nothing is written yet."""
    now = Moment(dt.date.today())
    kinds = needed_kinds(ladder(judged(draft_text(start, now, ()), now.date)))
    return Sheet(name=start.name, facts=start.facts(now), kinds=kinds, props=True, new=True)


def open_of(manifest: Path) -> Sheet:
    """What is still open of a manifest. Raises NotRead where it cannot be read as it should."""
    now = Moment(dt.date.today())
    inspected = inspect_manifest(manifest, now.date, builtin_and(()))
    steps = ladder(inspected)
    rotors = inspected.aircraft.rotors
    props = any(isinstance(part, Absent) for rotor in rotors for part in (rotor.prop.hand, rotor.prop.face))
    return Sheet(
        name=inspected.about.name.value,
        facts=Facts.of(inspected.aircraft, now),
        kinds=needed_kinds(steps, props_written=not props),
        props=props,
    )


def sheets(sheet: Sheet, target: Path) -> None:
    """Writes them for a browser."""
    if target.suffix.lower() not in (".html", ".htm"):
        raise UsageError(f"{target}: a browser opens it by its name; write --paper {target.with_suffix('.html')}")
    if target.exists() or target.is_symlink():
        raise UsageError(f"{target} exists already; a draft never replaces a file")
    if not sheet.kinds and not sheet.props:
        _say("Nothing that flight needs is open; no sheet was written.")
        return
    write(paper(sheet), target, new=True)
    _say(f"{show(str(target))} is written: print it from a browser, a page for each step.")


def _say(text: str) -> None:
    """To standard error, within the width of the terminal; a word is never broken."""
    with contextlib.suppress(OSError):  # it is written, whether or not anybody can be told
        for line in textwrap.wrap(text, width(sys.stderr), break_long_words=False, break_on_hyphens=False):
            click.echo(line, err=True)


def start_of(layout: str | None, name: str | None, cells: int | None, fitted: str | None) -> Start:
    """What the options tell; the layout is asked for on a terminal."""
    return Start(layout=layout or _asked_layout(), name=name or "My aircraft", cells=cells, fitted=_fitted(fitted))


def judged(text: str, day: dt.date) -> Inspected:
    """What flight needs is what the rules say of the draft itself, which names no other file."""
    name = f"draft{SUFFIX}"
    return inspect_in(Tree(Path(), None, {name: text.encode()}), name, day, builtin_and(()), None)


def _asked_layout() -> str:
    if not (sys.stdin.isatty() and sys.stderr.isatty()):
        raise UsageError(f"name the layout: --layout and one of {', '.join(NAMES)}")
    layout: str = click.prompt("How are the rotors placed?", type=click.Choice(NAMES), err=True)
    return layout


def _fitted(words: str | None) -> frozenset[str] | None:
    if words is None:
        return None
    named = [word.strip() for word in words.split(",")]
    for word in named:
        if word not in FITTED and named != ["none"]:
            raise UsageError(
                f"--fitted {words}: {in_quotes(word)} is not known here; {suggestion(word, FITTED)} "
                f"(some of {', '.join(FITTED)} with commas between, or none)"
            )
    return frozenset(named) - {"none"}


def target_of(output: Path | None, name: str) -> Path:
    """Where it is written: under a name that inspect finds, and never in place of a file."""
    target = output or Path(file_name(name))
    if not target.name.endswith(SUFFIX) or target.name == SUFFIX:
        right = target.with_name(file_name(target.name.partition(".")[0]))
        raise UsageError(f"{target}: inspect would not find a manifest of this name; write --output {right}")
    if target.exists() or target.is_symlink():
        raise UsageError(f"{target} exists already; a draft never replaces a file")
    return target
