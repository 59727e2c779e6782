"""How much input is taken; a file beyond a limit is refused, never cut short."""

from collections.abc import Sequence

from preflint.errors import Problem

MAX_YAML_BYTES = 256 * 1024
MAX_DEPTH = 64
MAX_NODES = 20_000
MAX_SCALAR = 64 * 1024
MAX_NUMBER = 40
MAX_KEY = 100
MAX_POINTER = 1_000
"""Pointers repeat along every branch, so their length is what memory hangs on."""

MAX_PROBLEMS = 100
"""Problems named for one file; the rest are counted."""

MAX_SHARED_FILES = 100
"""Files of parts and sites that one manifest may name."""

MAX_TABLE_BYTES = 2 * 1024**3
MAX_LINE_BYTES = 64 * 1024
MAX_COLUMNS = 256
MAX_ROWS = 200_000
"""Rows kept of a table; a longer one is condensed by averaging neighbours."""

MAX_CELLS = 6_400_000
MAX_BAD_ROWS = 20
"""Bad rows of a table that are named one by one."""

MAX_MAGNITUDE = 1e12
"""No reading comes near it; seconds since 1970 stay below it, milliseconds since then do not."""


def limited(problems: Sequence[Problem], count: int) -> list[Problem]:
    """The first problems of a file that has ``count`` of them, and how many more there are."""
    named = list(problems[:MAX_PROBLEMS])
    if count > len(named):
        named.append(Problem(f"and {count - len(named)} more problems in this file"))
    return named
