"""What somebody probably meant by a name that is not known."""

import re
from collections.abc import Iterable, Mapping
from functools import cache

from preflint.load.quoting import in_quotes, shorten

_SAID = {
    "clockwise": "cw",
    "anticlockwise": "ccw",
    "anti-clockwise": "ccw",
    "counterclockwise": "ccw",
    "counter-clockwise": "ccw",
}
_NAMED = 6
_EITHER = re.compile(r"[|/,]| or ")


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known name that ``word`` is most like, or None where none is near."""
    names = list(known)
    plain = _plain(word[:100])
    by_plain = {_plain(name): name for name in names}
    if sum(_plain(part) in by_plain for part in _EITHER.split(word[:100])) > 1:
        return None  # "cw|ccw" copied from a page: which one is meant, nobody can tell
    if (said := _SAID.get(plain)) in names:
        return said
    if plain in by_plain:
        return by_plain[plain]
    unit_left_out = [name for name in names if _plain(name).startswith(f"{plain}-")]
    if plain and len(unit_left_out) == 1:
        return unit_left_out[0]
    from difflib import get_close_matches  # only where a name is not known

    close = get_close_matches(plain, by_plain, n=1, cutoff=0.6)
    return by_plain[close[0]] if close else None


def suggestion(word: str, known: Iterable[str]) -> str:
    """``did you mean "cw"?``, or all names where none is near."""
    names = list(known)
    near = nearest(word, names)
    return f"did you mean {in_quotes(near)}?" if near else f"write {one_of(names)}"


def unknown_key(name: str, known: Iterable[str], group: str, elsewhere: bool = True) -> str:
    """What to say about a key that its group does not have; ``elsewhere``: another group of a manifest may.

    ``group`` is the name of the group, "" at the top of a file.
    """
    known = list(known)
    said = f"{in_quotes(shorten(name))} is not known here"
    homes = _homes().get(name, []) if elsewhere else []
    if nearest(name, known) is None and 0 < len(homes) <= 3:
        return f"{said}; it belongs in {' or '.join(homes)}"
    if near := nearest(name, known):
        rest = f" preflint explain {group} lists all" if group and len(known) > 1 else ""
        return f"{said}; did you mean {in_quotes(near)}?{rest}"
    if len(known) <= _NAMED or not group:
        return f"{said}; write {one_of(known)}"
    return f"{said}; there is {', '.join(likeliest(name, known, _NAMED))}; preflint explain {group} lists all"


def likeliest(word: str, names: Iterable[str], count: int) -> list[str]:
    """The names that ``word`` is most like, the nearest first."""
    from difflib import SequenceMatcher

    plain = _plain(word[:100])
    return sorted(names, key=lambda name: -SequenceMatcher(None, plain, _plain(name), autojunk=False).ratio())[:count]


def one_of(names: Iterable[str]) -> str:
    """``cw or ccw``; ``one of a, b, c``."""
    listed = [shorten(name) for name in names]
    return " or ".join(listed) if len(listed) <= 2 else "one of " + ", ".join(listed)


def _plain(name: str) -> str:
    return name.strip().casefold().replace("_", "-").replace(" ", "-")


@cache
def _homes() -> Mapping[str, list[str]]:
    """For each key the keys of the groups that have it: a slip of indentation puts it into another."""
    import preflint_schemas

    schema = preflint_schemas.airframe()
    homes = {name: ["no group but at the start of a line"] for name in schema["properties"]}
    for group in (schema, *schema["$defs"].values()):
        for slot, inner in group.get("properties", {}).items():
            inner = inner.get("items", inner)
            reference = inner.get("else", inner).get("$ref", "")
            for name in schema["$defs"].get(reference.removeprefix("#/$defs/"), {}).get("properties", {}):
                found = homes.setdefault(name, [])
                if slot not in found and slot != "sessions":  # they have what their records have
                    found.append(slot)
    return homes
