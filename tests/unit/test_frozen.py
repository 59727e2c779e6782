"""A frozen record behaves as the standard library's: each is made both ways and asked the same."""

import copy
import dataclasses
import inspect
import pickle
from collections.abc import Callable
from typing import Any, ClassVar

import pytest

import preflint.frozen

_WAYS = [dataclasses.dataclass, preflint.frozen.dataclass]
_GOOD: dict[str, dict[str, Any]] = {
    "Spot": {"line": 1}, "Base": {"first": "a"}, "Held": {"first": "a"}, "Named": {"one": 1}, "Itself": {"value": 1},
    "Empty": {},
}  # fmt: skip
_BEFORE = pytest.mark.parametrize("before", [0, 10])  # instances made before: those of many come another way


def _classes(dataclass: Any, before: int) -> dict[str, Any]:
    @dataclass(frozen=True, slots=True, order=True)
    class Spot:
        """A place."""

        line: int
        column: int = 1

        def __str__(self) -> str:
            return f"{self.line}:{self.column}"

    @dataclass(frozen=True)
    class Base:
        """Without slots."""

        first: str

    @dataclass(frozen=True, slots=True)
    class Held(Base):
        """Inherits, has a factory, and fields that do not count or show."""

        kinds: ClassVar[int] = 3
        many: list[int] = dataclasses.field(default_factory=list)
        quiet: str = dataclasses.field(default="q", compare=False, repr=False)

    @dataclass(frozen=True, slots=True, kw_only=True)
    class Named:
        """By name alone."""

        one: float
        two: str | None = None

    @dataclass(frozen=True, slots=True, eq=False)
    class Itself:
        """Equal to itself alone."""

        value: object

        def __post_init__(self) -> None:
            if self.value is None:
                raise ValueError("nothing")

    @dataclass(frozen=True, slots=True)
    class Empty:
        """Holds nothing."""

    every: tuple[Any, ...] = (Spot, Base, Held, Named, Itself, Empty)
    for one in every * before:
        one(**_GOOD[one.__name__])
    return {one.__name__: one for one in every}


_ASKED: dict[str, Callable[[dict[str, Any]], object]] = {
    "told": lambda c: [
        repr(c["Spot"](1)), str(c["Spot"](1, column=2)), repr(c["Held"]("a", [1])), repr(c["Named"](one=1)),
        repr(c["Empty"]()),
    ],
    "equal": lambda c: [
        c["Spot"](1) == c["Spot"](1, 1), c["Spot"](1) == c["Spot"](2), c["Spot"](1) == (1, 1),
        c["Held"]("a", [1], "x") == c["Held"]("a", [1], "y"), c["Held"]("a") == c["Base"]("a"),
        c["Base"]("a") == c["Base"]("a"), c["Itself"](1) == c["Itself"](1), c["Empty"]() == c["Empty"](),
    ],
    "hashes": lambda c: [hash(c["Spot"](1, 2)), hash(c["Base"]("a")), hash(c["Named"](one=1)), hash(c["Empty"]())],
    "two in a set": lambda c: len({c["Itself"](1), c["Itself"](1)}),
    "order": lambda c: [one.line for one in sorted([c["Spot"](2), c["Spot"](1, 3), c["Spot"](1)])],
    "at most": lambda c: [c["Spot"](1) <= c["Spot"](1), c["Spot"](1) > c["Spot"](1), c["Spot"](2) >= c["Spot"](1)],
    "replaced": lambda c: repr(dataclasses.replace(c["Named"](one=1), two="b")),
    "fields": lambda c: [one.name for one in dataclasses.fields(c["Held"])],
    "matched": lambda c: c["Held"].__match_args__,
    "own list": lambda c: c["Held"]("a").many is c["Held"]("a").many,
    "copied": lambda c: [repr(copy.copy(c["Held"]("a", [1]))), repr(copy.deepcopy(c["Spot"](4, 5)))],
    "slots": lambda c: [hasattr(c[name](**given), "__dict__") for name, given in
                        (("Spot", {"line": 1}), ("Base", {"first": "a"}), ("Named", {"one": 1}))],
}  # fmt: skip


@_BEFORE
@pytest.mark.parametrize("asked", _ASKED)
def test_it_answers_as_the_standard_one(asked: str, before: int) -> None:
    standard, ours = (_ASKED[asked](_classes(way, before)) for way in _WAYS)

    assert ours == standard


@_BEFORE
@pytest.mark.parametrize(
    ("name", "given", "named"),
    [("Spot", (), {}), ("Spot", (1, 2, 3), {}), ("Spot", (1,), {"row": 2}), ("Spot", (1,), {"line": 2}),
     ("Named", (1,), {}), ("Empty", (1,), {}), ("Itself", (None,), {})],
)  # fmt: skip
def test_what_it_cannot_be_made_of_is_refused(
    name: str, given: tuple[object, ...], named: dict[str, object], before: int
) -> None:
    told = []
    for way in _WAYS:
        with pytest.raises((TypeError, ValueError)) as refused:
            _classes(way, before)[name](*given, **named)
        told.append((refused.type, str(refused.value).rpartition(".")[2]))

    assert told[1] == told[0]


@_BEFORE
def test_nothing_of_it_can_be_changed(before: int) -> None:
    for way in _WAYS:
        spot = _classes(way, before)["Spot"](1)
        with pytest.raises(dataclasses.FrozenInstanceError, match="cannot assign to field 'line'"):
            spot.line = 2
        with pytest.raises(dataclasses.FrozenInstanceError):
            del spot.line


@preflint.frozen.dataclass(frozen=True, slots=True)
class Sent:
    """Travels."""

    one: int
    many: tuple[str, ...] = ()


@preflint.frozen.dataclass(frozen=True, slots=True)
class SentAlone:
    """Of one field."""

    one: int


@pytest.mark.parametrize("sent", [Sent(1, ("a",)), SentAlone(2)])
def test_it_travels_to_another_process(sent: object) -> None:
    assert pickle.loads(pickle.dumps(sent)) == sent


def test_its_way_of_being_made_is_told_once_some_were_made() -> None:
    for turn in range(10):
        Sent(turn)

    assert list(inspect.signature(Sent).parameters) == ["one", "many"]
