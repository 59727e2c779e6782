"""``preflint inspect``: judge aircraft and say what does not add up."""

import datetime as dt
import os
import sys
from pathlib import Path

import click

from preflint.errors import OutputError, UsageError


@click.command(short_help="Judge aircraft and say what does not add up.")
@click.argument("paths", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True,
              help="text for people, json for programs.")
@click.option("--output", type=click.Path(path_type=Path), metavar="FILE", help="Write the report to FILE.")
@click.option("--as-of", metavar="DATE", help="Judge as on the evening of DATE, such as 2026-05-21. Default: today.")
@click.option("--ground-at", type=click.Choice(["no-go", "caution", "advisory"]), default="no-go", show_default=True,
              help="From which severity on a finding makes the exit code 1. The verdict stays the same.")
@click.option("--pack", "packs", multiple=True, metavar="MODULE", help="Also run the rules of this installed module.")
def inspect(
    paths: tuple[Path, ...], form: str, output: Path | None, as_of: str | None, ground_at: str, packs: tuple[str, ...]
) -> int:
    """Judge the aircraft in PATHS.

    PATHS are manifests, or folders that are searched for files named
    *.airframe.yaml.

    \b
    Exit codes:
      0    every aircraft was read and judged, none is grounded
      1    some aircraft is grounded: it has a finding from --ground-at on,
           or its verdict is "unproven"
      2    wrong options, policy or rule pack: nothing was judged
      3    something was not judged: a file that cannot be read as it should,
           a rule that failed, or no manifest at all
      4    preflint itself failed, or the report could not be written
      130  interrupted
    """
    judged_on = _day(as_of)
    from preflint.cli.exits import exit_code
    from preflint.cli.output import write
    from preflint.engine.pack import builtin_and
    from preflint.findings.outcome import Severity
    from preflint.fleet.inspect import inspect_paths

    report = inspect_paths(paths, judged_on, builtin_and(packs))
    if output is not None:
        _refuse_input(output, paths)
    if form == "json":
        from preflint.render.json_report import render_json

        text = render_json(report)
    else:
        from preflint.render.text import render_text

        narrow = output is None and "utf" not in (sys.stdout.encoding or "").lower()
        colour = output is None and sys.stdout.isatty() and "NO_COLOR" not in os.environ
        text = render_text(report, ascii_only=narrow, colour=colour)
    write(text, output)
    return exit_code(report, Severity[ground_at.upper().replace("-", "_")])


def _day(as_of: str | None) -> dt.date:
    if as_of is None:
        return dt.date.today()
    try:
        if len(as_of) != len("2026-05-21"):
            raise ValueError
        return dt.date.fromisoformat(as_of)
    except ValueError:
        raise UsageError(f"--as-of {as_of}: write a day as 2026-05-21") from None


def _refuse_input(output: Path, paths: tuple[Path, ...]) -> None:
    """The report may overwrite an older report, never something that was, or could have been, read."""
    from preflint.fleet.find import find_manifests

    if not output.exists():
        return
    if any(output.samefile(manifest) for manifest in find_manifests(paths)[0] if manifest.exists()):
        raise OutputError(f"{output}: this is one of the manifests; the report was not written")
    if output.suffix in (".yaml", ".yml", ".csv"):
        raise OutputError(f"{output}: this could be an input of an aircraft; choose another name for the report")
