"""The command: what it is given, what is missing, what is written."""

import contextlib
from pathlib import Path
from typing import TYPE_CHECKING

import click

from preflint.errors import NotRead, PreflintError, UsageError

if TYPE_CHECKING:
    from preflint.cli.record.manifest import Manifest


_EXIT_CODES = """\b
Exit codes:
  0    written, or shown
  2    something is missing or makes no sense; nothing was written
  3    the manifest cannot be read as it should; nothing was written
  4    the file could not be written, and is as it was
  130  you ended it; nothing was written
"""


@click.command(epilog=_EXIT_CODES)
@click.argument("kind", metavar="KIND")
@click.argument("file", type=click.Path(path_type=Path), metavar="FILE")
@click.option(
    "--set", "given", multiple=True, metavar="NAME=VALUE",
    help="What you would be asked, as in --set props=removed; seen.front-left=cw for one position, - for not known. "
    "May be repeated.",
)  # fmt: skip
@click.option(
    "--from", "log", type=click.Path(path_type=Path), metavar="CSV",
    help="Take the readings from the columns of a CSV file.",
)  # fmt: skip
@click.option("--date", metavar="DATE", help="When it was done: 2026-05-21 or '2026-05-21 14:30'; now, if left out.")
@click.option("--print", "only_show", is_flag=True, help="Show the lines, what is missing blank, and write nothing.")
def record(kind: str, file: Path, given: tuple[str, ...], log: Path | None, date: str | None, only_show: bool) -> int:
    """Add a record to a manifest, or with KIND log an entry to its logbook.

    Date, pack, meter and settings are filled in as the manifest tells them; on
    a terminal you are asked for the rest. Nothing else in FILE changes.

    \b
    KIND is log (work done, a mishap), or one of
      spin_test, output_test, nut_test, rig_check, walk_round,
      bell_pull, prop_balance, prop_look, voltage_comparison,
      current_comparison, cell_voltages, recharge, pack_check,
      polarity_check, interference_run, heading_check, compass_rotation,
      six_positions, barometer_check, position_check, tilt_test,
      stick_check, link_loss_test, cut_off_test, range_test,
      thrust_stand, rotor_speeds, hover, sag_run, balance_point,
      warning_test, after_flight_look, saved_settings
    """
    from preflint.cli.exits import INTERRUPTED, NONE_GROUNDED, NOT_JUDGED, USAGE
    from preflint.cli.record.manifest import DoesNotFit, Manifest

    manifest = None
    try:
        manifest = Manifest.read(file, kind, given, log, date)
        _record(manifest, only_show)
    except NotRead as error:
        _told(error, "nothing was written: the manifest or its log must be put right first")
        return NOT_JUDGED
    except DoesNotFit as error:
        _told(error.problems, "nothing was written: with this record the manifest could not be read")
        return USAGE
    except (KeyboardInterrupt, EOFError, click.Abort):
        if manifest is not None and manifest.is_written():  # it came a moment too late
            return NONE_GROUNDED
        click.echo("\npreflint: ended; nothing was written", err=True)
        return INTERRUPTED
    return NONE_GROUNDED


def _record(manifest: "Manifest", only_show: bool) -> None:
    from preflint.cli.output import write
    from preflint.cli.record.conversation import ask, can_ask, say, settle_log
    from preflint.cli.record.manifest import DoesNotFit
    from preflint.load.quoting import show

    if only_show:
        write("".join(f"{line}\n" for line in (*manifest.reduced, *manifest.lines())), None)
        return
    manifest.look_ahead()
    asked = can_ask() and ask(manifest)
    if missing := manifest.missing():
        raise UsageError(f"{manifest.kind} is not complete; add {', '.join(missing)} (NAME=- where it is not known)")
    settle_log(manifest)
    try:
        place = manifest.write()
    except (DoesNotFit, PreflintError):
        if asked:  # what was typed is not lost
            say("Not written. What you told, to add by hand:")
            write("".join(f"{line}\n" for line in manifest.lines()), None)
        raise
    with contextlib.suppress(OSError):  # it is written, whether or not anybody can be told
        say(f"Written: {manifest.title} of {manifest.facts.now} in {show(str(manifest.path))}, line {place.line}.")
        say(f"Next: {manifest.next_command}")


def _told(error: NotRead, end: str) -> None:
    """Every problem in a line of its own, and what follows."""
    for problem in error.problems:
        at = f"{problem.place.file}:{problem.place.line}:{problem.place.column}" if problem.place else error.file
        click.echo(f"{at}: {problem.message}", err=True)
    click.echo(f"preflint: {end}", err=True)
