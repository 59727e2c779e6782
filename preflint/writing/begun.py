"""The answers of a record that is not finished yet, kept in the manifest as lines for people to read.

They are comments, so that what is half told counts for nothing; and each is what somebody typed, so that nothing of it
is lost or guessed.
"""

import re

_LINE = re.compile(r"## begun: (\w+) ([\w.-]+=.*)")


def begun(data: bytes, kind: str) -> tuple[str, ...]:
    """What was answered of a record of that kind, as NAME=VALUE."""
    told = (_LINE.fullmatch(line.rstrip("\r")) for line in data.decode().split("\n"))
    return tuple(found[2] for found in told if found and found[1] == kind)


def with_begun(data: bytes, kind: str, answer: str) -> bytes:
    """The text with one more answer at its end."""
    gap = "" if data.endswith(b"\n") or not data else "\n"
    return data + f"{gap}## begun: {kind} {answer}\n".encode()


def without_begun(data: bytes, kind: str) -> bytes:
    """The text without the answers of that kind."""
    lines = data.decode().split("\n")
    kept = [line for line in lines if not ((found := _LINE.fullmatch(line.rstrip("\r"))) and found[1] == kind)]
    return "\n".join(kept).encode()
