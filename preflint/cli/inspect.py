"""``preflint inspect``: judge aircraft and say what does not add up."""

import datetime as dt
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Literal

import click

from preflint.errors import OutputError, UsageError

if TYPE_CHECKING:
    from preflint.interface import Severity, Verdict

FIELD_DAY: Literal["field-day"] = "field-day"


_EXIT_CODES = """\b
Exit codes:
  0    every aircraft was read and judged, none is grounded; or no
       aircraft uses any of the files named by --files-from
  1    some aircraft is grounded: it has a finding from --ground-at on,
       or its verdict is "unproven"
  2    wrong options, policy or rule module: nothing was judged
  3    something was not judged: a file that cannot be read as it should,
       or is named nearly like a manifest, a rule that failed, or no
       manifest at all
  4    preflint itself failed, or the report could not be written
  130  interrupted; what had been judged by then is reported
"""


@click.command(epilog=_EXIT_CODES)
@click.argument("paths", nargs=-1, type=click.Path(readable=False, path_type=Path))  # each is told by itself
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json"]),
    default="text",
    show_default=True,
    help="text for people, json for programs.",
)
@click.option("--output", type=click.Path(path_type=Path), metavar="FILE", help="Write the report to FILE.")
@click.option(
    "--report",
    "reports",
    multiple=True,
    metavar="FORMAT=FILE",
    help="Also write FILE as text, json, sarif, junit, markdown, annotations, lines or csv; may be repeated. "
    "FILE - is standard output, in place of the ordinary report there. sheet=FOLDER writes pages to print and to "
    "read on a phone.",
)
@click.option(
    "--as-of",
    metavar="DATE",
    help="Judge as on the evening of DATE, such as 2026-05-21, or field-day: on the day and at the site that "
    "the club policy names. Default: today.",
)
@click.option(
    "--pack-label",
    "packs",
    multiple=True,
    metavar="LABEL",
    help="Flown today with the pack of this label: its check of the day is then needed for flight; may be repeated.",
)
@click.option(
    "--ground-at",
    type=click.Choice(["no-go", "caution", "advisory"]),
    default="no-go",
    show_default=True,
    help="From which severity on a finding makes the exit code 1. The verdict stays the same.",
)
@click.option(
    "--detail",
    type=click.Choice(["full", "jobs", "first-hover", "grounded", "none"]),
    help="How much is told: all there is, every job in order, the card for a first hover, one screen of each "
    "grounded aircraft, or name and verdict. Default: one screen of one aircraft, a table of several.",
)
@click.option(
    "--policy",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Judge by this club policy instead of the preflint.yaml above the manifests.",
)
@click.option(
    "--files-from",
    metavar="FILE",
    help="Judge only aircraft that use a file named in FILE (- for standard input), one name a line or each "
    "before a NUL. PATHS is then the current folder if left out.",
)
@click.option(
    "--stdin-name",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="With PATHS -: where the manifest from standard input would stand; its shared files and its policy are "
    "found from there.",
)
@click.option(
    "--least",
    type=click.Choice(["no-go", "caution", "advisory"]),
    default="advisory",
    show_default=True,
    help="Leave out of every report what is less severe; caution leaves out all notes. Numbers and exit code stay.",
)
@click.option("--owner", "owners", multiple=True, metavar="NAME", help="Tell only of aircraft of this owner.")
@click.option(
    "--verdict", "verdicts", multiple=True, type=click.Choice(["no-go", "unproven", "go-with-cautions", "go"]),
    help="Tell only of aircraft with this verdict. Neither changes the exit code.",
)  # fmt: skip
@click.option(
    "--compare", type=click.Path(path_type=Path), metavar="FILE",
    help="Tell what is new, gone and still there since the JSON report FILE.",
)
@click.option("--statistics", is_flag=True, help="Add to a text how often each rule found something.")
@click.option("--rules", multiple=True, metavar="MODULE", help="Also run the rules of this installed module.")
@click.option("--jobs", type=click.IntRange(1, 256), default=1, show_default=True, help="Processes that judge.")
@click.option("--cluster", metavar="ADDRESS", help="Let the Dask cluster at ADDRESS judge; it must see the same files.")
def inspect(
    paths: tuple[Path, ...], form: Literal["text", "json"], output: Path | None, as_of: str | None, ground_at: str,
    detail: Literal["full", "jobs", "first-hover", "grounded", "none"] | None, policy: Path | None,
    files_from: str | None, rules: tuple[str, ...], jobs: int, cluster: str | None, reports: tuple[str, ...],
    packs: tuple[str, ...], stdin_name: Path | None,
    least: str, owners: tuple[str, ...], verdicts: tuple["Verdict", ...], statistics: bool,
    compare: Path | None,
) -> int:  # fmt: skip
    """Judge the aircraft in PATHS.

    PATHS are manifests, files named *.airframe.yaml, or folders that are
    searched for them; - is one manifest from standard input.
    """
    judged_on = _day(as_of)
    if not paths and files_from is None:
        raise UsageError("name a manifest or a folder; . is the current folder")
    from preflint.cli.exits import exit_code
    from preflint.cli.inputs import changed_names, from_stdin
    from preflint.cli.output import write
    from preflint.cli.progress import Progress
    from preflint.cli.reports import SHEET, wanted
    from preflint.cli.terminal import USUAL, only_ascii, width
    from preflint.cli.workers import workers
    from preflint.interface import inspect_many, report_pieces, write_sheets

    paths = paths or (Path("."),)
    paths, unsaved = from_stdin(paths, stdin_name, files_from)
    further = wanted(reports, output)
    changed = None if files_from is None else changed_names(files_from)
    with workers(jobs, cluster) as executor, Progress() as progress:
        report = inspect_many(
            paths, judged_on=judged_on, rules=rules, policy=policy, changed=changed,
            executor=executor, progress=progress.judged, reading=progress.reading, packs=packs, unsaved=unsaved,
            earlier=compare,
        )  # fmt: skip
    severity, from_on = _severity(ground_at), _severity(least)
    inputs = (*paths, *(Path(file) for file in (policy, files_from) if file not in (None, "-")))
    for target in (output, *(file for _, file in further)):
        if target is not None:
            _refuse_input(target, inputs)
    for name, file in further:
        if name == SHEET:
            assert file is not None  # refused in wanted
            write_sheets(report, file, ground_at=severity, least=from_on, owners=owners, verdicts=verdicts)
            continue
        pieces = report_pieces(
            report, name, ground_at=severity, detail=detail, least=from_on, owners=owners, verdicts=verdicts
        )
        write(pieces, file)
    if output is None and any(file is None for _, file in further):
        return exit_code(report, severity)
    narrow = output is None and only_ascii()
    colour = output is None and sys.stdout.isatty() and "NO_COLOR" not in os.environ
    columns = width() if output is None else USUAL
    pieces = report_pieces(
        report, form, ground_at=severity, detail=detail, ascii_only=narrow, colour=colour, width=columns,
        least=from_on, owners=owners, verdicts=verdicts, statistics=statistics,
    )  # fmt: skip
    write(pieces, output)
    return exit_code(report, severity)


def _severity(named: str) -> "Severity":
    from preflint.interface import Severity

    return Severity[named.upper().replace("-", "_")]


def _day(as_of: str | None) -> dt.date | Literal["field-day"] | None:
    if as_of is None or as_of == FIELD_DAY:
        return as_of
    try:
        if len(as_of) != len("2026-05-21"):
            raise ValueError
        return dt.date.fromisoformat(as_of)
    except ValueError:
        from preflint.check.dates import other_date

        instead = other_date(as_of) or f"write a day as 2026-05-21, or {FIELD_DAY}"
        raise UsageError(f"--as-of {as_of}: {instead}") from None


def _refuse_input(output: Path, inputs: tuple[Path, ...]) -> None:
    """The report may overwrite an older report, never something that was, or could have been, read."""
    from preflint.fleet.find import find_manifests
    from preflint.render.csv_report import is_csv_report

    if not output.exists():
        return
    found = find_manifests(inputs).manifests
    if any(output.samefile(manifest) for manifest in found if os.path.exists(manifest)):
        raise OutputError(f"{output}: this is an input; the report was not written")
    if output.suffix in (".yaml", ".yml", ".csv") and not is_csv_report(output):
        raise OutputError(f"{output}: this could be an input of an aircraft; choose another name for the report")
