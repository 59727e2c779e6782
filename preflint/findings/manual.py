"""A rule's manual page, its fragments written out: a passing one may be "the same with" on top of the failing one."""

import re
from collections.abc import Sequence
from functools import cache
from inspect import cleandoc
from textwrap import dedent, indent

from preflint.frozen import dataclass

_MARGIN = "    "
_FAILS = "Fails:"
_SAME_WITH = "Passes: the same with"
_PASSES = "Passes:"
_KEY = re.compile(r"( *)([A-Za-z_][\w-]*):(?: |$)")


@cache  # and not as rules are declared: few runs show a page, and that would take a fiftieth of a short one
def of_docstring(docstring: str) -> str:
    """The page that a rule's function bears."""
    return cleandoc(docstring).replace("``", "`")  # names look alike, whichever way a docstring marks them


def written_out(manual: str) -> str:
    """The page as people read it. A page without "the same with" is as its author wrote it."""
    if _SAME_WITH not in manual.split("\n"):
        return manual
    return manual.replace(f"{_SAME_WITH}\n\n{_block(manual, _SAME_WITH)}", f"{_PASSES}\n\n{_indented(passing(manual))}")


def failing(manual: str) -> str:
    """The fragment that the rule finds something in, as YAML text. Raises LookupError where the page shows none."""
    return dedent(_block(manual, _FAILS)).strip("\n") + "\n"


def passing(manual: str) -> str:
    """The fragment that passes, as YAML text, whole. Raises LookupError where the page shows none."""
    if _SAME_WITH not in manual.split("\n"):
        return dedent(_block(manual, _PASSES)).strip("\n") + "\n"
    changes = dedent(_block(manual, _SAME_WITH)).strip("\n")
    return "\n".join(_laid_over(failing(manual).rstrip("\n").split("\n"), changes.split("\n"))) + "\n"


def _block(manual: str, heading: str) -> str:
    """The indented lines below a heading, to the letter, without the empty lines after them."""
    found = re.findall(rf"^{re.escape(heading)}\n\n((?:{_MARGIN}.*\n?|\n(?={_MARGIN}))+)", manual, re.MULTILINE)
    if len(found) != 1:
        raise LookupError(f"the page shows {len(found)} fragments under {heading!r}, and one is needed")
    block: str = found[0]
    return block.rstrip("\n")


def _indented(fragment: str) -> str:
    return indent(fragment, _MARGIN).rstrip("\n")


@dataclass(frozen=True, slots=True)
class _Entry:
    """A key with all its lines, the first of them its own."""

    key: str
    lines: tuple[str, ...]

    @property
    def is_group(self) -> bool:
        """Whether more keys stand below it, and nothing beside it."""
        return self.lines[0].rstrip().endswith(":") and len(self.lines) > 1 and bool(_KEY.match(self.lines[1]))


def _laid_over(base: Sequence[str], changes: Sequence[str]) -> list[str]:
    """The lines of a block mapping, those entries replaced that ``changes`` hold; what is new comes at the end."""
    told = {entry.key: entry for entry in _entries(changes)}
    lines: list[str] = []
    for entry in _entries(base):
        change = told.pop(entry.key, None)
        if change is None:
            lines += entry.lines
        elif entry.is_group and change.is_group:
            lines += [change.lines[0], *_laid_over(entry.lines[1:], change.lines[1:])]
        else:
            lines += change.lines
    return lines + [line for entry in told.values() for line in entry.lines]


def _entries(lines: Sequence[str]) -> list[_Entry]:
    first = _KEY.match(lines[0])
    if first is None:
        raise LookupError(f"a fragment begins with a key, not with {lines[0]!r}")
    starts = [i for i, line in enumerate(lines) if (key := _KEY.match(line)) and key[1] == first[1]]
    ends = [*starts[1:], len(lines)]
    keys = [_KEY.match(lines[i]) for i in starts]
    return [
        _Entry(key[2], tuple(lines[start:end])) for key, start, end in zip(keys, starts, ends, strict=True) if key
    ]
