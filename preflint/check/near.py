"""What somebody probably meant by a name that is not known."""

from collections.abc import Iterable
from difflib import get_close_matches

from preflint.load.scalars import in_quotes, shorten

_SAID = {
    "clockwise": "cw",
    "anticlockwise": "ccw",
    "anti-clockwise": "ccw",
    "counterclockwise": "ccw",
    "counter-clockwise": "ccw",
}


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known name that ``word`` is most like, or None where none is near."""
    names = list(known)
    plain = _plain(word[:100])
    by_plain = {_plain(name): name for name in names}
    if (said := _SAID.get(plain)) in names:
        return said
    if plain in by_plain:
        return by_plain[plain]
    unit_left_out = [name for name in names if _plain(name).startswith(f"{plain}-")]
    if plain and len(unit_left_out) == 1:
        return unit_left_out[0]
    close = get_close_matches(plain, by_plain, n=1, cutoff=0.6)
    return by_plain[close[0]] if close else None


def suggestion(word: str, known: Iterable[str]) -> str:
    """``did you mean "cw"?``, or all names where none is near."""
    names = list(known)
    near = nearest(word, names)
    return f"did you mean {in_quotes(near)}?" if near else f"write {one_of(names)}"


def one_of(names: Iterable[str]) -> str:
    """``cw or ccw``; ``one of a, b, c``."""
    listed = [shorten(name) for name in names]
    return " or ".join(listed) if len(listed) <= 2 else "one of " + ", ".join(listed)


def _plain(name: str) -> str:
    return name.strip().casefold().replace("_", "-").replace(" ", "-")
