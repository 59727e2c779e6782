"""Frozen records with slots, as the standard library makes them, without compiling six functions for each of them.

A program that judges one aircraft begins by making some two hundred classes, and compiling their functions takes a
third of all its imports. Here they share functions, and the one that makes an instance is compiled for those classes
that make more than a few.
"""

import dataclasses
from collections.abc import Callable
from functools import partial
from operator import attrgetter
from types import MemberDescriptorType
from typing import TYPE_CHECKING, Any, NoReturn, TypeVar

if TYPE_CHECKING:  # to type checkers it is the standard one, whose classes they know
    from dataclasses import dataclass as dataclass
else:

    def dataclass(*, frozen=False, slots=False, eq=True, order=False, kw_only=False):
        """As ``dataclasses.dataclass``, made sooner where it is frozen; its bases are made here, too."""
        if not frozen:
            return dataclasses.dataclass(slots=slots, eq=eq, order=order, kw_only=kw_only)
        return lambda cls: _made(cls, slots, eq, order, kw_only)


C = TypeVar("C")

_FEW = 4  # instances, of which each takes some microseconds longer; compiling takes a hundred
_ORDERED = ("__lt__", "__le__", "__gt__", "__ge__")


def _made(cls: type[C], slots: bool, eq: bool, order: bool, kw_only: bool) -> type[C]:
    own = set(vars(cls))
    made: Any = dataclasses.dataclass(init=False, repr=False, eq=False, slots=slots, kw_only=kw_only)(cls)
    every = dataclasses.fields(made)
    held = _values(tuple(one.name for one in every))
    given: dict[str, Callable[..., Any]] = {
        "__init__": _compiled_for_many(made),
        "__repr__": _repr,
        "__setattr__": _refuse,
        "__delattr__": _refuse,
        "__getstate__": lambda self: held(self),  # a function, which binds to the instance
        "__setstate__": _set_state_compiled_when_called(made),
    }
    if eq:
        compared = _values(tuple(one.name for one in every if one.compare))
        given |= {name: _by_values(name, compared) for name in ("__eq__", *(_ORDERED if order else ()))}
        given["__hash__"] = lambda self: hash(compared(self))
    for name, function in given.items():
        if name not in own:
            setattr(made, name, function)
    frozen: type[C] = made
    return frozen


def _values(names: tuple[str, ...]) -> Callable[[Any], tuple[Any, ...]]:
    """What gives the values of these fields of an instance."""
    if len(names) > 1:
        return attrgetter(*names)
    if not names:
        return lambda self: ()
    alone = attrgetter(*names)
    return lambda self: (alone(self),)


def _by_values(name: str, compared: Callable[[Any], tuple[Any, ...]]) -> Callable[[Any, object], Any]:
    ask = getattr(tuple, name)

    def function(self: object, other: object) -> Any:
        if other.__class__ is self.__class__:
            return ask(compared(self), compared(other))
        return NotImplemented

    return function


def _repr(self: Any) -> str:
    told = (f"{one.name}={getattr(self, one.name)!r}" for one in dataclasses.fields(self) if one.repr)
    return f"{self.__class__.__qualname__}({', '.join(told)})"


def _refuse(self: object, name: str, *_: object) -> NoReturn:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


def _set_state_compiled_when_called(cls: Any) -> Callable[..., None]:
    # A report of many is unpacked aircraft by aircraft, each of thousands of records: in a third of the time.
    def __setstate__(self: object, values: tuple[Any, ...]) -> None:
        names, setters = [one.name for one in dataclasses.fields(cls)], {}
        lines = [f"    ({''.join(f'{name}, ' for name in names)}) = values"]
        for name in names:
            setters[f"_set_{name}"] = _setter(cls, name)
            lines.append(f"    _set_{name}(self, {name})")
        exec("def __setstate__(self, values):\n" + "\n".join(lines), setters)
        cls.__setstate__ = setters["__setstate__"]
        cls.__setstate__(self, values)

    return __setstate__


def _setter(cls: Any, name: str) -> Callable[[object, object], None]:
    slot = getattr(cls, name, None)
    return slot.__set__ if isinstance(slot, MemberDescriptorType) else partial(_set, name)


def _set(name: str, self: object, value: object) -> None:
    object.__setattr__(self, name, value)


def _compiled_for_many(cls: Any) -> Callable[..., None]:
    turns = iter(range(_FEW))

    def __init__(self: object, *values: Any, **named: Any) -> None:
        if next(turns, None) is None or not _filled(self, cls, values, named):
            cls.__init__ = _compiled(cls)
            cls.__init__(self, *values, **named)

    return __init__


def _filled(self: Any, cls: Any, values: tuple[Any, ...], named: dict[str, Any]) -> bool:
    """Whether all is given that the fields ask for, and nothing else; what is compiled says what is wrong."""
    every = dataclasses.fields(cls)
    by_order = [one.name for one in every if not one.kw_only]
    given = dict(zip(by_order, values, strict=False)) | named
    if len(values) > len(by_order) or len(given) < len(values) + len(named):
        return False
    for one in every:
        if one.name in given:
            value = given.pop(one.name)
        elif one.default is not dataclasses.MISSING:
            value = one.default
        elif one.default_factory is not dataclasses.MISSING:
            value = one.default_factory()
        else:
            return False
        _setter(cls, one.name)(self, value)
    if given:
        return False
    if hasattr(cls, "__post_init__"):
        self.__post_init__()
    return True


def _compiled(cls: Any) -> Callable[..., None]:
    """The function that makes an instance: it takes the fields in their order, those by name alone last."""
    every = dataclasses.fields(cls)
    names: dict[str, Any] = {"_unset": dataclasses.MISSING}
    by_order: list[str] = []
    by_name: list[str] = []
    lines: list[str] = []
    for one in every:
        names[f"_set_{one.name}"] = _setter(cls, one.name)
        value, default = one.name, ""
        if one.default is not dataclasses.MISSING:
            names[f"_of_{one.name}"], default = one.default, f"=_of_{one.name}"
        elif one.default_factory is not dataclasses.MISSING:
            names[f"_of_{one.name}"], default = one.default_factory, "=_unset"
            value = f"_of_{one.name}() if {one.name} is _unset else {one.name}"
        (by_name if one.kw_only else by_order).append(one.name + default)
        lines.append(f"    _set_{one.name}(self, {value})")
    if hasattr(cls, "__post_init__"):
        lines.append("    self.__post_init__()")
    taken = ["self", *by_order, *(["*", *by_name] if by_name else [])]
    exec(f"def __init__({', '.join(taken)}):\n" + "\n".join(lines or ["    pass"]), names)
    made: Callable[..., None] = names["__init__"]
    made.__qualname__ = f"{cls.__qualname__}.__init__"
    return made
