"""What form the value of a field has: what one value is, and whether there is one for each position, or a list."""

import types
import typing
from collections.abc import Mapping
from typing import Annotated, Any, Literal, get_args, get_origin

from preflint.aircraft.declared import declarations, hints_of
from preflint.aircraft.field import Known
from preflint.aircraft.moment import Moment
from preflint.frozen import dataclass

Form = Literal["number", "yes-no", "word", "position", "text", "moment", "table"]


@dataclass(frozen=True, slots=True)
class Shape:
    """One value of this form; one at each position (``by_position``); a list of them (``deep`` 1), or lists (2)."""

    form: Form
    words: tuple[str, ...] = ()
    by_position: bool = False
    deep: int = 0


def shape_of(group: type, name: str) -> Shape:
    """The form of a field of a group or kind."""
    said = declarations(group)[name]
    if said.columns:
        return Shape("table")
    hint, by_position, deep = _known(hints_of(group)[name]), False, 0
    if get_origin(hint) is Mapping:
        hint, by_position = _known(get_args(hint)[1]), True
    while get_origin(hint) is tuple:
        hint, deep = _known(get_args(hint)[0]), deep + 1
    if said.one_of or get_origin(hint) is Literal:
        return Shape("word", said.one_of or get_args(hint), by_position, deep)
    return Shape(_form(hint), (), by_position, deep)


def _known(hint: Any) -> Any:
    """The type inside ``Known[...]`` and ``Field[...]``."""
    if get_origin(hint) in (typing.Union, types.UnionType):
        hint = get_args(hint)[0]
    return get_args(hint)[0] if get_origin(hint) is Known else hint


def _form(hint: Any) -> Form:
    if get_origin(hint) is Annotated:
        return "position"
    return {bool: "yes-no", float: "number", int: "number", Moment: "moment"}.get(hint, "text")  # type: ignore[return-value]
