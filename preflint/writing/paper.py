"""Sheets to fill in with a pencil: HTML of one page a rung, for any browser's print dialogue; no scripts."""

from collections.abc import Mapping, Sequence
from html import escape

from preflint.aircraft.declared import choices, declarations
from preflint.aircraft.fitted import Airframe, BatteryWarning, Home, Pack
from preflint.aircraft.records import KINDS
from preflint.aircraft.rotor import Fixing, Prop
from preflint.aircraft.rung import Rung
from preflint.frozen import dataclass
from preflint.precautions import PACK_UNPLUGGED, Precaution
from preflint.writing.asked import CLASSES, find
from preflint.writing.draft import in_bench_order, minutes_of
from preflint.writing.facts import Facts
from preflint.writing.questions import Question, questions
from preflint.writing.yaml_text import flow

_STYLE = """
@page { margin: 10mm }
* { box-sizing: border-box }
body { margin: 0 auto; max-width: 188mm; color: #000; background: #fff; font: 8.5pt/1.25 sans-serif }
section { break-after: page; padding: 1mm 0 }
section:last-child { break-after: auto }
h1 { margin: 0; font-size: 13pt; line-height: 1.1 }
p { margin: 0 }
.block { break-inside: avoid; margin-top: 1.2mm; border-top: 0.4mm solid #000; padding-top: 0.6mm }
.mind { border-left: 1mm solid #000; padding-left: 1.5mm; margin: 0.5mm 0; font-weight: bold }
table { border-collapse: collapse; width: 100%; margin-top: 0.8mm; table-layout: fixed }
th, td { border: 0.2mm solid #000; padding: 0.3mm 1mm; height: 4.8mm; text-align: left; font-weight: normal;
  overflow-wrap: anywhere; vertical-align: middle }
th:first-child { width: 30mm }
.rows th:first-child { width: auto }
td { white-space: normal; word-spacing: 1.2mm; text-align: center }
.moves th:nth-child(2) { width: 34mm }
.many { font-size: 7.3pt; line-height: 1.15 }
.many th, .many td { height: 4.4mm; padding: 0.2mm 0.8mm }
.many th:first-child { width: 22mm }
.one { display: inline-block; margin: 0.8mm 4mm 0 0 }
.box { display: inline-block; min-width: 24mm; height: 5mm; border: 0.2mm solid #000; vertical-align: middle }
.ring { word-spacing: 2mm }
"""


_MOST_TO_RING = 4  # words in a cell
_FEW_ROTORS = 4


