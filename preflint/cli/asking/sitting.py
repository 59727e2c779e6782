"""One sitting at the terminal: rung after rung, in the order of the bench, until somebody has enough."""

import datetime as dt
from pathlib import Path

import click

from preflint.aircraft.fitted import Airframe
from preflint.aircraft.layouts import NAMES
from preflint.aircraft.model import Aircraft
from preflint.aircraft.moment import Moment
from preflint.aircraft.rung import Rung
from preflint.cli.asking.desk import ITEMS, Item, fitted_question, parts_told, unsaid_parts
from preflint.cli.asking.filling import fill_in, values_of
from preflint.cli.asking.records import Asked, ask_record, say_mind
from preflint.cli.exits import INTERRUPTED, NONE_GROUNDED
from preflint.cli.output import write
from preflint.cli.record.conversation import agreed, can_ask, edit_lines, put, say, typed
from preflint.engine.rule_module import builtin_and
from preflint.errors import NotRead, UsageError
from preflint.findings.inspected import Inspected
from preflint.findings.ladder import Step, ladder, needed_kinds
from preflint.inspection import inspect_manifest, read_aircraft
from preflint.load.names import SUFFIX
from preflint.load.quoting import as_argument, show
from preflint.load.tree import Tree
from preflint.precautions import Precaution
from preflint.render.ladder import how_far
from preflint.writing.draft import Start, draft_text, file_name, in_bench_order
from preflint.writing.entry import Value
from preflint.writing.facts import Facts
from preflint.writing.questions import LEAVE_OUT, NoSense, Question, field_question


def sit(manifest: Path | None, layout: str | None, name: str | None) -> int:
    """Asks until every rung is done or somebody ends it; begins a manifest where there is none. The exit code.

    Raises UsageError without a terminal, NotRead and OutputError for the file.
    """
    if not can_ask():
        raise UsageError("--ask asks on a terminal; without one write a draft with --layout")
    edit_lines()
    path = manifest
    try:
        if path is None or not path.exists():
            path = _begin(path, layout, name)
        _climb(path)
    except (KeyboardInterrupt, EOFError):
        click.echo()
        if path is None or not path.exists():
            say("Ended before there was a layout; nothing was written.")
        else:
            say(f"Ended. All that you answered is in {show(str(path))}. Go on with:")
            say(f"  preflint draft --ask {as_argument(str(path))}")
        return INTERRUPTED
    return NONE_GROUNDED


def _begin(path: Path | None, layout: str | None, name: str | None) -> Path:
    """A draft on the disk, as soon as its layout is told."""
    now = Moment(dt.date.today())
    facts = Facts.of_layout(NAMES[0], now)
    say("- leaves out what may be left out. Ctrl-C ends; what you answered by then is kept.")
    name = name or str(_answered(field_question(Airframe, "name", facts)))
    path = path or Path(file_name(name))
    if not path.name.endswith(SUFFIX) or path.name == SUFFIX:
        raise UsageError(f"{path}: inspect would not find a manifest of this name; write {path.stem}{SUFFIX}")
    if path.exists() or path.is_symlink():
        raise UsageError(f"{path} exists already; go on with it: preflint draft --ask {as_argument(str(path))}")
    layout = layout or str(_answered(field_question(Airframe, "layout", facts)))
    write(draft_text(Start(layout=layout, name=name), now, ()), path, new=True)
    say(f"{show(str(path))} is begun; every answer is kept there at once.")
    return path


def _climb(path: Path) -> None:
    sitting, asked = Asked(), False
    _parts(path)
    for rung in Rung:
        step = next((step for step in ladder(_judged(path)) if step.rung is rung), None)
        if step is None or len(step.shown) == len(step.things):
            continue
        if asked:
            say(f"Go on with {rung}, about {step.minutes} minutes? Needed at hand: {rung.tools}.")
            if not agreed("yes or no > "):
                break
        asked = True
        _rung(path, step, sitting)
        click.echo()
        say(f"{str(rung).capitalize()} done: {how_far(ladder(_judged(path)))}.")
    judged = _judged(path)
    click.echo()
    say(f"{judged.about.name.value}: {judged.verdict}; {how_far(ladder(judged))}.")
    say(f"What it means: preflint inspect {as_argument(str(path))}")


def _rung(path: Path, step: Step, sitting: Asked) -> None:
    kinds = needed_kinds([step])
    click.echo()
    say(f"==== {str(step.rung).capitalize()}, about {step.minutes} minutes, with {step.rung.tools}")
    for item in ITEMS:
        aircraft = _aircraft(path)
        if item.rung is step.rung and item.kind in ("", *kinds) and item.is_open(aircraft):
            _item(path, item, aircraft, sitting)
    today = dt.date.today()
    judged = _judged(path)  # what holds the props tells whether there are nuts
    kinds = needed_kinds([one for one in ladder(judged) if one.rung is step.rung])
    records = judged.aircraft.records
    waiting = {kind for kind in kinds if any(one.date.value.date == today for one in records.of_kind(kind))}
    for kind in in_bench_order(kinds, step.rung):
        if kind not in waiting:  # one of today may only wait for what is asked here: a nut for its spin
            ask_record(path, kind, sitting)
        if kind == "spin_test":
            _spins(path)
    for kind in in_bench_order(needed_kinds(ladder(_judged(path)), props_written=True), step.rung):
        if kind in waiting or kind == "rig_check":  # after work, a mishap or the inverted rig
            ask_record(path, kind, sitting)


def _parts(path: Path) -> None:
    """What is fitted, once for all parts of which nobody said."""
    unsaid = unsaid_parts(_aircraft(path))
    if unsaid:
        fill_in(path, parts_told(unsaid, _answered(fitted_question(unsaid)) or ()))


def _item(path: Path, item: Item, aircraft: Aircraft, sitting: Asked) -> None:
    one = item.question(aircraft)
    say_mind(one.mind if one.how else Precaution(), sitting)
    put(one, sitting.told)
    while True:
        try:
            value = one.read(typed("> "))
            if value is not None:
                fill_in(path, values_of(item, value))
        except NoSense as why:
            say(f"No: {why}.", "  ")
        except NotRead as error:  # as where a shared file holds the group
            say(f"No: {'; '.join(problem.message for problem in error.problems)}. {LEAVE_OUT} goes on without.", "  ")
        else:
            return


def _spins(path: Path) -> None:
    """The spins that were seen, written at each rotor of which none is: it is what the aircraft was looked at for."""
    aircraft = _aircraft(path)
    seen = aircraft.records.spin_test[-1].seen
    known = Facts.of(aircraft, Moment(dt.date.today())).spins
    fill_in(path, [(("rotors", at, "spin"), told.value) for at, told in seen.items() if at not in known])


def _answered(one: Question, told: set[str] | None = None) -> Value | None:
    put(one, set() if told is None else told)
    while True:
        try:
            return one.read(typed("> "))
        except NoSense as why:
            say(f"No: {why}.", "  ")


def _aircraft(path: Path) -> Aircraft:
    tree = Tree.around(path)
    return read_aircraft(tree, tree.name(path))


def _judged(path: Path) -> Inspected:
    return inspect_manifest(path, dt.date.today(), builtin_and(()))
