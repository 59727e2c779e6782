"""Signs that an editor puts in place of a plain space or plain quotes, and that look the same."""

import re
import unicodedata

_SPACES = "\u00a0\u1680\u2000-\u200a\u202f\u205f\u3000"  # all of Unicode's category Zs but the plain one
ODD_SPACE = re.compile(f"[{_SPACES}]")
_CURLY = "“”„‟‘’‚‛«»‹›"
_AT_A_JOINT = re.compile(f"[ \t-]*(?:[A-Za-z0-9_-]+:)?([{_SPACES}])")


def odd_space(sign: str) -> str:
    """What to say about one that stands where a plain space should."""
    name = unicodedata.name(sign, "").lower()
    return f"a space of another kind stands here (U+{ord(sign):04X}, {name}); replace it with a plain space"


def odd_joint(line: str) -> int | None:
    """Where in a line of YAML an odd space stands that a plain one would make an indent or the end of a name."""
    found = _AT_A_JOINT.match(line)
    return found.end() - 1 if found else None


def in_curly_quotes(text: str) -> bool:
    return len(text) > 2 and text[0] in _CURLY and text[-1] in _CURLY


def holds_curly(text: str) -> bool:
    return any(sign in _CURLY for sign in text)
