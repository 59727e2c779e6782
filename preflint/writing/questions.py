"""The questions of a record, one a value or one for a value at each position, and what is made of their answers."""

from collections.abc import Mapping
from dataclasses import field

from preflint.aircraft.declared import group_of, kind_of
from preflint.aircraft.layouts import arm_of
from preflint.frozen import dataclass
from preflint.precautions import DESK, Precaution
from preflint.writing.answers import NoSense, read_positions, read_table, read_value
from preflint.writing.asked import CLASSES, LOG, Asked, asked, find
from preflint.writing.entry import Value, applies, known, one_for_each_rotor
from preflint.writing.facts import Facts
from preflint.writing.shape import Shape
from preflint.writing.units import unit_of
from preflint.writing.yaml_text import flow

__all__ = ["NoSense", "Question", "question", "questions"]

LEAVE_OUT = "-"
"""The answer that leaves a value out, where the manifest may be without it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One value to be told, or one at each of ``positions`` in that order, in one line; of a table its rows.

    name: dotted, as ``--set`` takes it. how: the way it is learnt, an order without a full stop; "" where it only
    needs writing down. mind: the precaution of that. choices: the words that it may be. columns: of a table, ``name?``
    may be left out. known: what the manifest tells, so that nobody need be asked. offers: short answers for usual
    ones, each with the value that it stands for.
    """

    name: str
    title: str
    meaning: str
    unit: str
    how: str
    mind: Precaution
    example: str
    choices: tuple[str, ...]
    shape: Shape
    limits: Mapping[str, object]
    count: tuple[int, int | None] | None
    optional: bool
    positions: tuple[str, ...] = ()
    places: tuple[str, ...] = ()
    columns: tuple[str, ...] = ()
    known: Value | None = None
    offers: Mapping[str, Value] = field(default_factory=dict)

    def read(self, answer: str) -> Value:
        """The value that the answer gives; None where it leaves the value out. Raises NoSense with the reason."""
        text = answer.strip()
        if text in self.offers:
            return self.offers[text]
        if text == LEAVE_OUT:
            if self.optional:
                return None
            raise NoSense("this cannot be left out")
        if not text:
            raise NoSense("nothing is written")
        if self.columns:
            return read_table(text, self.columns)
        if self.positions:
            return read_positions(text, self.name, self.positions, self.shape, self.limits, self.places)
        return read_value(text, self.name, self.shape, self.limits, self.count, self.places)


def questions(kind: str, facts: Facts, answers: Mapping[str, Value] | None = None) -> tuple[Question, ...]:
    """All that a record of the kind is asked for beside ``answers``, in the order of the bench.

    ``kind`` is that of a record or "log". Raises KeyError for another.
    """
    given = answers or {}
    each = one_for_each_rotor(kind) and "at" not in given
    return tuple(
        _question(kind, one, facts, facts.positions if each else ())
        for one in asked(kind)
        if one.name not in given and applies(kind, one, given) and not (each and one.name == "at")
    )


def question(kind: str, name: str, facts: Facts, answers: Mapping[str, Value] | None = None) -> Question:
    """The question of any value that a record of the kind can hold, by its dotted name. Raises KeyError."""
    each = one_for_each_rotor(kind) and name not in ("at", "date") and "at" not in (answers or {})
    usual = next((one for one in asked(kind) if one.name == name), None)
    return _question(kind, usual or find(kind, name), facts, facts.positions if each else ())


def field_question(group: type, name: str, facts: Facts, each: tuple[str, ...] = ()) -> Question:
    """The question of a field of any group; ``each``: the positions at which it is asked."""
    return _question("", Asked((name,), group), facts, each)


def precaution(kind: str) -> Precaution:
    """What to mind while the record is taken; nothing for the logbook."""
    return DESK if kind == LOG else Precaution.of(kind_of(CLASSES[kind]).mind)


def how_taken(kind: str) -> str:
    """How the record is taken, an order without a full stop; what the kind means for the logbook."""
    return "write down what was done, or what happened" if kind == LOG else kind_of(CLASSES[kind]).take


def title_of(kind: str) -> str:
    """What people call the record, or the entry of the logbook."""
    return group_of(CLASSES[kind]).title


def _question(kind: str, one: Asked, facts: Facts, each: tuple[str, ...]) -> Question:
    said, shape = one.said, one.shape
    if one.path == ("pack",) and facts.packs:
        shape = Shape("word", tuple(facts.packs))
    moved = f" ({one.path[1]})" if len(one.path) == 3 else ""
    words = ("true", "false") if shape.form == "yes-no" else shape.words
    places = facts.positions if shape.form == "position" else ()
    if (kind, one.name) == (LOG, "at"):  # work on a coaxial arm may name the arm
        places = tuple(dict.fromkeys((*places, *map(arm_of, places))))
    words = places or words
    positions = each or (facts.positions if shape.by_position else ())
    return Question(
        name=one.name,
        title=(said.title or "Readings") + moved,
        meaning=said.meaning,
        unit=unit_of(one.path[-1]),
        how="" if said.on_paper else said.do,
        mind=DESK if said.on_paper else Precaution.of(said.mind),
        example="" if words else _example(one, positions),
        choices=words,
        shape=shape,
        limits=said.limits,
        count=said.count,
        optional=one.optional,
        positions=positions,
        places=places,
        columns=said.columns,
        known=known(kind, one, facts),
        offers=_offers(kind, one, facts, words),
    )


def _offers(kind: str, one: Asked, facts: Facts, words: tuple[str, ...]) -> Mapping[str, Value]:
    """Short answers; what they stand for is written out, so that a later change of the rotors leaves it alone."""
    if one.shape.deep == 1 and words:
        return {"all": list(words)}
    if (kind, one.name) == ("spin_test", "seen") and set(facts.spins) == set(facts.positions):
        return {"as-written": {at: facts.spins[at] for at in facts.positions}}
    if (kind, one.name) == ("output_test", "turned"):
        return {"as-commanded": {at: at for at in facts.positions}}
    return {}


def _example(one: Asked, positions: tuple[str, ...]) -> str:
    """As it would be typed; a choice has none, since it would suggest one."""
    if one.shape.form == "table":
        return ""
    first = one.said.examples[0]
    if isinstance(first, Mapping):
        first = next(iter(first.values()))
    if positions:
        return " ".join([flow(first)] * len(positions))
    if isinstance(first, list | tuple):
        return " ".join(flow(inner).strip("[]").replace(",", "") for inner in first)
    return flow(first) if not isinstance(first, str) else first
