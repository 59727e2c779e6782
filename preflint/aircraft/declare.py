"""One declaration for each field of a manifest and for each group of fields.

From it come the typed record, the JSON Schema (:mod:`preflint.aircraft.schema`), what a reader is told where
nobody wrote the field, and the columns of a table.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import field, replace
from typing import Any, Literal, TypeVar, dataclass_transform

from preflint.aircraft.rung import Rung
from preflint.frozen import dataclass
from preflint.precautions import PACK_UNPLUGGED

C = TypeVar("C")

# Why no rule and no figure reads a field: it is a name or a note, or no rule asks for it yet.
Unjudged = Literal["label"]

DECLARED = "DECLARED"  # the attribute of a class that holds what is said of it


@dataclass(frozen=True, slots=True)
class Said:
    """What is said of one field. ``limits`` are the bounds of its value, in the keywords of JSON Schema."""

    title: str = ""
    meaning: str = ""
    examples: tuple[object, ...] = ()
    do: str = ""
    mind: str = PACK_UNPLUGGED
    on_paper: bool = False
    needed: bool = False
    limits: Mapping[str, object] = field(default_factory=dict)
    one_of: tuple[str, ...] = ()
    count: tuple[int, int | None] | None = None
    file: bool = False
    key: str = ""
    entry: str = ""
    short: str = ""
    columns: tuple[str, ...] = ()
    rows: int = 0
    optional: bool = False
    unjudged: Unjudged | None = None


def says(
    title: str,
    meaning: str,
    *,
    examples: Sequence[object],
    do: str = "",
    mind: str = PACK_UNPLUGGED,
    on_paper: bool = False,
    needed: bool = False,
    least: float | None = None,
    above: float | None = None,
    most: float | None = None,
    longest: int | None = None,
    pattern: str | None = None,
    one_of: Iterable[str] = (),
    count: int | tuple[int, int | None] | None = None,
    file: bool = False,
    key: str = "",
    entry: str = "",
    short: str = "",
    unjudged: Unjudged | None = None,
) -> Any:
    """Declares a field.

    title, meaning: for people; the meaning is whole sentences and names the unit that stands in the key.
    examples: legal values. do: how the value is learnt, an order without a full stop. mind: the precaution of that.
    on_paper: the owner knows the value, it only needs writing down.
    needed: a list or mapping that the group cannot be without (``Known[...]`` says so by itself).
    least, above, most: bounds of a number, or of each number of a list; ``above`` is not itself allowed.
    longest: characters of a text, 200 where nothing is said. pattern: a text's regular expression.
    one_of: the words allowed, where no ``Literal`` type can say so.
    count: how many entries a list has, as a number or as (fewest, most).
    file: what is written here may be the name of a YAML file that holds it.
    key: the key in the manifest, where it is not the field's name. entry: what one entry of a list is called.
    short: the word that may stand for a whole list or mapping; loading writes it out.
    unjudged: why no rule and no figure reads it, where none does; reports name what is recorded and not judged.
    """
    limits = {
        "minimum": least,
        "exclusiveMinimum": above,
        "maximum": most,
        "pattern": pattern,
        "maxLength": longest,
    }
    said = Said(
        title=title,
        meaning=meaning,
        examples=tuple(examples),
        do=do,
        mind=mind,
        on_paper=on_paper,
        needed=needed,
        limits={name: limit for name, limit in limits.items() if limit is not None},
        one_of=tuple(one_of),
        count=(count, count) if isinstance(count, int) else count,
        file=file,
        key=key,
        entry=entry,
        short=short,
        unjudged=unjudged,
    )
    return field(metadata={"said": said})


def like(declared: Any, *, do: str = "", mind: str = PACK_UNPLUGGED, on_paper: bool = False) -> Any:
    """Declares a field as ``says`` declared another one, learnt in its own way where ``do`` tells one."""
    said: Said = declared.metadata["said"]
    return field(metadata={"said": replace(said, do=do, mind=mind, on_paper=on_paper) if do else said})


def columns(
    *names: str,
    do: str = "",
    mind: str = PACK_UNPLUGGED,
    rows: int = 0,
    optional: bool = False,
    unjudged: Unjudged | None = None,
) -> Any:
    """Declares the table of a record by its columns, the unit in each name.

    ``name?`` may be left out; of ``one|other`` one is needed. Without ``do`` it is learnt as the record is taken.
    rows: how many a usual record has that is written by hand; 0 where it is a log, in a file of its own.
    optional: a record may be without it.
    """
    said = Said(do=do, mind=mind, columns=names, rows=rows, optional=optional, unjudged=unjudged)
    return field(metadata={"said": said})


@dataclass(frozen=True, slots=True)
class Group:
    """What is said of a group of fields, besides its docstring. ``also`` are further keywords of JSON Schema.

    ``rung`` and ``minutes``: what it takes to show what is written here, about, on an aircraft of four rotors; for a
    record of one rotor, at that rotor.
    ``asks``: the fields that people are asked for one by one where they write such an entry, in the order of the bench.
    ``shows``: what of it flight needs, in words, where that is not all of it.
    """

    title: str
    examples: tuple[object, ...] = ()
    also: Mapping[str, object] = field(default_factory=dict)
    rung: Rung = Rung.BENCH_LOOK
    minutes: int = 2
    asks: tuple[str, ...] = ()
    shows: str = ""


@dataclass(frozen=True, slots=True)
class Kind(Group):
    """What is said of a kind of record: how it is taken (again), what to mind meanwhile, what it speaks for."""

    take: str = ""
    mind: str = PACK_UNPLUGGED
    speaks_for: Literal["rotors", "aircraft"] = "aircraft"


@dataclass_transform(frozen_default=True, field_specifiers=(says, like, columns))
def group(
    title: str,
    *,
    examples: Sequence[object] = (),
    also: Mapping[str, object] | None = None,
    rung: Rung = Rung.BENCH_LOOK,
    minutes: int = 2,
    asks: Sequence[str] = (),
    shows: str = "",
) -> Callable[[type[C]], type[C]]:
    """Declares a group of fields: a frozen dataclass whose docstring is its meaning, with legal values of it.

    also: what no single field says, in the keywords of JSON Schema. asks: what people are asked where they write
    such an entry, as of ``kind``. rung, minutes: what it takes to show what is written here, about, on an aircraft
    of four rotors. shows: what of it flight needs, in words, where that is not all of it.
    """
    return _declare(Group(title, tuple(examples), also or {}, rung, minutes, tuple(asks), shows))


@dataclass_transform(frozen_default=True, field_specifiers=(says, like, columns))
def kind(
    title: str,
    *,
    take: str,
    mind: str,
    speaks_for: Literal["rotors", "aircraft"],
    rung: Rung,
    minutes: int,
    asks: Sequence[str],
    also: Mapping[str, object] | None = None,
) -> Callable[[type[C]], type[C]]:
    """Declares a kind of record: a frozen dataclass whose docstring is its meaning.

    take: how it is taken, and taken again, an order without a full stop. mind: the precaution of that.
    speaks_for: ``rotors``, each by itself, so that work at one rotor leaves the others alone; or ``aircraft``.
    rung, minutes: what it takes, about, on an aircraft of four rotors; at one rotor where the record is of one.
    asks: what a usual record holds besides its date, so that all that flight needs of it is answered, in the order of
    the bench: ``field``, ``group.field``, ``list.did`` for an entry of a list, ``one|other`` where either will do.
    also: what no single field says, in the keywords of JSON Schema.
    """
    return _declare(
        Kind(
            title, also=also or {}, rung=rung, minutes=minutes, asks=tuple(asks), take=take, mind=mind,
            speaks_for=speaks_for,
        )
    )  # fmt: skip


def _declare(said: Group) -> Callable[[type[C]], type[C]]:
    def declared(cls: type[C]) -> type[C]:
        made = dataclass(frozen=True, slots=True)(cls)
        setattr(made, DECLARED, said)
        return made

    return declared
