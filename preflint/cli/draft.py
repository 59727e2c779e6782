"""``preflint draft``: a manifest to fill in at the bench."""

from collections.abc import Sequence
from pathlib import Path

import click

from preflint.aircraft.layouts import NAMES, positions
from preflint.errors import UsageError


@click.command(short_help="Write a manifest to fill in, about five minutes' work.")
@click.option("--layout", type=click.Choice(NAMES), required=True, help="How the rotors are placed.")
@click.option(
    "--cells", type=click.IntRange(1, 24), required=True, help="Cells in series of the flight pack."
)
@click.option("--name", default="My aircraft", show_default=True, help="What the aircraft is called.")
@click.option(
    "--output",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Write it to FILE, named *.airframe.yaml.",
)
def draft(layout: str, cells: int, name: str, output: Path | None) -> None:
    """Write a commented manifest to fill in.

    Fill in what you see, then run: preflint inspect FILE
    """
    from preflint.cli.output import write

    if output is not None and output.exists():
        raise UsageError(f"{output} exists already; a draft never replaces a manifest")
    write(draft_text(layout, cells, name), output)


def draft_text(layout: str, cells: int, name: str) -> str:
    """The manifest as text; legal as it is, and every open line says how it is learnt."""
    from preflint.aircraft.declared import choices
    from preflint.aircraft.fitted import Pack
    from preflint.aircraft.rotor import Esc, Fixing, Rotor

    quoted = '"' + "".join(c if c.isprintable() and c not in '"\\' else " " for c in name) + '"'
    where = positions(layout) or ("one", "two", "three", "four")
    rotors = "\n".join(_rotor(at, layout == "custom") for at in where)
    spin = _open(choices(Rotor, "spin"))
    listed = ", ".join(f"{at}: {spin}" for at in where)
    turned = ", ".join(f"{at}: {at}" for at in where)
    return f"""\
# yaml-language-server: $schema=./airframe.schema.json
# The line above is for editors; "preflint schema > airframe.schema.json" beside this file makes it work.
# Fill in what you see, not what you conclude: take away the "#" of a line and put in your value.
# A line left behind its "#" counts as not recorded; one without "#" is recorded: change it where it is wrong.
# Units are in the names.
# Pack unplugged and props removed, unless a line says otherwise. Then run: preflint inspect FILE
preflint: 1
aircraft:
  name: {quoted}
  layout: {layout}
  # owner: your name
  # takeoff_mass_g: 0            # weighed ready to fly, with its pack

every_rotor:                     # what is the same on all rotors; a rotor's own line below wins
  # motor: {{full_throttle_draw_a: 0}}        # from the thrust table for this prop and cell count
  # esc: {{active_braking: true|false, spin_set_by: {_open(choices(Esc, "spin_set_by"))}}}
  # prop: {{diameter_in: 0, pitch_in: 0, blades: 2}}
  fixing:
    # nut_kind: {_open(choices(Fixing, "nut_kind"))}
    kind: nut                    # {_or(choices(Fixing, "kind"))}

rotors:
  # spin          seen from above the aircraft, props removed
  # prop          hold it domed side toward you: hand cw if the rounded edges lead when it turns clockwise
  #               face: where the domed side of the mounted prop points
  # nut_tightens  looking at the nut: the way you turn it to tighten it
{rotors}

packs:
  - label: A1
    cells: {cells}
    # chemistry: {_open(choices(Pack, "chemistry"))}

# power_sensing:                 # or: power_sensing: none
#   divider_ratio: 0.0
#   sensor_mv_per_a: 0.0
#   zero_mv: 0
# compass: none                  # none, or what the flight controller has set: see "preflint schema"
# barometer: none                # none, or: {{}}
# satellite_receiver: none       # none, or: {{}}

# records:
#   spin_test:   [{{date: 2026-01-31, props: removed, seen: {{{listed}}}}}]
#   output_test: [{{date: 2026-01-31, props: removed, turned: {{{turned}}}}}]   # commanded: the one that turned
#   voltage_comparison:            # two voltages, a full pack and a used one; props removed, pack in
#     - date: 2026-01-31
#       in_force: {{divider_ratio: 0.0}}
#       loaded: false
#       reference: {{instrument: my meter, accuracy_percent: 0.5, resolution_v: 0.01}}
#       columns: [indicated_v, reference_v]
#       rows: [[0.00, 0.00], [0.00, 0.00]]

# logbook:                         # the last work done, with its date
#   - {{date: 2026-01-31, kind: replaced, part: motor, at: {where[0]}, note: why}}
"""


def _open(words: Sequence[str]) -> str:
    """What a field may hold, for somebody to strike out all but one."""
    return "|".join(words)


def _or(words: Sequence[str]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}"


def _rotor(at: str, custom: bool) -> str:
    from preflint.aircraft.declared import choices
    from preflint.aircraft.rotor import Fixing, Prop, Rotor

    place = (
        "\n    place_mm: [0, 0, 0]          # forward, right, down from the centre of the rotors"
        if custom
        else ""
    )
    return f"""\
  - at: {at}{place}
    # spin: {_open(choices(Rotor, "spin"))}
    # prop: {{hand: {_open(choices(Prop, "hand"))}, face: {_open(choices(Prop, "face"))}}}
    # fixing: {{nut_tightens: {_open(choices(Fixing, "nut_tightens"))}}}"""
