"""Which columns of a table are read, and which of those that are there were probably meant."""

from collections.abc import Sequence

from preflint.load.quoting import in_quotes, shorten

_ALIKE = 0.6
_SAME = 1.0

Complaint = tuple[int | None, str]
"""The column it is about, counted from 0 (None for the heading), and what to do."""


def choose(wanted: Sequence[str], offered: Sequence[str]) -> tuple[list[int], list[Complaint]]:
    """Where the wanted columns stand among those offered, in the order wanted, and what is wrong with them.

    ``a|b`` takes whichever is there, a name that ends in ``?`` may be missing. A column is never guessed:
    one that differs only in case or signs is pointed out, be it optional or not.
    """
    chosen: list[int] = []
    complaints: list[Complaint] = []
    missing: list[str] = []
    for entry in wanted:
        there = [offered.index(name) for name in _options(entry) if name in offered]
        chosen += there[:1]
        if len(there) > 1:
            both = " and ".join(in_quotes(offered[index]) for index in there)
            complaints.append((max(there), f"{both} are both here; keep one of the two columns"))
        elif not there:
            missing.append(entry)
    known = {name for entry in wanted for name in _options(entry)}
    spare = [index for index, name in enumerate(offered) if name not in known]
    alike = [(_likeness(entry, offered[index]), entry, index) for entry in missing for index in spare]
    for likeness, entry, index in sorted(alike, key=lambda pair: -pair[0]):
        enough = _SAME if entry.endswith("?") else _ALIKE
        if likeness >= enough and entry in missing and index in spare:
            complaints.append((index, _meant(entry, offered[index])))
            missing.remove(entry)
            spare.remove(index)
    needed = [entry for entry in missing if not entry.endswith("?")]
    if needed:
        complaints.append((None, _missing(needed, offered)))
    return chosen, complaints


def _options(entry: str) -> list[str]:
    return entry.removesuffix("?").split("|")


def _label(entry: str) -> str:
    first, *others = map(in_quotes, _options(entry))
    return f"{first} (or {' or '.join(others)})" if others else first


def _plain(name: str) -> str:
    return "".join(sign for sign in name[:100].casefold() if sign.isalnum())


def _likeness(entry: str, name: str) -> float:
    """1 where the names differ in case and signs alone."""
    from difflib import SequenceMatcher  # only where a column is missing

    return max(SequenceMatcher(None, _plain(option), _plain(name)).ratio() for option in _options(entry))


def _meant(entry: str, name: str) -> str:
    written = in_quotes(shorten(name))
    for option in _options(entry):
        if _plain(option) == _plain(name):
            return f"the column {written} is not known; did you mean {in_quotes(option)}? Write it exactly so"
    return f"the column {_label(entry)} is missing; if it is {written}, see that the unit is right and rename it"


def _missing(entries: Sequence[str], offered: Sequence[str]) -> str:
    names = ", ".join(map(_label, entries))
    subject = f"the column {names} is" if len(entries) == 1 else f"the columns {names} are"
    there = ", ".join(shorten(other) for other in offered[:12]) + (", …" if len(offered) > 12 else "")
    hint = "" if len(offered) > 1 else "; columns are separated by commas, semicolons or tabs"
    return f"{subject} missing; the heading names {there}{hint}"
