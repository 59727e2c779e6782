"""A manifest to fill in: what flight needs for what is fitted, open lines behind a mark, records by rung."""

import re
from collections.abc import Iterator, Mapping, Sequence
from textwrap import wrap

from preflint.aircraft.declared import choices
from preflint.aircraft.fitted import Airframe, BatteryWarning, Home, Pack
from preflint.aircraft.moment import Moment
from preflint.aircraft.records import KINDS
from preflint.aircraft.rotor import Esc, Fixing, Prop, Rotor
from preflint.aircraft.rung import Rung
from preflint.frozen import dataclass
from preflint.load.names import SUFFIX
from preflint.precautions import Precaution
from preflint.writing.facts import Facts
from preflint.writing.template import log_template, template

MARK = "# "
"""Stands in front of what is open, after the blanks that the line begins with."""

# What may be fitted, as people name it, its key in the manifest, and what is set of it; "" where nothing need be.
_SET = {
    "power": ("power_sensing", "divider_ratio: ___, sensor_mv_per_a: ___, zero_mv: ___"),
    "compass": ("compass", "interference_offset_ut_per_a: [___, ___, ___], hard_iron_ut: [___, ___, ___]"),
    "barometer": ("barometer", ""),
    "satellite": ("satellite_receiver", "accuracy_m: ___"),
}

FITTED = tuple(_SET)
"""What may be fitted, by the words of ``--fitted``."""