# What flight needs besides records, by the rung on which it is learnt: with which record, and the words to ring.
_TO_LOOK_UP: Mapping[Rung, Mapping[str, tuple[str, Sequence[str]]]] = {
    Rung.BENCH_LOOK: {"flight relies on": ("", choices(Airframe, "relies_on"))},
    Rung.METER: {
        "battery warning watches": ("", choices(BatteryWarning, "watches")),
        "at v, v a cell, mAh or min": ("", ()),
        "and": ("", choices(BatteryWarning, "does")),
        "cells": ("voltage_comparison", ()),
        "chemistry": ("voltage_comparison", choices(Pack, "chemistry")),
        "on link loss in the air": ("position_check", choices(Home, "on_link_loss")),
        "return height m": ("position_check", ()),
        "highest obstacle m": ("position_check", ()),
    },
    Rung.LOAD: {
        "take-off mass g": ("current_comparison", ()),
        "full throttle draw a": ("interference_run", ()),
        "interference offset ut per a, forward right down": ("interference_run", ()),
        "site latitude deg": ("interference_run", ()),
        "site longitude deg": ("interference_run", ()),
    },
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """For which aircraft, and what is to be looked at: the records by their keys, and whether each prop, too.

    ``new``: nothing is written of it yet, so what is to be looked up once is asked for as well.
    """

    name: str
    facts: Facts
    kinds: Sequence[str]
    props: bool
    new: bool = False


def paper(sheet: Sheet) -> str:
    """A page for each rung on which something is open, in the order of the bench, boxes as in the manifest."""
    pages = "\n".join(
        _page(sheet, rung, in_bench_order(sheet.kinds, rung)) for rung in Rung if _is_open(sheet, rung)
    )
    name = escape(sheet.name)
    return f"""\
<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>{name}: to fill in at the bench</title>
<style>{_STYLE}</style>
</head>
<body>
{pages}
</body>
</html>
"""


def _is_open(sheet: Sheet, rung: Rung) -> bool:
    return (sheet.props and rung is Rung.BENCH_LOOK) or bool(in_bench_order(sheet.kinds, rung))


def _page(sheet: Sheet, rung: Rung, kinds: Sequence[str]) -> str:
    blocks: list[str] = []
    props = sheet.props and rung is Rung.BENCH_LOOK
    if props:
        blocks.append(_block(PACK_UNPLUGGED, "Props, as they are mounted", "", _props(sheet.facts)))
    if sheet.new:
        noted = _TO_LOOK_UP[rung]
        boxes = "".join(_one(label, words) for label, (kind, words) in noted.items() if kind in (*kinds, ""))
        blocks += [_block("", "To look up", "", boxes)] if boxes else []
    minutes = sum(minutes_of(kind, sheet.facts) for kind in kinds) + (KINDS["rig_check"].minutes if props else 0)
    minded = PACK_UNPLUGGED if props else None
    for kind in kinds:
        said = KINDS[kind]
        mind = Precaution.of(said.mind)
        title = f"{said.title}, {minutes_of(kind, sheet.facts)} min"
        blocks.append(_block("" if mind == minded else mind, title, said.take, _boxes(kind, sheet.facts)))
        minded = mind
    return f"""\
<section{' class="many"' if len(sheet.facts.positions) > _FEW_ROTORS else ""}>
<h1>{escape(sheet.name)}: {rung}, about {minutes} minutes</h1>
<p>At hand: {escape(rung.tools)}. Ring the word that is true; write numbers in the unit that is printed.
A box left empty counts as not looked at.</p>
<p>{_one("Date and time")}{_one("Who")}</p>
{"".join(blocks)}
</section>"""


def _block(mind: str, title: str, how: str, boxes: str) -> str:
    sentences = "".join(f"<p>{escape(sentence)}</p>" for sentence in Precaution.of(mind).sentences if sentence)
    return (
        f'<div class="block">{_mind(sentences)}'
        f"<p><b>{escape(title)}.</b> {escape(how[:1].upper() + how[1:] + '.' * bool(how))}</p>{boxes}</div>\n"
    )


def _mind(sentences: str) -> str:
    return f'<div class="mind">{sentences}</div>' if sentences else ""


def _props(facts: Facts) -> str:
    rows = [("hand", choices(Prop, "hand")), ("face", choices(Prop, "face"))]
    how = (
        "<p>hand: hold it domed side toward you: cw if the rounded edges lead when it turns clockwise; of a mounted "
        "one, as it would turn then. face: where the domed side points.</p>"
    )
    return how + _one("held by", choices(Fixing, "kind")) + _by_position(facts.positions, rows)


def _boxes(kind: str, facts: Facts) -> str:
    """All that a record holds: what is told once, then what is told for each position, movements, readings."""
    asked = sorted(questions(kind, facts), key=lambda one: _turn(kind, one))
    once = [one for one in asked if not one.positions and not one.columns and not one.name.startswith("moves.")]
    made = "".join(
        _one(_label(one), one.choices) if one.known is None else _known(_label(one), flow(one.known)) for one in once
    )
    if each := [one for one in asked if one.positions]:
        made += _by_position(facts.positions, [(_label(one), one.choices) for one in each])
    made += _movements([one for one in asked if one.name.startswith("moves.")])
    return made + "".join(_readings(one, find(kind, one.name).said.rows) for one in asked if one.columns)


def _turn(kind: str, one: Question) -> tuple[int, int]:
    """The order in which the manifest has it; of movements that in which they are made."""
    first, *inner = one.name.split(".")
    group = find(kind, one.name).group
    return list(declarations(CLASSES[kind])).index(first), (
        list(declarations(group)).index(inner[0]) if len(inner) == 1 else 0
    )


def _label(one: Question) -> str:
    return one.name.removeprefix("in_force.").removeprefix("reference.").replace("_", " ")


def _one(label: str, words: Sequence[str] = ()) -> str:
    box = f'<span class="ring">{_words(words)}</span>' if words else '<span class="box"></span>'
    return f'<span class="one">{escape(label)}: {box}</span>'


def _known(label: str, value: str) -> str:
    return f'<span class="one">{escape(label)}: <b>{escape(value)}</b> <span class="box"></span></span>'


def _words(words: Sequence[str]) -> str:
    plain = ("yes", "no") if tuple(words) == ("true", "false") else words
    return " ".join(f"{escape(word)}".replace("-", "\u2011") for word in plain)


def _by_position(positions: Sequence[str], rows: Sequence[tuple[str, Sequence[str]]]) -> str:
    head = "".join(f"<th>{escape(at)}</th>" for at in positions)
    body = "".join(
        f"<tr><th>{escape(label)}</th>{f'<td>{_cell(words)}</td>' * len(positions)}</tr>" for label, words in rows
    )
    return f"<table><tr><th></th>{head}</tr>{body}</table>"


def _cell(words: Sequence[str]) -> str:
    """The words to ring; nothing where there are so many that writing one is quicker."""
    return _words(words) if len(words) <= _MOST_TO_RING else ""


def _movements(asked: Sequence[Question]) -> str:
    if not asked:
        return ""
    made: dict[str, list[Question]] = {}
    for one in asked:
        made.setdefault(one.name.split(".")[1], []).append(one)
    fields = [one.name.rpartition(".")[2].replace("_", " ") for one in next(iter(made.values()))]
    head = "".join(f"<th>{escape(field)}</th>" for field in fields)
    body = "".join(
        f"<tr><th>{escape(did)}</th>{''.join(f'<td>{_moved(one)}</td>' for one in own)}</tr>"
        for did, own in made.items()
    )
    return f'<table class="moves"><tr><th>moved</th>{head}</tr>{body}</table>'


def _moved(one: Question) -> str:
    """Of rotors all are printed, since several are ringed."""
    return _words(one.choices) if one.shape.deep else _cell(one.choices)


def _readings(one: Question, rows: int) -> str:
    if not rows:
        return _one("file of the log")
    names = [name.removesuffix("?").split("|")[0] for name in one.columns]
    head = "".join(f"<th>{escape(name)}</th>" for name in names)
    empty = "<tr>" + "<td></td>" * len(names) + "</tr>"
    return f'<table class="rows"><tr>{head}</tr>{empty * rows}</table>'

