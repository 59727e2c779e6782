"""How a piece of a file's text is shown in a message."""

import shlex


def in_quotes(text: str) -> str:
    return f'"{text}"'


def shorten(text: str, length: int = 40) -> str:
    """The text on one line, cut to what a message can hold, with characters nobody sees as codes."""
    line = show(" ".join(text[:1000].split()))
    return line if len(line) <= length else line[: length - 1] + "…"


def as_argument(path: str) -> str:
    """The name of a file as it is typed at a shell, where it never reads as a command or an option."""
    return shlex.quote(show(f"./{path}" if path.startswith("-") else path))


def show(text: str) -> str:
    """The text with control characters, unseen ones and bytes that are not UTF-8 written as codes."""
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode("ascii") for c in text)