def keys_of_fitted() -> Mapping[str, str]:
    """The key in the manifest of each word of ``FITTED``."""
    return {word: key for word, (key, _) in _SET.items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """What is known before the bench. ``fitted``: words of ``FITTED``; None where nobody said."""

    layout: str
    name: str = "My aircraft"
    cells: int | None = None
    fitted: frozenset[str] | None = None

    def facts(self, now: Moment) -> Facts:
        """The same for those who write records."""
        return Facts.of_layout(self.layout, now, {"A1": self.cells})


def file_name(name: str) -> str:
    """The name of a manifest for an aircraft of that name, which inspect finds."""
    plain = re.sub(r"[^\w]+", "-", name.casefold()).strip("-_")[:60].rstrip("-_")
    return f"{plain or 'aircraft'}{SUFFIX}"


def draft_text(start: Start, now: Moment, kinds: Sequence[str]) -> str:
    """A manifest that is legal as it is. With the mark taken away a line is legal, too, unless somebody must choose.

    ``kinds``: the records that flight needs, by their keys, in the order of work.
    """
    lines = (*_head(), *_airframe(start), *_rotors(start), *_parts(start), *_records(start, now, kinds), *_log(now))
    return "\n".join(lines) + "\n"


def _head() -> Iterator[str]:
    yield "# yaml-language-server: $schema=./airframe.schema.json"
    yield "## That line is for editors; this makes it work: preflint schema > airframe.schema.json"
    yield "##"
    yield "## Pack unplugged and props removed, unless a line says otherwise."
    yield "## Write what you see, not what you conclude. Lines behind ## are for you to read."
    yield "## Take away the # in front of a line, with the blank after it, and the # of the"
    yield "## line it hangs from. Of a|b leave one word. For ___ write the value."
    yield "## A line behind # counts as not recorded. Units are in the names."
    yield "## Then run: preflint inspect FILE"


def _airframe(start: Start) -> Iterator[str]:
    yield "preflint: 1"
    yield "aircraft:"
    yield f"  name: {_quoted(start.name)}"
    yield f"  layout: {start.layout}"
    yield "  # owner: [___]"
    yield "  # takeoff_mass_g: ___          ## weighed ready to fly, with its pack"
    able = [word for word in choices(Airframe, "relies_on") if start.fitted is None or word in start.fitted]
    if able:
        yield f"  # relies_on: [{_open(able)}]  ## what flight relies on; [] for none"
    yield "# site: {latitude_deg: ___, longitude_deg: ___, elevation_m: ___, highest_obstacle_m: ___}"


def _rotors(start: Start) -> Iterator[str]:
    yield ""
    yield "## What is the same on all rotors; a rotor's own line below wins."
    yield "# every_rotor:"
    yield f"#   fixing: {{kind: {_open(choices(Fixing, 'kind'))}}}"
    yield f"#   esc: {{active_braking: true|false, spin_set_by: {_open(choices(Esc, 'spin_set_by'))}}}"
    yield "#   prop: {diameter_in: ___, pitch_in: ___, blades: ___}"
    yield "#   motor: {full_throttle_draw_a: ___, max_thrust_g: ___}  ## thrust table, your prop"
    yield ""
    yield "## spin: seen from above the aircraft, props removed."
    yield "## prop: hand: hold it domed side toward you: cw if the rounded edges lead when it"
    yield "##             turns clockwise."
    yield "##       face: where the domed side of the mounted prop points."
    yield "rotors:"
    for at in start.facts(Moment.parse("2000-01-01")).positions:
        yield f"  - at: {at}"
        if start.layout == "custom":
            yield "    place_mm: [0, 0, 0]  ## measure it: forward, right, down from their centre"
        yield f"    # spin: {_open(choices(Rotor, 'spin'))}"
        yield f"    # prop: {{hand: {_open(choices(Prop, 'hand'))}, face: {_open(choices(Prop, 'face'))}}}"


def _parts(start: Start) -> Iterator[str]:
    yield ""
    yield "packs:"
    yield "  - label: A1                    ## write it on the pack"
    yield f"    {'# cells: ___' if start.cells is None else f'cells: {start.cells}'}"
    yield f"    # chemistry: {_open(choices(Pack, 'chemistry'))}"
    yield "## what tells you that the pack runs low; battery_warnings: none where nothing does"
    yield "# battery_warnings:"
    yield f"#   - watches: {_open(choices(BatteryWarning, 'watches'))}"
    yield "#     at_v: ___                    ## or at_cell_v, at_used_mah, at_min"
    yield f"#     does: {_open(choices(BatteryWarning, 'does'))}"
    for word, (key, settings) in _SET.items():
        group = f"{{{settings}}}"
        if start.fitted is None:
            yield f"# {key}: none|{{}}  ## none, or if fitted {group}"
        elif word not in start.fitted:
            yield f"{key}: none"
        else:
            yield f"{MARK if settings else ''}{key}: {group}"
    if start.fitted is None or "satellite" in start.fitted:
        yield "## What it does in the air when the link is lost; height_m where it comes home."
        yield f"# return: {{on_link_loss: {_open(choices(Home, 'on_link_loss'))}, height_m: ___}}"


def _records(start: Start, now: Moment, kinds: Sequence[str]) -> Iterator[str]:
    facts = start.facts(now)
    yield ""
    yield "## What was seen and read, each with its day: a record. It stays as it is; what is"
    yield "## done again gets a new one."
    if kinds:
        yield "# records:"
    for rung in Rung:
        own = in_bench_order(kinds, rung)
        if own:
            minutes = sum(minutes_of(kind, facts) for kind in own)
            yield from ("##", f"## {f' {str(rung).upper()}: about {minutes} minutes ':=^80}")
            yield from _note(f"Needed at hand: {rung.tools}.")
        minded = ""
        for kind in own:
            said = KINDS[kind]
            yield "##"
            yield from _note(f"{said.title}, {minutes_of(kind, facts)} min: {said.take}.")
            for sentence in Precaution.of(said.mind).sentences if said.mind != minded else ("Mind the same as above.",):
                yield from _note(sentence, "  ")
            minded = said.mind
            yield from (f"{MARK}{line}" for line in template(kind, facts))


def in_bench_order(kinds: Sequence[str], rung: Rung) -> list[str]:
    """Those of one rung: by the state in which the aircraft stands for it, then as kinds are declared."""
    order = list(KINDS)
    own = [kind for kind in kinds if KINDS[kind].rung is rung]
    return sorted(own, key=lambda kind: (Precaution.of(KINDS[kind].mind).job or 0, order.index(kind)))


def _note(text: str, indent: str = "") -> Iterator[str]:
    return (f"## {line}" for line in wrap(text, 77, initial_indent=indent, subsequent_indent=f"{indent}  "))


def minutes_of(kind: str, facts: Facts) -> int:
    """About how long a record takes; of one that is of one rotor, all of them."""
    one_rotor = KINDS[kind].speaks_for == "rotors" and "at" in KINDS[kind].asks
    return KINDS[kind].minutes * (len(facts.positions) if one_rotor else 1)


def _log(now: Moment) -> Iterator[str]:
    yield ""
    yield "## Later on: the work that you do and every mishap, with its day."
    yield "# logbook:"
    yield from (f"{MARK}{line}" for line in log_template(Facts.of_layout("quad-x", now)))


def _open(words: Sequence[str]) -> str:
    """What a field may hold, for somebody to strike out all but one."""
    return "|".join(words)


def _quoted(text: str) -> str:
    """As one value in quotes; what cannot be seen is left out."""
    return '"' + "".join(c if c.isprintable() and c not in '"\\' else " " for c in text) + '"'
