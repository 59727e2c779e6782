"""``preflint draft``: a manifest to fill in at the bench, in an editor, on paper or question by question."""

from pathlib import Path

import click

from preflint.aircraft.layouts import NAMES


@click.command(short_help="Write a manifest to fill in, with all that flight needs.")
@click.option("--layout", type=click.Choice(NAMES), help="How the rotors are placed; asked for on a terminal.")
@click.option("--name", default="My aircraft", show_default=True, help="What the aircraft is called.")
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
def draft(layout: str | None, name: str, cells: int | None, fitted: str | None, output: Path | None) -> None:
    """Write a manifest to fill in: what flight needs for what is fitted.

    Fill in what you see, then run: preflint inspect FILE
    """
    from preflint.cli.drafting import new_manifest, start_of

    new_manifest(start_of(layout, name, cells, fitted), output)
