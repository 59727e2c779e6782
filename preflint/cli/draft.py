"""``preflint draft``: a manifest to fill in at the bench, in an editor, on paper or question by question."""

from pathlib import Path

import click

from preflint.aircraft.layouts import NAMES
from preflint.errors import UsageError


@click.command()
@click.argument("manifest", required=False, type=click.Path(path_type=Path))
@click.option("--layout", type=click.Choice(NAMES), help="How the rotors are placed; asked for on a terminal.")
@click.option("--name", help="What the aircraft is called.  [default: My aircraft]")
@click.option("--cells", type=click.IntRange(1, 30), help="Cells in series of the flight pack.")
@click.option(
    "--fitted", metavar="WORDS",
    help="What is fitted: power (volts and amperes are sensed), compass, barometer, satellite, with commas between; "
    "or none. Left out, each stays open.",
)  # fmt: skip
@click.option(
    "--output", type=click.Path(path_type=Path), metavar="FILE",
    help="Write it to FILE, named *.airframe.yaml; - for standard output. Default: the name of the aircraft.",
)  # fmt: skip
@click.option(
    "--paper", type=click.Path(path_type=Path), metavar="FILE.html",
    help="Write sheets to fill in with a pencil instead, a page for each step, to print from a "
    "browser.",
)  # fmt: skip
@click.option(
    "--ask", is_flag=True, help="Ask for everything on this terminal, question by question.",
)
def draft(
    manifest: Path | None, layout: str | None, name: str | None, cells: int | None, fitted: str | None,
    output: Path | None, paper: Path | None, ask: bool,
) -> int:  # fmt: skip
    """Write a manifest, the file about one aircraft, to fill in.

    Fill in what you see, then run: preflint inspect FILE

    The work comes in three steps: a bench look (eyes and fingers), the meter
    (volts, cells, weight), and load (amperes, interference, sag).

    With a MANIFEST, a file written before, --ask goes on where it stopped, and
    the sheets of --paper hold what is still open of it.
    """
    from preflint.cli.drafting import new_manifest, open_of, sheets, start_of, to_start_with
    from preflint.cli.exits import NONE_GROUNDED

    if ask:
        from preflint.cli.asking.sitting import sit

        if any(one is not None for one in (paper, cells, fitted)) or (output and manifest):
            raise UsageError("--ask asks for all but --layout and --name")
        return sit(manifest or output, layout, name)
    if manifest is not None and paper is None:
        raise UsageError(f"a draft is written with --output {manifest}; a MANIFEST is read for --ask and --paper")
    if paper is not None:
        if output is not None:
            raise UsageError("--paper names the file that is written; leave --output out")
        known = to_start_with(start_of(layout, name, cells, fitted)) if manifest is None else open_of(manifest)
        sheets(known, paper)
    else:
        new_manifest(start_of(layout, name, cells, fitted), output)
    return NONE_GROUNDED
