"""What ``inspect`` reads besides files named in full: a manifest from standard input, a list of names."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from preflint.errors import NotRead, Problem, UsageError

if TYPE_CHECKING:
    from preflint.interface import StrPath


def from_stdin(
    paths: tuple[Path, ...], name: Path | None, files_from: str | None
) -> tuple[tuple[Path, ...], dict["StrPath", bytes]]:
    """Where - stands among the paths, one manifest from standard input: its name, and what it holds."""
    if Path("-") not in paths:
        if name is not None:
            raise UsageError("--stdin-name names the manifest of standard input; write - in place of PATHS")
        return paths, {}
    if len(paths) > 1 or files_from is not None:
        raise UsageError("- is the one manifest from standard input; it goes with no other path and no --files-from")
    from preflint.load.limits import MAX_YAML_BYTES

    where = name or Path("stdin.airframe.yaml")
    try:
        data = sys.stdin.buffer.read(MAX_YAML_BYTES + 1)
    except OSError as error:
        raise NotRead(str(where), [Problem(f"standard input cannot be read: {error.strerror}")]) from None
    return (where,), {where: data}


def changed_names(source: str) -> list[Path]:
    """The names of changed files that ``--files-from`` lists. Raises NotRead."""
    from preflint.fleet.changed import MAX_BYTES, read_names

    try:
        with click.open_file(source, "rb") as file:
            data = file.read(MAX_BYTES + 1)
    except OSError as error:
        raise NotRead(source, [Problem(f"the list of names cannot be read: {error.strerror}")]) from None
    return read_names(data, source)
